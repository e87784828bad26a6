// The Checksums section: the usual sums first, the rest unfolded, and what a printed value is of.
// @ts-check
import { copy, el } from "./dom.js";
import { count, sentence } from "./units.js";

/** @import {Lunette} from "./lunette.js" */
/** @import {OpenDump} from "./start.js" */
/** @import {Choice, Sum, Explanation} from "./types.js" */

/** The sums shown before the rest is unfolded. */
const usual = ["byte-sum-16", "byte-sum-32", "crc-32", "md5", "sha-1", "sha-256"];

export class ChecksumsView {
	/** @type {OpenDump | undefined} */ #dump;
	/** @type {Lunette | undefined} */ #client;

	/** @param {HTMLElement} root */
	constructor(root) {
		this.order = el("select", { id: "sum-order", onchange: () => this.#sum() });
		this.table = el("div", {});
		this.value = el("input", { id: "printed", size: 12, autocomplete: "off", spellcheck: "false", autocapitalize: "characters", "aria-describedby": "printed-help" });
		this.answer = el("div", { class: "explained", role: "status" });
		root.replaceChildren(
			el("div", { class: "field" }, el("label", { for: "sum-order" }, "Of the whole dump"), this.order),
			this.table,
			el("form", { class: "printed", onsubmit: (/** @type {Event} */ e) => { e.preventDefault(); this.#explain(); } },
				el("label", { for: "printed" }, "What is this printed value?"),
				el("div", { class: "joined" }, this.value, el("button", { type: "submit" }, "Find it")),
				el("p", { id: "printed-help", class: "quiet" }, "In hex, from a sticker, a manual or a reader's screen.")),
			this.answer);
	}

	/** @param {Lunette} client @param {Choice[]} arrangements */
	use(client, arrangements) {
		this.#client = client;
		this.order.replaceChildren(...arrangements.map(({ id, name }) => el("option", { value: id }, name)));
	}

	/** @param {OpenDump} dump @param {Sum[]} sums */
	show(dump, sums) {
		this.#dump = dump;
		this.order.value = "stored";
		this.answer.replaceChildren();
		this.#list(sums);
	}

	async #sum() {
		const dump = this.#dump;
		const order = this.order.value;
		if (dump && this.#client) {
			const sums = await this.#client.sums(dump.id, order, 0, -1);
			if (dump === this.#dump && order === this.order.value) {
				this.#list(sums);
			}
		}
	}

	/** @param {Sum[]} sums */
	#list(sums) {
		const open = this.table.querySelector("details")?.open ?? false;
		const groups = [...new Set(sums.map(({ group }) => group))];
		this.table.replaceChildren(
			table("The usual sums", sums.filter(({ id }) => usual.includes(id))),
			el("details", { open }, el("summary", {}, `All ${count(sums.length)} sums`),
				...groups.map((group) => table(group, sums.filter((sum) => sum.group === group), true))));
	}

	async #explain() {
		const dump = this.#dump;
		if (!dump || !this.#client) {
			return;
		}
		this.answer.replaceChildren(el("p", { class: "quiet" }, "Looking…"));
		try {
			const explanation = await this.#client.explain(dump.id, this.value.value);
			if (dump === this.#dump) {
				this.answer.replaceChildren(...explained(explanation));
			}
		} catch (error) {
			this.answer.replaceChildren(el("p", { class: "field-error" }, error instanceof Error ? sentence(error.message) : String(error)));
		}
	}
}

/** @param {string} caption @param {Sum[]} sums @param {boolean} [shown] whether the caption shows */
function table(caption, sums, shown = false) {
	return el("table", { class: "sum-table" }, el("caption", { class: shown ? "" : "unseen" }, caption),
		el("tbody", {}, ...sums.map(({ name, hex, note, source }) =>
			el("tr", {},
				el("th", { scope: "row" }, name, note && el("span", { class: "met" }, note)),
				el("td", { class: "mono", title: `Source: ${source}` }, hex),
				el("td", {}, el("button", { type: "button", class: "plain", "aria-label": `Copy ${name}`, onclick: () => copy(hex, name) }, "copy"))))));
}

/** How many matches are listed. */
const listed = 8;

/** What a printed value can be, the answer first. @param {Explanation} explanation */
function explained({ verdict, answer, odds, caution, matches, tried }) {
	const shown = verdict === "nothing" ? [] : matches.slice(0, listed);
	return [
		el("p", {}, el("strong", {}, `${answer}.`), " ", el("span", { class: "sure" }, verdict)),
		caution && el("p", {}, `Careful: ${caution}.`),
		el("p", { class: "quiet" }, `${odds.charAt(0).toUpperCase()}${odds.slice(1)}.`),
		shown.length > 1 && el("ul", { "aria-label": "Every match" }, ...shown.map((match) =>
			el("li", {}, `${match.name}, over ${match.range}, ${match.order}: ${match.verdict}`))),
		matches.length > shown.length && shown.length > 0 && el("p", { class: "quiet" }, `and ${count(matches.length - shown.length)} less likely ones`),
		el("details", {}, el("summary", {}, "What was tried"), el("ul", {}, ...tried.map((line) => el("li", {}, line)))),
	].filter((part) => part instanceof Node);
}
