// The wiring of an adapter as a picture: the chip's pins on the left, the socket's on the right, a line for every wire.
// @ts-check
import { svg } from "./dom.js";

/** @import {Drop} from "./types.js" */

const step = 15; // px from pin to pin
const left = 96;
const right = 264;

/** @param {Drop} drop */
export function wiringPicture({ old, new: chip, adapter: { wires, open } }) {
	const places = [...new Map([...wires.filter(({ oldPin }) => oldPin > 0).map(({ oldPin, oldSignal }) => ({ number: oldPin, signal: oldSignal })), ...open]
		.map((place) => [place.number, place])).values()].sort((a, b) => a.number - b.number);
	const y = (/** @type {number} */ row) => 34 + row * step;
	const rowOf = new Map(places.map(({ number }, row) => [number, row]));
	const height = y(Math.max(wires.length, places.length));
	return svg("svg", { class: "wiring", viewBox: `0 0 360 ${height}`, width: 360, height, role: "img", "aria-label": `Wiring of an adapter: a ${chip} in the place of a ${old}; the list says the same` },
		svg("text", { class: "head", x: left, y: 14, "text-anchor": "end" }, chip), svg("text", { class: "head", x: right, y: 14 }, `socket: ${old}`),
		...wires.map(({ newPin, newSignal, oldPin, why }, row) => {
			const to = rowOf.get(oldPin);
			return svg("g", { class: why ? "special" : "" },
				to !== undefined && svg("path", { d: `M${left + 6} ${y(row) - 4}L${right - 6} ${y(to) - 4}` }),
				svg("text", { x: left, y: y(row), "text-anchor": "end" }, `${newSignal} ${newPin}`));
		}),
		...places.map(({ number, signal }, row) => svg("text", { x: right, y: y(row) }, `${number} ${signal}`)));
}
