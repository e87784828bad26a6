// The verdict: one sentence, what to do next, and the reasons, each unfolding to its evidence.
// @ts-check
import { el } from "./dom.js";
import { glass } from "./glass.js";
import { address } from "./units.js";

/** @import {Report, Finding, Evidence} from "./types.js" */

/**
 * @param {HTMLElement} root
 * @param {Report} report
 * @param {(from: number, to: number) => void} jump  shows stored bytes
 */
export function showVerdict(root, report, jump) {
	const { state, headline, next } = report.verdict;
	root.replaceChildren(
		el("div", { class: "answer" },
			glass(state),
			el("div", {}, el("p", { class: "word" }, state), el("p", { class: "headline" }, headline))),
		next ? el("p", { class: "next" }, el("strong", {}, "Next: "), next) : "",
		el("ul", { class: "findings" }, ...report.findings.map((finding) => item(finding, jump))));
}

/** @param {Finding} finding @param {(from: number, to: number) => void} jump */
function item(finding, jump) {
	const { severity, evidence = [], chance, next } = finding;
	const proof = [
		...evidence.map((one) => el("p", {}, ...proofOf(one, jump))),
		chance && el("p", {}, `By chance: ${chance}.`),
		next && el("p", {}, el("strong", {}, "Next: "), next),
	].filter(Boolean);
	if (proof.length === 0) {
		return el("li", { class: severity }, el("div", { class: "finding" }, ...line(finding)));
	}
	return el("li", { class: severity },
		el("details", {}, el("summary", { class: "finding" }, ...line(finding)), el("div", { class: "proof" }, ...proof)));
}

/** @param {Finding} finding */
function line({ question, answer, sure }) {
	return [
		el("span", { class: "question" }, question),
		el("span", { class: "answer-text" }, answer),
		el("span", { class: `sure ${sure}` }, sure),
	];
}

/** @param {Evidence} one @param {(from: number, to: number) => void} jump */
function proofOf({ text, from = 0, to = 0, expected, found }, jump) {
	const capital = text.charAt(0).toUpperCase() + text.slice(1);
	const parts = [`${capital}.`];
	if (expected || found) {
		parts.push(` Expected ${expected}, found ${found}.`);
	}
	const show = to > from && el("button", { class: "show", type: "button", onclick: () => jump(from, to) }, `show ${address(from)}`);
	return [parts.join(""), show];
}
