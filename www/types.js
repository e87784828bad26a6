// The shapes of what goes between page, client and worker, for the type check (`make lint`) and the reader.
// The Go side has the same words: core/report for the report, wasm for the calls.
// @ts-check

/**
 * @typedef {object} DumpInfo one open dump
 * @property {string} id      names the dump in every call: "s1/0" is the first dump of the first file opened
 * @property {string} name    as the file says; may hold anything
 * @property {number} size    bytes
 * @property {string} format  "raw binary", "Intel HEX", "Motorola S-record"
 */

/**
 * @typedef {object} Loaded what opening one file gave
 * @property {DumpInfo[]} dumps     what could be read
 * @property {string[]}   problems  what could not, a sentence each
 */

/**
 * @typedef {object} Evidence one thing counted or read
 * @property {string}  text
 * @property {number} [from]      offset in the stored bytes
 * @property {number} [to]        first offset after it
 * @property {string} [expected]
 * @property {string} [found]
 */

/**
 * @typedef {object} Finding one question about a dump and its answer
 * @property {string} id        stable name
 * @property {"good"|"note"|"unclear"|"warning"|"empty"|"fault"} severity
 * @property {string} question
 * @property {string} answer
 * @property {string} sure      "certain", "strong", "weak", "cannot tell"
 * @property {Evidence[]} [evidence]
 * @property {string} [chance]  how likely by chance, where it is known
 * @property {string} [next]    what to do
 */

/** @typedef {"sound"|"suspect"|"faulty"|"blank"|"undecided"} State */

/**
 * @typedef {object} Sum one checksum
 * @property {string} id
 * @property {string} name
 * @property {number} bits
 * @property {string} hex
 * @property {string} group
 * @property {string} [note]
 * @property {string} source
 */

/**
 * @typedef {object} DumpMap a dump block by block; the lists have one entry a block, in address order
 * @property {number}   blockSize  bytes; the last block may be shorter
 * @property {string[]} kinds
 * @property {number[]} entropy    bits per byte
 * @property {number[]} ff         bytes that are FF
 * @property {number[]} zero       bytes that are 00
 * @property {number[]} text       bytes that are printable
 * @property {{from: number, to: number, value: string}[]} blank  the longest runs of one byte
 */

/**
 * @typedef {object} ReadableText one run of printable characters
 * @property {number} offset   in the order in which the CPU sees the dump
 * @property {number} stored   of its first byte in the stored bytes
 * @property {number} length   characters
 * @property {string} text     the first of them
 * @property {number} telling  how many of these it names: a date, a version, an owner
 */

/**
 * @typedef {object} Report
 * @property {number} version
 * @property {{name: string, size: number, format: string, packing?: string[], base?: string, start?: string,
 *   gaps?: {from: number, to: number}[], notes?: string[]}} dump
 * @property {{state: State, headline: string, next: string, proven: boolean}} verdict
 * @property {Finding[]} findings
 * @property {{id: string, name: string, sure: string, also?: string[]}} order  in which arrangement the CPU sees the dump
 * @property {{id: string, name: string, sure: string}} cpu
 * @property {{offset: number, text: string}[]} marks  places worth a look, offsets in the stored bytes
 * @property {DumpMap} map
 * @property {{total: number, listed: ReadableText[]}} texts
 * @property {{x8: object[], x16: object[], silent: number[]}} lines
 * @property {Sum[]} sums
 */

/**
 * @typedef {object} Hits matches of a search, offsets in the arranged image
 * @property {number[]} offsets  the first of them, ascending
 * @property {number} total      all of them
 */

/**
 * @typedef {object} Explanation what a printed value can be
 * @property {string} value     the digits as they were read
 * @property {"near-proof"|"likely"|"hint"|"nothing"} verdict  that of the likeliest match
 * @property {string} answer    one sentence, without its full stop
 * @property {string} odds      how easily an unrelated value is matched
 * @property {string} [caution] why the verdict is no better
 * @property {{id: string, name: string, hex: string, arrangements: string[], order: string, range: string, from: number,
 *   to: number, verdict: string}[]} matches  the likeliest first
 * @property {number} chance    that an unrelated value would be matched by anything tried
 * @property {string[]} tried   what was tried, a line each
 */

/**
 * @typedef {object} Statement what somebody says about a dump in a link; core/link says what the fields mean
 * @property {number} version
 * @property {boolean} short
 * @property {string} title
 * @property {number} size
 * @property {State} state
 * @property {string} headline
 * @property {{id: string, severity: Finding["severity"], question: string, answer: string, sure: string}[]} findings
 * @property {number} leftOut
 * @property {Report["order"]} order
 * @property {Report["cpu"]} cpu
 * @property {string} crc32
 * @property {string} sha256
 * @property {string} sha256cpu
 * @property {number} blockSize
 * @property {string[]} blocks
 * @property {string[]} lanes
 */

