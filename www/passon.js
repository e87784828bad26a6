// The Pass on section: a link that others hold their own dump against, its texts, QR code and picture; the report; labels.
// @ts-check
import { drawCard, height, width } from "./card.js";
import { copy, el, save } from "./dom.js";
import { LabelView } from "./label.js";
import { PaperView } from "./paper.js";
import { refused } from "./parts.js";
import { qrPicture } from "./qr.js";
import { count, sentence } from "./units.js";

/** @import {Lunette} from "./lunette.js" */
/** @import {OpenDump} from "./start.js" */
/** @import {Posting, Prepared, QRCode, ReportSection} from "./types.js" */

export class PassOnView {
	/** @type {Lunette | undefined} */ #client;
	/** @type {OpenDump | undefined} */ #dump;
	#asked = 0;

	/** @param {HTMLElement} root */
	constructor(root) {
		this.title = el("input", { id: "link-title", maxlength: 80, autocomplete: "off", oninput: () => this.#clear() });
		this.withName = el("input", { id: "link-name", type: "checkbox", onchange: () => this.#clear() });
		this.fileName = el("bdi", {});
		this.contents = el("div", { class: "contents" });
		this.made = el("div", { class: "made" });
		this.share = el("progress", { max: 1, value: 0, "aria-label": "Prints taken" });
		this.paper = new PaperView();
		this.labels = new LabelView();
		root.replaceChildren(
			el("div", { class: "for-link" },
				el("h3", {}, "A link that others can hold their own dump against"),
				el("p", { class: "quiet" }, "Findings travel, dumps do not: the link carries the verdict, sums and prints of blocks, and not one byte of the content. All of it stands after # in the address, which browsers send to no server."),
				el("form", { class: "link-form", onsubmit: (/** @type {Event} */ e) => { e.preventDefault(); this.#look(); } },
					el("div", { class: "field wide" }, el("label", { for: "link-title" }, "A title, if you like"), this.title),
					el("label", { class: "tick" }, this.withName, el("span", {}, "with the file's name, ", this.fileName)),
					el("button", { type: "submit" }, "See what will be in the link")),
				this.contents, this.made),
			this.paper.root, this.labels.root);
	}

	/** @param {Lunette} client */
	use(client) {
		this.#client = client;
		this.paper.use(client);
		this.labels.use(client);
	}

	/** @param {OpenDump} dump */
	show(dump) {
		if (dump.id !== this.#dump?.id) {
			this.title.value = "";
			this.withName.checked = false;
		}
		this.#dump = dump;
		this.fileName.textContent = dump.name;
		this.#clear();
		this.paper.show(dump);
		this.labels.show(dump);
	}

	/** No dump is open any more. */
	hide() {
		this.#dump = undefined;
		this.#clear();
		this.paper.hide();
	}

	/** How much of a long call on a dump is done. @param {string} id @param {number} share */
	progress(id, share) {
		if (id === this.#dump?.id) {
			this.share.value = share;
		}
	}

	/** Another section has something for the report. @param {ReportSection} section */
	tell(section) { this.paper.tell(section); }

	/** Files have been made of the dump in view. @param {Prepared} prepared */
	prepared(prepared) {
		const { device, headline, readback, files } = prepared;
		this.labels.prepared(prepared);
		this.tell({ title: `Files prepared for ${files.length > 1 ? `${files.length} ${device}` : `a ${device}`}`, lines: [headline, readback,
			...files.map(({ name, lane, lines, byteSum, crc }) => [name, lane, lines, `byte sum ${byteSum}`, `CRC-32 ${crc}`].filter(Boolean).join(", "))] });
	}

	/** What was made is of another title or another dump. */
	#clear() {
		this.#asked++;
		this.contents.replaceChildren();
		this.made.replaceChildren();
	}

	/** What the link will say, before it is made. */
	async #look() {
		this.#clear();
		const client = this.#client;
		const dump = this.#dump;
		if (!client || !dump) {
			return;
		}
		const asked = this.#asked;
		const title = [this.title.value.trim(), this.withName.checked && dump.name].filter(Boolean).join(", ");
		this.contents.replaceChildren(el("p", { class: "quiet", role: "status" }, "The prints are being taken …", this.share));
		try {
			const posting = await client.link(dump.id, { title });
			if (asked === this.#asked) {
				this.contents.replaceChildren(
					el("p", { role: "status" }, "This will be in the link, and nothing else:"),
					el("dl", { class: "facts" }, ...posting.contents.map(({ name, text }) => el("div", {}, el("dt", {}, name), el("dd", { class: /CRC|SHA/.test(name) ? "mono" : "" }, text)))),
					el("button", { type: "button", class: "make", onclick: () => this.#make(client, dump, title, posting) }, "Make the link"));
			}
		} catch (error) {
			if (asked === this.#asked) {
				this.contents.replaceChildren(refused(error instanceof Error ? sentence(error.message) : String(error)));
			}
		}
	}

	/** @param {Lunette} client @param {OpenDump} dump @param {string} title @param {Posting} posting */
	async #make(client, dump, title, posting) {
		const asked = this.#asked;
		const short = await client.link(dump.id, { title, short: true });
		const code = await client.qr(short.url);
		if (asked !== this.#asked) {
			return;
		}
		const { url, texts } = posting;
		this.made.replaceChildren(
			this.#link(posting),
			el("div", { class: "pastes" }, pasted("text-plain", "As plain text", texts.plain), pasted("text-forum", "For a forum that takes [b] and [url]", texts.forum), pasted("text-markdown", "As Markdown", texts.markdown)),
			el("div", { class: "pictures" }, qrFigure(short.url, code), ...(dump.report ? [cardFigure(posting, dump.report, `lunette-${posting.statement.crc32}.png`)] : [])));
		this.made.querySelector("input")?.focus({ preventScroll: true });
		this.made.scrollIntoView({ block: "nearest" });
		this.made.dataset.link = url;
	}

	/** @param {Posting} posting */
	#link({ url, texts, statement }) {
		const share = async () => navigator.share({ title: statement.title || "A ROM dump", text: texts.plain.replace(url, "").trim(), url }).catch(() => {}); // the person may think better of it
		return el("div", { class: "field wide" }, el("label", { for: "link-url" }, `The link, ${count(url.length)} characters`),
			el("div", { class: "joined" }, el("input", { id: "link-url", class: "mono", readonly: true, value: url, onfocus: selectAll }),
				el("button", { type: "button", onclick: () => copy(url, "The link") }, "Copy the link"),
				"share" in navigator && el("button", { type: "button", onclick: share }, "Share")));
	}
}

/** @param {Event} event */
const selectAll = ({ target }) => { /** @type {HTMLInputElement | HTMLTextAreaElement} */ (target).select(); };

/** A text to paste. @param {string} id @param {string} name @param {string} text */
function pasted(id, name, text) {
	const area = el("textarea", { id, rows: 6, readonly: true, spellcheck: "false", onfocus: selectAll });
	area.value = text;
	return el("div", { class: "pasted" }, el("label", { for: id }, name), area,
		el("button", { type: "button", "aria-label": `Copy: ${name}`, onclick: () => copy(text, name) }, "Copy"));
}

/** @param {string} url @param {QRCode} code */
function qrFigure(url, code) {
	return el("figure", { class: "qr-figure" }, qrPicture(code, "QR code of the short link"),
		el("figcaption", {}, el("p", {}, "The short link, for a phone's camera. It tells whether a dump is the same, not where another differs."),
			el("p", { class: "mono short-link", translate: "no" }, url),
			el("button", { type: "button", onclick: () => copy(url, "The short link") }, "Copy the short link")));
}

/** @param {Posting} posting @param {import("./types.js").Report} report @param {string} name */
function cardFigure(posting, report, name) {
	const canvas = el("canvas", { class: "card", width, height, role: "img", "aria-label": `${posting.statement.headline} ${posting.picture.join(", ")}` });
	drawCard(canvas, posting, report);
	const take = () => canvas.toBlob((blob) => blob && save(blob, name), "image/png");
	return el("figure", { class: "card-figure" }, canvas,
		el("figcaption", {}, el("p", {}, "A picture for forums that show pictures, 1200 by 630."), el("button", { type: "button", onclick: take }, "Save the picture")));
}
