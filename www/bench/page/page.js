// The page of `make bench`: inspects one sample through the client as any page would, and has a library hash the same
// bytes. numbers_test.go calls what globalThis.bench offers; each call answers with milliseconds.
// @ts-check
import { open } from "../../lunette.js";

/** The client's workers end up here, with a probe inside. @type {Worker[]} */
const workers = [];
let hideSubtle = false;

const PlainWorker = Worker;
/** The client's own worker, except that probe.js runs in it before worker.js does. */
globalThis.Worker = class extends PlainWorker {
	/** @param {string | URL} url  @param {WorkerOptions} [options] */
	constructor(url, options) {
		const probe = new URL("probe.js", import.meta.url);
		probe.searchParams.set("channel", String(workers.length));
		probe.searchParams.set("subtle", hideSubtle ? "hidden" : "shown");
		const script = [probe.href, String(url)].map((module) => `await import(${JSON.stringify(module)});`).join("\n");
		super(URL.createObjectURL(new Blob([script], { type: "text/javascript" })), options);
		workers.push(this);
	}
};

/** What the probe of a worker has seen since it was last asked. @param {number} worker  @returns {Promise<any>} */
function seen(worker) {
	return new Promise((resolve) => {
		const channel = new BroadcastChannel(`probe ${worker}`);
		channel.onmessage = ({ data }) => { channel.close(); resolve(data); };
		channel.postMessage("tell");
	});
}

/** @type {Uint8Array<ArrayBuffer>} */ let sample;
/** @type {{client: import("../../lunette.js").Lunette, worker: number}[]} */ const clients = [];
const library = new PlainWorker(new URL("library-worker.js", import.meta.url));

/** Asks the worker with the library. @param {any} message  @returns {Promise<any>} */
function ask(message) {
	return new Promise((resolve, reject) => {
		library.onmessage = ({ data }) => data.error ? reject(new Error(data.error)) : resolve(data);
		library.onerror = (event) => reject(new Error(event.message));
		library.postMessage(message);
	});
}

/** @type {any} */ (globalThis).bench = {
	/** Fetches the sample and starts two clients: 0 in a secure context, 1 as where crypto.subtle is missing. @param {number} size */
	async prepare(size) {
		sample = new Uint8Array(await (await fetch(`sample?size=${size}`)).arrayBuffer());
		await ask({ sample });
		const begun = performance.now();
		for (hideSubtle of [false, true]) {
			const worker = workers.length;
			clients.push({ client: await open(), worker });
		}
		return (performance.now() - begun) / clients.length;
	},

	/** @param {number} which  @param {boolean} withReport */
	async inspect(which, withReport) {
		const { client, worker } = clients[which];
		const begun = performance.now();
		const report = await client.inspect(sample, "sample.bin");
		const ms = performance.now() - begun;
		return { ms, ...await seen(worker), ...(withReport && { report }) };
	},

	hash: () => ask({}),
};
