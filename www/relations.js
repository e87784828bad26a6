// What several open dumps are to each other, and the dumps that can be made of them.
// @ts-check
import { el } from "./dom.js";

/** @import {Relation} from "./types.js" */

/** What is shown, to leave it alone when nothing has changed: a button must not go while it is being pressed. */
let shown = "";

/**
 * @param {HTMLElement} root
 * @param {Relation[]} relations
 * @param {(number: number, name: string) => void} make  opens the dump that a relation offers
 */
export function showRelations(root, relations, make) {
	const now = JSON.stringify(relations);
	if (now === shown) {
		return;
	}
	shown = now;
	root.hidden = relations.length === 0;
	root.replaceChildren(el("h2", {}, "These belong together"), el("ul", {}, ...relations.map((relation, number) => item(relation, number, make))));
}

/** @param {Relation} relation @param {number} number @param {(number: number, name: string) => void} make */
function item({ sentence, sure, evidence, chance, makes }, number, make) {
	return el("li", {},
		el("p", {}, sentence, " ", el("span", { class: "sure" }, sure)),
		(evidence.length > 0 || chance) && el("details", {}, el("summary", {}, "What speaks for it"),
			el("ul", { class: "quiet" }, ...evidence.map((line) => el("li", {}, line)), chance && el("li", {}, `By chance: ${chance}`))),
		makes && el("button", { type: "button", onclick: () => make(number, makes) }, "Open as one dump: ", el("bdi", {}, makes)));
}
