// Printing: one thing at a time, the report, the labels or the wiring of an adapter, and nothing else of the page. css/paper.css and css/seat.css do the rest.
// @ts-check

/** @param {"paper" | "labels" | "wiring"} what */
export function printOnly(what) {
	const { dataset } = document.documentElement;
	dataset.print = what;
	print();
	// Whoever prints by the browser's own menu next gets the report again. Not on "afterprint": some phones tell of that
	// while the sheet is still being made (from memory).
	const back = new AbortController();
	for (const event of ["keydown", "pointerdown"]) {
		addEventListener(event, () => { back.abort(); if (dataset.print) { dataset.print = "paper"; } }, { capture: true, signal: back.signal });
	}
}
