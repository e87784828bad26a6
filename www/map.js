// The map: the whole dump as a skyline. A bar is a block, its height the entropy, its tone what kind of content.
// @ts-check
import { el, svg } from "./dom.js";
import { baseLines, perRow, rowHeight, Skyline } from "./skyline.js";
import { address, size } from "./units.js";

/** @import {Report, DumpMap} from "./types.js" */

const tallest = 22; // of a bar: 8 bits a byte
const strip = 6; // of a blank block

/** How each kind is drawn and called, in the order of the legend. */
export const kinds = [
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

	/**
	 * @param {HTMLElement} root
	 * @param {(from: number, to: number) => void} jump  shows stored bytes
	 */
	constructor(root, jump) {
		/** @type {Skyline} */
		this.skyline = new Skyline({ label: "Block of the dump", go: jump, words: (block) => this.#words(block),
			bars: () => [patterns(), baseLines(this.skyline, this.#kinds.length), ...this.#bars(), this.#arrows()] });
		this.legend = el("ul", { class: "legend", "aria-label": "What the bars mean" });
		this.scale = el("p", { class: "scale" });
		root.replaceChildren(this.skyline.root, this.legend, this.scale);
	}

	/** @param {Report} report */
	show(report) {
		this.#map = report.map;
		this.#kinds = kindsOf(report);
		this.#marks = report.marks;
		const used = kinds.filter(({ kind }) => this.#kinds.includes(kind));
		this.legend.replaceChildren(...used.map(({ tone, words }) => legendItem(tone, words)));
		this.scale.textContent = `height: entropy, 0 to 8 bits a byte · a bar: ${size(report.map.blockSize)} · a row: ${size(report.map.blockSize * perRow)}${report.marks.length > 0 ? " · arrows: headers, sums and the first telling code" : ""}`;
		this.skyline.show(report.dump.size, report.map.blockSize);
	}

	/** One path a kind. */
	#bars() {
		const paths = new Map(kinds.map(({ kind, tone }) => [kind, { tone, d: "" }]));
		const wide = this.skyline.bar.toFixed(2);
		this.#kinds.forEach((kind, i) => {
			const path = paths.get(kind);
			if (path) {
				const { x, y } = this.skyline.corner(i);
				const tall = path.tone === "blank" || path.tone === "gap" ? strip : Math.max(2, (this.#map?.entropy[i] ?? 0) / 8 * tallest);
				path.d += `M${x.toFixed(2)} ${y}v${-tall.toFixed(2)}h${wide}v${tall.toFixed(2)}z`;
			}
		});
		return [...paths.values()].filter(({ d }) => d).map(({ tone, d }) => svg("path", { class: tone, d }));
	}

	/** A small arrow over every block with a mark. */
	#arrows() {
		const blocks = new Set(this.#marks.map(({ offset }) => Math.floor(offset / (this.#map?.blockSize ?? 1))));
		let d = "";
		for (const block of blocks) {
			const { x, y } = this.skyline.corner(block);
			d += `M${(x + this.skyline.barWidth / 2 - 3.5).toFixed(2)} ${y - rowHeight + 1}h7l-3.5 4.5z`;
		}
		return svg("path", { class: "arrow", d });
	}

	/** What is known of a block, in words. @param {number} i */
	#words(i) {
		const map = this.#map;
		const kind = kinds.find((k) => k.kind === this.#kinds[i]);
		if (!map || !kind) {
			return "";
		}
		const [from, to] = this.skyline.span(i);
		const share = (/** @type {number} */ n) => `${Math.round(100 * n / (to - from))} %`;
		const marks = this.#marks.filter(({ offset }) => offset >= from && offset < to).map(({ text }) => text);
		return `${address(from)} to ${address(to - 1)}: ${kind.words}; ${map.entropy[i].toFixed(1)} bits a byte; ` +
			`FF ${share(map.ff[i])}, 00 ${share(map.zero[i])}, printable ${share(map.text[i])}. ` +
			(marks.length > 0 ? `Here: ${[...new Set(marks)].join(", ")}.` : "Press or tap to see the bytes.");
	}
}

/** A tone and what it means. @param {string} tone @param {string} words */
export function legendItem(tone, words) {
	return el("li", {}, svg("svg", { viewBox: "0 0 16 16", class: "skyline", "aria-hidden": "true" }, svg("rect", { class: tone, width: 16, height: 16 })), words);
}

/** The kinds of a report's blocks; those that lie wholly in a gap of the file are "gap". @param {Report} report */
export function kindsOf({ map, dump }) {
	const gaps = dump.gaps ?? [];
	return map.kinds.map((kind, i) => {
		const from = i * map.blockSize;
		const to = Math.min(dump.size, from + map.blockSize);
		return gaps.some((gap) => gap.from <= from && gap.to >= to) ? "gap" : kind;
	});
}

/** The tone of a kind. @param {string} kind */
export const toneOf = (kind) => kinds.find((k) => k.kind === kind)?.tone ?? "mixed";

/** Hatching for blank blocks, dots for gaps: told apart without colour. */
function patterns() {
	return svg("defs", {},
		svg("pattern", { id: "hatch", width: 4, height: 4, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
			svg("path", { class: "hatch-line", d: "M1 0v4" })),
		svg("pattern", { id: "dots", width: 4, height: 4, patternUnits: "userSpaceOnUse" },
			svg("circle", { class: "dot", cx: 1.5, cy: 1.5, r: 1 })));
}
