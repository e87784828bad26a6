// The picture card for forums that show pictures: window, headline, skyline, sums. Drawn in the browser; as in the link, no
// byte of the dump and no file name is in it.
// @ts-check
import { panes } from "./glass.js";
import { kindsOf, toneOf } from "./map.js";

/** @import {Posting, Report} from "./types.js" */

export const width = 1200;
export const height = 630;
const margin = 64;
const left = 236; // of what stands beside the window
const rows = 4; // of the skyline
const rowHeight = 44;
const sans = "system-ui, sans-serif";
const mono = "ui-monospace, Menlo, Consolas, 'DejaVu Sans Mono', monospace";

/** How large a headline can be, in pixels, and in how many lines: the first in which all of it fits, since half of one may say the opposite. */
const headlines = [{ size: 48, most: 2 }, { size: 36, most: 3 }, { size: 28, most: 4 }, { size: 22, most: 5 }];

/** The page's light colours: a card looks the same wherever it is shown. */
const ink = "#20242a", quiet = "#5c626a", amber = "#9a5b00", moss = "#4d6b57";
/** @type {Record<string, string>} */
const tones = { mixed: "#3c5566", text: moss, sparse: "#7d8b95", dense: amber };
/** @type {Record<string, {fill?: string, stroke?: string, wide?: number}>} */
const glassTones = { glass: { fill: "#f7d58a" }, bars: { stroke: quiet, wide: 2.5 }, frame: { stroke: ink, wide: 4 }, crack: { stroke: amber, wide: 4 }, dots: { stroke: ink, wide: 6 } };

/** @param {HTMLCanvasElement} canvas @param {Posting} posting @param {Report} report */
export function drawCard(canvas, { statement, picture }, report) {
	canvas.width = width;
	canvas.height = height;
	const c = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
	c.fillStyle = "#f6f4ef";
	c.fillRect(0, 0, width, height);
	drawGlass(c, statement.state);
	text(c, "Lunette: what is on this chip?", width - margin, 74, `24px ${sans}`, quiet, "right");
	text(c, statement.state.toUpperCase(), left, 74, `700 26px ${sans}`, statement.state === "sound" ? moss : amber);
	drawHeadline(c, statement.headline);
	if (statement.title) {
		text(c, cut(c, statement.title, `25px ${sans}`), left, 240, `25px ${sans}`, quiet);
	}
	drawSkyline(c, report, 270);
	const [what, ...sums] = picture;
	text(c, what, margin, 502, `28px ${sans}`, ink);
	sums.forEach((sum, i) => text(c, sum, margin, 544 + 36 * i, `23px ${mono}`, ink));
}

/** @param {CanvasRenderingContext2D} c @param {Posting["statement"]["state"]} state */
function drawGlass(c, state) {
	c.save();
	c.translate(margin - 24, 38);
	c.scale(2.9, 2.9);
	c.lineCap = state === "undecided" ? "round" : "butt";
	for (const { kind, d } of panes(state)) {
		const { fill, stroke, wide } = glassTones[kind];
		const path = new Path2D(d);
		if (fill) {
			c.fillStyle = fill;
			c.fill(path);
		}
		if (stroke) {
			c.strokeStyle = stroke;
			c.lineWidth = wide ?? 1;
			c.stroke(path);
		}
	}
	c.restore();
}

/** @param {CanvasRenderingContext2D} c @param {string} headline */
function drawHeadline(c, headline) {
	const tried = headlines.map(({ size, most }) => ({ size, most, font: `700 ${size}px ${sans}`, lines: lines(c, headline, `700 ${size}px ${sans}`) }));
	const { size, font, lines: shown } = tried.find(({ lines, most }) => lines.length <= most) ?? tried[tried.length - 1];
	shown.forEach((line, i) => text(c, line, left, 88 + size * (0.95 + 1.12 * i), font, ink));
}

/** @param {CanvasRenderingContext2D} c @param {Report} report @param {number} top */
function drawSkyline(c, report, top) {
	const kinds = kindsOf(report);
	const perRow = Math.max(Math.min(kinds.length, 16), Math.ceil(kinds.length / rows));
	const wide = (width - 2 * margin) / perRow;
	const hatch = hatched(c);
	kinds.forEach((kind, i) => {
		const tone = toneOf(kind);
		const tall = tones[tone] ? Math.max(3, report.map.entropy[i] / 8 * (rowHeight - 10)) : 9;
		c.fillStyle = tones[tone] ?? hatch;
		c.fillRect(margin + i % perRow * wide, top + (Math.floor(i / perRow) + 1) * rowHeight - tall, wide - 1, tall);
	});
	c.fillStyle = "#dcd7cb";
	for (let row = 0; row * perRow < kinds.length; row++) {
		c.fillRect(margin, top + (row + 1) * rowHeight, width - 2 * margin, 1);
	}
}

/** Blank is hatched, as on the map. @param {CanvasRenderingContext2D} c */
function hatched(c) {
	const tile = document.createElement("canvas");
	tile.width = tile.height = 6;
	const t = /** @type {CanvasRenderingContext2D} */ (tile.getContext("2d"));
	t.strokeStyle = tones.sparse;
	t.lineWidth = 1.5;
	t.stroke(new Path2D("M-1 7L7 -1M-1 1L1 -1M5 7L7 5"));
	return c.createPattern(tile, "repeat") ?? tones.sparse;
}

/** @param {CanvasRenderingContext2D} c @param {string} words @param {number} x @param {number} y @param {string} font @param {string} colour @param {CanvasTextAlign} [align] */
function text(c, words, x, y, font, colour, align = "left") {
	c.font = font;
	c.fillStyle = colour;
	c.textAlign = align;
	c.fillText(words, x, y, width - 2 * margin);
}

/** Text in as many lines as it takes beside the window. @param {CanvasRenderingContext2D} c @param {string} words @param {string} font */
function lines(c, words, font) {
	c.font = font;
	const all = [""];
	for (const word of words.split(" ")) {
		const longer = `${all[all.length - 1]} ${word}`.trim();
		if (c.measureText(longer).width <= width - margin - left) {
			all[all.length - 1] = longer;
		} else {
			all.push(word);
		}
	}
	return all.filter(Boolean);
}

/** Text in one line beside the window; what finds no room ends in an ellipsis. @param {CanvasRenderingContext2D} c @param {string} words @param {string} font */
function cut(c, words, font) {
	c.font = font;
	let shown = words;
	while (shown && c.measureText(shown === words ? words : `${shown}…`).width > width - margin - left) {
		shown = shown.slice(0, -1);
	}
	return shown === words ? words : `${shown}…`;
}
