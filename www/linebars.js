// One bar a line: a bad contact stands out.
// @ts-check
import { el, svg } from "./dom.js";
import { count } from "./units.js";

/**
 * @typedef {object} LineBar
 * @property {string} line    "D3"
 * @property {number} one     bits that read 1 and should be 0
 * @property {number} zero    bits that read 0 and should be 1
 */

/**
 * @param {LineBar[]} bars
 * @param {string} caption
 * @param {[string, string]} words  what one and zero mean; an empty one leaves its numbers out
 */
export function lineBars(bars, caption, words) {
	const most = Math.max(1, ...bars.map(({ one, zero }) => one + zero));
	return el("table", { class: "linebars" }, el("caption", {}, caption),
		el("thead", {}, el("tr", {}, el("td", {}), el("td", {}), ...words.filter((word) => word).map((word) => el("th", { scope: "col" }, word)))),
		el("tbody", {}, ...bars.map(({ line, one, zero }) => el("tr", {},
			el("th", { scope: "row" }, line),
			el("td", {}, svg("svg", { viewBox: "0 0 200 10", preserveAspectRatio: "none", class: "linebar", "aria-hidden": "true" },
				svg("rect", { class: "up", x: 0, y: 0, width: 200 * one / most, height: 10 }),
				svg("rect", { class: "down", x: 200 * one / most, y: 2, width: 200 * zero / most, height: 6 }))),
			...[one, zero].filter((_, i) => words[i]).map((n) => el("td", { class: "mono" }, count(n)))))));
}
