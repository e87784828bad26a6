// The byte grid: a window on the image, offset, bytes and text, with a cursor and a selection. It draws as many rows as
// fit and asks for the bytes of those; the rest of a dump, however large, is only a number.
// @ts-check
import { el } from "./dom.js";
import { address, hex } from "./units.js";

const chunk = 4096; // bytes fetched at a time
const kept = 64; // chunks kept
const tallest = 4_000_000; // px: browsers cap the height of an element, so longer images scroll in proportion

/**
 * @typedef {object} Image what the grid shows
 * @property {number} size  bytes
 * @property {(from: number, to: number) => Promise<Uint8Array>} read
 */

export class ByteGrid {
	/** @type {Image} */ #image = { size: 0, read: async () => new Uint8Array() };
	/** @type {Map<number, Uint8Array | undefined>} chunks by number; undefined while on their way */ #chunks = new Map();
	/** @type {{row: HTMLElement, offset: HTMLElement, bytes: HTMLElement[], chars: HTMLElement[]}[]} */ #rows = [];
	#columns = 16;
	#rowHeight = 24;
	#top = 0; // the first row in view, with a fraction
	#scrolled = 0; // scrollTop when #top was last taken from it
	#cursor = 0;
	#anchor = 0; // the other end of the selection
	#settling = 0;

	#dragging = 0;

