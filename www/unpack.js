// Unpacking the core: LZMA makes it a quarter smaller than gzip does, and no browser knows it by itself.
//
// The format is that of .lzma files (xz --format=lzma), after "LZMA specification (DRAFT version)", I. Pavlov, 2015, placed in the public
// domain: a range coder that learns the odds of every bit, and matches of earlier bytes.
// @ts-check

/**
 * Returns what a packed file holds: LZMA as xz makes it, or gzip where xz was not at hand. What is neither is returned as
 * it is, for the host has unpacked it.
 * @param {Uint8Array<ArrayBuffer>} packed
 * @returns {Promise<Uint8Array<ArrayBuffer>>}
 */
export async function unpack(packed) {
	if (packed[0] === 0x1f && packed[1] === 0x8b) {
		const plain = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
		return new Uint8Array(await new Response(plain).arrayBuffer());
	}
	// A .lzma file begins with its settings, below 225, and a dictionary of whole 64 KiB.
	return packed[0] < 225 && packed[1] === 0 && packed[2] === 0 ? unpackLzma(packed) : packed;
}

const states = 12;
const longest = 273; // bytes of a match
const mostPositions = 16; // states of the position that odds may depend on

// Where the odds of each question begin; section names of the specification in brackets.
const isMatch = 0;
const isRepeat = isMatch + states * mostPositions;
const isOtherThanLast = isRepeat + states; // [IsRepG0]
const isLongRepeat = isOtherThanLast + states; // [IsRep0Long]
const isOtherThanSecond = isLongRepeat + states * mostPositions; // [IsRepG1]
const isFourth = isOtherThanSecond + states; // [IsRepG2]
const distanceSlots = isFourth + states;
const distanceFooters = distanceSlots + 4 * 64; // [PosDecoders]
const distanceAlign = distanceFooters + 128;
const matchLengths = distanceAlign + 16;
const lengthOdds = 2 + mostPositions * 16 + 256; // two choices, short and middle lengths by position, long ones
const repeatLengths = matchLengths + lengthOdds;
const literals = repeatLengths + lengthOdds;

/**
 * Returns what a .lzma file holds that ends with a mark, as those of xz do.
 * @param {Uint8Array} packed
 * @returns {Uint8Array<ArrayBuffer>}
 */
