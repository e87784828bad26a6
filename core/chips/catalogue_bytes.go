package chips

// byteRows are the families with eight data lines, in packages of 24, 28 and 32 pins. How a row is written: catalogue.go.
var byteRows = [...]row{
	{
		id: "2716", parts: "2716; 27C16", kind: UV, pack: "DIP-24",
		kib: 2, width: byteWide, status: Memory, sources: "S27 S43",
		pins:      "A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE/PGM A10 OE VPP A9 A8 VCC",
		vpp:       "25 V (S27)",
		vcc:       "5 V (memory)",
		pulse:     "50 ms high-going pulse on CE/PGM, one per byte (memory)",
		signature: "none (memory)",
		erase:     "15 W.s/cm2 (memory)",
		notes: "Capacity, signal names, 24-pin window package and the absolute limits VPP 26.5 V, VCC 6 V: " +
			"S27.|A three-supply part sold under the number 2716 by one maker has another pinout (memory).|S43 lists " +
			"a user-selectable active level for output enable; S27 does not. Check the sheet of the exact part.",
	},
	{
		id: "2732", parts: "2732; 2732A; 27C32", kind: UV, pack: "DIP-24",
		kib: 4, width: byteWide, status: Confirmed, sources: "S25 S26",
		compared:  "S25 (data Q1-Q8 renumbered): 24",
		pins:      "A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE/VPP A11 A9 A8 VCC",
		vpp:       "2732A: 21 V on the OE/VPP pin (S25; absolute limit 22 V in S26). 2732 without A: 25 V (memory)",
		vcc:       "5 V (memory)",
		pulse:     "50 ms on CE, one per byte (memory)",
		signature: "none on the oldest parts (memory)",
		erase:     "15 W.s/cm2 (memory)",
		notes: "S25 numbers the data pins Q1-Q8; written here as D0-D7. Pin 19 (A10) is barely legible in its " +
			"scan; S26 names A10 in its drawing.|Giving a 2732A the 25 V of a 2732 exceeds its 22 V limit (S26).",
	},
	{
		id: "2764", parts: "2764; 2764A; 27C64", kind: UVorOTP, pack: "DIP-28",
		kib: 8, width: byteWide, status: Confirmed, sources: "S21 S22 S23 S24",
		compared: "S21: 28",
		pins:     "VPP A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE A11 A9 A8 NC PGM VCC",
		vpp: "27C64: 12.5 V +/- 0.25 (S21). 2764A: 12 V headline, absolute limit 14 V (S22). 2764 without A: " +
			"absolute limit 22 V (S24), so a 21 V part (memory)",
		vcc: "6 V for 2764A and 27C64 fast methods (memory)",
		pulse: "S21: whole chip in under a minute. S23: 100 us pulses, about 1 s for the chip. S24 (2764): one " +
			"pulse per byte, 420 s for 8192 bytes, that is about 51 ms a byte",
		signature: "M27C64A: maker 9Bh, device 08h (S21)",
		erase:     "not confirmed for this part; 15 or 30 W.s/cm2 depending on maker (memory)",
		notes:     "The maker code 9Bh in S21 differs from the 20h the same firm prints on its other parts.",
	},
	{
		id: "27128", parts: "27128; 27128A; 27C128", kind: UVorOTP, pack: "DIP-28",
		kib: 16, width: byteWide, status: Partly, sources: "S19 S20",
		compared: "S19 (left column only): 14",
		pins:     "VPP A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE A11 A9 A8 A13 PGM VCC",
		vpp: "27128A: 12.5 V (verify text, S19; headline says 12 V; absolute limit 14 V). 27128 without A: 21 V " +
			"(memory)",
		vcc:       "6 V (memory)",
		pulse:     "1 ms pulses, up to 25, then a longer one (memory)",
		signature: "27128A: maker 20h, device 89h (memory); method in S19: A9 at 11.5-12.5 V",
		erase:     "15 W.s/cm2 minimum at 2537 angstrom (S19, p. 8)",
		notes: "Pins 1-14 read in S19 Figure 2; pins 15-28 from memory, in agreement with the signal list " +
			"A0-A13, CE, OE, PGM, VPP of S19 and S20.",
	},
	{
		id: "27C256", parts: "27256; 27C256", kind: UVorOTP, pack: "DIP-28",
		kib: 32, width: byteWide, status: Confirmed, sources: "S17 S18 S10",
		compared:  "S18: 28",
		pins:      "VPP A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE A11 A9 A8 A13 A14 VCC",
		vpp:       "12.75 V +/- 0.25 (S17); 13.0 V in the waveform of S18",
		vcc:       "6.25 V (from memory, check the data sheet for S17); 6.5 V in the waveform of S18",
		pulse:     "100 us on CE (S17)",
		signature: "M27C256B: maker 20h, device 8Dh (S17, Table 4)",
		erase: "15 W.s/cm2, 12000 uW/cm2 (from memory, check the data sheet; the dose line was cut off in the " +
			"text read)",
		notes: "No PGM pin: the program pulse is on CE. S10 names it CE/PGM.|Absolute limits, S17 Table 2: any " +
			"input or output -2 to 7 V (DC minimum -0.5 V), VCC -2 to 7 V, A9 13.5 V, VPP 14 V.",
	},
	{
		id: "27C512", parts: "27512; 27C512", kind: UVorOTP, pack: "DIP-28",
		kib: 64, width: byteWide, status: Confirmed, sources: "S15 S16 S10",
		compared:  "S10: 28; S16 Table 2.1 (pin ranges): 28",
		pins:      "A15 A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE/VPP A11 A9 A8 A13 A14 VCC",
		vpp:       "12.75 V on the OE/VPP pin (S15)",
		vcc:       "6.25 V +/- 0.25 (S15)",
		pulse:     "100 us on CE, repeated until verified, 25 at most (S15)",
		signature: "M27C512: maker 20h, device 3Dh (S15)",
		erase:     "15 W.s/cm2 (memory)",
		notes:     "Verify after programming: at VCC 6 V, then 4.2 V (S15 flowchart).",
	},
	{
		id: "28C64", parts: "28C64; 28C64B", kind: EEPROM, pack: "DIP-28",
		kib: 8, width: byteWide, status: Confirmed, sources: "S28 S29",
		compared: "S28: 28",
		pins:     "RDY/BUSY A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE A11 A9 A8 NC WE VCC",
		vpp:      "none, 5 V only (S28)",
		vcc:      "5 V +/- 10% (S28)",
		pulse: "28C64: WE or CE low pulse, self-timed, 1 ms or 200 us a byte by version (S28). 28C64B: pages of " +
			"64 bytes, 10 ms at most, 2 ms option (S29)",
		signature: "none by A9 in the text read; extra device-identification bytes exist (S28)",
		erase:     "electrical, cleared before each write (S28)",
		notes: "Pin 1: RDY/BUSY, open drain, on 28C64; not connected on the X version (S28) and on 28C64B " +
			"(memory).|Software write lock: three-byte command; shipped unlocked (S29).",
	},
	{
		id: "28C256", parts: "28C256", kind: EEPROM, pack: "DIP-28",
		kib: 32, width: byteWide, status: Confirmed, sources: "S30",
		compared:  "S30: 28",
		pins:      "A14 A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE A11 A9 A8 A13 WE VCC",
		vpp:       "none, 5 V only (S30)",
		vcc:       "5 V +/- 10% (S30)",
		pulse:     "pages of 1 to 64 bytes, 3 ms or 10 ms at most (S30)",
		signature: "none by A9 in the text read; 64 extra bytes for identification (S30)",
		erase:     "electrical (S30)",
		notes: "A14 is on pin 1 and WE on pin 27; on a 27C256 pin 1 is VPP and pin 27 is A14. The two are not " +
			"interchangeable in a fixed socket.",
	},
	{
		id: "mask-23256", parts: "23256-style; 23C256", kind: MaskROM, pack: "DIP-28",
		kib: 32, width: byteWide, status: Memory, sources: "S41",
		pins:      "NC A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE A11 A9 A8 A13 A14 VCC",
		signature: "none",
		erase:     "cannot be erased",
		notes: "S41 gives the signal list only: A0-A14, D0-D7, one select input and one output-enable input, " +
			"each ordered at manufacture as active high, active low or (output enable) not connected. Pin numbers " +
			"from memory.|Because the enables are mask options, a dump of all FF or all the same value may only mean " +
			"a wrong enable level.",
	},
	{
		id: "mask-23512", parts: "23512-style; 23C512", kind: MaskROM, pack: "DIP-28",
		kib: 64, width: byteWide, status: Memory, sources: "",
		pins:      "A15 A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE A11 A9 A8 A13 A14 VCC",
		signature: "none",
		erase:     "cannot be erased",
		notes:     "Same places as 27C512 with pin 22 as OE only (memory).",
	},
	{
		id: "mask-1M-28", parts: "1 Mbit mask ROM in 28 pins", kind: MaskROM, pack: "DIP-28",
		kib: 128, width: byteWide, status: Memory, sources: "",
		pins:      "A15 A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 A16 A11 A9 A8 A13 A14 VCC",
		signature: "none",
		erase:     "cannot be erased",
		notes: "A16 takes the place of OE on pin 22 (from memory, check the data sheet; not seen in any sheet " +
			"read).",
	},
	{
		id: "27C010", parts: "27C010; 27C1001", kind: UVorOTP, pack: "DIP-32",
		kib: 128, width: byteWide, status: Confirmed, sources: "S14 S10",
		compared: "S10: 32",
		pins: "VPP A16 A15 A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE A11 A9 A8 A13 A14 " +
			"NC PGM VCC",
		vpp:       "12.75 V +/- 0.25 (S14)",
		vcc:       "6.25 V +/- 0.25 (S14, Tables 9, 10)",
		pulse:     "95-105 us on PGM with CE low (S14, Table 10)",
		signature: "M27C1001: maker 20h, device 05h (S14)",
		erase:     "15 W.s/cm2 at 2537 angstrom; lamp 12000 uW/cm2; 15-20 min stated; lamp within 2.5 cm (S14)",
		notes: "Pins by the neighbour column of S10.|A second 1 Mbit, 32-pin EPROM pinout exists (27C100 / " +
			"27C301 style): OE on pin 2 and A16 on pin 24, to match 28-pin 1 Mbit mask ROMs (memory).",
	},
	{
		id: "27C020", parts: "27C020; 27C2001", kind: UVorOTP, pack: "DIP-32",
		kib: 256, width: byteWide, status: Confirmed, sources: "S12 S13 S10",
		compared: "S10: 32; S13: 32",
		pins: "VPP A16 A15 A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE A11 A9 A8 A13 A14 " +
			"A17 PGM VCC",
		vpp:       "12.75 V +/- 0.25 (S12); 13 V (S13)",
		vcc:       "6.25 V (memory)",
		pulse:     "100 us (S12)",
		signature: "M27C2001: maker 20h, device 61h (S12)",
		erase:     "15 W.s/cm2 (memory)",
	},
	{
		id: "27C040", parts: "27C040; 27C4001", kind: UVorOTP, pack: "DIP-32",
		kib: 512, width: byteWide, status: Confirmed, sources: "S10 S11",
		compared: "S10: 32",
		pins: "VPP A16 A15 A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE A11 A9 A8 A13 A14 " +
			"A17 A18 VCC",
		vpp:       "12.75 V (memory)",
		vcc:       "6.25 V (memory)",
		pulse:     "100 us on CE (memory)",
		signature: "maker 20h, device 41h for M27C4001 (memory)",
		erase:     "15 W.s/cm2 (memory)",
		notes:     "VPP is ignored while reading (S11).|Program pulse is on CE; S10 and S11 name that pin CE/PGM.",
	},
	{
		id: "27C080", parts: "27C080; 27C801", kind: UVorOTP, pack: "DIP-32",
		kib: 1024, width: byteWide, status: Confirmed, sources: "S09 S10",
		compared: "S09: 32; S10: 32",
		pins: "A19 A16 A15 A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE/VPP A11 A9 A8 A13 " +
			"A14 A17 A18 VCC",
		vpp:       "12.75 V +/- 0.25 on the OE/VPP pin (S09)",
		vcc:       "6.25 V (S09)",
		pulse:     "50 us on CE, repeated until verified, 25 at most (S09)",
		signature: "M27C801: maker 20h, device 42h (S09)",
		erase:     "dose line cut off in the text read; check the data sheet",
	},
	{
		id: "29F010", parts: "29F010", kind: Flash, pack: "DIP-32",
		kib: 128, width: byteWide, status: Memory, sources: "S33 S34 S35 S31",
		pins: "NC A16 A15 A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE A11 A9 A8 A13 A14 " +
			"NC WE VCC",
		vpp:       "none, 5 V only (S33, S34)",
		vcc:       "5 V +/- 10% (S33, S34)",
		pulse:     "timed by the chip (S33)",
		signature: "Am29F010: maker 01h, device 20h (memory)",
		erase: "electrical; Am29F010: eight 16-Kbyte sectors (eight in S33; size from memory, check the data " +
			"sheet); A29010: four 32-Kbyte sectors (S34)",
		notes: "PDIP drawing not read. Layout supported by S35 (same 32-pin places on an EEPROM) and by S31 " +
			"with A18 and A17 as NC.",
	},
	{
		id: "29F040", parts: "29F040", kind: Flash, pack: "DIP-32",
		kib: 512, width: byteWide, status: Partly, sources: "S31 S32",
		compared: "S31 (23-32 on the right): 26",
		pins: "A18 A16 A15 A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE A11 A9 A8 A13 A14 " +
			"A17 WE VCC",
		vpp:       "none, 5 V only (S32)",
		vcc:       "5 V +/- 10% (S32)",
		pulse:     "10 us a byte typical, timed by the chip (S32)",
		signature: "M29F040: maker 20h, device E2h (S32). Am29F040B: 01h, A4h (memory)",
		erase:     "electrical; eight 64-Kbyte blocks, 1 s typical a block (S32)",
		notes: "Pins 1-16 and 32-23 read in S31 Figure 2; pins 17-22 (D3-D7, CE) are the 32-pin standard " +
			"ones.|A18 is on pin 1 and WE on pin 31; on a 27C040 pin 1 is VPP and pin 31 is A18. Not interchangeable " +
			"in a fixed socket.",
	},
	{
		id: "39SF010A", parts: "39SF010A", kind: Flash, pack: "DIP-32",
		kib: 128, width: byteWide, status: Memory, sources: "S36",
		pins: "NC A16 A15 A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE A11 A9 A8 A13 A14 " +
			"NC WE VCC",
		vpp:       "none, made inside (S36)",
		vcc:       "4.5-5.5 V (S36)",
		pulse:     "14 us a byte typical, 20 us at most; commands to 5555h/2AAAh, A0h then the byte (S36)",
		signature: "maker BFh, device B5h by the 90h command (S36, Table 4)",
		erase:     "electrical; 4-Kbyte sectors 18 ms, whole chip 70 ms typical (S36)",
		notes: "The PDIP drawing was not in the text read; S36 says only that the pinout is the JEDEC one. Same " +
			"places as 29F010/29F040.",
	},
	{
		id: "39SF020A", parts: "39SF020A", kind: Flash, pack: "DIP-32",
		kib: 256, width: byteWide, status: Memory, sources: "S36",
		pins: "NC A16 A15 A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE A11 A9 A8 A13 A14 " +
			"A17 WE VCC",
		vpp:       "none, made inside (S36)",
		vcc:       "4.5-5.5 V (S36)",
		pulse:     "14 us a byte typical, 20 us at most; commands to 5555h/2AAAh, A0h then the byte (S36)",
		signature: "maker BFh, device B6h by the 90h command (S36, Table 4)",
		erase:     "electrical; 4-Kbyte sectors 18 ms, whole chip 70 ms typical (S36)",
		notes: "The PDIP drawing was not in the text read; S36 says only that the pinout is the JEDEC one. Same " +
			"places as 29F010/29F040.",
	},
	{
		id: "39SF040", parts: "39SF040", kind: Flash, pack: "DIP-32",
		kib: 512, width: byteWide, status: Memory, sources: "S36",
		pins: "A18 A16 A15 A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE A11 A9 A8 A13 A14 " +
			"A17 WE VCC",
		vpp:       "none, made inside (S36)",
		vcc:       "4.5-5.5 V (S36)",
		pulse:     "14 us a byte typical, 20 us at most; commands to 5555h/2AAAh, A0h then the byte (S36)",
		signature: "maker BFh, device B7h by the 90h command (S36, Table 4)",
		erase:     "electrical; 4-Kbyte sectors 18 ms, whole chip 70 ms typical (S36)",
		notes: "The PDIP drawing was not in the text read; S36 says only that the pinout is the JEDEC one. Same " +
			"places as 29F010/29F040.",
	},
	{
		id: "mask-1M-32", parts: "1 Mbit mask ROM in 32 pins (23C1001 style)", kind: MaskROM, pack: "DIP-32",
		kib: 128, width: byteWide, status: Memory, sources: "",
		pins: "NC A16 A15 A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE A11 A9 A8 A13 A14 " +
			"NC NC VCC",
		signature: "none",
		erase:     "cannot be erased",
		notes:     "27C010 places with VPP and PGM as NC (memory).",
	},
	{
		id: "mask-2M-32", parts: "2 Mbit mask ROM in 32 pins (23C2001 style)", kind: MaskROM, pack: "DIP-32",
		kib: 256, width: byteWide, status: Memory, sources: "",
		pins: "NC A16 A15 A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE A11 A9 A8 A13 A14 " +
			"A17 NC VCC",
		signature: "none",
		erase:     "cannot be erased",
		notes:     "27C020 places with VPP and PGM as NC (memory).",
	},
	{
		id: "mask-4M-32", parts: "4 Mbit mask ROM in 32 pins (23C4001 style)", kind: MaskROM, pack: "DIP-32",
		kib: 512, width: byteWide, status: Memory, sources: "",
		pins: "NC A16 A15 A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE A11 A9 A8 A13 A14 " +
			"A17 A18 VCC",
		signature: "none",
		erase:     "cannot be erased",
		notes:     "27C040 places with VPP as NC (memory).",
	},
	{
		id: "mask-8M-32", parts: "8 Mbit mask ROM in 32 pins (23C8001 style)", kind: MaskROM, pack: "DIP-32",
		kib: 1024, width: byteWide, status: Memory, sources: "",
		pins: "A19 A16 A15 A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE A10 OE A11 A9 A8 A13 A14 " +
			"A17 A18 VCC",
		signature: "none",
		erase:     "cannot be erased",
		notes:     "27C080 places with pin 24 as OE only (memory).",
	},
}
