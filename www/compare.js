// The Compare section: why a read differs from its master, whether several reads of one chip agree, whether a chip is blank.
// @ts-check
import { chipPicture } from "./chip.js";
import { el, save, svg } from "./dom.js";
import { lineBars } from "./linebars.js";
import { legendItem } from "./map.js";
import { PairGrid } from "./pairgrid.js";
import { answer, columns, reasons, refused } from "./parts.js";
import { baseLines, rowHeight, Skyline } from "./skyline.js";
import { address, count, sentence, size } from "./units.js";

/** @import {Lunette} from "./lunette.js" */
/** @import {OpenDump} from "./start.js" */
/** @import {BlankCheck, Comparison, DiffMap, OnChip, Rereads} from "./types.js" */

/** @typedef {"read" | "rereads" | "blank"} Question */

/** @type {{id: Question, words: string}[]} */
const questions = [
	{ id: "read", words: "a read against its master" },
	{ id: "rereads", words: "several reads of one chip" },
	{ id: "blank", words: "a chip that should be blank" },
];

export class CompareView {
	/** @type {Lunette | undefined} */ #client;
	/** @type {OpenDump[]} */ #dumps = [];
	/** @type {Set<string>} dumps that are not among the rereads */ #left = new Set();
	#asked = 0;
	#device = ""; // that a person chose, of the pair in view; "" leaves it to the core, "none" wants none named
	#guessed = ""; // the pair of which guess says why
	/** @type {Question} */ #question = "read";
	/** @type {Question} what a person last chose to ask */ #wanted = "read";

