// Chips drawn to scale: body, notch, window, pins with their signals, in a socket or without one.
// @ts-check
import { svg } from "./dom.js";

const pitch = 14; // px from pin to pin, 2.54 mm
const apart = 6 * pitch; // between the two rows of pins, 15.24 mm: DIP of 0.6 inch
const body = apart - pitch * 0.7;
const pad = { width: 9, height: 7 };
const margin = 78; // beside the pins, for what stands outside

/**
 * @typedef {object} PinMark what is to be seen at a pin
 * @property {"trouble"|"supply"|"calm"} tone
 * @property {string} [text]  stands outside, beside the pin's number
 */

/**
 * @typedef {object} ChipPicture
 * @property {string} label             what a screen reader says
 * @property {string[]} signals         of the chip's pins, from pin 1 on
 * @property {boolean} [window]         whether it has a quartz window
 * @property {Map<number, PinMark>} [marks]  by pin number
 * @property {boolean} [turned]         seated turned round
 * @property {number} [shift]           socket rows between the ends of socket and chip at the notch; may be negative
 * @property {number} [socket]          pins of the socket, 0 for none
 */

/** @param {ChipPicture} picture */
export function chipPicture({ label, signals, window = false, marks = new Map(), turned = false, shift = 0, socket = 0 }) {
	const rows = signals.length / 2;
	const first = Math.min(0, shift);
	const last = Math.max(socket / 2, rows + shift);
	const width = apart + 2 * margin;
	const height = (last - first) * pitch + 14;
	const y = (/** @type {number} */ row) => 7 + (row - first + 0.5) * pitch;
	const left = margin;
	const right = margin + apart;

	/** Where a pin stands. @param {number} pin */
	const place = (pin) => {
		const inLeftRow = pin <= rows;
		const row = inLeftRow ? pin - 1 : signals.length - pin;
		return { onLeft: inLeftRow !== turned, y: y(shift + (turned ? rows - 1 - row : row)) };
	};
	const pins = signals.map((signal, i) => {
		const at = place(i + 1);
		const mark = marks.get(i + 1);
		const x = at.onLeft ? left : right;
		const outside = at.onLeft ? { x: left - 10, "text-anchor": "end" } : { x: right + 10, "text-anchor": "start" };
		const inside = at.onLeft ? { x: (width - body) / 2 + 4, "text-anchor": "start" } : { x: (width + body) / 2 - 4, "text-anchor": "end" };
		const size = mark?.tone === "trouble" ? 1.3 : 1;
		return svg("g", { class: `pin ${mark?.tone ?? ""}` },
			svg("rect", { class: "pad", x: x - pad.width * size / 2, y: at.y - pad.height * size / 2, width: pad.width * size, height: pad.height * size }),
			svg("text", { class: "signal", ...inside, y: at.y + 3 }, signal.split("/")[0]),
			mark && svg("text", { class: "told", ...outside, y: at.y + 3.5 }, [i + 1, mark.text].filter(Boolean).join(" ")));
	});
	const top = y(shift) - pitch / 2;
	const bottom = y(shift + rows - 1) + pitch / 2;
	const notch = turned ? `M${width / 2 - 7} ${bottom}a7 7 0 0 1 14 0z` : `M${width / 2 - 7} ${top}a7 7 0 0 0 14 0z`;
	const one = place(1);
	return svg("svg", { class: "chip", viewBox: `0 0 ${width} ${height}`, width, height, role: "img", "aria-label": label },
		socket > 0 && socketPicture(socket, y, width),
		svg("rect", { class: "body", x: (width - body) / 2, y: top, width: body, height: bottom - top, rx: 2 }),
		svg("path", { class: "notch", d: notch }),
		svg("circle", { class: "one", cx: one.onLeft ? (width - body) / 2 + 2.5 : (width + body) / 2 - 2.5, cy: turned ? bottom - 2.5 : top + 2.5, r: 1.8 }),
		...pins,
		window && svg("g", { class: "quartz" },
			svg("circle", { class: "glass", cx: width / 2, cy: (top + bottom) / 2, r: 12 }),
			svg("path", { class: "bars", d: `M${width / 2} ${(top + bottom) / 2 - 12}v24M${width / 2 - 12} ${(top + bottom) / 2}h24` })));
}

/** The socket under the chip, its own notch at the top. @param {number} pins @param {(row: number) => number} y @param {number} width */
function socketPicture(pins, y, width) {
	const rows = pins / 2;
	const top = y(0) - pitch / 2 - 3;
	const tall = rows * pitch + 6;
	const pads = Array.from({ length: rows }, (_, row) => [margin, margin + apart].map((x) =>
		svg("rect", { class: "hole", x: x - 5.5, y: y(row) - 4.5, width: 11, height: 9 }))).flat();
	return svg("g", { class: "socket" },
		svg("path", { d: `M${margin - 12} ${top}H${width / 2 - 8}a8 8 0 0 0 16 0H${margin + apart + 12}v${tall}H${margin - 12}z` }), ...pads);
}
