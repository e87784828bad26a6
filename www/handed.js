// Files that the system hands over: opened with the installed page, or shared to it. Only some browsers can do either.
// @ts-check
import { say } from "./dom.js";

/** @import {Taken} from "./entry.js" */

/** @param {Taken} taken */
export function listenForHandedOver(taken) {
	/** @type {any} */ (globalThis).launchQueue?.setConsumer(async (/** @type {any} */ { files = [] }) => {
		const all = await Promise.all(files.map(async (/** @type {any} */ handle) => ({ file: await handle.getFile(), name: handle.name })));
		if (all.length > 0) {
			taken.files(all);
		}
	});
	if (new URLSearchParams(location.search).has("shared")) {
		history.replaceState(null, "", location.pathname + location.hash); // a reload must not look for them again
		takeShared(taken);
	}
}

/** Takes out what the service worker has put into the cache. @param {Taken} taken */
async function takeShared(taken) {
	const name = `lunette-shared ${new URL("./", location.href).pathname}`;
	try {
		const cache = await caches.open(name);
		const files = await Promise.all((await cache.keys()).map(async (key) => {
			const response = /** @type {Response} */ (await cache.match(key));
			return { file: await response.blob(), name: decodeURIComponent(response.headers.get("X-Name") ?? "shared file") };
		}));
		await caches.delete(name);
		if (files.length > 0) {
			taken.files(files);
			return;
		}
	} catch {
		// no cache to be had: nothing has come either
	}
	say("Nothing has arrived. Press Open dumps and choose the file there.");
}
