package chips

// sourceTitles are the data sheets that the catalogue's figures and pin lists were read in, by the number that the rows
// use. A figure without a number beside it is from memory and says so.
//
// No JEDEC standard text was read; the sheets themselves call the 28 and 32-pin layouts JEDEC standard (S10, S11, S28, S30,
// S36).
const sourceTitles = "" +
	"S01 M27C400, 4 Mbit (512Kb x8 or 256Kb x16) UV EPROM and OTP EPROM, STMicroelectronics, May 1999 (front " +
	"page; Figure 1; Figure 2 DIP connections; Table 1)\n" +
	"S02 M27C322, 32 Mbit (2Mb x16) UV EPROM and OTP EPROM, STMicroelectronics, April 2000 (front page; " +
	"Figure 2A; Figure 8 flowchart, p. 9)\n" +
	"S03 M27C160, 16 Mbit (2Mb x8 or 1Mb x16) UV EPROM and OTP EPROM, STMicroelectronics, three revisions: " +
	"Feb 1999, July 2001, Jan 2002 (front page; Figure 2/2A DIP; SO44 figure)\n" +
	"S04 M27V800 (3 V version of the 8 Mbit part), STMicroelectronics, Sept 1998 (front page; Figure 2A DIP; " +
	"Figure 2B SO44)\n" +
	"S05 M27C4002, 4 Mbit (256Kb x16) UV EPROM and OTP EPROM, STMicroelectronics, Aug 2001 (front page; " +
	"Figure 2A) and Rev 4 April 2006 (Figure 5 flowchart; section 2.8); erasure text from an undated earlier " +
	"revision, p. 9\n" +
	"S06 Am27C1024, 1 Megabit (65 K x 16) CMOS EPROM, AMD, publication 06780, May 1998 (front page; " +
	"functional description p. 5)\n" +
	"S07 AT27C1024, 64K x 16 OTP EPROM, Atmel (front page; date not in the text read)\n" +
	"S08 AT27C4096, 256K x 16 OTP EPROM, Atmel (front page; date not in the text read)\n" +
	"S09 M27C801, 8 Mbit (1Mb x 8) UV EPROM and OTP EPROM, STMicroelectronics, March 2000 (front page; Figure " +
	"2A; Figure 8 flowchart, p. 9)\n" +
	"S10 NM27C256, 32K x 8 CMOS EPROM, Fairchild Semiconductor, July 1998 (connection diagram with neighbour " +
	"columns for 27C512, 27C010, 27C020, 27C040, 27C080)\n" +
	"S11 NM27C040, 512K x 8 CMOS EPROM, Fairchild Semiconductor, Rev C.1, Feb 1999 (front page; left part of " +
	"the connection diagram)\n" +
	"S12 M27C2001, 2 Mbit (256Kb x 8) UV EPROM and OTP EPROM, STMicroelectronics, Nov 2000 (front page; " +
	"Figure 2A)\n" +
	"S13 TMS27C020, 256K x 8 UV EPROM, Texas Instruments, SMLS020C, Nov 1990 revised Sept 1997 (J package top " +
	"view; pin nomenclature)\n" +
	"S14 M27C1001, 1 Mbit (128Kb x 8) UV EPROM and OTP EPROM, STMicroelectronics, Rev 5 April 2006 (front " +
	"page) and a 17-page earlier revision (Tables 9 and 10; erasure text)\n" +
	"S15 M27C512, 512 Kbit (64K x8) UV EPROM and OTP EPROM, STMicroelectronics, Nov 2004 and Rev 3 May 2007 " +
	"(front page; Figure 3 DIP; sections 2.5, 2.6; Figure 4 flowchart)\n" +
	"S16 AT27C512R, 64K x 8 OTP EPROM, Microchip (Table 2.1 pin description; date not in the text read)\n" +
	"S17 M27C256B, 256 Kbit (32Kb x 8) UV EPROM and OTP EPROM, STMicroelectronics, Aug 2002 (front page; " +
	"Figure 2A) and an earlier revision (Tables 2, 3, 4)\n" +
	"S18 32K x 8 OTP EPROM sheet with A0-A14 and VPP (AT27C256R by its pin set; the title was not in the text " +
	"read), Microchip (Table 2.1; 28-lead PDIP top view; programming waveform figure)\n" +
	"S19 M27128A, NMOS 128 Kbit (16Kb x 8) UV EPROM, SGS-Thomson/STMicroelectronics, March 1995 and Nov 2000 " +
	"(front page; Figure 2, left column only; p. 8 verify, signature, erasure)\n" +
	"S20 NM27C128, 16K x 8 CMOS EPROM, Fairchild Semiconductor, July 1998 (front page; block diagram)\n" +
	"S21 M27C64A, 64 Kbit (8Kb x 8) UV EPROM and OTP EPROM, SGS-Thomson, March 1998 (front page; Figure 2A)\n" +
	"S22 M2764A, NMOS 64K (8K x 8) UV EPROM, SGS-Thomson, March 1995 (front page; Table 2)\n" +
	"S23 Am27C64, 8K x 8 CMOS EPROM, AMD, publication 11419, Rev D May 1995 / Rev E May 1998 (front page)\n" +
	"S24 NTE2764, NMOS 64K EPROM, NTE (front page; undated)\n" +
	"S25 TMS2732A, 32,768-bit UV EPROM, Texas Instruments, Aug 1983 revised Feb 1988 (J package top view, " +
	"scanned text in which pins 19, 22 and 23 are badly printed; pin nomenclature)\n" +
	"S26 M2732A, NMOS 32K (4K x 8) UV EPROM, SGS-Thomson, July 1994 (front page; Table 2)\n" +
	"S27 M2716, NMOS 16K (2K x 8) UV EPROM, SGS-Thomson, July 1994 (front page; Tables 1 and 2)\n" +
	"S28 AT28C64 / AT28C64X, 64K (8K x 8) parallel EEPROM, Atmel, Rev 0001H, Dec 1999 (front page; PDIP top " +
	"view; device operation)\n" +
	"S29 AT28C64B, 64K (8K x 8) parallel EEPROM with page write, Atmel, 0270L, Feb 2009 (front page; sections " +
	"4.4-4.6)\n" +
	"S30 AT28C256, 256K (32K x 8) paged parallel EEPROM, Atmel, Rev 0006H, Dec 1999 (front page; PDIP top " +
	"view); the same view again in the Microchip edition\n" +
	"S31 M29F040, 4 Mbit (512K x 8) flash, TCS (military-range edition), Oct 1998 (Figure 2 DIL connections, " +
	"pins 1-16 and 32-23)\n" +
	"S32 M29F040, 4 Mbit (512Kb x8, uniform block) flash, STMicroelectronics, Nov 1999 (front page; Figure " +
	"2B)\n" +
	"S33 Am29F010A, 128 K x 8 flash, AMD, publication 22181 Rev B+1, 23 March 1999 (front page)\n" +
	"S34 A29010 series, 128K x 8 flash, AMIC Technology (front page)\n" +
	"S35 AT28C010, 128K x 8 EEPROM, Microchip (Table 2-1, 32-lead CERDIP) - an EEPROM, read only to support " +
	"the 32-pin layout with WE on pin 31\n" +
	"S36 SST39SF010A / SST39SF020A / SST39SF040, multi-purpose flash, SST, S71147-02-000 May 2001 (front " +
	"page; Table 4) and S71147-08-000 Sept 2009 (front page)\n" +
	"S37 AS29LV800 (3 V version of the 8 Mbit boot-block flash), Alliance Semiconductor, March 2001 (44-pin " +
	"SO arrangement, pins 1-22 and 23-40)\n" +
	"S38 M29W160BT/BB (3 V version of the 16 Mbit boot-block flash), STMicroelectronics, Feb 2000 (front " +
	"page; Figure 3 SO connections)\n" +
	"S39 Am29F800, 8 Megabit flash, AMD, publication 20375 Rev C+1, Aug 1997 (front page)\n" +
	"S40 MX29F400C, 4M-bit flash, Macronix, PM1200 Rev 2.3, 14 Dec 2017 (front page); HY29F400, Hynix, Rev " +
	"5.2 May 2001 (Table 2 notes)\n" +
	"S41 HT23C256 and HT23C128, CMOS mask ROM, Holtek, 24 Aug 1998 (front page; pin description; truth table; " +
	"the pin drawing itself is a picture and was not readable)\n" +
	"S43 NTE2716, NMOS 16K UV erasable PROM, NTE (front page; undated)\n" +
	"S42 Am27X400, 4 Megabit (512K x 8 / 256K x 16) factory-programmed ROM, AMD, publication 17344 Rev A, " +
	"July 1993 (front page; block diagram)\n"
