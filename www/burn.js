// The Burn section: which chips hold the dump, and the files for them in the order that board and reader want.
// @ts-check
import { chipPicture } from "./chip.js";
import { copy, el, save } from "./dom.js";
import { answer, cautions, next, reasons, refused } from "./parts.js";
import { address, sentence, size } from "./units.js";

/** @import {Lunette} from "./lunette.js" */
/** @import {OpenDump} from "./start.js" */
/** @import {Burning, BurnPlan, ChipMatch, Choice, Device, Prepared} from "./types.js" */

/** How the board sees the chips. @type {Choice[]} */
const views = [
	{ id: "x16", name: "one chip, 16 bits at a time" },
	{ id: "x8", name: "one chip, 8 bits at a time" },
	{ id: "pair", name: "two chips: even and odd bytes" },
	{ id: "pairs", name: "two even/odd pairs, 16 bits" },
	{ id: "four", name: "four byte lanes, 32 bits" },
];

/** @type {Record<string, number>} */
const chipsOf = { pair: 2, pairs: 4, four: 4 };

/** How many chips are listed to choose from. */
const listed = 12;

/** @type {Choice[]} */
const cpus = [
	{ id: "", name: "not known" },
	{ id: "big", name: "high byte first (as a 68000)" },
	{ id: "little", name: "low byte first (as an 8086)" },
];

/** @type {Choice[]} */
const buffers = [{ id: "low", name: "low byte first (D0-D7, usual)" }, { id: "high", name: "high byte first (D8-D15)" }];

/** @type {Choice[]} */
const spares = [{ id: "repeat", name: "repeat the image" }, { id: "bottom", name: "image at the bottom, fill above" }, { id: "top", name: "image at the top, fill below" }];

/** @type {Choice[]} */
const bits = [{ id: "", name: "not known" }, { id: "straight", name: "as the CPU sees it" }, { id: "crossed", name: "mirrored, the board crosses D0 to D7" }];

/** @type {Choice[]} */
const formats = [{ id: "raw", name: "raw binary" }, { id: "hex", name: "Intel HEX" }, { id: "srec", name: "Motorola S-records" }];

export class BurnView {
	/** @type {Lunette | undefined} */ #client;
	/** @type {OpenDump | undefined} */ #dump;
	/** @type {Burning | undefined} */ #burning;
	/** @type {Device[]} */ #devices = [];
	#asked = 0;
	#timed = 0;

