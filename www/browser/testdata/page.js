// A page with one of everything that the helper must be able to work: a file, a worker, keys, a mouse, a download.
const at = id => document.getElementById(id);
const say = text => at("heard").append(Object.assign(document.createElement("li"), {textContent: text}));

const worker = new Worker("worker.js", {type: "module"});
worker.onmessage = ({data}) => {
	if (data === "ready") document.documentElement.dataset.ready = "yes";
	else at("sum").textContent = data;
};
at("file").onchange = event => worker.postMessage([...event.target.files]);

document.addEventListener("dragover", event => event.preventDefault());
document.addEventListener("drop", event => {
	event.preventDefault();
	worker.postMessage([...event.dataTransfer.files]);
});
document.addEventListener("paste", event => say(`paste ${event.clipboardData.getData("text/plain")} and ${event.clipboardData.files.length} files`));
document.addEventListener("keydown", event => {
	if (event.target === document.body) say(`${event.shiftKey ? "shift " : ""}${event.ctrlKey ? "control " : ""}${event.key}`);
});
for (const type of ["mousedown", "mouseup"]) {
	at("pad").addEventListener(type, event => say(`${type} ${event.offsetX},${event.offsetY}${event.shiftKey ? " shift" : ""}`));
}

// A button that is drawn anew, and only then works.
setTimeout(() => {
	const fresh = at("late").cloneNode(true);
	fresh.onclick = () => say("late");
	at("late").replaceWith(fresh);
	fresh.dataset.fresh = "yes";
}, 200);

at("save").href = URL.createObjectURL(new Blob([new Uint8Array([1, 2, 3, 4])]));
