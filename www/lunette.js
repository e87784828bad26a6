// The client: the one module that talks to the worker. It works by itself from any page:
//
//   import { open } from "./lunette.js";
//   const l = await open();
//   const report = await l.inspect(bytes, "u41.bin");
//
// The dumps stay with the page as Blobs and are read in the worker. When the worker dies, of a defect or for want of
// memory, whatever was asked of it fails with a WorkerLost error, a new worker starts and gets the dumps again.
// @ts-check
import { trusted } from "./trusted.js";

/** @import {Answer, BlankCheck, Body, Burning, BurnPlan, ChipMatch, Choice, Comparison, Device, Drop, Explanation, Hits, Job, Label, Loaded, Paper, Posting, Prepared, QRCode, Relation, Report, ReportSection, Rereads, Seats, Statement, Sum, Times} from "./types.js" */

/** The worker ended; the question was lost, the dumps were not. */
export class WorkerLost extends Error {}

/** This browser cannot run the core at all. */
export class Unsupported extends Error {}

/**
 * @typedef {object} Listeners
 * @property {(received: number, total: number) => void} [download]  bytes of the core received; total is 0 when unknown
 * @property {(id: string, share: number) => void} [progress]        how much of a long call on a dump is done, 0 to 1
 * @property {(reason: string) => void} [restart]                     the worker ended and a new one has taken over
 */

/**
 * Starts the worker and returns a client once the core runs in it.
 * @param {Listeners} [listeners]
 * @returns {Promise<Lunette>}
 */
export async function open(listeners = {}) {
	if (typeof WebAssembly === "undefined") {
		throw new Unsupported("This browser has WebAssembly switched off, as lockdown modes do, and Lunette cannot work without it. " +
			"Allow it for this site, or use another browser.");
	}
	const client = new Lunette(listeners);
	await client.ready;
	return client;
}

export class Lunette {
	/** What is open, and how it was opened. @type {Map<string, {call: string, file: Blob, name: string}>} */ #sources = new Map();
	/** @type {Map<number, {resolve: (value: any) => void, reject: (reason: Error) => void, id: string}>} */ #waiting = new Map();
	/** @type {WebAssembly.Module | undefined} */ #module;
	/** @type {Worker | undefined} */ #worker;
	#calls = 0;
	#opened = 0;
	#restarts = 0;

	/** @param {Listeners} listeners */
	constructor(listeners) {
		this.listeners = listeners;
		this.ready = this.#start();
	}

	/**
	 * Opens a file, which may hold several dumps. It is kept until removed.
	 * @param {Blob} file
	 * @param {string} name
	 * @returns {Promise<Loaded & {source: string}>}
	 */
	load(file, name) {
		return this.#add("load", file, name);
	}

	/**
	 * Opens pasted text: hex bytes, a hex listing, Intel HEX or S-records.
	 * @param {string} text
	 * @param {string} name
	 * @returns {Promise<Loaded & {source: string}>}
	 */
	loadText(text, name) {
		return this.#add("loadText", new Blob([text]), name);
	}

	/**
	 * Forgets a source and all its dumps, here and in the worker.
	 * @param {string} source
	 */
	async remove(source) {
		this.#sources.delete(source);
		await this.#call("remove", { source });
	}

	/**
	 * Returns the report of one dump. A person who disagrees with it says the order in which the CPU sees the dump and,
	 * perhaps, the CPU family, and gets the report that follows from these.
	 * @param {string} id
	 * @param {{order: string, family: string}} [said]
	 * @returns {Promise<Report>}
	 */
	report(id, said) {
		return this.#ask("report", { id, ...said });
	}

	/**
	 * Returns the report of one dump without keeping it open. Where the worker ends meanwhile this fails with WorkerLost,
	 * and the next worker does not get these bytes: they may be what ended it. They are the caller's to try again.
	 * @param {Uint8Array | ArrayBuffer} bytes  are copied
	 * @param {string} name
	 * @returns {Promise<Report>}
	 */
	async inspect(bytes, name) {
		const copy = bytes instanceof Uint8Array ? bytes.slice() : new Uint8Array(bytes.slice(0));
		return this.#ask("inspect", { source: `i${++this.#opened}`, name, bytes: copy }, [copy.buffer]);
	}

	/**
	 * Returns every arrangement a dump can be looked at in, "as stored" first.
	 * @returns {Promise<Choice[]>}
	 */
	arrangements() {
		return this.#ask("arrangements", {});
	}

	/**
	 * Returns every CPU family whose code the core knows.
	 * @returns {Promise<Choice[]>}
	 */
	families() {
		return this.#ask("families", {});
	}

