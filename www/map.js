// The map: the whole dump as a skyline. A bar is a block, its height the entropy, its tone what kind of content.
// @ts-check
import { el, svg } from "./dom.js";
import { address, size } from "./units.js";

/** @import {Report, DumpMap} from "./types.js" */

const perRow = 64;
const rowHeight = 30;
const tallest = 22; // of a bar: 8 bits a byte
const strip = 6; // of a blank block

/** How each kind is drawn and called, in the order of the legend. */
const kinds = [
	{ kind: "mixed", tone: "mixed", words: "mixed: code and tables look like this" },
	{ kind: "text", tone: "text", words: "text" },
	{ kind: "sparse", tone: "sparse", words: "sparse" },
	{ kind: "dense", tone: "dense", words: "dense: packed or random" },
	{ kind: "blank FF", tone: "blank", words: "blank FF" },
	{ kind: "blank 00", tone: "blank", words: "blank 00" },
	{ kind: "constant", tone: "blank", words: "one byte repeated" },
	{ kind: "gap", tone: "gap", words: "gap in the file" },
];

export class DumpMapView {
	/** @type {DumpMap | undefined} */ #map;
	/** @type {string[]} */ #kinds = [];
	/** @type {Report["marks"]} */ #marks = [];
	#size = 0;
	#block = 0;
	#barWidth = 1;
	#left = 0;