/**
 * @typedef {object} Posting a statement ready to be passed on
 * @property {Statement} statement
 * @property {{name: string, text: string}[]} contents  all that is in the link
 * @property {string} fragment
 * @property {string} url
 * @property {{plain: string, forum: string, markdown: string}} texts
 * @property {string[]} picture  what a picture of it says: the dump, then its sums
 */

/**
 * @typedef {object} Answer what one's own dump is to the posted one; core/link says what the fields mean
 * @property {string} relation
 * @property {boolean} same
 * @property {string} sentence
 * @property {string[]} evidence
 * @property {string} next
 * @property {string} [chance]
 * @property {string} order
 * @property {number} blocks
 * @property {number} agree
 * @property {{from: number, to: number}[]} own     where blocks differ, in the stored bytes of one's own dump
 * @property {{from: number, to: number}[]} posted  and in the posted image in the CPU's order
 */

/** @typedef {{name: string, owner: string, date: string, reads: string, notes: string}} Job what a person types onto a report */

/** @typedef {{title: string, lines: string[]}} ReportSection what another section has to tell */

/**
 * @typedef {object} Part what stands under one heading of a report, in this order; the rest is empty
 * @property {string} title
 * @property {{name: string, value: string, typed: boolean}[]} rows  typed and empty: a line to write on
 * @property {string} lead
 * @property {string} next
 * @property {{text: string, items: string[], next: string}[]} findings
 * @property {string[]} items
 * @property {number} blank  lines to write on
 */

/** @typedef {{document: {title: string, parts: Part[]}, text: string, name: string}} Paper the report for a board's owner; name is for its files */

/** @typedef {{lines: string[], why: string}} Label what stands on a chip, and why its window must be covered */

/** @typedef {{package: string, pins: number, pitch: number, rows: number, length: number, width: number, window: number, note: string}} Body a package; lengths in mm */

/** @typedef {{side: number, rows: string[]}} QRCode modules as characters: 1 dark, 0 light */

/**
 * @typedef {object} Relation how some open dumps belong together
 * @property {string}   kind
 * @property {string[]} dumps     ids
 * @property {string}   sentence
 * @property {string}   sure      "certain" or "strong"
 * @property {string[]} evidence
 * @property {string}  [chance]
 * @property {string}  [makes]    name of the dump that can be made of them
 */

/** @typedef {{kind: "D"|"A", number: number, width: number}} Line one line of a device */

/**
 * @typedef {object} OnChip where lines are on a chip
 * @property {Choice[]} devices  that the read can come from, the likeliest first
 * @property {string}   device   the one taken, "" for none
 * @property {number}   width    its data lines as the dump was read: 8 or 16
 * @property {string[]} signals  of its pins, from pin 1 on
 * @property {boolean}  window   whether it has one
 * @property {string}   note     how far its pin list is known
 * @property {{line: string, pin: number}[]} pins  of the lines that a finding names
 */

/** @typedef {{blockSize: number, bytes: number[], high: number[], low: number[]}} DiffMap differences block by block */

/**
 * @typedef {object} Comparison what a read is to its master; core/faults says what the fields of result mean
 * @property {{relation: string, headline: string, reasons: string[], next: string[], cautions: string[],
 *   explanations: {kind: string, sentence: string, lines: Line[], unexplained: number, repairable: boolean, wires: {reader: Line, chip: Line}[]}[],
 *   found: number, causes: number, arrangement: string, order: string, masterSize: number, readSize: number, compared: number, equal: number, differ: number,
 *   high: number, low: number, canStillBurn: boolean, exchange: boolean,
 *   buses: {bus: {width: number, highFirst: boolean}, data: {line: Line, high: number, low: number}[], address: {line: Line, zero: number, one: number}[]}[],
 *   map: DiffMap, runs: {total: number, listed: {from: number, to: number}[]}}} result
 * @property {OnChip}   chip
 * @property {string}   times    erase and burn time of the device, where that comes next
 * @property {string[]} repairs  by explanation: the name of the dump that it can be repaired to
 */

/** @typedef {{blockSize: number, counts: number[]}} Spread */

/**
 * @typedef {object} Rereads what several reads of one chip show
 * @property {{state: string, headline: string, trouble: string, sure: string, reasons: string[], doubt: string, next: string[], cautions: string[],
 *   reads: {name: string, size: number, odd: number, ones: number}[], bytes: number, bits: number, tied: number,
 *   x8: {line: Line, bits: number, toOne: number, toZero: number}[], x16: {line: Line, bits: number, toOne: number, toZero: number}[],
 *   map: Spread, listed: {offset: number, values: string[], chosen: string, why: string}[], agreement: string}} result
 * @property {OnChip} chip
 * @property {string} consensus  name of the dump that they agree on, "" where there is none
 * @property {string} list       name of the list that belongs to it
 */

