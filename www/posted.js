// A link that somebody posted: what they say of their dump, unchecked, and what one's own dump is to it.
// @ts-check
import { el } from "./dom.js";
import { glass } from "./glass.js";
import { reasons, refused } from "./parts.js";
import { address, count, sentence, size } from "./units.js";
import { line } from "./verdict.js";

/** @import {Lunette} from "./lunette.js" */
/** @import {OpenDump} from "./start.js" */
/** @import {Answer, Statement} from "./types.js" */

const listed = 48; // stretches

export class PostedView {
	/** @type {Lunette | undefined} */ #client;
	/** @type {OpenDump | undefined} */ #dump;
	#link = "";
	#asked = 0;

	/**
	 * @param {HTMLElement} section  hidden while there is no link
	 * @param {HTMLElement} root
	 * @param {(from: number, to: number) => void} jump  shows stored bytes
	 */
	constructor(section, root, jump) {
		this.section = section;
		this.root = root;
		this.jump = jump;
		this.statement = el("div", {});
		this.own = el("div", { class: "own", role: "status" });
		this.share = el("progress", { max: 1, value: 0, "aria-label": "Held against the link" });
		addEventListener("hashchange", () => this.#look());
		this.#look();
	}

	/** @param {Lunette} client */
	use(client) {
		this.#client = client;
		this.#read();
	}

	/** The dump that is looked at, if any, is held against the link. @param {OpenDump} [dump] */
	show(dump) {
		this.#dump = dump;
		this.#check();
	}

	/** How much of a long call on a dump is done. @param {string} id @param {number} share */
	progress(id, share) {
		if (id === this.#dump?.id) {
			this.share.value = share;
		}
	}

	/** Looks what stands after # in the address: a link of ours, somebody else's text, or a place on this page. */
	#look() {
		const fragment = location.hash.slice(1);
		if (document.getElementById(fragment)) {
			return; // the skip link
		}
		this.#link = fragment;
		this.section.hidden = fragment === "";
		this.root.replaceChildren(...(fragment ? [this.statement, this.own, el("button", { type: "button", onclick: () => this.#putAway() }, "Put it away")] : []));
		this.statement.replaceChildren(el("p", { class: "quiet" }, "There is a statement in this link. It is read as soon as the core is here."));
		this.own.replaceChildren();
		this.#read();
	}

	async #read() {
		const link = this.#link;
		if (!this.#client || !link) {
			return;
		}
		try {
			const statement = await this.#client.read(link);
			if (link === this.#link) {
				this.statement.replaceChildren(...said(statement));
				this.#check();
			}
		} catch (error) {
			if (link === this.#link) {
				this.#link = "";
				this.statement.replaceChildren(refused(error instanceof Error ? sentence(error.message) : String(error)));
				this.own.replaceChildren();
			}
		}
	}

	async #check() {
		const link = this.#link;
		const dump = this.#dump;
		const asked = ++this.#asked;
		if (!link || !this.#client) {
			return;
		}
		if (!dump) {
			this.statement.after(this.own);
			this.own.replaceChildren(el("p", { class: "next" }, el("strong", {}, "Next: "), "open your own dump, and see whether it is the same one. It stays on this device. "),
				el("label", { class: "open", for: "files" }, "Open your own dump"));
			return;
		}
		this.statement.before(this.own); // the answer comes first
		this.own.replaceChildren(el("p", { class: "quiet" }, "Holding ", el("bdi", {}, dump.name), " against it …", this.share));
		try {
			const answer = await this.#client.check(dump.id, link);
			if (asked === this.#asked) {
				this.own.replaceChildren(...this.#answer(dump, answer));
			}
		} catch (error) {
			if (asked === this.#asked && link === this.#link) {
				this.own.replaceChildren(refused(error instanceof Error ? sentence(error.message) : String(error)));
			}
		}
	}

	/** @param {OpenDump} dump @param {Answer} answer */
	#answer(dump, { relation, same, sentence: words, next, evidence, chance, own }) {
		return [
			el("h3", {}, "Your dump ", el("bdi", {}, dump.name), " against it"),
			el("p", { class: `headline ${same ? "same" : "other"}`, "data-relation": relation }, words),
			next && el("p", { class: "next" }, el("strong", {}, "Next: "), next),
			own.length > 0 && el("div", {}, el("p", { class: "quiet" }, own.length === 1 ? "Where they differ, in your dump as it is stored:" : `The ${count(own.length)} stretches in which they differ, in your dump as it is stored:`),
				el("ul", { class: "stretches mono" }, ...own.slice(0, listed).map(({ from, to }) =>
					el("li", {}, el("button", { type: "button", onclick: () => this.jump(from, to) }, `${address(from)} to ${address(to - 1)}`)))),
				own.length > listed && el("p", { class: "quiet" }, `The first ${listed} are listed.`)),
			reasons([...evidence.map((one) => `${capital(one)}.`), ...(chance ? [`By chance: ${chance}.`] : [])]),
		].filter((node) => node instanceof Node);
	}

	#putAway() {
		history.replaceState(null, "", location.pathname + location.search);
		this.#look();
		document.getElementById("main")?.focus();
	}
}

/** What somebody says of a dump. @param {Statement} statement */
function said({ state, headline, title, size: bytes, order, cpu, crc32, sha256, findings, leftOut, short }) {
	const facts = [["Size", size(bytes)], ["Bytes", order.sure === "cannot tell" ? "order not told" : `${order.name} (${order.sure})`],
		["CPU", cpu.name && `${cpu.name} (${cpu.sure})`], ["CRC-32", crc32], ["SHA-256", sha256]].filter(([, value]) => value);
	return [
		el("p", { class: "unchecked" }, el("strong", {}, "Not checked here. "), "Somebody says this about a dump of theirs. Anybody can write such a link by hand: it tells you nothing until your own dump is held against it."),
		el("div", { class: "answer" }, glass(state), el("div", {},
			title && el("p", { class: "quiet" }, "They call it ", el("bdi", {}, `“${title}”`)),
			el("p", { class: `word ${state}` }, "They say: ", state), el("p", { class: "headline" }, headline))),
		el("dl", { class: "facts" }, ...facts.map(([name, value]) => el("div", {}, el("dt", {}, name), el("dd", { class: name.includes("-") ? "mono" : "", translate: name.includes("-") ? "no" : null }, value)))),
		findings.length > 0 && el("details", {}, el("summary", {}, findings.length === 1 ? "The one finding they pass on" : `The ${findings.length} findings they pass on`),
			el("ul", { class: "findings" }, ...findings.map((finding) => el("li", { class: finding.severity }, el("div", { class: "finding" }, ...line(finding))))),
			leftOut > 0 && el("p", { class: "quiet" }, `${count(leftOut)} more found no room in the link.`)),
		short && el("p", { class: "quiet" }, "This is the short form of the link: it can show that a dump is the same, but not where another one differs."),
	].filter((node) => node instanceof Node);
}

/** @param {string} text */
const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);