	/**
	 * @param {HTMLElement} root
	 * @param {(from: number, to: number) => void} jump  shows stored bytes
	 */
	constructor(root, jump) {
		this.jump = jump;
		this.picture = svg("svg", {
			class: "skyline", tabindex: 0, role: "slider", "aria-label": "Block of the dump", "aria-valuemin": 1,
			onkeydown: (/** @type {KeyboardEvent} */ e) => this.#key(e),
			onclick: (/** @type {MouseEvent} */ e) => this.#point(e, true),
			onpointermove: (/** @type {PointerEvent} */ e) => e.pointerType === "mouse" && this.#point(e, false),
		});
		this.here = svg("rect", { class: "here" });
		this.told = el("p", { class: "block" });
		this.legend = el("ul", { class: "legend", "aria-label": "What the bars mean" });
		this.scale = el("p", { class: "scale" });
		root.replaceChildren(this.picture, this.told, this.legend, this.scale);
		new ResizeObserver(() => this.#draw()).observe(root);
	}

	/** @param {Report} report */
	show(report) {
		this.#map = report.map;
		this.#size = report.dump.size;
		this.#kinds = withGaps(report);
		this.#marks = report.marks;
		this.#block = 0;
		const used = kinds.filter(({ kind }) => this.#kinds.includes(kind));
		this.legend.replaceChildren(...used.map(({ tone, words }) =>
			el("li", {}, svg("svg", { viewBox: "0 0 16 16", class: "skyline", "aria-hidden": "true" }, svg("rect", { class: tone, width: 16, height: 16 })), words)));
		this.scale.textContent = `height: entropy, 0 to 8 bits a byte · a bar: ${size(report.map.blockSize)} · a row: ${size(report.map.blockSize * perRow)}${report.marks.length > 0 ? " · arrows: headers, sums and the first telling code" : ""}`;
		this.picture.setAttribute("aria-valuemax", String(this.#kinds.length));
		this.#draw();
		this.#choose(0);
	}

	#draw() {
		const width = this.picture.parentElement?.clientWidth ?? 0;
		if (!this.#map || width === 0) {
			return;
		}
		const rows = Math.ceil(this.#kinds.length / perRow);
		this.#left = width >= 520 ? 60 : 2;
		this.#barWidth = (width - this.#left - 2) / perRow;
		const height = rows * rowHeight + 2;
		this.picture.setAttribute("viewBox", `0 0 ${width} ${height}`);
		this.picture.setAttribute("height", String(height));
		this.picture.replaceChildren(patterns(), ...this.#rows(rows, width), ...this.#bars(), this.#arrows(), this.here);
		this.#mark();
	}

	/** The base line of each row and, where there is room, its address. @param {number} rows @param {number} width */
	#rows(rows, width) {
		const step = (this.#map?.blockSize ?? 0) * perRow;
		return Array.from({ length: rows }, (_, row) => {
			const y = (row + 1) * rowHeight;
			return svg("g", {},
				svg("path", { class: "base", d: `M${this.#left} ${y}H${width}` }),
				this.#left > 2 && svg("text", { x: 0, y: y - 2 }, address(row * step)));
		});
	}

	/** One path a kind. */
	#bars() {
		const paths = new Map(kinds.map(({ kind, tone }) => [kind, { tone, d: "" }]));
		const gap = this.#barWidth > 4 ? 1 : 0.4;
		this.#kinds.forEach((kind, i) => {
			const path = paths.get(kind);
			if (path) {
				const { x, y } = this.#corner(i);
				const tall = path.tone === "blank" || path.tone === "gap" ? strip : Math.max(2, (this.#map?.entropy[i] ?? 0) / 8 * tallest);
				path.d += `M${x.toFixed(2)} ${y}v${-tall.toFixed(2)}h${(this.#barWidth - gap).toFixed(2)}v${tall.toFixed(2)}z`;
			}
		});
		return [...paths.values()].filter(({ d }) => d).map(({ tone, d }) => svg("path", { class: tone, d }));
	}

	/** A small arrow over every block with a mark. */
	#arrows() {
		const blocks = new Set(this.#marks.map(({ offset }) => Math.floor(offset / (this.#map?.blockSize ?? 1))));
		let d = "";
		for (const block of blocks) {
			const { x, y } = this.#corner(block);
			d += `M${(x + this.#barWidth / 2 - 3.5).toFixed(2)} ${y - rowHeight + 1}h7l-3.5 4.5z`;
		}
		return svg("path", { class: "arrow", d });
	}

	/** The lower left corner of a block's bar. @param {number} i */
	#corner(i) {
		return { x: this.#left + (i % perRow) * this.#barWidth, y: (Math.floor(i / perRow) + 1) * rowHeight };
	}

	/** @param {MouseEvent} event @param {boolean} go */
	#point(event, go) {
		const box = this.picture.getBoundingClientRect();
		const column = Math.floor((event.clientX - box.left - this.#left) / this.#barWidth);
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
		this.#block = Math.max(0, Math.min(this.#kinds.length - 1, block));
		const text = this.#words();
		this.told.textContent = text;
		this.picture.setAttribute("aria-valuenow", String(this.#block + 1));
		this.picture.setAttribute("aria-valuetext", text);
		this.#mark();
	}

	/** What is known of the chosen block, in words. */
	#words() {
		const map = this.#map;
		const kind = kinds.find((k) => k.kind === this.#kinds[this.#block]);
		if (!map || !kind) {
			return "";
		}
		const [from, to] = this.#span();
		const i = this.#block;
		const share = (/** @type {number} */ n) => `${Math.round(100 * n / (to - from))} %`;
		const marks = this.#marks.filter(({ offset }) => offset >= from && offset < to).map(({ text }) => text);
		return `${address(from)} to ${address(to - 1)}: ${kind.words}; ${map.entropy[i].toFixed(1)} bits a byte; ` +
			`FF ${share(map.ff[i])}, 00 ${share(map.zero[i])}, printable ${share(map.text[i])}. ` +
			(marks.length > 0 ? `Here: ${[...new Set(marks)].join(", ")}.` : "Press or tap to see the bytes.");
	}

	#span() {
		const block = this.#map?.blockSize ?? 0;
		return [this.#block * block, Math.min(this.#size, (this.#block + 1) * block)];
	}

	#mark() {
		const { x, y } = this.#corner(this.#block);
		for (const [name, value] of Object.entries({ x: x - 1.5, y: y - rowHeight + 3, width: this.#barWidth + 2, height: rowHeight - 2 })) {
			this.here.setAttribute(name, String(value));
		}
	}

	#go() {
		const [from, to] = this.#span();
		this.jump(from, to);
	}
}

/** The kinds of a report's blocks; those that lie wholly in a gap of the file are "gap". @param {Report} report */
function withGaps({ map, dump }) {
	const gaps = dump.gaps ?? [];
	return map.kinds.map((kind, i) => {
		const from = i * map.blockSize;
		const to = Math.min(dump.size, from + map.blockSize);
		return gaps.some((gap) => gap.from <= from && gap.to >= to) ? "gap" : kind;
	});
}

/** Hatching for blank blocks, dots for gaps: told apart without colour. */
function patterns() {
	return svg("defs", {},
		svg("pattern", { id: "hatch", width: 4, height: 4, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
			svg("path", { class: "hatch-line", d: "M1 0v4" })),
		svg("pattern", { id: "dots", width: 4, height: 4, patternUnits: "userSpaceOnUse" },
			svg("circle", { class: "dot", cx: 1.5, cy: 1.5, r: 1 })));
}
