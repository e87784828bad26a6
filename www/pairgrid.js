// Two images side by side, a stretch at a time, with the bytes that differ marked: for stepping from difference to
// difference.
// @ts-check
import { el } from "./dom.js";
import { address, count, sentence } from "./units.js";

const rows = 12;

/**
 * @typedef {object} Pair
 * @property {number} size  bytes of the longer image
 * @property {[string, string]} names
 * @property {(from: number, to: number) => Promise<{master: string[], read: string[]}>} read  bytes in hex, "" for none
 * @property {{from: number, to: number}[]} runs  that differ, ascending
 * @property {number} total  of such runs; the list may hold only the first
 */

export class PairGrid {
	/** @type {Pair | undefined} */ #pair;
	#at = 0;
	#asked = 0;

	constructor() {
		this.state = el("p", { class: "quiet", role: "status" });
		this.table = el("table", { class: "pair mono", translate: "no" });
		this.root = el("div", { class: "pair-place" },
			el("div", { class: "joined" },
				el("button", { type: "button", onclick: () => this.#step(-1) }, "Previous difference"),
				el("button", { type: "button", onclick: () => this.#step(1) }, "Next difference"),
				el("button", { type: "button", onclick: () => this.#page(-1), "aria-label": "Bytes before these" }, "▲"),
				el("button", { type: "button", onclick: () => this.#page(1), "aria-label": "Bytes after these" }, "▼")),
			this.state, this.table);
		let columns = 0;
		new ResizeObserver(() => {
			if (this.#columns !== columns) {
				columns = this.#columns;
				this.#draw(this.#at);
			}
		}).observe(this.root);
	}

	/** @param {Pair} pair */
	show(pair) {
		this.#pair = pair;
		this.go(pair.runs[0]?.from ?? 0);
	}

	/** How many bytes of each stand in a row. */
	get #columns() { return this.root.clientWidth > 50 * 16 ? 16 : this.root.clientWidth > 30 * 16 ? 8 : 4; }

	/** Shows the bytes at an offset. @param {number} offset */
	go(offset) {
		this.#at = offset;
		this.#draw(offset);
	}

	/** @param {1 | -1} way */
	#step(way) {
		const runs = this.#pair?.runs ?? [];
		const run = way > 0 ? runs.find(({ from }) => from > this.#at) ?? runs[0] : runs.findLast(({ from }) => from < this.#at) ?? runs.at(-1);
		if (run) {
			this.go(run.from);
		}
	}

	/** @param {1 | -1} way */
	#page(way) {
		this.go(Math.max(0, Math.min((this.#pair?.size ?? 1) - 1, this.#at + way * rows * this.#columns)));
	}

	/** @param {number} offset */
	async #draw(offset) {
		const pair = this.#pair;
		if (!pair) {
			return;
		}
		const asked = ++this.#asked;
		const columns = this.#columns;
		const start = Math.max(0, (Math.floor(offset / columns) - 2) * columns);
		let bytes;
		try {
			bytes = await pair.read(start, Math.min(pair.size, start + rows * columns));
		} catch (error) {
			this.state.textContent = error instanceof Error ? sentence(error.message) : String(error);
			return;
		}
		const { master: left, read: right } = bytes;
		if (asked !== this.#asked) {
			return;
		}
		const differing = Array.from({ length: right.length }, (_, i) => left[i] !== right[i]);
		const run = pair.runs.findIndex(({ from, to }) => offset >= from && offset < to);
		this.state.textContent = run >= 0 ? `Difference ${count(run + 1)} of ${count(pair.total)}${pair.runs.length < pair.total ? ` (the first ${count(pair.runs.length)} are stepped through)` : ""}, at ${address(offset)}.`
			: pair.total === 0 ? "No difference in this order." : `At ${address(offset)}.`;
		this.table.replaceChildren(
			el("thead", {}, el("tr", {}, el("th", { scope: "col" }, el("span", { class: "unseen" }, "offset")),
				...pair.names.map((name) => el("th", { scope: "col" }, el("bdi", {}, name))))),
			el("tbody", {}, ...Array.from({ length: Math.ceil(differing.length / columns) }, (_, row) => {
				const from = row * columns;
				return el("tr", {}, el("th", { scope: "row" }, address(start + from)),
					...[left, right].map((bytes) => el("td", {}, ...Array.from({ length: columns }, (_, c) => cell(bytes[from + c], differing[from + c], start + from + c === offset)))));
			})));
	}
}

/** @param {string | undefined} value @param {boolean} differs @param {boolean} here */
function cell(value, differs, here) {
	return el(differs ? "b" : "span", { class: `cell${here ? " at" : ""}` }, value || "··");
}
