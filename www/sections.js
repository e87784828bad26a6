// The list of sections, which stays in view: the page is long. Its entries are buttons and no links to fragments, since the
// fragment of the address holds what somebody posted.
// @ts-check
import { byId, el } from "./dom.js";

/** Lists the sections that are there. */
export function listSections() {
	const nav = byId("sections", HTMLElement);
	const sections = [...document.querySelectorAll("main section[aria-labelledby]")].filter((section) => section instanceof HTMLElement && section.checkVisibility());
	nav.hidden = sections.length < 3;
	nav.replaceChildren(...inOrder(sections).map((section) => {
		const title = section.querySelector("h2");
		return el("button", { type: "button", class: "plain", onclick: () => go(section, title) }, title?.textContent);
	}));
}

/** As they stand on the screen, from the top, the left column first. @param {Element[]} sections */
function inOrder(sections) {
	const boxes = new Map(sections.map((section) => [section, section.getBoundingClientRect()]));
	const y = (/** @type {Element} */ section) => boxes.get(section)?.top ?? 0;
	const narrow = new Set([...boxes.values()].map(({ left }) => Math.round(left))).size === 1;
	return narrow ? sections.toSorted((a, b) => y(a) - y(b)) : sections;
}

/** @param {Element} section @param {HTMLElement | null} title */
function go(section, title) {
	section.scrollIntoView({ behavior: matchMedia("(prefers-reduced-motion: reduce)").matches ? "instant" : "smooth", block: "start" });
	if (title) {
		title.tabIndex = -1;
		title.focus({ preventScroll: true });
	}
}
