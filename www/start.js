// The page: holds what is open, and hands each section what it shows.
// @ts-check
import { BurnView } from "./burn.js";
import { BytesView } from "./bytes.js";
import { ChecksumsView } from "./checksums.js";
import { CompareView } from "./compare.js";
import { byId, el, say, tell } from "./dom.js";
import { listenForFiles } from "./entry.js";
import { open, Unsupported, WorkerLost } from "./lunette.js";
import { DumpMapView } from "./map.js";
import { keepOffline, opened } from "./offline.js";
import { PassOnView } from "./passon.js";
import { PostedView } from "./posted.js";
import { showRelations } from "./relations.js";
import { SeatView } from "./seat.js";
import { listSections } from "./sections.js";
import { showShelf } from "./shelf.js";
import { TextView } from "./text.js";
import { size } from "./units.js";
import { VerdictView } from "./verdict.js";

/** @import {Lunette} from "./lunette.js" */
/** @import {DumpInfo, Report} from "./types.js" */

/**
 * @typedef {DumpInfo & {source: string, report?: Report, share: number, arrangement: string, said?: Said}} OpenDump
 * an open dump: share is how much of the inspection is done, arrangement the order in which it is looked at
 */

/** @typedef {{order: string, family: string}} Said what a person says of a dump who disagrees with the report */

/** @type {OpenDump[]} */
let dumps = [];
/** @type {OpenDump | undefined} */
let current;
let pasted = 0;

const coreState = byId("core-state", HTMLElement);
const problems = byId("problems", HTMLElement);
const shelf = byId("shelf", HTMLElement);
const answers = byId("answers", HTMLElement);

/** Shows stored bytes in the grid. @param {number} from @param {number} to */
const jump = (from, to) => { bytes.jump(from, to); };
const verdict = new VerdictView(byId("verdict", HTMLElement), jump, setByHand);
const map = new DumpMapView(byId("map", HTMLElement), jump);
const bytes = new BytesView(byId("bytes", HTMLElement));
const text = new TextView(byId("text", HTMLElement), jump);
const checksums = new ChecksumsView(byId("sums", HTMLElement));
const posted = new PostedView(byId("posted-section", HTMLElement), byId("posted", HTMLElement), jump);
const passOn = new PassOnView(byId("passon", HTMLElement));
const burn = new BurnView(byId("burn", HTMLElement), (prepared) => { seat.take(prepared.device); passOn.prepared(prepared); });
const seat = new SeatView(byId("seat", HTMLElement), ({ chip, socket, answer, seatings: [right], cautions }) =>
	passOn.tell({ title: `Seating looked up: a ${chip} in a socket for a ${socket}`, lines: [answer, right.headline, ...right.sentences, ...cautions] }));
const compare = new CompareView(byId("compare", HTMLElement), openMade, ({ headline, lines, of }) =>
	passOn.tell({ title: of.length > 1 ? `Compared: ${of.join(", ")}` : `Blank check of ${of[0]}`, lines: [headline, ...lines] }));

const client = open({
	download: (received, total) => { coreState.textContent = `The core is on its way${total ? `: ${Math.round(100 * received / total)} %` : `, ${size(received)}`}. You can choose a file already.`; },
	progress: (id, share) => {
		const dump = dumps.find((d) => d.id === id);
		if (dump) {
			dump.share = share;
			drawShelf();
			passOn.progress(id, share);
			posted.progress(id, share);
		}
	},
	restart: (reason) => say(`The core stopped (${reason}) and was started again. Your dumps are still open.`),
});

client.then(async (core) => {
	const [arrangements, families] = await Promise.all([core.arrangements(), core.families()]);
	bytes.use(core, arrangements);
	checksums.use(core, arrangements);
	verdict.use(arrangements, families);
	compare.use(core);
	burn.use(core, arrangements);
	seat.use(core);
	passOn.use(core);
	posted.use(core);
	byId("seat-section", HTMLElement).hidden = false;
	coreState.textContent = "";
	document.documentElement.dataset.core = "ready";
}).catch((error) => {
	coreState.textContent = error instanceof Unsupported ? error.message
		: `The core did not start: ${error.message}. Reload the page; if that does not help, try another browser.`;
	document.documentElement.dataset.core = "failed";
}).finally(keepOffline);

// What nobody waits for must not fail in silence.
addEventListener("unhandledrejection", ({ reason }) => say(`That did not work: ${reason instanceof Error ? reason.message : reason}`));

listenForFiles({
	files: (files) => takeAll(files.map(({ file, name }) => ({ name, load: (core) => core.load(file, name) }))),
	text: (text) => {
		const name = ++pasted > 1 ? `pasted text ${pasted}` : "pasted text";
		takeAll([{ name, load: (core) => core.loadText(text, name) }]);
	},
	demo: openDemo,
});

/** @typedef {{name: string, load: (core: Lunette) => ReturnType<Lunette["load"]>}} Source */

/**
 * Opens what came in at once, one source after the other; the first dump in it is shown.
 * @param {Source[]} sources
 * @param {boolean} [show]  whether it is
 */
