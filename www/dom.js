// Making elements. Text, whatever it holds, reaches the page as text nodes only.
// @ts-check

const svgNames = "http://www.w3.org/2000/svg";

/** @typedef {Node | string | number | null | undefined | false} Child */

/**
 * Returns a new element. Properties that begin with "on" listen, "class" names classes, true sets an empty attribute,
 * false, null and undefined set nothing, and the rest become attributes.
 * @template {keyof HTMLElementTagNameMap} T
 * @param {T} tag
 * @param {Record<string, any>} [properties]
 * @param {...Child} children
 * @returns {HTMLElementTagNameMap[T]}
 */
export function el(tag, properties = {}, ...children) {
	return fill(document.createElement(tag), properties, children);
}

/**
 * Returns a new SVG element; properties as for el.
 * @template {keyof SVGElementTagNameMap} T
 * @param {T} tag
 * @param {Record<string, any>} [properties]
 * @param {...Child} children
 * @returns {SVGElementTagNameMap[T]}
 */
export function svg(tag, properties = {}, ...children) {
	return fill(document.createElementNS(svgNames, tag), properties, children);
}

/**
 * @template {Element} E
 * @param {E} element
 * @param {Record<string, any>} properties
 * @param {Child[]} children
 */
function fill(element, properties, children) {
	for (const [name, value] of Object.entries(properties)) {
		if (name.startsWith("on")) {
			element.addEventListener(name.slice(2), value);
		} else if (value === true) {
			element.setAttribute(name, "");
		} else if (value !== false && value !== null && value !== undefined) {
			element.setAttribute(name, String(value));
		}
	}
	for (const child of children) {
		if (child !== null && child !== undefined && child !== false) {
			element.append(typeof child === "number" ? String(child) : child);
		}
	}
	return element;
}

/**
 * Returns the element with an id, which index.html has.
 * @template {HTMLElement} E
 * @param {string} id
 * @param {new () => E} kind
 * @returns {E}
 */
export function byId(id, kind) {
	const element = document.getElementById(id);
	if (!(element instanceof kind)) {
		throw new Error(`index.html has no ${kind.name} #${id}`);
	}
	return element;
}

/** Says something to everyone: it shows for a moment and screen readers read it. @param {string} text */
export function say(text) {
	const said = byId("said", HTMLElement);
	said.textContent = text;
	said.classList.add("shown");
	clearTimeout(saying);
	saying = setTimeout(() => { said.classList.remove("shown"); said.textContent = ""; }, 4000);
}
/** @type {ReturnType<typeof setTimeout> | undefined} */
let saying;

/** Tells a screen reader what everybody else sees. @param {string} text */
export function tell(text) {
	byId("heard", HTMLElement).textContent = text;
}

/** Copies text and says so. @param {string} text @param {string} what */
export async function copy(text, what) {
	try {
		await navigator.clipboard.writeText(text);
		say(`${what} copied`);
	} catch {
		say(`This browser does not let the page copy. Select it by hand: ${text}`);
	}
}

/** Saves bytes under a name of ours, always as a new file. @param {BlobPart} bytes @param {string} name */
export function save(bytes, name) {
	const url = URL.createObjectURL(new Blob([bytes], { type: "application/octet-stream" }));
	el("a", { href: url, download: name }).click();
	setTimeout(() => URL.revokeObjectURL(url), 30_000);
	say(`Saved as ${name}`);
}
