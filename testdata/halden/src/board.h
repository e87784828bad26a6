/* board.h: where things are on the Halden HX-16 main board.
 *
 * The 68000 sees a 24-bit address space. Eight-bit parts sit on the low half of the data bus, so their registers are
 * the odd bytes of consecutive words.
 */
#ifndef BOARD_H
#define BOARD_H

#define RAM_BASE     0x000000u
#define RAM_SIZE     0x200000u  /* 2 MiB */
#define USER_BASE    0x040000u  /* what the system leaves to programs begins here */
#define BASIC_BASE   0x060000u  /* programs in Basic; the accessories use user memory, as nothing else runs with them */
#define SHEET_BASE   0x0A0000u
#define NOTES_BASE   0x0B0000u
#define SERIAL_BASE  0xD00000u
#define KEYS_BASE    0xD10000u
#define DISK_BASE    0xD20000u
#define CLOCK_BASE   0xD30000u
#define LATCH_BASE   0xD40000u
#define SCREEN_BASE  0xE00000u  /* 1024 by 768 dots, one bit each, leftmost dot in bit 7 */
#define ROM_BASE     0xF00000u  /* U41 */
#define ROM_SIZE     0x080000u  /* 512 KiB */
#define SYSTEM_BASE  0xF40000u  /* the system part, upper half of U41 */
#define SYSTEM_SIZE  0x040000u

#define REG(base, n) (*(volatile u8 *)((base) + 2u * (n) + 1u))

/* The serial part: two lines, of which line 0 is the console socket at the back. */
#define SERIAL_STATUS(line)  REG(SERIAL_BASE, 4 * (line) + 0)
#define SERIAL_DATA(line)    REG(SERIAL_BASE, 4 * (line) + 1)
#define SERIAL_MODE(line)    REG(SERIAL_BASE, 4 * (line) + 2)
#define SERIAL_DIVIDE(line)  REG(SERIAL_BASE, 4 * (line) + 3)
#define SERIAL_RECEIVED      0x01
#define SERIAL_SPACE         0x02
#define SERIAL_OVERRUN       0x10
#define SERIAL_PARITY        0x20
#define SERIAL_FRAMING       0x40

/* The keyboard part: one byte for every key that goes down, the same with bit 7 set when it comes up. */
#define KEYS_STATUS          REG(KEYS_BASE, 0)
#define KEYS_CODE            REG(KEYS_BASE, 1)
#define KEYS_LAMPS           REG(KEYS_BASE, 2)
#define KEYS_WAITING         0x01

/* The disk controller. */
#define DISK_STATUS          REG(DISK_BASE, 0)
#define DISK_COMMAND         REG(DISK_BASE, 0)
#define DISK_DATA            REG(DISK_BASE, 1)
#define DISK_CYLINDER_HIGH   REG(DISK_BASE, 2)
#define DISK_CYLINDER_LOW    REG(DISK_BASE, 3)
#define DISK_HEAD            REG(DISK_BASE, 4)
#define DISK_SECTOR          REG(DISK_BASE, 5)
#define DISK_REASON          REG(DISK_BASE, 6)
#define DISK_BUSY            0x80
#define DISK_READY           0x40
#define DISK_WANTS_DATA      0x08
#define DISK_FAULT           0x01

/* The clock part: one decimal digit in the low half of each register, and 64 bytes kept by the battery. */
#define CLOCK_DIGIT(n)       (REG(CLOCK_BASE, (n)) & 0x0F)
#define CLOCK_SET(n, digit)  (REG(CLOCK_BASE, (n)) = (digit))
#define CLOCK_CONTROL        REG(CLOCK_BASE, 15)
#define CLOCK_KEPT(n)        REG(CLOCK_BASE, 64 + (n))
#define CLOCK_KEPT_SIZE      64

/* The latch: bit 0 takes the ROM away from address 0, bits 4 to 7 are the lamps on the front edge of the board. */
#define LATCH                REG(LATCH_BASE, 0)
#define LATCH_OVERLAY_OFF    0x01
#define LATCH_LAMP(n)        (0x10 << (n))

#define SCREEN_WIDTH   1024
#define SCREEN_HEIGHT  768
#define SCREEN_PITCH   128      /* bytes from one row of dots to the next */

#endif