	/**
	 * @param {HTMLElement} root
	 * @param {(name: string, bytes: Uint8Array<ArrayBuffer>) => void} open  opens a new dump
	 * @param {(what: Compared) => void} told  hears of every result, for the report
	 */
	constructor(root, open, told) {
		this.open = open;
		this.told = told;
		this.quiet = el("p", { class: "quiet" });
		this.first = el("select", { id: "compare-first", onchange: () => this.#another() });
		this.second = el("select", { id: "compare-second", onchange: () => this.#another() });
		this.device = el("select", { id: "compare-device", onchange: () => { this.#device = this.device.value; this.#ask(); } });
		this.firstLabel = el("label", { for: "compare-first" });
		this.secondLabel = el("label", { for: "compare-second" });
		this.question = el("select", { id: "compare-question", onchange: () => { this.#wanted = /** @type {Question} */ (this.question.value); this.#choose(); } },
			...questions.map(({ id, words }) => el("option", { value: id }, words)));
		this.swapper = el("button", { type: "button", class: "swap", onclick: () => this.#swap() }, "Exchange");
		this.pair = el("div", { class: "tools" },
			el("div", { class: "field wide" }, this.firstLabel, this.first),
			this.swapper,
			el("div", { class: "field wide" }, this.secondLabel, this.second));
		this.reads = el("fieldset", { class: "reads" });
		this.guess = el("p", { class: "quiet" });
		this.result = el("div", { class: "compared" });
		this.form = el("div", { class: "compare-form" },
			el("div", { class: "tools" },
				el("div", { class: "field wide" }, el("label", { for: "compare-question" }, "Compare"), this.question),
				el("div", { class: "field wide" }, el("label", { for: "compare-device" }, "The chip"), this.device)),
			this.pair, this.reads, this.guess, this.result);
		this.grid = new PairGrid();
		/** @type {DiffMap} */ this.map = { blockSize: 1, bytes: [], high: [], low: [] };
		/** @type {Skyline} */
		this.skyline = new Skyline({ label: "Block of the difference map", go: (from) => this.grid.go(from), words: (block) => this.#words(block),
			bars: (skyline) => differences(skyline, this.map) });
		root.replaceChildren(this.quiet, this.form);
		this.form.hidden = true;
	}

	/** @param {Lunette} client */
	use(client) { this.#client = client; }

	/** The open dumps have changed. @param {OpenDump[]} dumps @param {OpenDump} [current] */
	async show(dumps, current) {
		this.#dumps = dumps.filter(({ report }) => report);
		const enough = this.#dumps.length > 0;
		this.form.hidden = !enough;
		this.quiet.hidden = this.#dumps.length > 1;
		this.quiet.textContent = "Open a second dump to see why two differ: a readback and its master, two reads of one chip.";
		if (!enough || !this.#client) {
			return;
		}
		const pair = await this.#client.pair(current?.id ?? "");
		this.#device = "";
		options(this.first, this.#dumps, pair.master);
		options(this.second, this.#dumps, pair.read);
		this.guess.textContent = pair.why;
		this.#guessed = `${this.first.value} ${this.second.value}`;
		this.#left = new Set(pair.rereads.length > 1 ? this.#dumps.filter(({ id }) => !pair.rereads.includes(id)).map(({ id }) => id) : []);
		this.question.value = this.#dumps.length > 1 ? this.#wanted : "blank"; // one dump alone can only be blank or not
		this.#choose();
	}

	/** Another pair may come of another chip. */
	#another() {
		this.#device = "";
		this.#ask();
	}

	#swap() {
		[this.first.value, this.second.value] = [this.second.value, this.first.value];
		this.#ask();
	}

	#choose() {
		this.#question = /** @type {Question} */ (this.question.value);
		const several = this.#question === "rereads";
		this.pair.hidden = several;
		this.reads.hidden = !several;
		this.firstLabel.textContent = this.#question === "blank" ? "What is to be burnt" : "Master: what should be there";
		this.secondLabel.textContent = this.#question === "blank" ? "Read of the chip" : "Read: what is there";
		if (several) {
			this.reads.replaceChildren(el("legend", {}, "Reads of one chip"), ...this.#dumps.map((dump) => el("label", { class: "tick" },
				el("input", { type: "checkbox", checked: !this.#left.has(dump.id), onchange: (/** @type {Event} */ e) => this.#tick(dump.id, e) }),
				el("bdi", {}, dump.name), " ", el("span", { class: "quiet" }, size(dump.size)))));
		}
		this.#ask();
	}

	/** @param {string} id @param {Event} event */
	#tick(id, event) {
		if (/** @type {HTMLInputElement} */ (event.target).checked) {
			this.#left.delete(id);
		} else {
			this.#left.add(id);
		}
		this.#ask();
	}

	/** Asks the core, and shows its answer unless another question came meanwhile. */
	async #ask() {
		const client = this.#client;
		if (!client) {
			return;
		}
		this.guess.hidden = this.#question !== "read" || this.#dumps.length < 2 || this.#guessed !== `${this.first.value} ${this.second.value}`;
		const asked = ++this.#asked;
		const device = this.#device;
		this.result.setAttribute("aria-busy", "true");
		try {
			const shown = await this.#answer(client, device);
			if (asked === this.#asked) {
				this.result.replaceChildren(...shown());
			}
		} catch (error) {
			if (asked === this.#asked) {
				this.result.replaceChildren(refused(error instanceof Error ? sentence(error.message) : String(error)));
			}
		}
		if (asked === this.#asked) {
			this.result.removeAttribute("aria-busy");
		}
	}

	/** @param {Lunette} client @param {string} device @returns {Promise<() => Node[]>} */
	async #answer(client, device) {
		const [first, second] = [this.first.value, this.second.value];
		switch (this.#question) {
			case "read": {
				const comparison = await client.compare(first, second, device);
				return () => this.#showComparison(client, comparison);
			}
			case "rereads": {
				const reads = this.#dumps.filter(({ id }) => !this.#left.has(id)).map(({ id }) => id);
				const rereads = await client.rereads(reads, device);
				return () => this.#showRereads(client, rereads);
			}
			default: {
				const blank = await client.blank(second, first, device);
				return () => this.#showBlank(blank);
			}
		}
	}

	/** @param {Lunette} client @param {Comparison} c */
	#showComparison(client, c) {
		const { result } = c;
		const [master, read] = [this.first.value, this.second.value];
		const named = (/** @type {string} */ id) => this.#dumps.find((dump) => dump.id === id)?.name ?? "";
		this.#devices(c.chip);
		this.map = result.map;
		this.told({ headline: result.headline, lines: [...result.reasons, ...result.explanations.map(({ sentence }) => sentence)], of: [named(master), named(read)] });
		const same = result.differ === 0;
		const bus = result.buses.find(({ bus }) => bus.width === c.chip.width) ?? result.buses[0];
		/** @type {Node[]} */
		const main = [...answer(result.headline, result.next, result.cautions), ...this.#exchange(result.exchange), ...timed(c.times), ...this.#explanations(client, c), reasons(result.reasons)];
		if (same || result.compared === 0) {
			return columns(main, pins(c.chip));
		}
		this.grid.show({ size: result.readSize, names: [named(master), named(read)], runs: result.runs.listed, total: result.runs.total,
			read: (from, to) => client.laid(from, to) });
		main.push(el("figure", {}, el("figcaption", { class: "quiet" }, `Where they differ: ${count(result.differ)} of ${count(result.compared)} bytes, the master taken ${result.order}`),
			this.skyline.root,
			el("ul", { class: "legend" }, legendItem("up", "up: reads 1, should be 0"), legendItem("down", "down: reads 0, should be 1"))));
		const side = [...pins(c.chip),
			lineBars(bus.data.map(({ line, high, low }) => ({ line: line.kind + line.number, one: high, zero: low })), "Wrong bits by data line", ["read 1, should be 0", "read 0, should be 1"]),
			lineBars(bus.address.map(({ line, one, zero }) => ({ line: line.kind + line.number, one, zero })), "Wrong words by address line", ["line at 1", "line at 0"])];
		queueMicrotask(() => this.skyline.show(result.readSize, result.map.blockSize));
		return [...columns(main, side), el("h3", {}, "Byte by byte"), this.grid.root, runList(result.runs, (from) => this.grid.go(from))];
	}

	/** Offers to exchange the two, where the read is the better one. @param {boolean} wanted @returns {Node[]} */
	#exchange(wanted) {
		return wanted ? [el("p", {}, el("button", { type: "button", class: "exchange", onclick: () => { this.#swap(); this.swapper.focus(); } }, "Exchange master and read"))] : [];
	}

	/** @param {Lunette} client @param {Comparison} c @returns {Node[]} */
	#explanations(client, { result, repairs }) {
		if (result.explanations.length === 0) {
			return [];
		}
		const several = result.causes > 1 ? `${count(result.causes)} explanations are equally good` : "What explains it";
		return [el("h3", {}, several), el("ul", { class: "explanations" }, ...result.explanations.slice(0, 12).map((one, n) => el("li", {},
			el("p", {}, one.sentence),
			one.wires.length > 0 && el("table", { class: "wires mono" }, el("caption", {}, "Wiring: the reader's line, and the chip's line it is connected to"),
				el("tbody", {}, ...one.wires.map(({ reader, chip }) => el("tr", { class: reader.number === chip.number ? "" : "crossed" },
					el("th", { scope: "row" }, reader.kind + reader.number), el("td", {}, chip.kind + chip.number))))),
			one.repairable && repairs[n] && el("button", { type: "button", onclick: async () => this.open(repairs[n], await client.repaired(n)) },
				"Open what the chip should have read: ", el("bdi", {}, repairs[n]))))),
			result.found > 12 && el("p", { class: "quiet" }, `The first 12 of ${count(result.found)} are shown.`)].filter((node) => node !== false);
	}

	/** @param {Lunette} client @param {Rereads} r */
	#showRereads(client, r) {
		const { result } = r;
		this.#devices(r.chip);
		this.told({ headline: result.headline, lines: result.reasons, of: result.reads.map(({ name }) => name) });
		/** @type {Node[]} */
		const main = [...answer(result.headline, result.next, result.cautions), reasons([...result.reasons, result.doubt].filter(Boolean))];
		if (r.consensus) {
			main.push(el("p", {}, result.agreement), el("div", { class: "joined" },
				el("button", { type: "button", onclick: () => saveConsensus(client, r.consensus, r.list) }, "Save the consensus and its list"),
				el("button", { type: "button", onclick: async () => { await saveList(client, r.list); this.open(r.consensus, await client.consensus()); } }, "Open it as a dump, and save its list")));
		}
		if (result.bits === 0) {
			return columns(main, pins(r.chip));
		}
		const bars = r.chip.width === 16 ? result.x16 : result.x8;
		const sides = result.tied === 0; // of two reads no bit has a majority: the bits that differ are all that can be said
		const caption = sides ? "Unstable bits by data line" : "Bits that differ by data line";
		return [...columns(main, [...pins(r.chip), lineBars(bars.map(({ line, bits, toOne, toZero }) =>
			({ line: line.kind + line.number, one: sides ? toOne : bits, zero: sides ? toZero : 0 })), caption, sides ? ["towards 1", "towards 0"] : ["bits", ""])]), unstable(result)];
	}

	/** @param {BlankCheck} b */
	#showBlank(b) {
		const { result } = b;
		this.#devices(b.chip);
		this.told({ headline: result.headline, lines: result.reasons, of: [this.second.selectedOptions[0]?.textContent ?? ""] });
		const bars = b.chip.width === 16 ? result.x16 : result.x8;
		const main = [...answer(result.headline, result.next, result.cautions), ...timed(b.times), reasons(result.reasons)];
		const side = [...pins(b.chip), ...(result.bits > 0 ? [
			lineBars(bars.map(({ line, low }) => ({ line: line.kind + line.number, one: 0, zero: low })), "Low bits by data line", ["", "low"]),
			runList({ total: result.total, listed: result.runs })] : [])];
		return columns(main, side);
	}

	/** Offers the devices that the read can come from. @param {OnChip} chip */
	#devices({ devices, device }) {
		this.device.replaceChildren(el("option", { value: "none" }, "not known"), ...devices.map(({ id, name }) => el("option", { value: id, selected: id === device }, name)));
	}

	/** @param {number} i */
	#words(i) {
		const [from, to] = this.skyline.span(i);
		const { bytes, high, low } = this.map;
		return bytes[i] > 0 ? `${address(from)} to ${address(to - 1)}: ${count(bytes[i])} bytes differ; ${count(high[i])} bits read 1 and should be 0, ${count(low[i])} read 0 and should be 1. Press or tap to see them below.`
			: `${address(from)} to ${address(to - 1)}: all equal.`;
	}
}

/** @typedef {{headline: string, lines: string[], of: string[]}} Compared what was found, for the report */

/** @param {HTMLSelectElement} select @param {OpenDump[]} dumps @param {string} chosen */
function options(select, dumps, chosen) {
	select.replaceChildren(...dumps.map(({ id, name }) => el("option", { value: id, selected: id === chosen }, name)));
}

/** How long erasing and burning take, where that comes next. @param {string} times */
const timed = (times) => times ? [el("p", { class: "quiet" }, times)] : [];

/** Lines in trouble with their pins, as a list and on the package. @param {OnChip} chip */
function pins({ pins, signals, device, window, note }) {
	if (pins.length === 0 || signals.length === 0) {
		return [];
	}
	const marks = new Map(pins.map(({ line, pin }) => [pin, { tone: /** @type {const} */ ("trouble"), text: line }]));
	const words = pins.map(({ line, pin }) => `${line} is pin ${pin}`).join(", ");
	return [el("figure", { class: "pins" }, chipPicture({ label: `${device}: ${words}`, signals, window, marks }),
		el("figcaption", {}, `On a ${device}: ${words}. Pin 1 is at the notch. `, el("span", { class: "quiet" }, note)))];
}

/** Bars that go up for bits that read 1 and down for bits that read 0. @param {Skyline} skyline @param {DiffMap} map */
function differences(skyline, { blockSize, bytes, high, low }) {
	const middle = rowHeight / 2;
	const tall = (/** @type {number} */ bits) => bits === 0 ? 0 : Math.max(1.5, Math.min(1, Math.sqrt(bits / (4 * blockSize))) * (middle - 3));
	const path = (/** @type {number[]} */ counts, /** @type {number} */ way, /** @type {string} */ tone) => svg("path", { class: tone, d: counts.map((bits, i) => {
		const { x, y } = skyline.corner(i);
		const height = tall(bits);
		return height > 0 ? `M${x.toFixed(2)} ${y - middle}v${(way * height).toFixed(2)}h${skyline.bar.toFixed(2)}v${(-way * height).toFixed(2)}z` : "";
	}).join("") });
	return [baseLines(skyline, bytes.length, middle), path(high, -1, "up"), path(low, 1, "down")];
}

/** @param {{total: number, listed: {from: number, to: number}[]}} runs @param {(from: number) => void} [go] */
function runList({ total, listed }, go) {
	const shown = listed.slice(0, 200);
	return el("details", {}, el("summary", {}, total === 1 ? "The one run of bytes" : `The ${count(total)} runs of bytes`),
		el("ul", { class: "runs mono" }, ...shown.map(({ from, to }) => {
			const words = `${address(from)} to ${address(to - 1)}`;
			return el("li", {}, go ? el("button", { type: "button", class: "plain", onclick: () => go(from) }, words) : words, ` ${size(to - from)}`);
		})),
		total > shown.length && el("p", { class: "quiet" }, `The first ${count(shown.length)} are listed.`));
}

/** @param {Rereads["result"]} result */
function unstable({ listed, bytes, reads }) {
	const shown = listed.slice(0, 200);
	return el("details", {}, el("summary", {}, `The ${count(bytes)} bytes that are not the same in every read`),
		el("table", { class: "unstable mono" },
			el("thead", {}, el("tr", {}, el("th", { scope: "col" }, "offset"), ...reads.map(({ name }) => el("th", { scope: "col" }, el("bdi", {}, name))), el("th", { scope: "col" }, "taken"), el("th", { scope: "col" }, "because"))),
			el("tbody", {}, ...shown.map(({ offset, values, chosen, why }) => el("tr", {}, el("th", { scope: "row" }, address(offset)),
				...values.map((value) => el("td", {}, value)), el("td", {}, chosen), el("td", { class: "why" }, why))))),
		bytes > shown.length && el("p", { class: "quiet" }, `The first ${shown.length} are shown; the saved list has all.`));
}

/** @param {Lunette} client @param {string} name */
const saveList = async (client, name) => save(await client.consensusList(), name);

/** @param {Lunette} client @param {string} name @param {string} list */
async function saveConsensus(client, name, list) {
	save(await client.consensus(), name);
	await saveList(client, list);
}