	/**
	 * @param {HTMLElement} root
	 * @param {() => void} changed  the cursor or the selection moved
	 * @param {() => void} copy  the selection is wanted
	 */
	constructor(root, changed, copy) {
		this.changed = changed;
		this.copy = copy;
		this.view = el("div", { class: "view", role: "presentation" });
		this.spacer = el("div", { class: "spacer", role: "presentation" }, this.view);
		this.scroller = el("div", {
			class: "grid", tabindex: 0, role: "grid", "aria-label": "Bytes", "aria-readonly": "true",
			onscroll: () => this.#scroll(),
			onkeydown: (/** @type {KeyboardEvent} */ e) => this.#key(e),
			onpointerdown: (/** @type {PointerEvent} */ e) => this.#press(e),
			onpointermove: (/** @type {PointerEvent} */ e) => this.#drag(e),
			onpointerup: () => clearInterval(this.#dragging),
			onpointercancel: () => clearInterval(this.#dragging),
		}, this.spacer);
		this.probe = el("span", { class: "probe", "aria-hidden": "true" }, "0".repeat(20));
		root.replaceChildren(this.scroller, this.probe);
		new ResizeObserver(() => this.#fit()).observe(this.scroller);
	}

	/** The offset under the cursor. */
	get cursor() { return this.#cursor; }

	/** The selected stretch, its end not included; just the cursor's byte when nothing more is selected. */
	get selection() {
		return { from: Math.min(this.#anchor, this.#cursor), to: Math.min(this.#image.size, Math.max(this.#anchor, this.#cursor) + 1) };
	}

	/** The byte at an offset, if it has been fetched. @param {number} offset */
	byte(offset) { return this.#chunks.get(Math.floor(offset / chunk))?.[offset % chunk]; }

	/** @param {Image} image */
	show(image) {
		this.#image = image;
		this.#chunks.clear();
		this.#cursor = this.#anchor = Math.min(this.#cursor, Math.max(0, image.size - 1));
		this.#build();
	}

	/** Selects a stretch, its end not included, and brings its start into view. @param {number} from @param {number} [to] */
	select(from, to = from + 1) {
		this.#cursor = this.#clamp(from);
		this.#anchor = this.#clamp(to - 1);
		this.#reveal(true);
		this.#moved();
	}

	/** @param {number} offset */
	#clamp(offset) { return Math.max(0, Math.min(this.#image.size - 1, offset)); }

	get #totalRows() { return Math.ceil(this.#image.size / this.#columns); }
	get #shownRows() { return Math.max(1, Math.floor(this.scroller.clientHeight / this.#rowHeight)); }
	get #lastTop() { return Math.max(0, this.#totalRows - this.scroller.clientHeight / this.#rowHeight); }
	get #scrollable() { return Math.max(1, this.spacer.offsetHeight - this.scroller.clientHeight); }
	/** Whether the image is too long to be scrolled pixel by pixel. */
	get #scaled() { return this.#totalRows * this.#rowHeight > tallest; }

	/** Chooses how many columns fit. */
	#fit() {
		const width = this.probe.offsetWidth / 20; // of a character
		const room = this.scroller.clientWidth;
		if (room === 0) {
			return; // not on the page yet
		}
		const offsets = Math.max(6, address(Math.max(0, this.#image.size - 1)).length);
		const needs = (/** @type {number} */ columns) => (offsets + 1 + columns * 3 + 1 + columns) * width + 2;
		this.#columns = [16, 8, 4].find((columns) => needs(columns) <= room) ?? 4;
		this.#build();
	}

	/** Makes the rows anew: as many as fit, one for a partial row and one to spare. */
	#build() {
		const count = Math.min(this.#totalRows, this.#shownRows + 2);
		this.#rows = Array.from({ length: count }, (_, r) => this.#makeRow(r));
		this.view.replaceChildren(...this.#rows.map(({ row }) => row));
		this.scroller.setAttribute("aria-rowcount", String(this.#totalRows));
		this.scroller.setAttribute("aria-colcount", String(this.#columns + 1));
		this.spacer.style.blockSize = `${Math.min(tallest, this.#totalRows * this.#rowHeight)}px`;
		this.#reveal(false);
		this.#moved();
	}

	/** @param {number} r */
	#makeRow(r) {
		const offset = el("span", { class: "offset", role: "rowheader" });
		const bytes = Array.from({ length: this.#columns }, (_, c) =>
			el("span", { class: c % 8 === 7 ? "byte half" : "byte", role: "gridcell", id: `byte-${r}-${c}`, "aria-colindex": c + 2 }));
		const chars = Array.from({ length: this.#columns }, () => el("span", {}));
		const row = el("div", { class: "row", role: "row" }, offset, ...bytes, el("span", { class: "chars", "aria-hidden": "true" }, ...chars));
		return { row, offset, bytes, chars };
	}

	/** Takes the place of the scroll bar. Small moves of a scaled image are moves of so many pixels, not of the whole. */
	#scroll() {
		const at = this.scroller.scrollTop;
		const moved = at - this.#scrolled;
		this.#scrolled = at;
		if (!this.#scaled) {
			this.#top = at / this.#rowHeight;
		} else if (Math.abs(moved) < 2 * this.scroller.clientHeight) {
			this.#top += moved / this.#rowHeight;
		} else {
			this.#top = at / this.#scrollable * this.#lastTop;
		}
		this.#top = Math.max(0, Math.min(this.#lastTop, this.#top));
		if (this.#scaled) {
			clearTimeout(this.#settling);
			this.#settling = window.setTimeout(() => this.#settle(), 200);
		}
		this.#draw();
	}

	/** Sets the scroll bar to where the view is. */
	#settle() {
		const at = this.#scaled ? this.#top / Math.max(1, this.#lastTop) * this.#scrollable : this.#top * this.#rowHeight;
		this.scroller.scrollTop = at;
		this.#scrolled = this.scroller.scrollTop;
	}

	/** Brings the cursor's row into view. @param {boolean} roomy  with some rows above it, when it was out of view */
	#reveal(roomy) {
		const row = Math.floor(this.#cursor / this.#columns);
		const rows = this.#shownRows;
		if (row < this.#top || row > this.#top + rows - 1) {
			const above = roomy ? Math.floor(rows / 4) : row < this.#top ? 0 : rows - 1;
			this.#top = row - above;
		}
		this.#top = Math.max(0, Math.min(this.#lastTop, this.#top));
		this.#settle();
	}

	#moved() {
		this.#draw();
		this.changed();
	}

	#draw() {
		const first = Math.floor(this.#top);
		this.view.style.transform = `translateY(${-(this.#top - first) * this.#rowHeight}px)`;
		const { from, to } = this.selection;
		this.#rows.forEach((cells, r) => this.#drawRow(cells, first + r, from, to));
		const active = this.#cursor - first * this.#columns;
		const row = Math.floor(active / this.#columns);
		if (row >= 0 && row < this.#rows.length) {
			this.scroller.setAttribute("aria-activedescendant", `byte-${row}-${active % this.#columns}`);
		} else {
			this.scroller.removeAttribute("aria-activedescendant");
		}
		this.#fetch(first);
	}

	/**
	 * @param {{row: HTMLElement, offset: HTMLElement, bytes: HTMLElement[], chars: HTMLElement[]}} cells
	 * @param {number} number  of the row in the image
	 * @param {number} from  of the selection
	 * @param {number} to
	 */
	#drawRow({ row, offset, bytes, chars }, number, from, to) {
		const start = number * this.#columns;
		row.hidden = start >= this.#image.size;
		row.setAttribute("aria-rowindex", String(number + 1));
		offset.textContent = address(start);
		for (let c = 0; c < this.#columns; c++) {
			const at = start + c;
			const value = at < this.#image.size ? this.byte(at) : undefined;
			const [text, char, tone] = looks(value, at < this.#image.size);
			const mark = at === this.#cursor ? " at" : at >= from && at < to ? " in" : "";
			if (bytes[c].firstChild?.nodeValue !== text) {
				bytes[c].textContent = text;
				chars[c].textContent = char;
			}
			bytes[c].className = `byte${c % 8 === 7 ? " half" : ""}${tone}${mark}`;
			chars[c].className = `char${tone}${mark}`;
		}
	}

	/** Asks for the chunks in view that are not here yet. @param {number} firstRow */
	#fetch(firstRow) {
		const from = Math.floor(firstRow * this.#columns / chunk);
		const to = Math.floor(Math.min(this.#image.size - 1, (firstRow + this.#rows.length) * this.#columns) / chunk);
		for (let number = from; number <= to; number++) {
			if (!this.#chunks.has(number)) {
				this.#fetchChunk(number);
			}
		}
	}

	/** @param {number} number */
	async #fetchChunk(number) {
		const { read } = this.#image;
		const chunks = this.#chunks;
		chunks.set(number, undefined);
		try {
			const bytes = await read(number * chunk, (number + 1) * chunk);
			if (read !== this.#image.read) {
				return; // another image has come meanwhile
			}
			chunks.delete(number);
			chunks.set(number, bytes);
			for (const old of chunks.keys()) {
				if (chunks.size <= kept) {
					break;
				}
				chunks.delete(old);
			}
			this.#moved();
		} catch {
			chunks.delete(number); // the worker was lost; the next drawing asks again
		}
	}

	/** @param {PointerEvent} event */
	#offsetAt(event) {
		const cell = document.elementFromPoint(event.clientX, event.clientY)?.closest(".byte, .char") ?? null;
		const row = this.#rows.findIndex((cells) => cell !== null && cells.row.contains(cell));
		if (row < 0 || cell === null) {
			return -1;
		}
		const { bytes, chars } = this.#rows[row];
		const list = cell.classList.contains("byte") ? bytes : chars;
		const at = (Math.floor(this.#top) + row) * this.#columns + list.indexOf(/** @type {HTMLElement} */ (cell));
		return at < this.#image.size ? at : -1;
	}

	/** @param {PointerEvent} event */
	#press(event) {
		const at = this.#offsetAt(event);
		if (at >= 0 && event.button === 0) {
			this.#go(at, event.shiftKey);
			if (event.pointerType === "mouse") {
				this.scroller.setPointerCapture(event.pointerId);
			}
		}
	}

	/** A mouse drags a selection, and beyond the edge the grid follows; a finger scrolls. @param {PointerEvent} event */
	#drag(event) {
		if (event.pointerType !== "mouse" || event.buttons !== 1) {
			return;
		}
		clearInterval(this.#dragging);
		getSelection()?.removeAllRanges();
		const at = this.#offsetAt(event);
		if (at >= 0) {
			this.#go(at, true);
			return;
		}
		const { top, bottom } = this.scroller.getBoundingClientRect();
		const rows = event.clientY < top ? -1 : event.clientY > bottom ? 1 : 0;
		if (rows !== 0 && this.scroller.hasPointerCapture(event.pointerId)) {
			this.#dragging = window.setInterval(() => this.#go(this.#clamp(this.#cursor + rows * this.#columns), true), 40);
		}
	}

	/** @param {number} offset @param {boolean} extend */
	#go(offset, extend) {
		this.#cursor = this.#clamp(offset);
		if (!extend) {
			this.#anchor = this.#cursor;
		}
		this.#reveal(false);
		this.#moved();
	}

	/** The keys of the grid pattern of the ARIA Authoring Practices. @param {KeyboardEvent} event */
	#key(event) {
		const { key, ctrlKey, metaKey, shiftKey } = event;
		const columns = this.#columns;
		const column = this.#cursor % columns;
		const all = ctrlKey || metaKey;
		if (all && key.toLowerCase() === "a") {
			this.#anchor = 0;
			this.#cursor = this.#clamp(this.#image.size - 1);
			this.#moved();
			event.preventDefault();
			return;
		}
		if (all && key.toLowerCase() === "c") {
			this.copy();
			event.preventDefault();
			return;
		}
		const page = this.#shownRows * columns;
		const target = /** @type {Record<string, number>} */ ({
			ArrowRight: column < columns - 1 ? this.#cursor + 1 : this.#cursor,
			ArrowLeft: column > 0 ? this.#cursor - 1 : this.#cursor,
			ArrowDown: this.#cursor + columns < this.#image.size ? this.#cursor + columns : this.#cursor,
			ArrowUp: this.#cursor >= columns ? this.#cursor - columns : this.#cursor,
			PageDown: Math.min(this.#cursor + page, this.#image.size - 1),
			PageUp: this.#cursor >= page ? this.#cursor - page : column,
			Home: all ? 0 : this.#cursor - column,
			End: all ? this.#image.size - 1 : this.#cursor - column + columns - 1,
			Escape: this.#cursor,
		})[key];
		if (target !== undefined) {
			this.#go(target, shiftKey);
			event.preventDefault();
		}
	}
}

/**
 * What a byte looks like: its hex, its character and the class of its tone.
 * @param {number | undefined} value  undefined while it is on its way
 * @param {boolean} exists
 * @returns {[string, string, string]}
 */
function looks(value, exists) {
	if (!exists) {
		return ["", "", ""];
	}
	if (value === undefined) {
		return ["··", " ", ""];
	}
	if (value === 0 || value === 0xFF) {
		return [hex(value, 2), "·", " pale"];
	}
	return value > 0x20 && value < 0x7F ? [hex(value, 2), String.fromCharCode(value), " letter"] : [hex(value, 2), value === 0x20 ? " " : "·", ""];
}
