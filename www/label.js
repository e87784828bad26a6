// Labels for chips, to scale in millimetres: one that covers the body, and one that covers the window alone.
// @ts-check
import { el, svg } from "./dom.js";
import { printOnly } from "./print.js";

/** @import {Lunette} from "./lunette.js" */
/** @import {OpenDump} from "./start.js" */
/** @import {Body, Device, Label, Prepared} from "./types.js" */

const edge = 1.2; // mm between cut and text
const around = 2; // mm that the window's label reaches beyond the window

export class LabelView {
	/** @type {Lunette | undefined} */ #client;
	/** @type {OpenDump | undefined} */ #dump;
	/** @type {Body[]} */ #bodies = [];
	/** @type {Device[]} */ #devices = [];
	#asked = 0;

	constructor() {
		const draw = () => this.#draw();
		this.of = el("select", { id: "label-of", onchange: () => { this.device.disabled = this.of.value === "files"; this.#draw(); } },
			el("option", { value: "dump" }, "the dump as it is stored"));
		this.name = el("input", { id: "label-name", maxlength: 60, autocomplete: "off", oninput: draw });
		this.device = el("input", { id: "label-device", size: 10, maxlength: 28, autocomplete: "off", spellcheck: "false", oninput: draw });
		this.body = el("select", { id: "label-body", onchange: draw });
		this.why = el("p", { class: "why-cover" });
		this.note = el("p", { class: "quiet" });
		this.sheet = el("div", { class: "labels" });
		this.root = el("div", { class: "for-labels" },
			el("h3", {}, "Labels for the chips"),
			el("div", { class: "job" }, field("What the chips hold", this.of), field("Name on the label", this.name), field("Device", this.device), field("Package", this.body)),
			el("div", { class: "label-sheet" }, this.sheet, this.why),
			this.note,
			el("div", { class: "joined" }, el("button", { type: "button", onclick: () => printOnly("labels") }, "Print the labels")));
	}

	/** @param {Lunette} client */
	async use(client) {
		this.#client = client;
		[this.#bodies, this.#devices] = await Promise.all([client.bodies(), client.chips()]);
		this.body.replaceChildren(...this.#bodies.map(({ package: name }) => el("option", { value: name }, name)));
		this.#fit(this.device.value);
		this.#draw();
	}

	/** @param {OpenDump} dump */
	show(dump) {
		if (dump.id !== this.#dump?.id) {
			this.name.value = dump.name.replace(/^.*[/\\]/, "").replace(/\.[^.]*$/, "");
			this.of.replaceChildren(el("option", { value: "dump" }, "the dump as it is stored"));
			this.device.disabled = false;
		}
		this.#dump = dump;
		this.#draw();
	}

	/** Files have been made of the dump in view: their labels come first. @param {Prepared} prepared */
	prepared({ device, files }) {
		this.of.replaceChildren(
			el("option", { value: "files" }, files.length > 1 ? `the ${files.length} files made under Burn` : "the file made under Burn"),
			el("option", { value: "dump" }, "the dump as it is stored"));
		this.device.value = device;
		this.device.disabled = true;
		this.#fit(device);
		this.#draw();
	}

	/** Chooses the package of a device, where it is one that labels are known for. @param {string} id */
	#fit(id) {
		const device = this.#devices.find((one) => one.id === id);
		const body = this.#bodies.find(({ pins }) => pins === device?.pinCount) ?? this.#bodies.find(({ pins }) => pins === 28);
		this.body.value = body?.package ?? "";
	}

	async #draw() {
		const dump = this.#dump;
		const body = this.#bodies.find(({ package: name }) => name === this.body.value);
		if (!this.#client || !dump || !body) {
			return;
		}
		const asked = ++this.#asked;
		const labels = await this.#client.labels(dump.id, { name: this.name.value, device: this.device.value, files: this.of.value === "files" }).catch(() => []);
		if (asked !== this.#asked) {
			return;
		}
		this.sheet.replaceChildren(...labels.map((label) => el("div", { class: "label-pair" }, bodyLabel(label, body), windowLabel(label, body))), ruler());
		this.why.textContent = labels[0]?.why ?? "";
		this.note.textContent = `Print without fitting to the page: the bar must measure 50 mm. ${body.note}`;
	}
}

/** @param {string} words @param {HTMLElement} control */
const field = (words, control) => el("div", { class: "field wide" }, el("label", { for: control.id }, words), control);

/** A picture in millimetres. @param {number} width @param {number} height @param {string} label @param {...(Node | false)} children */
const inMillimetres = (width, height, label, ...children) => svg("svg", { class: "label", viewBox: `0 0 ${width} ${height}`, width: `${width}mm`, height: `${height}mm`, role: "img", "aria-label": label }, ...children);

/** The label for the whole body: notch and pin 1 at the left, the window's place dotted. @param {Label} label @param {Body} body */
function bodyLabel({ lines }, { length, width, window: glass }) {
	const left = 3.2;
	const high = Math.min(2.7, (width - 1.6 * edge) / lines.length);
	const top = (width - high * lines.length) / 2;
	return inMillimetres(length, width, lines.join(", "),
		svg("rect", { class: "cut", x: 0.1, y: 0.1, width: length - 0.2, height: width - 0.2 }),
		svg("path", { class: "mark", d: `M0 ${width / 2 - 1.5}a1.5 1.5 0 0 1 0 3` }),
		svg("circle", { class: "pin-one", cx: 1.6, cy: width - 1.6, r: 0.5 }),
		svg("circle", { class: "place", cx: length / 2, cy: width / 2, r: glass / 2 }),
		...lines.map((line, i) => words(line, left, top + high * (i + 0.78), Math.min(2.4, high * 0.88), length - left - edge, i === 0)));
}

/** The label for the window alone: what fits of name, lane and sum. @param {Label} label @param {Body} body */
function windowLabel({ lines }, { window: glass }) {
	const side = glass + 2 * around;
	const chosen = [lines[0], ...lines.filter((line) => /^(even|odd|byte \d|byte lane)/.test(line)), ...lines.filter((line) => line.startsWith("Sum "))];
	const high = Math.min(2.6, (side - 2 * edge) / chosen.length);
	const top = (side - high * chosen.length) / 2;
	return inMillimetres(side, side, `For the window: ${chosen.join(", ")}`,
		svg("rect", { class: "cut", x: 0.1, y: 0.1, width: side - 0.2, height: side - 0.2, rx: 1 }),
		...chosen.map((line, i) => words(line, edge, top + high * (i + 0.78), 1.9, side - 2 * edge, i === 0)));
}

/** Text that is pressed together where it would be wider than its room. @param {string} text @param {number} x @param {number} y @param {number} size @param {number} room @param {boolean} first */
function words(text, x, y, size, room, first) {
	const wide = [...text].length * size * (first ? 0.64 : 0.58);
	return svg("text", { class: first ? "first" : "", x, y, "font-size": size, ...(wide > room ? { textLength: room, lengthAdjust: "spacingAndGlyphs" } : {}) }, text);
}

/** A bar to hold a ruler against. */
const ruler = () => inMillimetres(50.2, 5, "A bar of 50 mm", svg("path", { class: "bar", d: "M0.1 0v2M0.1 1h50M50.1 0v2" }), svg("text", { x: 25, y: 4.6, "font-size": 2.4, "text-anchor": "middle" }, "50 mm"));