/**
 * @typedef {object} BlankCheck whether a chip is blank
 * @property {{state: string, headline: string, reasons: string[], next: string[], cautions: string[], bits: number, bytes: number,
 *   runs: {from: number, to: number, bits: number}[], total: number, x8: {line: Line, low: number}[], x16: {line: Line, low: number}[],
 *   map: Spread, burn: string}} result
 * @property {OnChip} chip
 * @property {string} times
 */

/**
 * @typedef {object} Fit one way to hold a dump; core/chips says what the fields mean
 * @property {string} device
 * @property {string} title
 * @property {string} view
 * @property {number} chips
 * @property {number} copies
 * @property {boolean} writable
 * @property {string} sentence
 */

/**
 * @typedef {object} Burning what can hold a dump
 * @property {{answer: string, fits: Fit[], unfit: {device: string, why: string}[], remarks: string[]}} fitting
 * @property {string} likely the device and the view that are most likely wanted: "27C400 x16"; "" for none
 * @property {string} order  in which the CPU sees it
 * @property {string} cpu    "big", "little" or ""
 */

/** @typedef {{device: string, view: string, order: string, cpu: string, buffer: string, spare: string, end: string, fill: number, bits: string, format: string}} BurnPlan */

/** @typedef {{address: number, stored: number, offset: number, value: string, tint: number}} LaneCell */

/**
 * @typedef {object} Prepared files for chips; core/prepare says what the fields mean
 * @property {string} headline
 * @property {string} readback
 * @property {string[]} next
 * @property {string} checked
 * @property {string} device
 * @property {string} view
 * @property {{name: string, lane: string, lines: string, size: number, byteSum: string, crc: string}[]} files
 * @property {string[]} steps
 * @property {string[]} cautions
 * @property {{line: string, pin: number, level: string, why: string}[]} ties
 * @property {{cpu: LaneCell[], chips: {file: string, from: number, cells: LaneCell[]}[]}} picture
 * @property {string} card
 * @property {string} cardName
 */

/**
 * @typedef {object} Device one family of chips; core/chips says what the fields mean
 * @property {string} id
 * @property {string[]} parts
 * @property {string} kind
 * @property {string} package
 * @property {number} pinCount
 * @property {number} capacity  bytes
 * @property {{words: number, bits: number, when: string}[]} modes
 * @property {string} status
 * @property {string} standing
 * @property {string} vpp
 * @property {string} vcc
 * @property {string} pulse
 * @property {string} signature
 * @property {string} erase
 * @property {string[]} notes
 * @property {{number: string, title: string}[]} sources
 * @property {{number: number, signal: string, role: string}[]} pins
 */

/** @typedef {{chipPin: number, chipSignal: string, socketPin: number, socketSignal: string, power: boolean, mark: string}} Meeting */

/**
 * @typedef {object} Seating one way a chip sits in a socket; core/chips says what the fields mean
 * @property {string} id
 * @property {string} name
 * @property {boolean} turned
 * @property {number} firstRow
 * @property {Meeting[]} meetings
 * @property {number} danger
 * @property {string} rank
 * @property {string} headline
 * @property {string[]} sentences
 */

/**
 * @typedef {object} Seats a chip in a socket, every way it goes in
 * @property {string} chip
 * @property {string} socket
 * @property {{number: number, signal: string}[]} chipPins
 * @property {{number: number, signal: string}[]} places  the socket's pins
 * @property {string} answer
 * @property {boolean} askByte  how the board ties BYTE decides, and is not known
 * @property {Seating[]} seatings  the right one first
 * @property {string[]} cautions
 */

/**
 * @typedef {object} Drop two pinouts side by side
 * @property {string} old
 * @property {string} new
 * @property {string} answer
 * @property {{oldPin: number, oldSignal: string, newPin: number, newSignal: string, agreement: string, why: string}[]} rows
 * @property {string[]} remarks
 * @property {{refusal: string, text: string, wires: {newPin: number, newSignal: string, oldPin: number, oldSignal: string, to: string, why: string}[],
 *   open: {number: number, signal: string}[]}} adapter
 */

/** @typedef {{id: string, exact: boolean, how: string}} ChipMatch */

/** @typedef {{burning: string, burn: {sentence: string}[], erase: {sentence: string}, cautions: string[]}} Times */

/** @typedef {{id: string, name: string}} Choice */

export {};
