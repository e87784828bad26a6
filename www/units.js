// Numbers as the page writes them; package words does the same in the core.
// @ts-check

/** Hex in capitals, at least so many digits. @param {number} value @param {number} digits */
export const hex = (value, digits) => value.toString(16).toUpperCase().padStart(digits, "0");

/** An offset in bytes. @param {number} offset */
export const address = (offset) => hex(offset, 6);

/** A whole number with commas. @param {number} n */
export const count = (n) => n.toLocaleString("en");

/** A number of bytes in the largest unit that divides it. @param {number} n */
export function size(n) {
	if (n > 0 && n % 0x100000 === 0) {
		return `${count(n / 0x100000)} MiB`;
	}
	if (n > 0 && n % 0x400 === 0) {
		return `${count(n / 0x400)} KiB`;
	}
	return n === 1 ? "1 byte" : `${count(n)} bytes`;
}

/** The number a person typed in hex, with or without 0x, $ or h; NaN when it is none. @param {string} text */
export function typedHex(text) {
	const digits = text.trim().replace(/^(0x|\$)/i, "").replace(/h$/i, "").replace(/[\s_]/g, "");
	return /^[0-9a-f]{1,8}$/i.test(digits) ? parseInt(digits, 16) : NaN;
}

/** A message of the core as a sentence. @param {string} message */
export const sentence = (message) => `${message.charAt(0).toUpperCase()}${message.slice(1)}.`;
