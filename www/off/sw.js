// Takes the service worker away. Put this file in place of sw.js on the host: at their next visit browsers delete what
// they keep of the page, in every version, and ask the host for everything again. Leave it there for good.
// @ts-check

const worker = /** @type {any} */ (self);
const { pathname } = new URL(worker.registration.scope);

worker.addEventListener("install", () => worker.skipWaiting());
worker.addEventListener("activate", (/** @type {any} */ event) => event.waitUntil(goAway()));

async function goAway() {
	const ours = (await caches.keys()).filter((name) => name.startsWith(`lunette ${pathname} `));
	await Promise.all(ours.map((name) => caches.delete(name)));
	await worker.registration.unregister();
}
