// Every way a file or a text comes in: the button, dropping, pasting, the system, the demo board.
// @ts-check
import { byId, say } from "./dom.js";
import { listenForHandedOver } from "./handed.js";

/** @typedef {{file: Blob, name: string}} Named */

/**
 * @typedef {object} Taken
 * @property {(files: Named[]) => void} files  what came in at once
 * @property {(text: string) => void} text
 * @property {(rom: Blob) => void} demo  the demo board's system ROM
 */

/** @param {Taken} taken */
export function listenForFiles(taken) {
	const input = byId("files", HTMLInputElement);
	input.addEventListener("change", () => {
		taken.files(named(input.files ?? []));
		input.value = ""; // or the same file could not be chosen again
	});
	listenForDrops(taken);
	listenForPaste(taken);
	listenForHandedOver(taken);
	byId("demo", HTMLButtonElement).addEventListener("click", () => openDemo(taken));
}

/** @param {Iterable<File>} files @returns {Named[]} */
const named = (files) => Array.from(files, (file) => ({ file, name: file.webkitRelativePath || file.name }));

/** The whole window takes files; a miss must not leave the page. @param {Taken} taken */
function listenForDrops(taken) {
	const overlay = byId("drop", HTMLElement);
	let inside = 0; // enter and leave come for every element on the way
	const holdsFiles = (/** @type {DragEvent} */ event) => event.dataTransfer?.types.includes("Files") ?? false;
	addEventListener("dragenter", (event) => {
		if (holdsFiles(event)) {
			inside++;
			overlay.hidden = false;
		}
	});
	addEventListener("dragleave", (event) => {
		if (holdsFiles(event) && --inside <= 0) {
			overlay.hidden = true;
			inside = 0;
		}
	});
	addEventListener("dragover", (event) => event.preventDefault());
	addEventListener("drop", (event) => {
		event.preventDefault();
		inside = 0;
		overlay.hidden = true;
		takeDropped(event.dataTransfer, taken);
	});
}

/** Folders are walked; their names stay in the files' names. @param {DataTransfer | null} dropped @param {Taken} taken */
async function takeDropped(dropped, taken) {
	const items = [...dropped?.items ?? []].filter(({ kind }) => kind === "file");
	// Entries and files must be asked for now: after the first wait the browser has emptied the list.
	const pairs = items.map((item) => ({ entry: item.webkitGetAsEntry?.(), file: item.getAsFile() }));
	const lists = await Promise.all(pairs.map(({ entry, file }) =>
		entry?.isDirectory ? walk(/** @type {FileSystemDirectoryEntry} */ (entry)) : named(file ? [file] : [])));
	taken.files(lists.flat());
}

/** Every file in a folder and its folders. @param {FileSystemDirectoryEntry} folder @returns {Promise<Named[]>} */
export async function walk(folder) {
	const reader = folder.createReader();
	/** @type {Named[]} */
	const files = [];
	for (;;) {
		// A hundred at most come at a time; an empty answer is the end.
		const entries = await new Promise((resolve, reject) => reader.readEntries(resolve, reject));
		if (entries.length === 0) {
			return files;
		}
		for (const entry of entries) {
			if (entry.isDirectory) {
				files.push(...await walk(entry));
			} else {
				const file = await new Promise((resolve, reject) => entry.file(resolve, reject));
				files.push({ file, name: entry.fullPath.replace(/^\//, "") });
			}
		}
	}
}

/** @param {Taken} taken */
function listenForPaste(taken) {
	addEventListener("paste", (event) => {
		const target = event.target;
		if (target instanceof HTMLInputElement || target instanceof HTMLTextAreaElement) {
			return;
		}
		const files = event.clipboardData?.files ?? [];
		const text = event.clipboardData?.getData("text/plain") ?? "";
		if (files.length > 0) {
			taken.files(named(files));
		} else if (text.trim()) {
			taken.text(text);
		}
	});
	const form = byId("paste", HTMLFormElement);
	const area = byId("paste-text", HTMLTextAreaElement);
	const button = byId("paste-button", HTMLButtonElement);
	button.addEventListener("click", () => {
		form.hidden = !form.hidden;
		button.setAttribute("aria-expanded", String(!form.hidden));
		if (!form.hidden) {
			area.focus();
		}
	});
	form.addEventListener("submit", (event) => {
		event.preventDefault();
		taken.text(area.value);
		area.value = "";
		form.hidden = true;
		button.setAttribute("aria-expanded", "false");
	});
}

/** @param {Taken} taken */
async function openDemo(taken) {
	try {
		const response = await fetch(new URL("./built/halden-u41.bin.gz", import.meta.url));
		if (!response.ok) {
			throw new Error(`the server answered ${response.status}`);
		}
		taken.demo(await response.blob());
	} catch (error) {
		say(`The demo board could not be fetched (${error instanceof Error ? error.message : error}). It needs the network once: press it again when you have one.`);
	}
}
