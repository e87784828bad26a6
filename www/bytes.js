// The Bytes section: the grid with its order, going to an address, searching, and the selection with its sums and export.
// @ts-check
import { copy, el, save, say } from "./dom.js";
import { ByteGrid } from "./grid.js";
import { address, count, hex, sentence, size, typedHex } from "./units.js";

/** @import {Lunette} from "./lunette.js" */
/** @import {OpenDump} from "./start.js" */
/** @import {Choice, Hits, Report, Sum} from "./types.js" */

export class BytesView {
	/** @type {OpenDump | undefined} */ #dump;
	/** @type {Lunette | undefined} */ #client;
	/** @type {{key: string, hits: Hits} | undefined} */ #found;
	/** @type {Choice[]} */ #arrangements = [];
	#size = 0;
	#base = 0; // the address that the file gives its first byte
	#summing = 0;

	/** @param {HTMLElement} root */
	constructor(root) {
		this.order = el("select", { id: "order", onchange: () => this.#arrange(this.order.value) });
		this.address = el("input", { id: "goto", size: 10, autocomplete: "off", spellcheck: "false", "aria-describedby": "goto-error", placeholder: "01F400" });
		this.addressError = el("p", { id: "goto-error", class: "field-error", role: "alert" });
		this.pattern = el("input", { id: "find", autocomplete: "off", spellcheck: "false", "aria-describedby": "find-state" });
		this.kind = el("select", { id: "find-kind", "aria-label": "Look for", onchange: () => { this.pattern.placeholder = this.kind.value === "hex" ? "4E 5? 00" : ""; } }, el("option", { value: "text" }, "text"), el("option", { value: "hex" }, "bytes in hex"));
		this.foundState = el("p", { id: "find-state", class: "quiet", role: "status" });
		this.under = el("p", { class: "under mono" });
		this.from = el("input", { id: "from", size: 9, class: "mono", autocomplete: "off", spellcheck: "false", onchange: () => this.#typedSelection(this.from) });
		this.last = el("input", { id: "last", size: 9, class: "mono", autocomplete: "off", spellcheck: "false", onchange: () => this.#typedSelection(this.last) });
		this.length = el("p", { class: "length" });
		this.sums = el("p", { class: "mono selection-sums" });
		const place = el("div", { class: "place" });
		root.replaceChildren(
			el("div", { class: "tools" },
				el("div", { class: "field wide" }, el("label", { for: "order" }, "Order"), this.order),
				el("form", { class: "field", onsubmit: (/** @type {Event} */ e) => this.#submit(e, () => this.#typedAddress()) },
					el("label", { for: "goto" }, "Address"),
					el("div", { class: "joined" }, this.address, el("button", { type: "submit" }, "Go"))),
				el("form", { class: "field wide", onsubmit: (/** @type {Event} */ e) => this.#submit(e, () => this.#find(1)) },
					el("label", { for: "find" }, "Find"),
					el("div", { class: "joined" }, this.pattern, this.kind,
						el("button", { type: "button", onclick: () => this.#find(-1) }, "Previous"),
						el("button", { type: "submit" }, "Next")))),
			this.addressError, this.foundState, place, this.under,
			el("fieldset", { class: "selection" }, el("legend", {}, "Selection"),
				el("div", { class: "joined" },
					el("label", { for: "from" }, "from"), this.from, el("label", { for: "last" }, "to"), this.last, this.length),
				this.sums,
				el("div", { class: "joined" },
					el("button", { type: "button", onclick: () => this.#save() }, "Save selection"),
					el("button", { type: "button", onclick: () => this.#copy() }, "Copy as hex"),
					el("button", { type: "button", onclick: () => this.#saveAll() }, "Save all in this order"))));
		this.grid = new ByteGrid(place, () => this.#moved(), () => this.#copy());
	}

	/** @param {Lunette} client @param {Choice[]} arrangements */
	use(client, arrangements) {
		this.#client = client;
		this.#arrangements = arrangements;
	}

	/** @param {OpenDump} dump @param {Report} report */
	async show(dump, { order, dump: { base } }) {
		this.#dump = dump;
		this.#base = base ? parseInt(base, 16) : 0;
		const known = order.sure !== "cannot tell";
		this.order.replaceChildren(...this.#arrangements.map(({ id, name }) =>
			el("option", { value: id }, known && id === order.id ? `as the CPU sees it: ${name}` : name)));
		await this.#arrange(dump.arrangement);
		this.grid.select(0);
	}

	/** Shows stored bytes, wherever they stand in the order in view. @param {number} from @param {number} to */
	async jump(from, to) {
		const dump = this.#dump;
		if (!dump || !this.#client) {
			return;
		}
		let place = await this.#client.place(dump.id, dump.arrangement, from, to);
		if (place.from === place.to) {
			await this.#arrange("stored"); // those bytes are in another lane than the one in view
			place = { from, to };
		}
		this.grid.select(place.from, place.to);
		document.getElementById("bytes-section")?.scrollIntoView({ block: "nearest" });
		this.grid.scroller.focus({ preventScroll: true });
	}

	/** @param {string} arrangement */
	async #arrange(arrangement) {
		const dump = this.#dump;
		const client = this.#client;
		if (!dump || !client) {
			return;
		}
		dump.arrangement = arrangement;
		this.order.value = arrangement;
		this.#found = undefined;
		this.foundState.textContent = "";
		const total = await client.size(dump.id, arrangement);
		if (dump === this.#dump && arrangement === dump.arrangement) {
			this.#size = total;
			this.grid.show({ size: total, read: (from, to) => client.bytes(dump.id, arrangement, from, to) });
		}
	}

	/** @param {Event} event @param {() => void} act */
	#submit(event, act) {
		event.preventDefault();
		act();
	}

	#typedAddress() {
		const offset = typedHex(this.address.value);
		const fits = offset < this.#size;
		this.addressError.textContent = fits ? "" : Number.isNaN(offset)
			? `"${this.address.value}" is no hex address; write it like 01F400.`
			: `The image ends at ${address(this.#size - 1)}.`;
		if (fits) {
			this.grid.select(offset);
		}
	}

	/** Takes a typed end of the selection; the other end follows where they would cross. @param {HTMLInputElement} typed */
	#typedSelection(typed) {
		const value = typedHex(typed.value);
		if (!(value < this.#size)) {
			say(`"${typed.value}" is no hex address up to ${address(this.#size - 1)}.`);
			this.#moved();
			return;
		}
		const { from, to } = this.grid.selection;
		if (typed === this.from) {
			this.grid.select(value, Math.max(value + 1, to));
		} else {
			this.grid.select(Math.min(from, value), value + 1);
		}
	}

	/** Goes to the next match (1) or the one before (-1), round the end. @param {1 | -1} way */
	async #find(way) {
		const dump = this.#dump;
		const kind = this.kind.value === "hex" ? "hex" : "text";
		const key = `${kind} ${this.pattern.value}`;
		if (!dump || !this.#client) {
			return;
		}
		try {
			const again = this.#found?.key === key;
			if (!again) {
				this.#found = { key, hits: await this.#client.find(dump.id, dump.arrangement, kind, this.pattern.value) };
			}
			this.#goToHit(/** @type {{hits: Hits}} */ (this.#found).hits, way, again);
		} catch (error) {
			this.foundState.textContent = error instanceof Error ? sentence(error.message) : String(error);
		}
	}

	/** @param {Hits} hits @param {1 | -1} way @param {boolean} again  leaves the match under the cursor */
	#goToHit({ offsets, total }, way, again) {
		if (total === 0) {
			this.foundState.textContent = "Not found in this order. Another order may have it.";
			return;
		}
		const at = this.grid.selection.from;
		const after = offsets.findIndex((offset) => again ? offset > at : offset >= at);
		const before = offsets.findLastIndex((offset) => offset < at);
		const index = way > 0 ? Math.max(after, 0) : before < 0 ? offsets.length - 1 : before;
		this.grid.select(offsets[index], offsets[index] + this.#patternLength());
		const listed = offsets.length < total ? `; only the first ${count(offsets.length)} are stepped through` : "";
		this.foundState.textContent = `${count(index + 1)} of ${count(total)} at ${address(offsets[index])}${listed}.`;
	}

	#patternLength() {
		return this.kind.value === "hex" ? this.pattern.value.replace(/[\s,]/g, "").length / 2 : new TextEncoder().encode(this.pattern.value).length;
	}

	/** Tells what is under the cursor and selected. */
	#moved() {
		const { from, to } = this.grid.selection;
		this.under.textContent = this.#words();
		this.from.value = address(from);
		this.last.value = address(to - 1);
		this.length.textContent = size(to - from);
		clearTimeout(this.#summing);
		this.sums.textContent = "…";
		this.#summing = window.setTimeout(() => this.#sum(from, to), 150);
	}

	#words() {
		const at = this.grid.cursor;
		const value = this.grid.byte(at);
		if (value === undefined) {
			return address(at);
		}
		const inFile = this.#base > 0 && this.#dump?.arrangement === "stored" ? ` · ${address(this.#base + at)} by the file's own addresses` : "";
		const next = this.grid.byte(at + 1);
		const word = next === undefined ? "" : ` · word ${hex(value * 256 + next, 4)} high first, ${hex(next * 256 + value, 4)} low first`;
		return `${address(at)}: ${hex(value, 2)} = ${value} = ${value.toString(2).padStart(8, "0")}${word}${inFile}`;
	}

	/** @param {number} from @param {number} to */
	async #sum(from, to) {
		const dump = this.#dump;
		if (!dump || !this.#client) {
			return;
		}
		const sums = await this.#client.sums(dump.id, dump.arrangement, from, to).catch(() => /** @type {Sum[]} */ ([]));
		const now = this.grid.selection;
		if (from === now.from && to === now.to) {
			const of = (/** @type {string} */ id) => sums.find((sum) => sum.id === id)?.hex ?? "";
			this.sums.textContent = `byte sum ${of("byte-sum-16")} · CRC-32 ${of("crc-32")} · SHA-256 ${of("sha-256").slice(0, 16)}…`;
		}
	}

	#copy() {
		const { from, to } = this.grid.selection;
		if (to - from > 0x10000) {
			say("More than 64 KiB is too much to copy as text; save it instead.");
			return;
		}
		this.#read(from, to, (bytes) => copy(Array.from(bytes, (b) => hex(b, 2)).join(" "), size(bytes.length)));
	}

	#save() {
		const { from, to } = this.grid.selection;
		this.#read(from, to, (bytes) => save(bytes, this.#name(`.${address(from)}-${address(to - 1)}`)));
	}

	#saveAll() {
		this.#read(0, -1, (bytes) => save(bytes, this.#name("")));
	}

	/** @param {number} from @param {number} to @param {(bytes: Uint8Array<ArrayBuffer>) => void} then */
	async #read(from, to, then) {
		const dump = this.#dump;
		if (dump && this.#client) {
			then(await this.#client.bytes(dump.id, dump.arrangement, from, to));
		}
	}

	/** A new file's name says what was done. @param {string} part */
	#name(part) {
		const { name, arrangement } = /** @type {OpenDump} */ (this.#dump);
		const base = name.replace(/^.*[\\/]/, "").replace(/\.[^.]{1,4}$/, "").replace(/[^\w.+-]+/g, "-") || "dump";
		return `${base}.${arrangement}${part}.bin`;
	}
}