async function takeAll(sources, show = true) {
	problems.replaceChildren();
	let shown = !show;
	for (const source of sources) {
		for (const dump of await take(source)) {
			await look(dump);
			if (!shown && dump.report && dumps.includes(dump)) {
				choose(dump);
				shown = true;
			}
		}
	}
	drawShelf();
	await relate();
}

/** Looks whether the open dumps belong together, and offers what can be made of them. */
async function relate() {
	const core = await client;
	const relations = dumps.length > 1 ? await core.relations().catch(() => []) : [];
	showRelations(byId("relations", HTMLElement), relations, async (number, name) => openMade(name, await core.make(number)));
	byId("compare-section", HTMLElement).hidden = dumps.length === 0;
	await compare.show(dumps, current);
	listSections();
}

/** The demo board's system ROM once it is open. @type {OpenDump | undefined} */
let board;

/** Opens the demo board: its system ROM, and what the core makes of it. Pressed again it shows the board. @param {Blob} rom */
async function openDemo(rom) {
	if (board && dumps.includes(board)) {
		choose(board);
		return;
	}
	const name = "halden-u41.bin.gz";
	await takeAll([{ name, load: (core) => core.load(rom, name) }]);
	const core = await client;
	board = current;
	const others = board ? await core.demo(board.id) : [];
	await takeAll(others.map(({ name }, number) => ({ name, load: async () => core.load(new Blob([await core.demoBytes(number)]), name) })), false);
}

/** Opens a dump that was made of others. @param {string} name @param {Uint8Array<ArrayBuffer>} bytes */
function openMade(name, bytes) {
	return takeAll([{ name, load: (core) => core.load(new Blob([bytes]), name) }]);
}

/** Opens one source and returns the dumps in it. @param {Source} source */
async function take({ name, load }) {
	try {
		const { source, dumps: infos, problems: found } = await load(await client);
		found.forEach((problem) => complain(name, problem));
		/** @type {OpenDump[]} */
		const added = infos.map((info) => ({ ...info, source, share: 0, arrangement: "stored" }));
		dumps.push(...added);
		drawShelf();
		return added;
	} catch (error) {
		complain(name, error instanceof Error ? error.message : String(error));
		return [];
	}
}

/** Has the core look at a dump; if the core stops on the way, once more with the new one. @param {OpenDump} dump */
async function look(dump) {
	const core = await client;
	try {
		dump.report = await core.report(dump.id, dump.said).catch((error) => {
			if (error instanceof WorkerLost) {
				return core.report(dump.id, dump.said);
			}
			throw error;
		});
		dump.arrangement = dump.report.order.id;
	} catch (error) {
		complain(dump.name, error instanceof Error ? error.message : String(error));
	}
	drawShelf();
}

/** A person sets order and CPU of the dump in view by hand, or, with nothing said, goes back. @param {Said} [said] */
async function setByHand(said) {
	const dump = current;
	if (dump) {
		dump.said = said;
		await look(dump);
		if (dump === current) {
			choose(dump);
		}
	}
}

/** @param {string} name @param {string} problem */
function complain(name, problem) {
	problems.append(el("li", {}, el("bdi", {}, name), `: ${problem}.`));
}

/** @param {OpenDump} dump */
function choose(dump) {
	current = dump;
	drawShelf();
	if (!dump.report) {
		return;
	}
	byId("welcome", HTMLElement).hidden = true;
	answers.hidden = false;
	verdict.show(dump.report);
	map.show(dump.report);
	bytes.show(dump, dump.report);
	text.show(dump.report);
	checksums.show(dump, dump.report.sums);
	byId("burn-section", HTMLElement).hidden = false;
	burn.show(dump);
	byId("passon-section", HTMLElement).hidden = false;
	passOn.show(dump);
	posted.show(dump);
	answers.dataset.shown = dump.id;
	listSections();
	tell(`${dump.name}: ${dump.report.verdict.headline}`);
}

/** @param {OpenDump} dump */
async function close(dump) {
	const place = dumps.indexOf(dump);
	dumps = dumps.filter((d) => d !== dump);
	if (!dumps.some(({ source }) => source === dump.source)) {
		(await client).remove(dump.source);
	}
	if (dump === current) {
		current = undefined;
		const next = dumps.findLast(({ report }) => report);
		if (next) {
			choose(next);
		} else {
			answers.hidden = true;
			byId("burn-section", HTMLElement).hidden = true;
			byId("passon-section", HTMLElement).hidden = true;
			passOn.hide();
			posted.show();
			byId("welcome", HTMLElement).hidden = false;
		}
	}
	drawShelf();
	const buttons = shelf.querySelectorAll("button.close"); // the one that was pressed is gone
	/** @type {HTMLElement} */ (buttons[Math.min(place, buttons.length - 1)] ?? byId("files", HTMLElement)).focus();
	await relate();
}

function drawShelf() {
	showShelf(shelf, dumps, current, { choose, close });
	opened(dumps.length, dumps.some(({ report }) => report));
}
