// The worker: fetches the core, starts it and passes calls on. Everything that is known about dumps is known in the core.
// @ts-check
import "./built/wasm_exec.js";
import { unpack } from "./unpack.js";

/** What the core offers; wasm/main.go sets it. @type {Record<string, (...args: any[]) => any>} */
let core;

/** The running Go program. @type {{exited: boolean, importObject: any, run(instance: WebAssembly.Instance): Promise<void>}} */
let go;

const post = (/** @type {any} */ message, /** @type {Transferable[]} */ transfer = []) =>
	/** @type {any} */ (self).postMessage(message, transfer);

/** Fetches the core and tells how it gets on. It is unpacked here, so no host needs to know its type. */
async function fetchCore() {
	const response = await fetch(new URL("./built/lunette.wasm.packed", import.meta.url));
	if (!response.ok || !response.body) {
		throw new Error(`the core could not be fetched: the server answered ${response.status}`);
	}
	const total = Number(response.headers.get("Content-Length")) || 0;
	let received = 0;
	const counted = response.body.pipeThrough(new TransformStream({
		transform(/** @type {Uint8Array} */ chunk, controller) {
			received += chunk.length;
			post({ kind: "download", received, total });
			controller.enqueue(chunk);
		},
	}));
	return unpack(new Uint8Array(await new Response(counted).arrayBuffer()));
}

/** @param {WebAssembly.Module | undefined} module  the compiled core, when an earlier worker had it */
async function start(module) {
	go = new /** @type {any} */ (globalThis).Go();
	const program = module ? undefined : await fetchCore();
	const { instance, module: compiled } = program
		? await WebAssembly.instantiate(program, go.importObject)
		: { instance: await WebAssembly.instantiate(/** @type {WebAssembly.Module} */ (module), go.importObject), module };
	const running = new Promise((resolve) => {
		/** @type {any} */ (globalThis).lunetteReady = (/** @type {any} */ calls) => resolve(calls);
	});
	let last = "";
	const log = console.log;
	console.log = (...words) => { last ||= String(words[0]); log(...words); }; // Go writes what ends it to the console
	go.run(instance).then(
		() => post({ kind: "lost", reason: last || "the core ended" }),
		(/** @type {Error} */ error) => post({ kind: "lost", reason: last || error.message }),
	);
	core = Object.fromEntries(Object.entries(await running).map(([name, call]) => [name, throwing(call)]));
	post({ kind: "ready", module: compiled });
	if (program) {
		setTimeout(() => warmUp(program), 100);
	}
}

/**
 * Inspects a piece of the core itself, so that the browser has compiled what an inspection uses before the first dump comes;
 * that dump is judged in half the time. It pauses as any inspection does when something is asked.
 * @param {Uint8Array<ArrayBuffer>} program
 */
function warmUp(program) {
	const middle = program.length >> 1;
	inspect({ source: "warm-up", name: "warm-up", bytes: program.slice(middle, middle + 0x40000) }, hostOf(0)).catch(() => {});
}

/** Go cannot throw and returns its errors. @param {(...args: any[]) => any} call */
function throwing(call) {
	return (/** @type {any[]} */ ...args) => {
		const result = call(...args);
		if (result instanceof Error) {
			throw result;
		}
		return result;
	};
}

/** How the digests of the browser are called there and in the core. */
const digests = { "sha-1": "SHA-1", "sha-256": "SHA-256" };

/**
 * Lets the browser compute what it computes faster than the core, which has other things to do meanwhile. Where it cannot
 * (no secure context, no memory) the core does it.
 * @param {{id: string, arrangement?: string, from?: number, to?: number}} of
 * @returns {Promise<Record<string, string>>}  is never rejected
 */
function browserDigests({ id, arrangement = "stored", from = 0, to = -1 }) {
	if (!globalThis.crypto?.subtle) {
		return Promise.resolve({});
	}
	const bytes = core.bytes(id, arrangement, from, to);
	const pairs = Object.entries(digests).map(async ([ours, theirs]) => {
		const digest = new Uint8Array(await crypto.subtle.digest(theirs, bytes));
		return [ours, Array.from(digest, (b) => b.toString(16).padStart(2, "0")).join("")];
	});
	return Promise.all(pairs).then(Object.fromEntries).catch(() => ({}));
}

/**
 * What the client may ask, by name: how the arguments reach the core. Results that are JSON go on as text, which crosses
 * to the page much faster than objects.
 * @type {Record<string, (args: any, host: any) => any>}
 */