	/**
	 * Returns how many bytes a dump has when arranged.
	 * @param {string} id
	 * @param {string} arrangement
	 * @returns {Promise<number>}
	 */
	size(id, arrangement) {
		return this.#call("size", { id, arrangement });
	}

	/**
	 * Returns the bytes from one offset to another of the arranged image, the last not included; to the end when to is -1.
	 * @param {string} id
	 * @param {string} arrangement
	 * @param {number} from
	 * @param {number} to
	 * @returns {Promise<Uint8Array<ArrayBuffer>>}
	 */
	bytes(id, arrangement, from, to) {
		return this.#call("bytes", { id, arrangement, from, to });
	}

	/**
	 * Returns the stretch of the arranged image that holds the stored bytes from one offset to another; from and to are
	 * equal when all of them are in another lane.
	 * @param {string} id
	 * @param {string} arrangement
	 * @param {number} from
	 * @param {number} to
	 * @returns {Promise<{from: number, to: number}>}
	 */
	place(id, arrangement, from, to) {
		return this.#ask("place", { id, arrangement, from, to });
	}

	/**
	 * Looks for text (letters in either case) or for bytes in hex (? is any digit) in the arranged image.
	 * @param {string} id
	 * @param {string} arrangement
	 * @param {"text" | "hex"} kind
	 * @param {string} pattern
	 * @returns {Promise<Hits>}
	 */
	find(id, arrangement, kind, pattern) {
		return this.#ask("find", { id, arrangement, kind, pattern });
	}

	/**
	 * Returns the whole catalogue of sums over a stretch of the arranged image.
	 * @param {string} id
	 * @param {string} arrangement
	 * @param {number} from
	 * @param {number} to
	 * @returns {Promise<Sum[]>}
	 */
	sums(id, arrangement, from, to) {
		return this.#ask("sums", { id, arrangement, from, to });
	}

	/**
	 * Finds what a printed checksum is of.
	 * @param {string} id
	 * @param {string} value  hex, as printed
	 * @returns {Promise<Explanation>}
	 */
	explain(id, value) {
		return this.#ask("explain", { id, value });
	}

	/**
	 * Makes a link that passes on what was found in a dump without a byte of it, and says all that is in it.
	 * @param {string} id
	 * @param {{title?: string, short?: boolean, base?: string}} [options]  a title, none when not given; the short form, for
	 *   a QR code; the address that stands before #, that of this page when not given
	 * @returns {Promise<Posting>}
	 */
	link(id, { title = "", short = false, base = globalThis.location?.href ?? "" } = {}) {
		return this.#ask("link", { id, title, short, base });
	}

	/**
	 * Reads what somebody says in a link. It is not checked against anything. What is no link of ours, cut or altered fails
	 * and says so.
	 * @param {string} link  whole, or what stands after #
	 * @returns {Promise<Statement>}
	 */
	read(link) {
		return this.#ask("read", { link });
	}

	/**
	 * Holds a dump against a link.
	 * @param {string} id
	 * @param {string} link  whole, or what stands after #
	 * @returns {Promise<Answer>}
	 */
	check(id, link) {
		return this.#ask("check", { id, link });
	}

	/**
	 * Returns the report about a dump for the owner of the board, in parts and as text.
	 * @param {string} id
	 * @param {Partial<Job>} [job]
	 * @param {ReportSection[]} [sections]  what else there is to tell
	 * @returns {Promise<Paper>}
	 */
	paper(id, job = {}, sections = []) {
		return this.#ask("paper", { id, job, sections });
	}

	/**
	 * Returns labels for chips: of the files last prepared of a dump, or of the dump as it is stored.
	 * @param {string} id
	 * @param {{name?: string, device?: string, files?: boolean}} [options]
	 * @returns {Promise<Label[]>}
	 */
	labels(id, { name = "", device = "", files = false } = {}) {
		return this.#ask("labels", { id, name, device, files });
	}

	/** Returns the packages that labels are cut for. @returns {Promise<Body[]>} */
	bodies() {
		return this.#ask("bodies", {});
	}

	/**
	 * Returns the QR code of a text, most likely a link, without its light border of four modules.
	 * @param {string} text  ASCII
	 * @returns {Promise<QRCode>}
	 */
	qr(text) {
		return this.#ask("qr", { text });
	}

	/**
	 * Returns how the open dumps belong together, the surest first.
	 * @returns {Promise<Relation[]>}
	 */
	relations() {
		return this.#ask("relations", {});
	}

	/**
	 * Makes the dump that a relation offers, by its number in what relations last returned.
	 * @param {number} relation
	 * @returns {Promise<Uint8Array<ArrayBuffer>>}
	 */
	make(relation) {
		return this.#call("make", { relation });
	}

