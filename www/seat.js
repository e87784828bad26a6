// The Seat section: a chip in a socket, the right way first, then what every wrong way does; and whether one chip takes
// another's place.
// @ts-check
import { chipPicture } from "./chip.js";
import { copy, el, save } from "./dom.js";
import { capital, cautions, reasons, refused } from "./parts.js";
import { printOnly } from "./print.js";
import { sentence } from "./units.js";
import { wiringPicture } from "./wiring.js";

/** @import {Lunette} from "./lunette.js" */
/** @import {Device, Drop, Seating, Seats} from "./types.js" */

const straps = [{ id: "", name: "not known" }, { id: "high", name: "+5 V" }, { id: "low", name: "ground" }];

export class SeatView {
	/** @type {Lunette | undefined} */ #client;
	/** @type {Device[]} */ #devices = [];
	#asked = 0;
	#chosen = false; // the socket, by a person

	/**
	 * @param {HTMLElement} root
	 * @param {(seats: Seats) => void} told  hears of every answer, for the report
	 */
	constructor(root, told) {
		this.told = told;
		this.chip = el("select", { id: "seat-chip", onchange: () => this.#ask() });
		this.socket = el("select", { id: "seat-socket", onchange: () => { this.#chosen = true; this.#ask(); } });
		this.strap = el("select", { id: "seat-byte", onchange: () => this.#ask() }, ...straps.map(({ id, name }) => el("option", { value: id }, name)));
		this.strapField = el("div", { class: "field" }, el("label", { for: "seat-byte" }, "The board ties BYTE to"), this.strap);
		this.result = el("div", {});
		this.drop = el("div", { class: "drop-in" });
		root.replaceChildren(
			el("div", { class: "tools" },
				el("div", { class: "field wide" }, el("label", { for: "seat-chip" }, "The chip"), this.chip),
				el("div", { class: "field wide" }, el("label", { for: "seat-socket" }, "The socket has the pinout of a"), this.socket),
				this.strapField),
			this.result, this.drop);
	}

	/** @param {Lunette} client */
	async use(client) {
		this.#client = client;
		this.#devices = await client.chips();
		const choices = () => this.#devices.map(({ id, kind, package: pack }) => el("option", { value: id }, `${id}, ${pack}, ${kind}`));
		this.chip.replaceChildren(...choices());
		this.socket.replaceChildren(...choices());
		this.take("27C400", "27C800");
	}

	/**
	 * Looks at a chip, in a socket of its own pinout unless a person has chosen another.
	 * @param {string} chip
	 * @param {string} [socket]
	 */
	take(chip, socket = this.#chosen ? this.socket.value : chip) {
		this.chip.value = chip;
		this.socket.value = socket;
		return this.#ask();
	}

	async #ask() {
		const client = this.#client;
		if (!client) {
			return;
		}
		const asked = ++this.#asked;
		const [chip, socket] = [this.chip.value, this.socket.value];
		this.strapField.hidden = !this.#devices.find(({ id }) => id === socket)?.pins.some(({ signal }) => signal.startsWith("BYTE"));
		const [seats, drop] = await Promise.all([
			client.seat(chip, socket, { byte: this.strapField.hidden ? "" : this.strap.value }).catch((/** @type {Error} */ error) => error),
			client.dropIn(socket, chip).catch((/** @type {Error} */ error) => error)]);
		if (asked !== this.#asked) {
			return;
		}
		if (seats instanceof Error) {
			this.result.replaceChildren(refused(sentence(seats.message)));
		} else {
			this.result.replaceChildren(...seated(seats, this.#window(chip)));
			this.told(seats);
		}
		this.drop.replaceChildren(...(drop instanceof Error ? [] : dropped(drop)));
	}

	/** @param {string} chip */
	#window(chip) {
		return this.#devices.find(({ id }) => id === chip)?.kind.startsWith("UV") ?? false;
	}
}

/** @param {Seats} seats @param {boolean} window */
function seated(seats, window) {
	const [right, ...wrong] = seats.seatings;
	return [
		el("p", { class: "said-first", role: "status" }, seats.answer),
		...cautions(seats.cautions),
		seats.askByte && refused("How the board ties BYTE decides how dangerous some of these are: look, and say so above."),
		el("div", { class: "seatings" },
			el("figure", { class: "seating right" }, drawing(seats, right, window), el("figcaption", {}, named(right), right.headline, reasons(right.sentences))),
			...wrong.map((seating) => wrongWay(seats, seating, window))),
	].filter((node) => node instanceof Node);
}

/** @param {Seats} seats @param {Seating} seating @param {boolean} window */
function wrongWay(seats, seating, window) {
	const place = el("div", {});
	return el("details", { class: `seating danger-${seating.danger}`, ontoggle: () => {
		if (place.childElementCount === 0) {
			place.append(drawing(seats, seating, window), reasons(seating.sentences), meetings(seating));
		}
	} }, el("summary", {}, el("span", { class: "rank" }, seating.rank), named(seating), seating.headline), place);
}

/** @param {Seating} seating */
const named = ({ name }) => el("strong", {}, `${capital(name)}. `);

/** The chip in the socket; pins that meet a supply or a ground that is not theirs stand out. @param {Seats} seats @param {Seating} seating @param {boolean} window */
function drawing({ chip, socket, chipPins, places }, { name, turned, firstRow, meetings: met }, window) {
	const marks = new Map(met.filter(({ power }) => power).map(({ chipPin, socketSignal, mark }) =>
		[chipPin, { tone: /** @type {"trouble" | "supply"} */ (mark ? "trouble" : "supply"), text: mark ? socketSignal || "outside" : "" }]));
	return chipPicture({ label: `${chip} in a socket of a ${socket}, ${name}`, signals: chipPins.map(({ signal }) => signal), window, marks, turned,
		shift: firstRow - 1, socket: places.length });
}

/** Every pin and what it meets. @param {Seating} seating */
function meetings({ meetings: met }) {
	return el("details", {}, el("summary", {}, "Pin by pin"), el("table", { class: "meetings mono" },
		el("thead", {}, el("tr", {}, ...["chip", "", "socket", "", ""].map((word) => el(word ? "th" : "td", { scope: word && "col" }, word)))),
		el("tbody", {}, ...met.map(({ chipPin, chipSignal, socketPin, socketSignal, power, mark }) => el("tr", { class: power && mark ? "trouble" : "" },
			el("th", { scope: "row" }, String(chipPin)), el("td", {}, chipSignal), el("td", {}, socketPin || "outside"), el("td", {}, socketSignal), el("td", { class: "why" }, mark))))));
}

/** @param {Drop} drop */
function dropped(drop) {
	const differing = drop.rows.filter(({ agreement }) => agreement !== "same");
	return [
		el("h3", {}, "Does it take the other's place?"),
		el("p", {}, drop.answer),
		differing.length > 0 && el("details", {}, el("summary", {}, `The ${differing.length} pins that differ`), el("table", { class: "meetings mono" },
			el("thead", {}, el("tr", {}, ...[drop.old, "", drop.new, "", "while reading"].map((word) => el(word ? "th" : "td", { scope: word && "col" }, word)))),
			el("tbody", {}, ...differing.map(({ oldPin, oldSignal, newPin, newSignal, agreement, why }) => el("tr", { class: agreement === "wrong" ? "trouble" : "" },
				el("td", {}, oldPin || ""), el("td", {}, oldSignal), el("td", {}, newPin || ""), el("td", {}, newSignal), el("td", { class: "why" }, why)))))),
		...(drop.adapter.text ? [el("details", { class: "adapter" }, el("summary", {}, `Wiring of an adapter: a ${drop.new} in the place of a ${drop.old}`),
			el("div", { class: "wiring-sheet" }, wiringPicture(drop), el("pre", { class: "mono" }, drop.adapter.text)),
			el("p", { class: "quiet" }, "Thick lines are wires that do not simply carry their own signal: the list says why."),
			el("div", { class: "joined" },
				el("button", { type: "button", onclick: () => printOnly("wiring") }, "Print"),
				el("button", { type: "button", onclick: () => copy(drop.adapter.text, "The wiring") }, "Copy"),
				el("button", { type: "button", onclick: () => save(drop.adapter.text, `adapter.${drop.new}-for-${drop.old}.txt`) }, "Save as text")))] : []),
		reasons(drop.remarks),
	].filter((node) => node instanceof Node);
}
