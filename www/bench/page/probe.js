// Runs in the client's worker before worker.js and watches: how large the core's memory has grown, and how long each part
// of an inspection takes. It can hide crypto.subtle, as a page from an insecure origin finds it.
// @ts-check

const query = new URL(import.meta.url).searchParams;
const scope = /** @type {any} */ (globalThis);

/** @type {WebAssembly.Memory} */ let memory;
/** Milliseconds by part, since last asked. @type {Record<string, number>} */ let parts = {};

/** @param {string} part  @param {number} from  @param {number} to */
const add = (part, from, to) => { parts[part] = (parts[part] ?? 0) + to - from; };

/**
 * Puts a stopwatch around a method, which may return a promise. Of calls that overlap it counts the time once.
 * @param {string} part  @param {(...args: any[]) => any} method
 */
function timed(part, method) {
	let running = 0, begun = 0;
	const ended = () => { if (--running === 0) { add(part, begun, performance.now()); } };
	return /** @this {any} */ function (/** @type {any[]} */ ...args) {
		if (running++ === 0) {
			begun = performance.now();
		}
		const result = method.apply(this, args);
		if (result instanceof Promise) {
			return result.finally(ended);
		}
		ended();
		return result;
	};
}

/** core.Inspect counts the survey as the first quarter of its progress. */
const surveyShare = 0.25;

/** Puts a stopwatch around what the core does for a report, in two parts. @param {(...args: any[]) => Promise<any>} report */
function timedReport(report) {
	return async (/** @type {any[]} */ ...args) => {
		const host = args.pop();
		const begun = performance.now();
		let surveyed = begun;
		const watched = {
			progress(/** @type {number} */ share) {
				if (share <= surveyShare) {
					surveyed = performance.now();
				}
				return host.progress(share);
			},
		};
		const result = await report(...args, watched);
		add("survey", begun, surveyed);
		add("sums and report", surveyed, performance.now());
		return result;
	};
}

for (const name of ["instantiate", "instantiateStreaming"]) {
	const plain = scope.WebAssembly[name];
	scope.WebAssembly[name] = async (/** @type {any[]} */ ...args) => {
		const result = await plain(...args);
		memory = (result.instance ?? result).exports.mem;
		return result;
	};
}

/** @type {(calls: any) => void} */ let ready;
Object.defineProperty(scope, "lunetteReady", {
	set(/** @type {typeof ready} */ f) { ready = f; },
	get: () => (/** @type {any} */ calls) => ready({
		...calls,
		load: timed("take in", calls.load),
		bytes: timed("hand out", calls.bytes),
		report: timedReport(calls.report),
	}),
});
Blob.prototype.arrayBuffer = timed("read file", Blob.prototype.arrayBuffer);
if (query.get("subtle") === "hidden") {
	Object.defineProperty(crypto, "subtle", { value: undefined });
} else {
	crypto.subtle.digest = timed("browser digests", crypto.subtle.digest);
}

const channel = new BroadcastChannel(`probe ${query.get("channel")}`);
channel.onmessage = () => {
	channel.postMessage({ memory: memory.buffer.byteLength, parts });
	parts = {};
};
