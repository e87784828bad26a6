// Pieces that several sections are made of: an answer with what comes next, its reasons, cautions.
// @ts-check
import { el } from "./dom.js";

/**
 * The answer in the largest type, what to do next, and the cautions of those steps.
 * @param {string} headline @param {string[]} steps @param {string[]} warned
 * @returns {Node[]}
 */
export function answer(headline, steps, warned) {
	return [
		el("p", { class: "headline", role: "status" }, headline),
		...next(steps),
		...cautions(warned),
	];
}

/** What to do now. @param {string[]} steps @returns {Node[]} */
export const next = (steps) => steps.length === 0 ? [] : [el("p", { class: "next" }, el("strong", {}, "Next: "), steps.join(" "))];

/** @param {string[]} lines @returns {Node[]} */
export function cautions(lines) {
	return lines.length === 0 ? [] : [el("ul", { class: "cautions", "aria-label": "Cautions" }, ...lines.map((line) => el("li", {}, line)))];
}

/** What an answer rests on. @param {string[]} lines */
export const reasons = (lines) => el("ul", { class: "reasons" }, ...lines.map((line) => el("li", {}, /[.!?)]$/.test(line) ? capital(line) : `${capital(line)}.`)));

/** @param {string} words */
export const capital = (words) => words.charAt(0).toUpperCase() + words.slice(1);

/** The answer, and beside it on a wide screen what bears it out. @param {Node[]} main @param {Node[]} side */
export const columns = (main, side) => [el("div", { class: side.length > 0 ? "beside" : "" }, el("div", {}, ...main), side.length > 0 && el("div", {}, ...side))];

/** Nothing was done, and why. @param {string} why */
export const refused = (why) => el("p", { class: "refused", role: "status" }, why);
