// Runs in the client's worker before worker.js and watches: how large the core's memory has grown, and how long each part
// of an inspection takes. It can hide crypto.subtle, as a page from an insecure origin finds it.
// @ts-check

const query = new URL(import.meta.url).searchParams;
const scope = /** @type {any} */ (globalThis);

/** @type {WebAssembly.Memory} */ let memory;
/** Milliseconds by part, since last asked. @type {Record<string, number>} */ let parts = {};

/** @param {string} part  @param {number} from  @param {number} to */
const add = (part, from, to) => { parts[part] = (parts[part] ?? 0) + to - from; };

/** Puts a stopwatch around a function. @param {string} part  @param {(...args: any[]) => any} f */
function timed(part, f) {
	return (/** @type {any[]} */ ...args) => {
		const begun = performance.now();
		const result = f(...args);
		add(part, begun, performance.now());
		return result;
	};
}

/** core.Inspect counts the survey as the first fifth of its progress. */
const surveyShare = 0.2;

/**
 * Puts a stopwatch around what the core does for a report, in parts. The core asks for the browser's digests when it has
 * come to the sums; they count only where it has to wait for them. The last two arguments are their promise and the host.
 * @param {(...args: any[]) => Promise<any>} report
 */
function timedReport(report) {
	return async (/** @type {any[]} */ ...args) => {
		const [digests, host] = args.splice(-2);
		const begun = performance.now();
		let surveyed = begun, asked = begun, told = begun;
		const watchedDigests = {
			then(/** @type {(known: any) => void} */ tell) {
				asked = performance.now();
				digests.then((/** @type {any} */ known) => { told = performance.now(); tell(known); });
			},
		};
		const watchedHost = {
			progress(/** @type {number} */ share) {
				if (share <= surveyShare) {
					surveyed = performance.now();
				}
				return host.progress(share);
			},
		};
		const result = await report(...args, watchedDigests, watchedHost);
		add("survey", begun, surveyed);
		add("marks and texts", surveyed, asked);
		if (crypto.subtle) {
			add("wait for digests", asked, told);
		}
		add("sums and report", told, performance.now());
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
		loadOne: timed("take in", calls.loadOne),
		bytes: timed("hand out", calls.bytes),
		report: timedReport(calls.report),
	}),
});
if (query.get("subtle") === "hidden") {
	Object.defineProperty(crypto, "subtle", { value: undefined });
}

const channel = new BroadcastChannel(`probe ${query.get("channel")}`);
channel.onmessage = () => {
	channel.postMessage({ memory: memory.buffer.byteLength, parts });
	parts = {};
};