	/**
	 * Returns which of the open dumps is most likely the master and which a read of its copy, and why.
	 * @param {string} looked  the dump that is looked at, or ""
	 * @returns {Promise<{master: string, read: string, why: string, rereads: string[]}>}
	 */
	pair(looked) {
		return this.#ask("pair", { looked });
	}

	/**
	 * Says why a read differs from its master.
	 * @param {string} master
	 * @param {string} read
	 * @param {string} [device]  the chip, as chips lists them; the likeliest of its size when not given
	 * @returns {Promise<Comparison>}
	 */
	compare(master, read, device = "") {
		return this.#ask("compare", { master, read, device });
	}

	/**
	 * Returns a stretch of the last comparison, each byte in hex: the read, and the master as it is laid over it.
	 * @param {number} from
	 * @param {number} to
	 * @returns {Promise<{master: string[], read: string[]}>}
	 */
	laid(from, to) {
		return this.#ask("laid", { from, to });
	}

	/**
	 * Returns what the chip of the last comparison should have read, by an explanation that says how.
	 * @param {number} explanation  its number
	 * @returns {Promise<Uint8Array<ArrayBuffer>>}
	 */
	repaired(explanation) {
		return this.#call("repaired", { explanation });
	}

	/**
	 * Says whether several reads of one chip agree, and what they agree on.
	 * @param {string[]} reads
	 * @param {string} [device]
	 * @returns {Promise<Rereads>}
	 */
	rereads(reads, device = "") {
		return this.#ask("rereads", { reads, device });
	}

	/** Returns what the reads last asked about agree on. @returns {Promise<Uint8Array<ArrayBuffer>>} */
	consensus() {
		return this.#call("consensus", {});
	}

	/** Returns the list of the bytes on which they did not, as text; it belongs to the consensus. @returns {Promise<Uint8Array<ArrayBuffer>>} */
	consensusList() {
		return this.#call("consensusList", {});
	}

	/**
	 * Says whether a chip is blank, and whether a master can still be burnt over what is there.
	 * @param {string} chip     a read of it
	 * @param {string} [master]
	 * @param {string} [device]
	 * @returns {Promise<BlankCheck>}
	 */
	blank(chip, master = "", device = "") {
		return this.#ask("blank", { chip, master, device });
	}

	/**
	 * Returns what can hold a dump, and what is known of it that files for chips depend on.
	 * @param {string} id
	 * @returns {Promise<Burning>}
	 */
	fits(id) {
		return this.#ask("fits", { id });
	}

	/**
	 * Makes the files for chips out of a dump; file hands them out. A plan that makes no sense fails and says why.
	 * @param {string} id
	 * @param {BurnPlan} plan
	 * @returns {Promise<Prepared>}
	 */
	prepare(id, plan) {
		return this.#ask("prepare", { id, plan });
	}

	/**
	 * Returns a file of those last prepared, by its number.
	 * @param {number} number
	 * @returns {Promise<Uint8Array<ArrayBuffer>>}
	 */
	file(number) {
		return this.#call("file", { file: number });
	}

	/** Returns the catalogue of chips. @returns {Promise<Device[]>} */
	chips() {
		return this.#ask("chips", {});
	}

	/**
	 * Returns the chips that a part number, a size or a number of pins names, exact ones first.
	 * @param {string} text
	 * @returns {Promise<ChipMatch[]>}
	 */
	findChips(text) {
		return this.#ask("findChips", { text });
	}

	/**
	 * Returns how long a chip takes to burn and to erase.
	 * @param {string} device
	 * @param {string | number} [lamp]  at the chip, as "12000", "12 mW" or 12000 (uW/cm2); the data sheets' when not given
	 * @returns {Promise<Times>}
	 */
	times(device, lamp = "") {
		return this.#ask("times", { device, lamp: String(lamp) });
	}

	/**
	 * Returns what each pin of a chip meets in a socket, seated rightly and wrongly.
	 * @param {string} chip
	 * @param {string} socket  the chip whose pinout it has
	 * @param {{byte?: string, vpp?: string}} [straps]  "high" or "low" where the board ties the pin, "" where that is not known
	 * @returns {Promise<Seats>}
	 */
	seat(chip, socket, { byte = "", vpp = "" } = {}) {
		return this.#ask("seat", { chip, socket, byte, vpp });
	}

	/**
	 * Returns two pinouts side by side, and the wiring that puts the new chip in the place of the old one.
	 * @param {string} old
	 * @param {string} chip  the new one
	 * @returns {Promise<Drop>}
	 */
	dropIn(old, chip) {
		return this.#ask("dropIn", { old, chip });
	}

	/**
	 * Returns the demo board's other dumps, which are made of its system ROM.
	 * @param {string} id  the system ROM
	 * @returns {Promise<Choice[]>}
	 */
	demo(id) {
		return this.#ask("demo", { id });
	}