	/**
	 * @param {HTMLElement} root
	 * @param {(prepared: Prepared) => void} told  hears of every set of files, for the report
	 */
	constructor(root, told) {
		this.told = told;
		const ask = () => this.#ask();
		this.fit = el("select", { id: "burn-fit", onchange: () => this.#takeFit() });
		this.part = el("input", { id: "burn-part", size: 12, autocomplete: "off", spellcheck: "false", placeholder: "27C400" });
		this.partState = el("p", { class: "field-error", role: "alert" });
		this.choices = el("div", { class: "joined choices" });
		this.view = select("burn-view", views, ask);
		this.order = el("select", { id: "burn-order", onchange: ask });
		this.cpu = select("burn-cpu", cpus, ask);
		this.buffer = select("burn-buffer", buffers, ask);
		this.spare = select("burn-spare", spares, ask);
		this.bits = select("burn-bits", bits, ask);
		this.bitsField = field("The chip holds a byte", this.bits);
		this.fill = el("input", { id: "burn-fill", size: 3, value: "FF", class: "mono", autocomplete: "off", spellcheck: "false", "aria-describedby": "burn-fill-state", onchange: ask });
		this.fillState = el("p", { id: "burn-fill-state", class: "field-error", role: "alert" });
		this.format = select("burn-format", formats, ask);
		this.lamp = el("input", { id: "burn-lamp", size: 12, value: "12000", autocomplete: "off", "aria-describedby": "burn-lamp-state", onchange: () => this.#time() });
		this.lampState = el("p", { id: "burn-lamp-state", class: "field-error", role: "alert" });
		this.answer = el("div", {});
		this.result = el("div", { class: "prepared" });
		this.times = el("div", { class: "times" });
		/** @type {Device | undefined} */
		this.device = undefined;
		this.bufferField = field("Reader's buffer", this.buffer);
		this.spareField = field("Spare space", this.spare);
		this.fillField = field("Fill byte", this.fill);
		this.fillField.append(this.fillState);
		this.cpuField = field("The CPU keeps a word", this.cpu);
		root.replaceChildren(this.answer,
			el("div", { class: "tools" },
				field("Chip", this.fit),
				el("form", { class: "field", onsubmit: (/** @type {Event} */ e) => { e.preventDefault(); this.#find(); } },
					el("label", { for: "burn-part" }, "or by part number"),
					el("div", { class: "joined" }, this.part, el("button", { type: "submit" }, "Take"))), this.partState, this.choices),
			el("div", { class: "tools" }, field("The board reads", this.view), field("The CPU sees the dump", this.order), this.cpuField,
				this.bitsField, this.bufferField, this.spareField, this.fillField, field("Files as", this.format)),
			el("div", { class: "beside" }, this.result, this.times));
	}

	/** @param {Lunette} client @param {Choice[]} arrangements */
	async use(client, arrangements) {
		this.#client = client;
		this.order.replaceChildren(...arrangements.filter(({ id }) => !id.includes("lane")).map(option));
		this.#devices = await client.chips();
	}

	/** @param {OpenDump} dump */
	async show(dump) {
		this.#dump = dump;
		if (!this.#client) {
			return;
		}
		const burning = await this.#client.fits(dump.id);
		if (dump !== this.#dump) {
			return;
		}
		this.#burning = burning;
		const { fitting, order, cpu, likely } = burning;
		this.answer.replaceChildren(el("p", {}, fitting.answer), reasons(fitting.remarks));
		this.order.value = order;
		this.cpu.value = cpu;
		const groups = [
			{ label: "full", fits: fitting.fits.filter(({ writable, copies }) => writable && copies === 1) },
			{ label: "with space to spare", fits: fitting.fits.filter(({ writable, copies }) => writable && copies !== 1) },
		];
		this.fit.replaceChildren(...groups.filter(({ fits }) => fits.length > 0).map(({ label, fits }) =>
			el("optgroup", { label }, ...fits.map((fit) => el("option", { value: `${fit.device} ${fit.view}` }, `${fit.chips > 1 ? `${fit.chips} × ` : ""}${fit.title}`)))));
		this.fit.value = likely;
		this.#takeFit();
	}

	/** Takes the chosen way to hold the dump. */
	#takeFit() {
		const [device, view] = this.fit.value.split(" ");
		this.device = this.#devices.find(({ id }) => id === device);
		this.view.value = view ?? "x8";
		this.part.value = device ?? "";
		this.#say("");
		this.#ask();
		this.#time();
	}

	/** Takes a chip by the number printed on it, if it names one chip; several are listed, and until one is chosen there are no files. */
	async #find() {
		const text = this.part.value.trim();
		const matches = text ? await this.#client?.findChips(text) ?? [] : [];
		if (text !== this.part.value.trim()) {
			return;
		}
		if (matches.length === 1) {
			this.#take(matches[0]);
			return;
		}
		this.device = undefined;
		this.fit.value = "";
		this.#say(!text ? "Type the number that is printed on the chip, as 27C400."
			: matches.length === 0 ? `No chip of the catalogue is called "${text}", so there are no files now. Try the number without the maker's letters, as 27C400, or a size and pins, as "512 KiB 40 pins".`
			: `"${text}" is in ${matches.length} chips of the catalogue. Choose yours${matches.length > listed ? ", or type more of its number" : ""}:`, matches);
		this.#ask();
		this.#time();
	}

	/** @param {ChipMatch} match */
	#take({ id, exact, how }) {
		this.device = this.#devices.find((device) => device.id === id);
		this.view.value = this.#burning?.fitting.fits.find(({ device }) => device === id)?.view ?? (this.device?.modes[0].bits === 16 ? "x16" : "x8");
		this.fit.value = `${id} ${this.view.value}`;
		this.#say(exact ? "" : `Taken for a ${id}: ${how}`);
		this.#ask();
		this.#time();
	}

	/** What is to be said of the part number, and the chips that it may be. @param {string} words @param {ChipMatch[]} [matches] */
	#say(words, matches = []) {
		const choose = (/** @type {ChipMatch} */ match) => () => {
			this.part.value = match.id;
			this.#take({ ...match, exact: true });
		};
		this.partState.textContent = words;
		this.choices.replaceChildren(...matches.slice(0, listed).map((match) => el("button", { type: "button", title: match.how, onclick: choose(match) }, match.id)));
	}

	/** @returns {BurnPlan} */
	#plan() {
		const spare = this.spare.value;
		return { device: this.device?.id ?? "", view: this.view.value, order: this.order.value, cpu: this.cpu.value, buffer: this.buffer.value,
			spare: this.spareField.hidden ? "" : spare === "repeat" ? "repeat" : "pad", end: spare === "top" ? "top" : "bottom",
			fill: parseInt(this.fill.value, 16), bits: this.bitsField.hidden ? "" : this.bits.value, format: this.format.value };
	}

