// A skyline: a dump read like lines of text, a row a stretch of addresses, a bar a block. It knows where the bars stand and
// which one is chosen, by mouse, finger or key; what a bar looks like and says is its owner's.
// @ts-check
import { el, svg } from "./dom.js";
import { address } from "./units.js";

export const perRow = 64;
export const rowHeight = 30;

/**
 * @typedef {object} Owner
 * @property {string} label                          what a screen reader says the picture is
 * @property {(skyline: Skyline) => (Node | false)[]} bars  draws all bars
 * @property {(block: number) => string} words       what is known of a block
 * @property {(from: number, to: number) => void} go  shows the bytes of a block
 */

export class Skyline {
	#block = 0;
	#blocks = 0;
	#size = 0;
	#blockSize = 1;
	#left = 0;
	barWidth = 1;

	/** @param {Owner} owner */
	constructor(owner) {
		this.owner = owner;
		this.picture = svg("svg", {
			class: "skyline", tabindex: 0, role: "slider", "aria-label": owner.label, "aria-valuemin": 1,
			onkeydown: (/** @type {KeyboardEvent} */ e) => this.#key(e),
			onclick: (/** @type {MouseEvent} */ e) => this.#point(e, true),
			onpointermove: (/** @type {PointerEvent} */ e) => e.pointerType === "mouse" && this.#point(e, false),
		});
		this.here = svg("rect", { class: "here" });
		this.told = el("p", { class: "block" });
		this.root = el("div", {}, this.picture, this.told);
		new ResizeObserver(() => this.#draw()).observe(this.root);
	}

	/** @param {number} size  bytes @param {number} blockSize  bytes */
	show(size, blockSize) {
		this.#size = size;
		this.#blockSize = Math.max(1, blockSize);
		this.#blocks = Math.ceil(size / this.#blockSize);
		this.picture.setAttribute("aria-valuemax", String(this.#blocks));
		this.#draw();
		this.#choose(0);
	}

	/** The stretch of a block. @param {number} block */
	span(block) {
		return [block * this.#blockSize, Math.min(this.#size, (block + 1) * this.#blockSize)];
	}

	/** The lower left corner of a block's bar. @param {number} block */
	corner(block) {
		return { x: this.#left + (block % perRow) * this.barWidth, y: (Math.floor(block / perRow) + 1) * rowHeight };
	}

	/** How wide a bar is drawn. */
	get bar() { return this.barWidth - (this.barWidth > 4 ? 1 : 0.4); }

	#draw() {
		const width = this.root.clientWidth;
		if (this.#blocks === 0 || width === 0) {
			return;
		}
		const rows = Math.ceil(this.#blocks / perRow);
		this.#left = width >= 520 ? 60 : 2;
		this.barWidth = (width - this.#left - 2) / perRow;
		const height = rows * rowHeight + 2;
		this.picture.setAttribute("viewBox", `0 0 ${width} ${height}`);
		this.picture.setAttribute("height", String(height));
		this.picture.replaceChildren(...this.#addresses(rows), ...this.owner.bars(this).filter((bar) => bar !== false), this.here);
		this.#mark();
	}

	/** The address of each row, where there is room. @param {number} rows */
	#addresses(rows) {
		return this.#left > 2 ? Array.from({ length: rows }, (_, row) =>
			svg("text", { x: 0, y: (row + 1) * rowHeight - 2 }, address(row * this.#blockSize * perRow))) : [];
	}

	/** @param {MouseEvent} event @param {boolean} go */
	#point(event, go) {
		const box = this.picture.getBoundingClientRect();
		const column = Math.floor((event.clientX - box.left - this.#left) / this.barWidth);
		const row = Math.floor((event.clientY - box.top) / rowHeight);
		if (column >= 0 && column < perRow && row >= 0) {
			this.#choose(row * perRow + column);
			if (go) {
				this.#go();
			}
		}
	}

	/** @param {KeyboardEvent} event */
	#key(event) {
		const step = { ArrowRight: 1, ArrowLeft: -1, ArrowDown: perRow, ArrowUp: -perRow, PageDown: 8 * perRow, PageUp: -8 * perRow }[event.key];
		if (step !== undefined) {
			this.#choose(this.#block + step);
		} else if (event.key === "Home" || event.key === "End") {
			this.#choose(event.key === "Home" ? 0 : Infinity);
		} else if (event.key === "Enter" || event.key === " ") {
			this.#go();
		} else {
			return;
		}
		event.preventDefault();
	}

	/** @param {number} block */
	#choose(block) {
		this.#block = Math.max(0, Math.min(this.#blocks - 1, block));
		const text = this.#blocks > 0 ? this.owner.words(this.#block) : "";
		this.told.textContent = text;
		this.picture.setAttribute("aria-valuenow", String(this.#block + 1));
		this.picture.setAttribute("aria-valuetext", text);
		this.#mark();
	}

	#mark() {
		const { x, y } = this.corner(this.#block);
		for (const [name, value] of Object.entries({ x: x - 1.5, y: y - rowHeight + 3, width: this.barWidth + 2, height: rowHeight - 2 })) {
			this.here.setAttribute(name, String(value));
		}
	}

	#go() {
		const [from, to] = this.span(this.#block);
		this.owner.go(from, to);
	}
}

/** One row's base line. @param {Skyline} skyline @param {number} blocks @param {number} up  px above the row's foot */
export function baseLines(skyline, blocks, up = 0) {
	const rows = Math.ceil(blocks / perRow);
	const d = Array.from({ length: rows }, (_, row) => {
		const { x, y } = skyline.corner(row * perRow);
		return `M${x} ${y - up}h${(perRow * skyline.barWidth).toFixed(1)}`;
	}).join("");
	return svg("path", { class: "base", d });
}
