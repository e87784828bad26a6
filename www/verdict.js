// The verdict: one sentence, what to do next, and the reasons, each unfolding to its evidence.
// @ts-check
import { el } from "./dom.js";
import { glass } from "./glass.js";

/** @import {Choice, Evidence, Finding, Report} from "./types.js" */
/** @import {Said} from "./start.js" */

export class VerdictView {
	/** @type {Choice[]} */ #arrangements = [];
	/** @type {Choice[]} */ #families = [];

	/**
	 * @param {HTMLElement} root
	 * @param {(from: number, to: number) => void} jump  shows stored bytes
	 * @param {(said?: Said) => void} setByHand
	 */
	constructor(root, jump, setByHand) {
		this.root = root;
		this.jump = jump;
		this.setByHand = setByHand;
	}

	/** @param {Choice[]} arrangements @param {Choice[]} families */
	use(arrangements, families) {
		this.#arrangements = arrangements;
		this.#families = families;
	}

	/** @param {Report} report */
	show(report) {
		const { state, headline, next } = report.verdict;
		const word = stateWord(report.verdict);
		this.root.replaceChildren(
			el("div", { class: "answer" },
				glass(state, report.verdict.proven),
				el("div", {}, el("p", { class: `word ${state}` }, word), el("p", { class: "headline" }, headline))),
			next ? el("p", { class: "next" }, el("strong", {}, "Next: "), next) : "",
			el("ul", { class: "findings" }, ...report.findings.map((finding) => item(finding, this.jump))),
			this.#disagree(report));
	}

	/** A person may know better: order and CPU by hand. @param {Report} report */
	#disagree({ order, cpu }) {
		const orders = choice("said-order", this.#arrangements.filter(({ id }) => !id.startsWith("lane")), order.id);
		const families = choice("said-cpu", [{ id: "", name: "not said" }, ...this.#families], cpu.id);
		return el("details", { class: "disagree", open: order.sure === "by hand" },
			el("summary", {}, "You know better? Set order and CPU by hand"),
			el("form", { class: "tools", onsubmit: (/** @type {Event} */ e) => {
				e.preventDefault();
				this.setByHand({ order: orders.value, family: families.value });
			} },
				el("div", { class: "field wide" }, el("label", { for: "said-order" }, "The CPU sees it with"), orders),
				el("div", { class: "field wide" }, el("label", { for: "said-cpu" }, "CPU"), families),
				el("div", { class: "joined" }, el("button", { type: "submit" }, "Use this"),
					order.sure === "by hand" && el("button", { type: "button", onclick: () => this.setByHand() }, "Back to the evidence"))));
	}
}

/** The word for a state: what nothing speaks against and nothing proves is sound so far. @param {Report["verdict"]} verdict */
export const stateWord = ({ state, proven }) => state === "sound" && !proven ? "sound so far" : state;

/** @param {string} id @param {Choice[]} choices @param {string} chosen */
function choice(id, choices, chosen) {
	return el("select", { id }, ...choices.map((one) => el("option", { value: one.id, selected: one.id === chosen }, one.name)));
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

/** A finding in one line. @param {Pick<Finding, "question" | "answer" | "sure">} finding */
export function line({ question, answer, sure }) {
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
	const show = to > from && el("button", { class: "show", type: "button", "aria-label": `Show the bytes: ${text}`, onclick: () => jump(from, to) }, "show");
	return [parts.join(""), show];
}