	/** Has the files made, or says why they cannot be. */
	async #ask() {
		const client = this.#client;
		const dump = this.#dump;
		const device = this.device;
		const asked = ++this.#asked;
		if (!client || !dump || !device) {
			this.result.replaceChildren(el("p", { class: "quiet" }, "Choose a chip to see its files."));
			return;
		}
		const chips = chipsOf[this.view.value] ?? 1;
		const wide = device.modes.some(({ bits }) => bits === 16);
		this.bufferField.hidden = !wide;
		this.cpuField.hidden = this.view.value === "x8";
		this.bitsField.hidden = !this.order.value.includes("mirror");
		this.spareField.hidden = device.capacity * chips <= dump.size;
		this.fillField.hidden = this.spareField.hidden || this.spare.value === "repeat";
		const fill = this.fillField.hidden || /^\s*[0-9a-f]{1,2}\s*$/i.test(this.fill.value);
		this.fillState.textContent = fill ? "" : `"${this.fill.value}" is no byte. Write one or two hex digits, 00 to FF; FF is what an erased chip reads.`;
		this.fill.setAttribute("aria-invalid", String(!fill));
		if (!fill) {
			this.result.replaceChildren(refused("Nothing was made: the fill byte has to be put right first."));
			return;
		}
		try {
			const prepared = await client.prepare(dump.id, this.#plan());
			if (asked === this.#asked) {
				this.result.replaceChildren(...this.#files(client, prepared, device));
				this.told(prepared);
			}
		} catch (error) {
			if (asked === this.#asked) {
				this.result.replaceChildren(refused(`Nothing was made. ${error instanceof Error ? sentence(error.message) : error}`));
			}
		}
	}

	/** @param {Lunette} client @param {Prepared} prepared @param {Device} device */
	#files(client, prepared, device) {
		const saveOne = async (/** @type {number} */ n) => save(await client.file(n), prepared.files[n].name);
		const card = () => save(prepared.card, prepared.cardName);
		const saveAll = async () => {
			for (let n = 0; n < prepared.files.length; n++) {
				await saveOne(n);
			}
			card();
		};
		return [
			...answer(prepared.headline, [], []),
			el("p", { class: "readback" }, prepared.readback),
			...next(prepared.next),
			...cautions(prepared.cautions),
			picture(prepared),
			el("table", { class: "chip-files" },
				el("thead", {}, el("tr", {}, ...["file", "size", "byte sum", "CRC-32", ""].map((word) => el(word ? "th" : "td", { scope: word && "col" }, word)))),
				el("tbody", {}, ...prepared.files.map((file, n) => el("tr", {},
					el("th", { scope: "row", class: "mono" }, file.name, el("span", { class: "quiet" }, [file.lane, file.lines].filter(Boolean).join(", "))),
					el("td", {}, size(file.size)), el("td", { class: "mono" }, file.byteSum), el("td", { class: "mono" }, file.crc),
					el("td", {}, el("button", { type: "button", class: "plain", "aria-label": `Save ${file.name}`, onclick: () => saveOne(n) }, "save")))))),
			el("div", { class: "joined" },
				el("button", { type: "button", onclick: saveAll }, prepared.files.length > 1 ? "Save all files and the card" : "Save the file and its card"),
				el("button", { type: "button", onclick: card }, "Save the card"),
				el("button", { type: "button", onclick: () => copy(prepared.card, "The card") }, "Copy the card")),
			el("p", { class: "quiet" }, prepared.checked),
			reasons(prepared.steps),
			...ties(prepared, device),
		];
	}

