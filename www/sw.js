// The service worker: keeps the page's files, so that the page opens where there is no signal. Its rules:
//
// - It keeps one whole set of files or none. Each is checked by its hash, so a half-deployed site is not kept.
// - A page is served from the set it began with. The next version waits until no page of this one is open, or until a
//   person with nothing open asks for it; no page is ever reloaded from here.
// - Its name is sw.js for ever, and the browser compares it byte for byte at each visit. To take it away, put off/sw.js in
//   its place (DEVELOPERS.md).
// @ts-check

/** The version, and the tables below, are written in when the page is served or written (assemble.go). */
const version = "@version@";

/** What a visit needs, by name, each with its hash. @type {Record<string, string>} */
const needed = {};

/** What is kept once it has been asked for: the demo board. @type {Record<string, string>} */
const asked = {};

const worker = /** @type {any} */ (self);
const scope = new URL(worker.registration.scope);

// Caches belong to the origin, which may hold several copies of the page, each in a folder of its own.
const family = `lunette ${scope.pathname} `;
const setName = family + version;
const sharedName = `lunette-shared ${scope.pathname}`; // handed.js takes out what is in it

worker.addEventListener("install", (/** @type {any} */ event) => event.waitUntil(keepAll()));
worker.addEventListener("activate", (/** @type {any} */ event) => event.waitUntil(forgetOlder()));
worker.addEventListener("message", (/** @type {any} */ event) => event.waitUntil(hear(event)));
worker.addEventListener("fetch", (/** @type {any} */ event) => {
	const { request } = event;
	const name = nameOf(request.url);
	if (request.method === "POST" && name === "share") {
		event.respondWith(keepShared(request));
	} else if (request.method === "GET" && Object.hasOwn(needed, name)) {
		event.respondWith(serve(name, needed[name]));
	} else if (request.method === "GET" && Object.hasOwn(asked, name)) {
		// A demo dump that is not this version's is still a dump, so let it come, but do not keep it.
		event.respondWith(serve(name, asked[name]).catch(() => fetch(request)));
	}
});

/** The name of a file of the page, "" for any other address. @param {string} address */
function nameOf(address) {
	const { origin, pathname } = new URL(address);
	if (origin !== scope.origin || !pathname.startsWith(scope.pathname)) {
		return "";
	}
	const name = pathname.slice(scope.pathname.length);
	return name === "" || name === "index.html" ? "./" : name;
}

/** Under which address a file is kept. It has the hash in it, so what is found is what was wanted. @param {string} name @param {string} hash */
const keyOf = (name, hash) => new URL(`${name}?${hash}`, scope).href;

async function keepAll() {
	const set = await caches.open(setName);
	try {
		await Promise.all(Object.entries(needed).map(([name, hash]) => add(set, name, hash)));
		for (const [name, hash] of Object.entries(asked)) {
			if (await caches.match(keyOf(name, hash))) {
				await add(set, name, hash);
			}
		}
	} catch (error) {
		await caches.delete(setName);
		throw error;
	}
}

/**
 * Adds a file to a set: from an older set if it has not changed since, else from the host, which is asked whether what the
 * browser has is still good.
 * @param {Cache} set @param {string} name @param {string} hash
 */
async function add(set, name, hash) {
	const key = keyOf(name, hash);
	let response = await caches.match(key);
	if (!response) {
		const { ok, body, headers } = await fetch(new URL(name, scope), { integrity: hash, cache: "no-cache" });
		if (!ok) {
			throw new Error(`${name} is not there`);
		}
		// Only what the page needs to know: a host's other headers may forbid keeping, or tell of a way round.
		response = new Response(body, { headers: { "Content-Type": headers.get("Content-Type") ?? "", "X-Content-Type-Options": "nosniff" } });
	}
	await set.put(key, response);
}

/** @param {string} name @param {string} hash */
async function serve(name, hash) {
	const set = await caches.open(setName);
	const key = keyOf(name, hash);
	if (!await set.match(key)) {
		await add(set, name, hash).catch(giveUp(name));
	}
	return /** @type {Promise<Response>} */ (set.match(key));
}

/**
 * A set that has lost a file which the host no longer has is of no use: the next visit goes to the host.
 * @param {string} name
 */
const giveUp = (name) => async (/** @type {Error} */ error) => {
	if (name in needed) {
		await worker.registration.unregister();
	}
	throw error;
};

/** This version is in charge, so no page of an older one is open. */
async function forgetOlder() {
	const older = (await caches.keys()).filter((name) => name.startsWith(family) && name !== setName);
	await Promise.all(older.map((name) => caches.delete(name)));
}

/**
 * A page asks to be served from here, which it may if it is of this version; or it asks for this version. Both change who
 * serves all pages that are open, so the page must be the only one.
 * @param {any} event
 */
async function hear({ data, source }) {
	const all = await worker.clients.matchAll({ type: "window", includeUncontrolled: true });
	if (all.some((/** @type {any} */ { id, url }) => id !== source.id && url.startsWith(scope.href))) {
		source.postMessage("another page is open");
	} else if (data === "take over") {
		await worker.skipWaiting();
	} else if (data === `serve ${version}`) {
		await worker.clients.claim();
	}
}

/** Files shared to the installed page wait in a cache until the page takes them out. @param {Request} request */
async function keepShared(request) {
	const form = await request.formData();
	const shared = await caches.open(sharedName);
	const files = form.getAll("files").filter((file) => file instanceof File);
	for (const [i, file] of files.entries()) {
		const headers = { "Content-Type": "application/octet-stream", "X-Name": encodeURIComponent(file.name) };
		await shared.put(new URL(`shared/${Date.now()}/${i}`, scope), new Response(file, { headers }));
	}
	return Response.redirect(new URL("./?shared", scope), 303);
}
