// The shelf: which dumps are open, which one is looked at, and closing them.
// @ts-check
import { el } from "./dom.js";
import { glass } from "./glass.js";
import { size } from "./units.js";
import { stateWord } from "./verdict.js";

/** @import {OpenDump} from "./start.js" */

/**
 * @param {HTMLElement} root
 * @param {OpenDump[]} dumps
 * @param {OpenDump | undefined} current
 * @param {{choose: (dump: OpenDump) => void, close: (dump: OpenDump) => void}} actions
 */
export function showShelf(root, dumps, current, actions) {
	root.replaceChildren(...dumps.map((dump) => el("li", { class: dump === current ? "current" : "" },
		el("button", { type: "button", class: "choose", "data-id": dump.id, "data-looked": dump.report ? "" : null, "aria-current": dump === current ? "true" : null, onclick: () => actions.choose(dump) },
			dump.report ? glass(dump.report.verdict.state, dump.report.verdict.proven) : glass("undecided"),
			el("bdi", { class: "name", title: dump.name }, dump.name),
			el("span", { class: "quiet" }, size(dump.size), dump.report && ` · ${stateWord(dump.report.verdict)}`),
			dump.share > 0 && !dump.report && el("progress", { max: 1, value: dump.share, "aria-label": `Looking at ${dump.name}` })),
		el("button", { type: "button", class: "close", "aria-label": `Close ${dump.name}`, onclick: () => actions.close(dump) }, "×"))));
}
