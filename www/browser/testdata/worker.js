// Tells the SHA-256 of each file, so that the test can tell that bytes went from the disk to the worker and back.
const hex = bytes => Array.from(bytes, byte => byte.toString(16).padStart(2, "0")).join("");

self.onmessage = async ({data: files}) => {
	const lines = [];
	for (const file of files) {
		const sum = await crypto.subtle.digest("SHA-256", await file.arrayBuffer());
		lines.push(`${file.name} ${hex(new Uint8Array(sum))}`);
	}
	self.postMessage(lines.join(" and "));
};
self.postMessage("ready");
