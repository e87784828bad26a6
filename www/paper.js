// The report for the owner of the board: what a person types, what other sections hand over, and the sheet that is shown,
// saved and printed.
// @ts-check
import { copy, el, save } from "./dom.js";
import { glass } from "./glass.js";
import { patternMap } from "./patternmap.js";
import { printOnly } from "./print.js";

/** @import {Lunette} from "./lunette.js" */
/** @import {OpenDump} from "./start.js" */
/** @import {Job, Paper, Part, Report, ReportSection} from "./types.js" */

/** @typedef {{section: ReportSection, taken: boolean}} Offer what a section has handed over, and whether it goes into the report */

/** @type {{id: keyof Job, words: string}[]} */
const fields = [
	{ id: "name", words: "Name of the job" },
	{ id: "owner", words: "Owner of the board" },
	{ id: "date", words: "Date" },
	{ id: "reads", words: "How often it was read, and how that went" },
];

export class PaperView {
	/** @type {Lunette | undefined} */ #client;
	/** @type {OpenDump | undefined} */ #dump;
	/** @type {Offer[]} */ #offers = [];
	/** @type {Paper | undefined} */ #paper;
	#asked = 0;

	constructor() {
		this.inputs = fields.map(({ id, words }) => ({ id, words, input: el("input", { id: `job-${id}`, autocomplete: "off", oninput: () => this.#draw() }) }));
		this.notes = el("textarea", { id: "job-notes", rows: 3, oninput: () => this.#draw() });
		this.offers = el("fieldset", { class: "reads", hidden: true });
		this.sheet = el("article", { class: "paper", tabindex: 0, "aria-label": "The report" });
		this.root = el("div", { class: "for-paper" },
			el("h3", {}, "The report for the owner of the board"),
			el("p", { class: "quiet" }, "What you type stays on this page and is stored nowhere; what you leave empty becomes a line to write on."),
			el("div", { class: "job" }, ...this.inputs.map(({ id, words, input }) => el("div", { class: "field wide" }, el("label", { for: `job-${id}` }, words), input)),
				el("div", { class: "field wide notes" }, el("label", { for: "job-notes" }, "Notes"), this.notes)),
			this.offers, this.sheet,
			el("div", { class: "joined" },
				el("button", { type: "button", onclick: () => printOnly("paper") }, "Print the report"),
				el("button", { type: "button", onclick: () => this.#paper && copy(this.#paper.text, "The report") }, "Copy as text"),
				el("button", { type: "button", class: "save-text", onclick: () => this.#paper && save(this.#paper.text, `${this.#paper.name}.txt`) }, "Save as text"),
				el("button", { type: "button", class: "save-json", onclick: () => this.#saveJSON() }, "Save as JSON")));
	}

	/** @param {Lunette} client */
	use(client) {
		this.#client = client;
		this.#draw();
	}

	/** @param {OpenDump} dump */
	show(dump) {
		if (dump.id !== this.#dump?.id) {
			this.#offers = this.#offers.filter(({ taken }) => taken);
			this.#drawOffers();
		}
		this.#dump = dump;
		this.#draw();
	}

	/** No dump is open any more. */
	hide() {
		this.#dump = undefined;
		delete document.documentElement.dataset.print;
	}

	/** A section hands something over. What a person has taken into the report stays; of the rest the newest is offered. @param {ReportSection} section */
	tell(section) {
		const kind = (/** @type {ReportSection} */ { title }) => title.split(" ")[0];
		const known = this.#offers.find((offer) => JSON.stringify(offer.section) === JSON.stringify(section));
		this.#offers = this.#offers.filter((offer) => offer === known || offer.taken || kind(offer.section) !== kind(section));
		if (!known) {
			this.#offers.push({ section, taken: false });
		}
		this.#drawOffers();
	}

	#drawOffers() {
		this.offers.hidden = this.#offers.length === 0;
		this.offers.replaceChildren(el("legend", {}, "Put into the report, too"), ...this.#offers.map((offer) => el("label", { class: "tick" },
			el("input", { type: "checkbox", checked: offer.taken, onchange: (/** @type {Event} */ e) => {
				offer.taken = /** @type {HTMLInputElement} */ (e.target).checked;
				this.#draw();
			} }), el("span", {}, el("bdi", {}, offer.section.title), ": ", el("span", { class: "quiet" }, offer.section.lines[0])))));
	}

	/** @returns {Job} */
	#job() {
		const typed = Object.fromEntries(this.inputs.map(({ id, input }) => [id, input.value]));
		return /** @type {Job} */ ({ ...typed, notes: this.notes.value });
	}

	#sections() {
		return this.#offers.filter(({ taken }) => taken).map(({ section }) => section);
	}

	async #draw() {
		const dump = this.#dump;
		const report = dump?.report;
		if (!this.#client || !dump || !report) {
			return;
		}
		const asked = ++this.#asked;
		const paper = await this.#client.paper(dump.id, this.#job(), this.#sections()).catch(() => undefined); // a lost worker is told of elsewhere
		if (paper && asked === this.#asked) {
			this.#paper = paper;
			this.sheet.replaceChildren(...sheet(paper, report));
			document.documentElement.dataset.print ??= "paper";
		}
	}

	/** The report's own JSON with what was typed and handed over. */
	#saveJSON() {
		if (this.#paper && this.#dump?.report) {
			save(JSON.stringify({ ...this.#dump.report, job: this.#job(), sections: this.#sections() }, null, "\t"), `${this.#paper.name}.json`);
		}
	}
}

/** @param {Paper} paper @param {Report} report */
function sheet({ document: { title, parts } }, report) {
	return [
		el("header", {}, glass(report.verdict.state, report.verdict.proven), el("h4", {}, title)),
		...parts.map((one) => part(one, report)),
	];
}

/** The map stands under the verdict. @param {Part} part @param {Report} report */
function part({ title, rows, lead, next, findings, items, blank }, report) {
	return el("section", { class: lead ? "verdict-part" : "" },
		title && el("h5", {}, title),
		rows.length > 0 && el("dl", {}, ...rows.map(({ name, value, typed }) => el("div", {}, el("dt", {}, name),
			el("dd", { class: typed && !value ? "to-write" : /CRC|MD5|SHA|sum/.test(name) ? "mono" : "" }, value)))),
		lead && el("p", { class: "lead" }, lead),
		next && el("p", {}, el("strong", {}, "Next: "), next),
		lead && patternMap(report),
		...findings.map((told) => el("div", { class: "told" }, el("p", {}, told.text), list(told.items), told.next && el("p", {}, el("strong", {}, "Next: "), told.next))),
		list(items),
		...Array.from({ length: blank }, () => el("p", { class: "to-write" })));
}

/** @param {string[]} items */
const list = (items) => items.length > 0 && el("ul", {}, ...items.map((item) => el("li", {}, item)));
