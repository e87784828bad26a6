package chips

// wordRows are the families with sixteen data lines, in packages of 40, 42 and 44 pins. How a row is written: catalogue.go.
var wordRows = [...]row{
	{
		id: "27C1024", parts: "27C1024; 27C210", kind: UVorOTP, pack: "DIP-40",
		kib: 128, width: wordWide, status: Memory, sources: "S06 S07 S05",
		pins: "VPP CE D15 D14 D13 D12 D11 D10 D9 D8 GND D7 D6 D5 D4 D3 D2 D1 D0 OE A0 A1 A2 A3 A4 A5 A6 A7 A8 " +
			"GND A9 A10 A11 A12 A13 A14 A15 NC PGM VCC",
		vpp:       "12.75 V +/- 0.25 (S06)",
		vcc:       "6.25 V (S06)",
		pulse:     "100 us, CE and PGM low (S06); 100 us a word typical (S07)",
		signature: "M27C1024: maker 20h, device 8Ch (memory)",
		erase:     "15 W.s/cm2; 2537 angstrom at 12000 uW/cm2 for 15-20 min, about one inch, filters removed (S06)",
		notes: "The drawing of this part was not read. Places are those of S05 (27C4002) with A17 as PGM and " +
			"A16 as NC (memory).",
	},
	{
		id: "27C2048", parts: "27C2048; 27C202; 27C220", kind: UVorOTP, pack: "DIP-40",
		kib: 256, width: wordWide, status: Memory, sources: "S05 S08",
		pins: "VPP CE D15 D14 D13 D12 D11 D10 D9 D8 GND D7 D6 D5 D4 D3 D2 D1 D0 OE A0 A1 A2 A3 A4 A5 A6 A7 A8 " +
			"GND A9 A10 A11 A12 A13 A14 A15 A16 PGM VCC",
		vpp:       "12.75 V (memory)",
		vcc:       "6.25 V (memory)",
		pulse:     "100 us on PGM (memory)",
		signature: "M27C202: maker 20h, device 1Ch (memory)",
		erase:     "15 W.s/cm2 (memory)",
		notes: "No sheet of this part was read. Places are those of S05 with A17 as PGM (memory). S08 says only " +
			"that its part is a direct upgrade from the 1 and 2 Mbit ones.",
	},
	{
		id: "27C4096", parts: "27C4096; 27C4002; 27C240", kind: UVorOTP, pack: "DIP-40",
		kib: 512, width: wordWide, status: Confirmed, sources: "S05 S08",
		compared: "S05: 40",
		pins: "VPP CE D15 D14 D13 D12 D11 D10 D9 D8 GND D7 D6 D5 D4 D3 D2 D1 D0 OE A0 A1 A2 A3 A4 A5 A6 A7 A8 " +
			"GND A9 A10 A11 A12 A13 A14 A15 A16 A17 VCC",
		vpp:       "12.75 V +/- 0.25 (S05)",
		vcc:       "6.25 V (S05)",
		pulse:     "100 us on CE, repeated until verified, 25 at most (S05); 50 us a word typical (S08)",
		signature: "M27C4002: maker 20h, device 44h (S05)",
		erase:     "15 W.s/cm2 minimum at 2537 angstrom (S05)",
		notes:     "Not interchangeable with 27C400, although both are 4 Mbit in 40 pins.",
	},
	{
		id: "27C400", parts: "27C400", kind: UVorOTP, pack: "DIP-40",
		kib: 512, width: bytesOrWords, status: Confirmed, sources: "S01 S40",
		compared: "S01: 40",
		pins: "A17 A7 A6 A5 A4 A3 A2 A1 A0 CE GND OE D0 D8 D1 D9 D2 D10 D3 D11 VCC D4 D12 D5 D13 D6 D14 D7 " +
			"D15/A-1 GND BYTE/VPP A16 A15 A14 A13 A12 A11 A10 A9 A8",
		vpp:       "12.5 V +/- 0.25 on the BYTE/VPP pin (S01)",
		vcc:       "6.25 V (memory)",
		pulse:     "100 us a word (S01)",
		signature: "M27C400: maker 20h, device B8h (S01)",
		erase:     "dose not in the text read; check the data sheet",
		notes: "With BYTE low, D8-D14 are off and the D15 pin becomes address A-1 (S01 Table 1 for the shared " +
			"pin; A-1 as lowest address with BYTE low also in S40).|A-1 low selects D0-D7 of the word, A-1 high " +
			"D8-D15 (memory).",
	},
	{
		id: "mask-4M-40", parts: "4 Mbit mask ROM x8/x16 in 40 pins (23C4100 style)", kind: MaskROM, pack: "DIP-40",
		kib: 512, width: bytesOrWords, status: Sibling, sources: "S01 S42",
		pins: "A17 A7 A6 A5 A4 A3 A2 A1 A0 CE GND OE D0 D8 D1 D9 D2 D10 D3 D11 VCC D4 D12 D5 D13 D6 D14 D7 " +
			"D15/A-1 GND BYTE A16 A15 A14 A13 A12 A11 A10 A9 A8",
		signature: "none",
		erase:     "cannot be erased",
		notes: "No mask-ROM sheet was readable. S01 calls its part a 4 Mbit mask ROM replacement with a " +
			"compatible pinout; S42 offers a factory-programmed part of the same organisation, with a BYTE pin, as a " +
			"mask ROM alternative.|Boards made only for 16-bit mask ROMs may leave socket pin 31 tied to VCC or not " +
			"connected; look before reading.",
	},
	{
		id: "27C800", parts: "27C800", kind: UVorOTP, pack: "DIP-42",
		kib: 1024, width: bytesOrWords, status: Sibling, sources: "S04",
		compared: "S04 (3 V sibling): 42",
		pins: "A18 A17 A7 A6 A5 A4 A3 A2 A1 A0 CE GND OE D0 D8 D1 D9 D2 D10 D3 D11 VCC D4 D12 D5 D13 D6 D14 D7 " +
			"D15/A-1 GND BYTE/VPP A16 A15 A14 A13 A12 A11 A10 A9 A8 NC",
		vpp:       "12.5 V +/- 0.25 on the BYTE/VPP pin (S04, 3 V version)",
		vcc:       "6.25 V (memory)",
		pulse:     "100 us a byte typical (S04); 50 us in later sheets (memory)",
		signature: "maker 20h, device B2h (S04, 3 V version; printed 0020h/00B2h)",
		erase:     "dose not in the text read; check the data sheet",
		notes: "Pins read on the 3 V version (S04), which its maker calls compatible with an 8 Mbit mask ROM; " +
			"the 5 V sheet was not found.",
	},
	{
		id: "27C160", parts: "27C160", kind: UVorOTP, pack: "DIP-42",
		kib: 2048, width: bytesOrWords, status: Confirmed, sources: "S03",
		compared: "S03: 42",
		pins: "A18 A17 A7 A6 A5 A4 A3 A2 A1 A0 CE GND OE D0 D8 D1 D9 D2 D10 D3 D11 VCC D4 D12 D5 D13 D6 D14 D7 " +
			"D15/A-1 GND BYTE/VPP A16 A15 A14 A13 A12 A11 A10 A9 A8 A19",
		vpp:       "12.5 V +/- 0.25 on the BYTE/VPP pin (S03)",
		vcc:       "6.25 V (memory)",
		pulse:     "100 us (Feb 1999, July 2001) or 50 us (Jan 2002) (S03)",
		signature: "maker 20h, device B1h (S03; printed 0020h/00B1h in 1999)",
		erase:     "dose line cut off in the text read; 30 W.s/cm2 (memory)",
	},
	{
		id: "27C322", parts: "27C322", kind: UVorOTP, pack: "DIP-42",
		kib: 4096, width: wordWide, status: Confirmed, sources: "S02",
		compared: "S02: 42",
		pins: "A18 A17 A7 A6 A5 A4 A3 A2 A1 A0 CE GND OE/VPP D0 D8 D1 D9 D2 D10 D3 D11 VCC D4 D12 D5 D13 D6 D14 " +
			"D7 D15 GND A20 A16 A15 A14 A13 A12 A11 A10 A9 A8 A19",
		vpp:       "12 V +/- 0.25 on the OE/VPP pin (S02)",
		vcc:       "6.25 V (S02 flowchart)",
		pulse:     "50 us on CE, repeated until verified, 25 at most (S02)",
		signature: "maker 0020h, device 0034h (S02)",
		erase:     "dose line cut off in the text read; 30 W.s/cm2 (memory)",
		notes: "No byte mode: pin 32 is A20 where 27C800/27C160 have BYTE/VPP.|VPP is 12.0 V here and 12.5 V on " +
			"27C400/800/160.",
	},
	{
		id: "mask-8M-42", parts: "8 Mbit mask ROM x8/x16 in 42 pins (23C8100 style)", kind: MaskROM, pack: "DIP-42",
		kib: 1024, width: bytesOrWords, status: Sibling, sources: "S04",
		pins: "A18 A17 A7 A6 A5 A4 A3 A2 A1 A0 CE GND OE D0 D8 D1 D9 D2 D10 D3 D11 VCC D4 D12 D5 D13 D6 D14 D7 " +
			"D15/A-1 GND BYTE A16 A15 A14 A13 A12 A11 A10 A9 A8 NC",
		signature: "none",
		erase:     "cannot be erased",
		notes:     "No mask-ROM sheet was readable; S04 calls its pinout compatible with an 8 Mbit mask ROM.",
	},
	{
		id: "mask-16M-42", parts: "16 Mbit mask ROM x8/x16 in 42 pins (23C1610 style)", kind: MaskROM, pack: "DIP-42",
		kib: 2048, width: bytesOrWords, status: Sibling, sources: "S03",
		pins: "A18 A17 A7 A6 A5 A4 A3 A2 A1 A0 CE GND OE D0 D8 D1 D9 D2 D10 D3 D11 VCC D4 D12 D5 D13 D6 D14 D7 " +
			"D15/A-1 GND BYTE A16 A15 A14 A13 A12 A11 A10 A9 A8 A19",
		signature: "none",
		erase:     "cannot be erased",
		notes:     "No mask-ROM sheet was readable; S03 calls its pinout compatible with a 16 Mbit mask ROM.",
	},
	{
		id: "29F400", parts: "29F400", kind: Flash, pack: "SOP-44",
		kib: 512, width: bytesOrWords, status: Memory, sources: "S40",
		pins: "RY/BY NC A17 A7 A6 A5 A4 A3 A2 A1 A0 CE GND OE D0 D8 D1 D9 D2 D10 D3 D11 VCC D4 D12 D5 D13 D6 " +
			"D14 D7 D15/A-1 GND BYTE A16 A15 A14 A13 A12 A11 A10 A9 A8 WE RESET",
		vpp:       "none, 5 V only (S40)",
		vcc:       "4.5-5.5 V (S40)",
		pulse:     "9 us a byte, 11 us a word typical, timed by the chip (S40)",
		signature: "Am29F400: maker 01h, device 2223h top boot, 22ABh bottom boot (memory)",
		erase:     "electrical; sectors 16 + 2x8 + 32 + 7x64 Kbyte (S40)",
		notes:     "As 29F800 with A18 as NC (memory).",
	},
	{
		id: "29F800", parts: "29F800", kind: Flash, pack: "SOP-44",
		kib: 1024, width: bytesOrWords, status: Sibling, sources: "S37 S39",
		compared: "S37 (3 V sibling): 40",
		pins: "RY/BY A18 A17 A7 A6 A5 A4 A3 A2 A1 A0 CE GND OE D0 D8 D1 D9 D2 D10 D3 D11 VCC D4 D12 D5 D13 D6 " +
			"D14 D7 D15/A-1 GND BYTE A16 A15 A14 A13 A12 A11 A10 A9 A8 WE RESET",
		vpp:       "none, 5 V only (S39)",
		vcc:       "5 V +/- 10% (S39)",
		pulse:     "timed by the chip (S39)",
		signature: "Am29F800: maker 01h, device 22D6h top boot, 2258h bottom boot (memory)",
		erase:     "electrical; sectors 16 + 2x8 + 32 + 15x64 Kbyte (S39)",
		notes: "Pins 1-40 read on a 3 V version (S37); pins 41-44 (A9, A8, WE, RESET) from memory, check the " +
			"data sheet.",
	},
	{
		id: "29F160", parts: "29F160", kind: Flash, pack: "SOP-44",
		kib: 2048, width: bytesOrWords, status: Sibling, sources: "S38",
		compared: "S38 (3 V sibling): 39",
		pins: "RESET A18 A17 A7 A6 A5 A4 A3 A2 A1 A0 CE GND OE D0 D8 D1 D9 D2 D10 D3 D11 VCC D4 D12 D5 D13 D6 " +
			"D14 D7 D15/A-1 GND BYTE A16 A15 A14 A13 A12 A11 A10 A9 A8 A19 WE",
		vpp:   "none, single supply (memory)",
		vcc:   "5 V (memory)",
		pulse: "timed by the chip; 10 us typical on the 3 V version (S38)",
		signature: "3 V version M29W160BT/BB: maker 0020h, device 22C4h top boot, 2249h bottom boot (S38). 5 V " +
			"version not read",
		erase: "electrical; 35 blocks on the 3 V version (S38)",
		notes: "Pins read on the 3 V version (S38 Figure 3). RESET and WE sit on pins 1 and 44, not on 44 and " +
			"43 as on 29F400/29F800; there is no RY/BY pin.",
	},
}
