// Hashes the sample with the library, in a worker like the core's. The four hashers are made once and beforehand, and the
// sample is here already: only hashing is timed, which is the library at its best.
// @ts-check
/// <reference lib="webworker" />

/** @type {any} */ (globalThis).importScripts("library.js");

const { createCRC32, createMD5, createSHA1, createSHA256 } = /** @type {any} */ (globalThis).hashwasm;
const hashers = Promise.all([createCRC32(), createMD5(), createSHA1(), createSHA256()]);
const names = ["crc-32", "md5", "sha-1", "sha-256"];

/** @type {Uint8Array} */
let sample;

onmessage = async ({ data }) => {
	try {
		if (data.sample) {
			sample = data.sample;
			await hashers;
			postMessage({});
			return;
		}
		const parts = /** @type {Record<string, number>} */ ({}), hashes = /** @type {Record<string, string>} */ ({});
		let ms = 0;
		for (const [i, hasher] of (await hashers).entries()) {
			const begun = performance.now();
			hashes[names[i]] = hasher.init().update(sample).digest("hex");
			parts[names[i]] = performance.now() - begun;
			ms += parts[names[i]];
		}
		postMessage({ ms, parts, hashes });
	} catch (error) {
		postMessage({ error: String(error) });
	}
};
