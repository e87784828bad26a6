// The map for paper: the skyline of map.js by patterns alone, so that it can be read in black and white.
// @ts-check
import { el, svg } from "./dom.js";
import { kinds, kindsOf, toneOf } from "./map.js";
import { address, size } from "./units.js";

/** @import {Report} from "./types.js" */

const perRow = 64;
const bar = 9.4;
const rowHeight = 30;
const left = 58; // for the addresses
const tallest = 22; // of a bar: 8 bits a byte
const strip = 6; // of a blank block

/** What each tone is filled with: lines in a square of so many, of a width; solid where there are none. @type {Record<string, {d: string, side: number, wide: number}>} */
const fills = {
	mixed: { d: "", side: 0, wide: 0 },
	text: { d: "M1 0v4", side: 4, wide: 1.2 },
	sparse: { d: "M0 1.5h1.2M2 3.5h1.2", side: 4, wide: 1.2 },
	dense: { d: "M0 2.5h5M2.5 0v5", side: 5, wide: 1.6 },
	blank: { d: "M-1 5L5 -1M-1 1L1 -1M3 5L5 3", side: 4, wide: 0.8 },
	gap: { d: "M0 2h.9", side: 5, wide: 0.9 },
};

/** @param {Report} report */
export function patternMap(report) {
	const all = kindsOf(report);
	const rows = Math.ceil(all.length / perRow);
	const used = kinds.filter(({ kind }) => all.includes(kind));
	const tones = [...new Set(used.map(({ tone }) => tone))];
	const height = rows * rowHeight + 2;
	return el("figure", { class: "pattern-map" },
		svg("svg", { viewBox: `0 0 ${left + perRow * bar + 2} ${height}`, role: "img", "aria-label": "Map of the dump" },
			svg("defs", {}, ...tones.filter((tone) => fills[tone].d).map((tone) => pattern(tone))),
			...Array.from({ length: rows }, (_, row) => svg("text", { x: 0, y: (row + 1) * rowHeight - 2 }, address(row * report.map.blockSize * perRow))),
			...tones.map((tone) => svg("path", { ...look(tone), d: all.map((kind, i) => toneOf(kind) === tone ? box(i, tall(tone, report.map.entropy[i])) : "").join("") })),
			svg("path", { class: "base", d: Array.from({ length: rows }, (_, row) => `M${left} ${(row + 1) * rowHeight}h${perRow * bar}`).join("") })),
		el("ul", { class: "legend" }, ...used.map(({ tone, words }) => el("li", {},
			svg("svg", { viewBox: "0 0 16 16", "aria-hidden": "true" }, svg("rect", { ...look(tone), x: 0.5, y: 0.5, width: 15, height: 15 })), words))),
		el("figcaption", {}, `height: entropy, 0 to 8 bits a byte · a bar: ${size(report.map.blockSize)} · a row: ${size(report.map.blockSize * perRow)}`));
}

/** @param {string} tone */
const pattern = (tone) => svg("pattern", { id: `paper-${tone}`, width: fills[tone].side, height: fills[tone].side, patternUnits: "userSpaceOnUse" },
	svg("path", { d: fills[tone].d, stroke: "#000", "stroke-width": fills[tone].wide }));

/** @param {string} tone */
const look = (tone) => ({ class: tone, fill: fills[tone].d ? `url(#paper-${tone})` : "#444", stroke: fills[tone].d ? "#000" : "none", "stroke-width": 0.5 });

/** @param {string} tone @param {number} entropy */
const tall = (tone, entropy) => tone === "blank" || tone === "gap" ? strip : Math.max(2, entropy / 8 * tallest);

/** @param {number} i @param {number} height */
const box = (i, height) => `M${(left + i % perRow * bar).toFixed(1)} ${(Math.floor(i / perRow) + 1) * rowHeight}v${-height.toFixed(1)}h${bar - 1}v${height.toFixed(1)}z`;
