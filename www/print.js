// Printing: one thing at a time, the report or the labels, and nothing else of the page. css/paper.css does the rest.
// @ts-check

/** @param {"paper" | "labels"} what */
export function printOnly(what) {
	const { dataset } = document.documentElement;
	const before = dataset.print;
	dataset.print = what;
	addEventListener("afterprint", () => { dataset.print = before; }, { once: true });
	print();
}
