// The arched window: the mark of the page and the sign of a verdict.
// @ts-check
import { svg } from "./dom.js";

/** @import {State} from "./types.js" */

const arch = "M9 57V31a23 23 0 0 1 46 0v26z";
const leftHalf = "M9 57V31a23 23 0 0 1 23-23v49z";

const allButOne = "M9 57V31a23 23 0 0 1 46 0v5H32v21z";

/** What is lit of the window in each state. @type {Record<State, string>} */
const lit = { sound: arch, suspect: leftHalf, faulty: "", blank: "", undecided: "" };

/**
 * What the window of a state is drawn of, in a square of 64, from the back to the front. One pane stays dark of a dump that is
 * sound so far, of which nothing proves that it is.
 * @param {State} state @param {boolean} [proven]
 */
export const panes = (state, proven = true) => [
	{ kind: "glass", d: state === "sound" && !proven ? allButOne : lit[state] },
	{ kind: "bars", d: "M32 8v49M9 36h46" },
	{ kind: "frame", d: arch },
	{ kind: "crack", d: state === "faulty" ? "M38 9l-7 15 6 8-9 25" : "" },
	{ kind: "dots", d: state === "undecided" ? "M20 42h.1M32 42h.1M44 42h.1" : "" },
].filter(({ d }) => d);

/** The window of a state; the word belongs beside it. @param {State} state @param {boolean} [proven] */
export function glass(state, proven) {
	return svg("svg", { viewBox: "0 0 64 64", class: `window ${state}`, "aria-hidden": "true" },
		...panes(state, proven).map(({ kind, d }) => svg("path", { class: kind, d })));
}
