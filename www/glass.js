// The arched window: the mark of the page and the sign of a verdict.
// @ts-check
import { svg } from "./dom.js";

/** @import {State} from "./types.js" */

const arch = "M9 57V31a23 23 0 0 1 46 0v26z";
const leftHalf = "M9 57V31a23 23 0 0 1 23-23v49z";

/** What is lit of the window in each state. @type {Record<State, string>} */
const lit = { sound: arch, suspect: leftHalf, faulty: "", blank: "", undecided: "" };

/** What the window of a state is drawn of, in a square of 64, from the back to the front. @param {State} state */
export const panes = (state) => [
	{ kind: "glass", d: lit[state] },
	{ kind: "bars", d: "M32 8v49M9 36h46" },
	{ kind: "frame", d: arch },
	{ kind: "crack", d: state === "faulty" ? "M38 9l-7 15 6 8-9 25" : "" },
	{ kind: "dots", d: state === "undecided" ? "M20 42h.1M32 42h.1M44 42h.1" : "" },
].filter(({ d }) => d);

/** The window of a state; the word belongs beside it. @param {State} state */
export function glass(state) {
	return svg("svg", { viewBox: "0 0 64 64", class: `window ${state}`, "aria-hidden": "true" },
		...panes(state).map(({ kind, d }) => svg("path", { class: kind, d })));
}
