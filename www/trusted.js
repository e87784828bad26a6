// Addresses of scripts that the page's Trusted Types let through: https://www.w3.org/TR/trusted-types/
// @ts-check

/** @type {{createScriptURL(url: string): any} | undefined} */
let policy;

/**
 * Returns the address of one of the page's own scripts as a worker or a service worker must be given it.
 * @param {string} url
 * @returns {any} what the policy makes of it, or the address itself where there are no Trusted Types
 */
export function trusted(url) {
	const types = /** @type {any} */ (globalThis).trustedTypes;
	if (!types) {
		return url;
	}
	policy ??= types.createPolicy("lunette", { createScriptURL: (/** @type {string} */ own) => own });
	return policy?.createScriptURL(url);
}
