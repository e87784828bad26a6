// A QR code as a picture: black on white whatever the scheme, with the light border that cameras need.
// @ts-check
import { svg } from "./dom.js";

/** @import {QRCode} from "./types.js" */

const quiet = 4; // modules of border, by ISO/IEC 18004
const pixels = 4; // a module

/** @param {QRCode} code @param {string} label  what a screen reader says */
export function qrPicture({ side, rows }, label) {
	const all = side + 2 * quiet;
	return svg("svg", { class: "qr", viewBox: `0 0 ${all} ${all}`, width: all * pixels, height: all * pixels, role: "img", "aria-label": label, "shape-rendering": "crispEdges" },
		svg("rect", { width: all, height: all, fill: "#fff" }),
		svg("path", { fill: "#000", d: rows.map((row, y) => darkRuns(row, y)).join("") }));
}

/** One box for every run of dark modules. @param {string} row @param {number} y */
const darkRuns = (row, y) => [...row.matchAll(/1+/g)].map((run) =>
	`M${run.index + quiet} ${y + quiet}h${run[0].length}v1h-${run[0].length}z`).join("");