export function unpackLzma(packed) {
	const broken = () => new Error("the core arrived damaged; reload the page");
	const contextBits = packed[0] % 9; // of the byte before a literal
	const lowBits = Math.floor(packed[0] / 9) % 5; // of a literal's position
	const positionMask = (1 << Math.floor(packed[0] / 45)) - 1;
	const odds = new Uint16Array(literals + (0x300 << (contextBits + lowBits))).fill(1024);
	const coder = new Uint32Array([0xFFFFFFFF, packed[14] << 24 | packed[15] << 16 | packed[16] << 8 | packed[17]]); // range, code
	let next = 18;
	let out = new Uint8Array(8 * packed.length);
	let size = 0;

	/** @param {number} question */
	function bit(question) {
		const p = odds[question];
		const bound = (coder[0] >>> 11) * p;
		let answer = 0;
		if (coder[1] < bound) {
			coder[0] = bound;
			odds[question] = p + ((2048 - p) >> 5);
		} else {
			coder[0] -= bound;
			coder[1] -= bound;
			odds[question] = p - (p >> 5);
			answer = 1;
		}
		if (coder[0] < 0x1000000) {
			refill();
		}
		return answer;
	}

	function refill() {
		coder[0] <<= 8;
		coder[1] = coder[1] << 8 | packed[next++];
	}

	/** Bits whose odds are even. @param {number} bits */
	function plain(bits) {
		let value = 0;
		for (; bits > 0; bits--) {
			coder[0] >>>= 1;
			const one = coder[1] >= coder[0] ? 1 : 0;
			coder[1] -= one * coder[0];
			value = value << 1 | one;
			if (coder[0] < 0x1000000) {
				refill();
			}
		}
		return value;
	}

	/** A number whose highest bit is asked first. @param {number} questions @param {number} bits */
	function tree(questions, bits) {
		let m = 1;
		for (let i = 0; i < bits; i++) {
			m = m << 1 | bit(questions + m);
		}
		return m - (1 << bits);
	}

	/** A number whose lowest bit is asked first. @param {number} questions @param {number} bits */
	function reverseTree(questions, bits) {
		let m = 1;
		let value = 0;
		for (let i = 0; i < bits; i++) {
			const one = bit(questions + m);
			m = m << 1 | one;
			value |= one << i;
		}
		return value;
	}

	/** The length of a match, less 2. @param {number} questions @param {number} position */
	function length(questions, position) {
		if (bit(questions) === 0) {
			return tree(questions + 2 + position * 8, 3);
		}
		if (bit(questions + 1) === 0) {
			return 8 + tree(questions + 2 + mostPositions * 8 + position * 8, 3);
		}
		return 16 + tree(questions + 2 + mostPositions * 16, 8);
	}

	/** How far back a match begins, less 1. @param {number} matched  its length less 2 */
	function distance(matched) {
		const slot = tree(distanceSlots + Math.min(matched, 3) * 64, 6);
		if (slot < 4) {
			return slot;
		}
		const footer = (slot >> 1) - 1;
		const base = (2 | slot & 1) << footer;
		if (slot < 14) {
			return base + reverseTree(distanceFooters + base - slot, footer);
		}
		return (base + (plain(footer - 4) << 4) + reverseTree(distanceAlign, 4)) >>> 0;
	}

	let state = 0;
	let [last, second, third, fourth] = [0, 0, 0, 0]; // distances less 1
	for (;;) {
		if (next > packed.length + 8) {
			throw broken(); // it asks for more than there is
		}
		if (size + longest > out.length) {
			const larger = new Uint8Array(2 * out.length);
			larger.set(out);
			out = larger;
		}
		const position = size & positionMask;
		if (bit(isMatch + state * mostPositions + position) === 0) {
			const before = size > 0 ? out[size - 1] : 0;
			const questions = literals + 0x300 * (((size & (1 << lowBits) - 1) << contextBits) + (before >> (8 - contextBits)));
			let m = 1;
			if (state >= 7) { // after a match: the byte that would have followed it tells something
				let matched = out[size - last - 1] << 1;
				let offset = 0x100;
				while (m < 0x100) {
					const hint = matched & offset;
					const one = bit(questions + offset + hint + m);
					m = m << 1 | one;
					offset &= one ? hint : ~hint;
					matched <<= 1;
				}
			}
			while (m < 0x100) {
				m = m << 1 | bit(questions + m);
			}
			out[size++] = m;
			state = state < 4 ? 0 : state < 10 ? state - 3 : state - 6;
			continue;
		}
		let matched = 0; // length less 2
		const repeated = bit(isRepeat + state) === 1;
		if (!repeated) {
			matched = length(matchLengths, position);
			[second, third, fourth] = [last, second, third];
			last = distance(matched);
			state = state < 7 ? 7 : 10;
			if (last === 0xFFFFFFFF) {
				return out.slice(0, size);
			}
		} else if (bit(isOtherThanLast + state) === 0) {
			if (bit(isLongRepeat + state * mostPositions + position) === 0) {
				matched = -1; // a single byte
				state = state < 7 ? 9 : 11;
			}
		} else if (bit(isOtherThanSecond + state) === 0) {
			[last, second] = [second, last];
		} else if (bit(isFourth + state) === 0) {
			[last, second, third] = [third, last, second];
		} else {
			[last, second, third, fourth] = [fourth, last, second, third];
		}
		if (repeated && matched === 0) {
			matched = length(repeatLengths, position);
			state = state < 7 ? 8 : 11;
		}
		if (last >= size) {
			throw broken();
		}
		for (let from = size - last - 1, to = size + matched + 2; size < to; size++) {
			out[size] = out[from++];
		}
	}
}
