// The Text section: the readable texts, those first that name a version, a date or an owner, and a filter over them.
// @ts-check
import { el } from "./dom.js";
import { address, count } from "./units.js";

/** @import {Report, ReadableText} from "./types.js" */

/** How many are shown before the filter narrows them down. */
const shown = 40;

export class TextView {
	/** @type {Report["texts"]} */ #texts = { total: 0, listed: [] };

	/**
	 * @param {HTMLElement} root
	 * @param {(from: number, to: number) => void} jump  shows stored bytes
	 */
	constructor(root, jump) {
		this.jump = jump;
		this.filter = el("input", { id: "text-filter", type: "search", autocomplete: "off", spellcheck: "false", oninput: () => this.#draw() });
		this.state = el("p", { class: "quiet", role: "status" });
		this.list = el("ul", { class: "texts" });
		root.replaceChildren(
			el("div", { class: "field" }, el("label", { for: "text-filter" }, "Show only texts with"), this.filter),
			this.state, this.list);
	}

	/** @param {Report} report */
	show(report) {
		this.#texts = report.texts;
		this.filter.value = "";
		this.#draw();
	}

	#draw() {
		const { total, listed } = this.#texts;
		const wanted = this.filter.value.toLowerCase();
		const matching = listed.filter(({ text }) => text.toLowerCase().includes(wanted));
		this.list.replaceChildren(...matching.slice(0, shown).map((text) => this.#item(text)));
		this.state.textContent = total === 0 ? "No readable text."
			: wanted ? `${count(matching.length)} of the ${count(listed.length)} listed texts${matching.length > shown ? `; the first ${shown} are shown` : ""}.`
			: `${count(total)} runs of printable characters in this order; the most telling first.`;
	}

	/** @param {ReadableText} text */
	#item({ offset, stored, length, text, telling }) {
		return el("li", {}, el("button", { type: "button", class: telling ? "telling" : "", onclick: () => this.jump(stored, stored + length) },
			el("span", { class: "mono quiet" }, address(offset)), " ", text, length > text.length && "…"));
	}
}
