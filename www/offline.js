// The foot of the page: which version this is, whether it opens without a network, a newer version, and installing it.
// The service worker (sw.js) does the keeping; where there is none the page works all the same.
// @ts-check
import { byId, say } from "./dom.js";
import { trusted } from "./trusted.js";

const state = byId("offline", HTMLElement);
const update = byId("update", HTMLElement);
const take = byId("take", HTMLButtonElement);
const install = byId("install", HTMLButtonElement);

/** What the browser offers for installing the page, if it does. @type {any} */
let offered;
let open = 0; // dumps
let answered = false;

/** Starts to keep the page; to be called when everything else is there, for it fetches all files once more. */
export async function keepOffline() {
	const container = navigator.serviceWorker; // not there in an insecure context, whatever the types say
	try {
		const address = trusted(new URL("./sw.js", import.meta.url).href);
		const registration = await container.register(address, { updateViaCache: "none" });
		container.addEventListener("message", () => say("Lunette is open elsewhere too. The newer version is used once all of them are closed."));
		if (registration.active) {
			show("kept");
		}
		follow(registration, registration.installing ?? registration.waiting ?? registration.active);
		registration.addEventListener("updatefound", () => follow(registration, registration.installing));
	} catch {
		show("none");
	}
}

/**
 * Tells how one version of the service worker gets on.
 * @param {ServiceWorkerRegistration} registration @param {ServiceWorker | null} worker
 */
function follow(registration, worker) {
	const tell = () => {
		switch (worker?.state) {
			case "installed":
				if (registration.active) {
					update.hidden = false;
					// A page that the browser keeps for its Back button holds the newer version up; one with a lock is not kept.
					navigator.locks?.request("lunette", { mode: "shared" }, () => new Promise(() => {}));
				}
				break;
			case "activated":
				if (!navigator.serviceWorker.controller) {
					worker.postMessage(`serve ${byId("version", HTMLElement).textContent}`);
				}
				show("kept");
				break;
			case "redundant":
				if (!registration.active) {
					show("none"); // not all files could be had
				}
				break;
		}
	};
	worker?.addEventListener("statechange", tell);
	take.onclick = () => {
		// Only after this press: a page must not change under a person's hands.
		navigator.serviceWorker.addEventListener("controllerchange", () => open === 0 && location.reload(), { once: true });
		registration.waiting?.postMessage("take over");
	};
	tell();
}

/** @param {"kept" | "none"} kept */
function show(kept) {
	state.textContent = kept === "kept" ? "Kept on this device: it opens without a network too, and the demo board once you have seen it."
		: "Not kept on this device: without a network it works until you close it.";
	document.documentElement.dataset.offline = kept;
}

/** The page tells how many dumps are open, and whether there is a first answer. @param {number} dumps @param {boolean} answer */
export function opened(dumps, answer) {
	open = dumps;
	answered ||= answer;
	take.hidden = open > 0;
	install.hidden = !offered || !answered;
}

addEventListener("beforeinstallprompt", (event) => {
	event.preventDefault(); // no banner: a button, once there has been an answer
	offered = event;
	opened(open, answered);
});
addEventListener("appinstalled", () => {
	offered = undefined;
	opened(open, answered);
});
install.addEventListener("click", () => {
	offered?.prompt();
	offered = undefined; // it may be asked once
	opened(open, answered);
});