const calls = {
	load: async ({ source, name, file }) => core.load(source, name, new Uint8Array(await file.arrayBuffer())),
	loadText: async ({ source, name, file }) => core.loadText(source, name, await file.text()),
	remove: ({ source }) => core.remove(source),
	inspect,
	report: ({ id, order = "", family = "" }, host) => core.report(id, order, family, browserDigests({ id }), host),
	arrangements: () => core.arrangements(),
	families: () => core.families(),
	size: ({ id, arrangement }) => core.size(id, arrangement),
	bytes: ({ id, arrangement, from, to }) => core.bytes(id, arrangement, from, to),
	place: ({ id, arrangement, from, to }) => core.place(id, arrangement, from, to),
	find: ({ id, arrangement, kind, pattern }, host) => core.find(id, arrangement, kind, pattern, host),
	sums: (args, host) => core.sums(args.id, args.arrangement, args.from, args.to, browserDigests(args), host),
	explain: ({ id, value }, host) => core.explain(id, value, host),
	link: ({ id, title, base, short }, host) => core.link(id, title, base, short, host),
	read: ({ link }) => core.read(link),
	check: ({ id, link }, host) => core.check(id, link, host),
	paper: ({ id, job, sections }) => core.paper(id, job, sections),
	labels: ({ id, name, device, files }) => core.labels(id, name, device, files),
	bodies: () => core.bodies(),
	qr: ({ text }) => core.qr(text),
	relations: (_, host) => core.relations(host),
	make: ({ relation }) => core.make(relation),
	pair: ({ looked }) => core.pair(looked),
	compare: ({ master, read, device }, host) => core.compare(master, read, device, host),
	laid: ({ from, to }) => core.laid(from, to),
	repaired: ({ explanation }) => core.repaired(explanation),
	rereads: ({ reads, device }) => core.rereads(reads, device),
	consensus: () => core.consensus(),
	consensusList: () => core.consensusList(),
	blank: ({ chip, master, device }) => core.blank(chip, master, device),
	fits: ({ id }) => core.fits(id),
	prepare: ({ id, plan }) => core.prepare(id, plan),
	file: ({ file }) => core.file(file),
	chips: () => core.chips(),
	findChips: ({ text }) => core.findChips(text),
	times: ({ device, lamp }) => core.times(device, lamp),
	seat: ({ chip, socket, byte, vpp }) => core.seat(chip, socket, byte, vpp),
	dropIn: ({ old, chip }) => core.dropIn(old, chip),
	demo: ({ id }) => core.demo(id),
	demoBytes: ({ demo }) => core.demoBytes(demo),
	panic: () => core.panic(),
};

/**
 * Opens a dump, reports on it and forgets it. Where that fails nothing has stayed open, or the core has ended.
 * @param {{source: string, name: string, bytes: Uint8Array}} args  @param {any} host
 */
async function inspect({ source, name, bytes }, host) {
	const id = core.loadOne(source, name, bytes);
	const report = await calls.report({ id }, host);
	core.remove(source);
	return report;
}

/** A pause in which waiting messages are heard; a resolved promise alone would not let them in. */
function pause() {
	return new Promise((resolve) => {
		const { port1, port2 } = new MessageChannel();
		port1.onmessage = () => { port1.close(); resolve(undefined); };
		port2.postMessage(0);
	});
}

/**
 * What a long call in the core may ask of its host: tell how far it is, and pause now and then.
 * @param {number} number
 */
function hostOf(number) {
	const begun = performance.now();
	let paused = begun;
	return {
		/** @param {number} share  @returns {Promise<unknown> | undefined} a pause to wait for, now and then */
		progress(share) {
			const now = performance.now();
			if (now - paused < 50) {
				return undefined;
			}
			paused = now;
			if (now - begun > 250) {
				post({ kind: "progress", number, share });
			}
			return pause();
		},
	};
}

/** @param {{number: number, call: string, args: any}} request */
async function answer({ number, call, args }) {
	try {
		const result = await calls[call](args, hostOf(number));
		if (go.exited) {
			return; // what the core returned while it ended means nothing; start tells that it is lost
		}
		post({ kind: "result", number, result }, result instanceof Uint8Array ? [result.buffer] : []);
	} catch (error) {
		const reason = error instanceof Error ? error.message : String(error);
		// A trap or a refused allocation inside the core leaves it broken for every later call.
		const broken = error instanceof WebAssembly.RuntimeError || error instanceof RangeError;
		post(broken ? { kind: "lost", reason } : { kind: "error", number, reason });
	}
}

self.onmessage = ({ data }) => {
	if (data.call) {
		answer(data);
	} else {
		start(data.module).catch((error) => post({ kind: "broken", reason: error.message }));
	}
};
post({ kind: "up" });