	/**
	 * Returns one of them, by its number and once.
	 * @param {number} demo
	 * @returns {Promise<Uint8Array<ArrayBuffer>>}
	 */
	demoBytes(demo) {
		return this.#call("demoBytes", { demo });
	}

	/** Makes the core panic, for the test of the restart. */
	panic() {
		return this.#call("panic", {});
	}

	/**
	 * @param {string} call
	 * @param {Blob} file
	 * @param {string} name
	 */
	async #add(call, file, name) {
		const source = `s${++this.#opened}`;
		const loaded = await this.#ask(call, { source, name, file });
		// Kept only now: a file that ends the worker must not be given to the next one.
		this.#sources.set(source, { call, file, name });
		return { ...loaded, source };
	}

	/**
	 * Makes a call whose result is JSON and returns what that says.
	 * @param {string} call
	 * @param {Record<string, any>} args
	 * @param {Transferable[]} [transfer]
	 * @returns {Promise<any>}
	 */
	async #ask(call, args, transfer) {
		return JSON.parse(await this.#call(call, args, transfer));
	}

	/**
	 * Makes a call once a worker is ready, and returns its result as it is.
	 * @param {string} call
	 * @param {Record<string, any>} args
	 * @param {Transferable[]} [transfer]  what of the arguments goes over to the worker and is lost here
	 * @returns {Promise<any>}
	 */
	async #call(call, args, transfer) {
		await this.ready;
		return this.#post(call, args, transfer);
	}

	/**
	 * @param {string} call
	 * @param {Record<string, any>} args
	 * @param {Transferable[]} [transfer]
	 * @returns {Promise<any>}
	 */
	#post(call, args, transfer = []) {
		const number = ++this.#calls;
		return new Promise((resolve, reject) => {
			this.#waiting.set(number, { resolve, reject, id: args.id ?? args.source ?? "" });
			this.#worker?.postMessage({ number, call, args }, transfer);
		});
	}

	async #start() {
		const worker = startWorker();
		this.#worker = worker;
		await new Promise((resolve, reject) => {
			// A worker that was given up may still have had something to say.
			worker.onmessage = ({ data }) => worker === this.#worker && this.#hear(data, resolve, reject);
			worker.onerror = (event) => reject(new Error(event.message || "the worker could not be started"));
		});
		worker.onerror = (event) => worker === this.#worker && this.#lost(event.message);
	}

	/**
	 * @param {any} message
	 * @param {(value?: any) => void} ready
	 * @param {(reason: Error) => void} broken
	 */
	#hear(message, ready, broken) {
		switch (message.kind) {
			case "up":
				this.#worker?.postMessage({ module: this.#module });
				return;
			case "download":
				this.listeners.download?.(message.received, message.total);
				return;
			case "ready":
				this.#module = message.module;
				ready();
				return;
			case "broken":
				broken(new Error(message.reason));
				return;
			case "lost":
				this.#lost(message.reason);
				return;
		}
		const waiting = this.#waiting.get(message.number);
		if (!waiting) {
			return;
		}
		if (message.kind === "progress") {
			this.listeners.progress?.(waiting.id, message.share);
			return;
		}
		this.#waiting.delete(message.number);
		if (message.kind === "error") {
			waiting.reject(new Error(message.reason));
		} else {
			waiting.resolve(message.result);
		}
	}

	/** @param {string} reason */
	#lost(reason) {
		this.#worker?.terminate();
		this.#worker = undefined;
		const waiting = [...this.#waiting.values()];
		this.#waiting.clear();
		this.ready = this.#restart(reason);
		this.ready.catch(() => {});
		for (const { reject } of waiting) {
			reject(new WorkerLost(reason));
		}
	}

	/** @param {string} reason */
	async #restart(reason) {
		if (++this.#restarts > 20) {
			throw new Error("the worker ended 20 times; reload the page and open the dumps again");
		}
		await this.#start();
		for (const [source, { call, file, name }] of this.#sources) {
			await this.#post(call, { source, name, file });
		}
		this.listeners.restart?.(reason);
	}
}

/**
 * A worker started from a URL would escape the page's policy; one started from a blob inherits it, and keeps it for what
 * it imports. Trusted Types want the blob's URL from a policy.
 */
function startWorker() {
	const script = new URL("./worker.js", import.meta.url).href;
	const blob = new Blob([`await import(${JSON.stringify(script)});`], { type: "text/javascript" });
	const url = URL.createObjectURL(blob);
	const worker = new Worker(trusted(url), { type: "module", name: "lunette" });
	worker.addEventListener("message", () => URL.revokeObjectURL(url), { once: true });
	return worker;
}