	async #time() {
		const device = this.device;
		const asked = ++this.#timed;
		if (!this.#client || !device) {
			this.times.replaceChildren();
			return;
		}
		const lit = device.kind.startsWith("UV");
		let lines;
		let warned = /** @type {string[]} */ ([]);
		let wrong = "";
		try {
			const times = await this.#client.times(device.id, lit ? this.lamp.value : "");
			lines = [el("p", {}, el("strong", {}, "Burning: "), times.burning), ...times.burn.map((burn) => el("p", { class: "quiet" }, burn.sentence)),
				el("p", {}, el("strong", {}, "Erasing: "), times.erase.sentence)];
			warned = times.cautions;
		} catch (error) {
			wrong = error instanceof Error ? sentence(error.message) : String(error);
			lines = [refused("No times: the lamp's irradiance has to be put right first.")];
		}
		if (device !== this.device || asked !== this.#timed) {
			return;
		}
		this.lampState.textContent = wrong;
		this.lamp.setAttribute("aria-invalid", String(wrong !== ""));
		this.times.replaceChildren(
			el("figure", { class: "pins" }, chipPicture({ label: `${device.id}: its pins`, signals: device.pins.map(({ signal }) => signal), window: lit }),
				el("figcaption", { class: "quiet" }, device.standing)),
			...lines,
			...(lit ? [el("div", { class: "field" }, el("label", { for: "burn-lamp" }, "Your lamp at the chip, uW/cm2, or as 12 mW"), this.lamp, this.lampState)] : []),
			...cautions(warned),
			el("details", {}, el("summary", {}, "About this chip, and where the figures come from"),
				el("dl", { class: "about" }, ...[["Part numbers", device.parts.join(", ")], ["Kind", `${device.kind}, ${device.package}, ${size(device.capacity)}`],
					["Programming supply", device.vpp], ["Supply while programming", device.vcc], ["Pulse", device.pulse], ["It says of itself", device.signature], ["Erase", device.erase]]
					.filter(([, text]) => text).flatMap(([name, text]) => [el("dt", {}, name), el("dd", {}, text)])),
				reasons([...device.notes, ...device.sources.map(({ number, title }) => `${number}: ${title}`)])));
	}
}

/** @param {Choice} choice */
const option = ({ id, name }) => el("option", { value: id }, name);

/** @param {string} id @param {Choice[]} choices @param {() => void} changed */
const select = (id, choices, changed) => el("select", { id, onchange: changed }, ...choices.map(option));

/** @param {string} words @param {HTMLElement} control */
const field = (words, control) => el("div", { class: "field wide" }, el("label", { for: control.id }, words), control);

/**
 * The first bytes as the CPU sees them and where each goes: even addresses in one tint, odd ones in the other. Of two pairs
 * there are two stretches.
 * @param {Prepared} prepared
 */
function picture({ picture: { cpu, chips } }) {
	const row = (/** @type {string} */ words, /** @type {Prepared["picture"]["cpu"]} */ cells) => el("li", {},
		el("span", { class: "cells" }, ...cells.map(({ value, tint, address: at }) => el("span", { class: tint ? "odd" : "even", title: `address ${address(at)}` }, value))),
		el("span", { class: "quiet" }, words));
	return el("ul", { class: "lanes mono", "aria-label": "Where the first bytes go" },
		...stretches(cpu).map((cells) => row(cells[0].address > 0 ? `as the CPU sees it, from ${address(cells[0].address)}` : "as the CPU sees it", cells)),
		...chips.map(({ file, from, cells }) => row(from > 0 ? `${file}, from ${address(from)}` : file, cells)));
}

/** Cells in stretches of addresses that follow one another. @param {Prepared["picture"]["cpu"]} cells */
function stretches(cells) {
	/** @type {(typeof cells)[]} */
	const list = [];
	for (const cell of cells) {
		const last = list.at(-1);
		if (last?.at(-1)?.address === cell.address - 1) {
			last.push(cell);
		} else {
			list.push([cell]);
		}
	}
	return list;
}

/** Spare address lines and their pins. @param {Prepared} prepared @param {Device} device */
function ties(prepared, device) {
	if (prepared.ties.length === 0) {
		return [];
	}
	return [el("h3", {}, "Spare address lines"), reasons(prepared.ties.map(({ line, pin, why }) => `${line}, pin ${pin} of the ${device.id}: ${why}`))];
}
