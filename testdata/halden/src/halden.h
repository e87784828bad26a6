/* halden.h: what the parts of the HX-16 system ROM offer each other, in the order of the files. */
#ifndef HALDEN_H
#define HALDEN_H

typedef unsigned char  u8;
typedef unsigned short u16;
typedef unsigned int   u32;
typedef signed char    i8;
typedef signed short   i16;
typedef signed int     i32;

#include <stdarg.h>
#include <stddef.h>
#include "board.h"

#define COUNT(table) ((int)(sizeof(table) / sizeof((table)[0])))

/* start.s */
struct registers {
    u32 d[8], a[7], usp, ssp, pc;
    u32 access;                 /* the address a bus or address error was about */
    u16 sr, kind, opcode;
};
extern struct registers saved;
extern volatile u32 ticks;      /* fiftieths of a second since power-on */
void go_program(const struct registers *state) __attribute__((noreturn));

/* arith.s, and what the compiler expects to find */
void *memcpy(void *to, const void *from, size_t count);
void *memmove(void *to, const void *from, size_t count);
void *memset(void *to, int value, size_t count);
int memcmp(const void *left, const void *right, size_t count);

/* text.c */
int text_length(const char *s);
int text_same(const char *left, const char *right);          /* letter case does not count */
int text_begins(const char *s, const char *beginning);       /* letter case does not count */
void text_copy(char *to, const char *from, int size);        /* always ends with a zero */
int letter_up(int c);
int is_digit(int c);
int is_letter(int c);
const char *skip_blanks(const char *s);
int read_digits(const char **at, int base, u32 *value);      /* 1 when there was a number that fits */
int read_number(const char **at, u32 *value);                /* hexadecimal; # before it makes it decimal */
void format_to(void (*put)(int c, void *where), void *where, const char *form, va_list list);
int text_format(char *to, int size, const char *form, ...) __attribute__((format(printf, 3, 4)));

/* console.c */
struct stream {
    int (*get)(void);           /* waits; -1 when nothing will ever come again */
    int (*ready)(void);
    void (*put)(int c);
};
extern struct stream console;
void console_open(void);
void say(const char *form, ...) __attribute__((format(printf, 1, 2)));
void say_char(int c);
int ask_line(const char *prompt, char *line, int size);      /* length; -1 at the end of input, -2 on escape */
int ask_key(void);
int ask_yes(const char *question);
int stop_wanted(void);                                       /* somebody pressed escape or control-C */
void page_text(const char *text, u32 length);

/* serial.c */
void serial_open(int line, u32 rate);
int serial_ready(int line);
int serial_get(int line);
void serial_put(int line, int c);
const char *serial_complaint(void);

/* keyboard.c */
enum { KEY_UP = 0x80, KEY_DOWN, KEY_LEFT, KEY_RIGHT, KEY_HOME, KEY_END, KEY_DELETE, KEY_HELP };
void keyboard_open(void);
void keyboard_take(void);                                    /* called by the level 2 interrupt */
void keyboard_feed(int code);
int keyboard_ready(void);
int keyboard_get(void);
int keyboard_layout(int number);                             /* chooses; returns the one in use */
const char *keyboard_layout_name(int number);                /* 0 after the last */

/* display.c */
enum ink { INK_CLEAR, INK_SET, INK_INVERT };
void display_open(void);
void display_put(int c);
void display_at(int column, int row);
void display_text(int x, int y, const char *s, enum ink ink);
void display_dot(int x, int y, enum ink ink);
void display_line(int x0, int y0, int x1, int y1, enum ink ink);
void display_circle(int x, int y, int radius, enum ink ink);
void display_fill(int x, int y, int width, int height, enum ink ink);
void display_shade(int x, int y, int width, int height, int level);  /* 0 black to 255 white, as the eye sees it */
void display_frame(int x, int y, int width, int height, const char *title);
void display_picture(int x, int y, int width, int height, const u8 *bits);

/* maths.c: angles are 1024 to the circle, fixed-point numbers have 16 bits after the point */
typedef i32 fixed;
#define FIXED(n) ((fixed)((n) * 65536))
fixed fixed_multiply(fixed left, fixed right);
fixed fixed_divide(fixed left, fixed right);
u32 square_root(u32 n);
fixed fixed_root(fixed n);
fixed sine(int angle);
fixed cosine(int angle);
int direction(i32 x, i32 y);
u32 common_divisor(u32 left, u32 right);
u32 chance(u32 below);
void chance_seed(u32 seed);

/* sums.c */
u16 crc16(u16 so_far, const u8 *bytes, u32 count);           /* as ITU-T V.41, high bit first; begin with FFFF */
u32 crc32(u32 so_far, const u8 *bytes, u32 count);           /* begin with 0 */
u32 sum_closing(const u32 *longs, u32 size);                 /* ones'-complement sum of big-endian longs */
u32 sum_leading(const u16 *words, u32 size);                 /* plain sum of the words after the first long */

/* memtest.c */
struct memory_fault { u32 address; u16 expected, found; };
int memory_march(u32 from, u32 to, struct memory_fault *fault);      /* 0 good; destroys what is there */
int memory_address_lines(u32 from, u32 size, struct memory_fault *fault);
u32 memory_size(void);

/* clock.c */
struct moment { int year, month, day, hour, minute, second; };
int clock_read(struct moment *now);                          /* 0 when the clock does not run or holds nonsense */
int clock_write(const struct moment *now);
int moment_valid(const struct moment *m);
int is_leap(int year);
int days_in_month(int year, int month);
i32 day_number(int year, int month, int day);                /* 1 January 1900 is day 0 */
void day_date(i32 number, struct moment *m);
int weekday(i32 number);                                     /* 0 Monday to 6 Sunday */
int week_of_year(int year, int month, int day);              /* as ISO 8601 counts */
void easter(int year, int *month, int *day);
extern const char *const month_names[12];
extern const char *const weekday_names[7];

/* settings.c */
struct settings { u8 version, layout, rate, boot, shade, spare[3]; char owner[24]; u16 crc; };
extern struct settings settings;
int settings_load(void);
void settings_save(void);
u32 settings_rate(void);

/* disk.c */
#define SECTOR_SIZE 512
struct disk { int (*read)(u32 sector, u8 *to); int (*write)(u32 sector, const u8 *from); };
extern struct disk disk;
int disk_open(void);
int disk_read(u32 sector, u8 *to);                           /* 0, or a reason */
int disk_write(u32 sector, const u8 *from);
const char *disk_reason(int code);

/* unpack.c */
int unpack(const u8 *packed, u8 *to, u32 room);              /* 0, or a reason */
const char *unpack_reason(int code);
u32 unpacked_size(const u8 *packed);

/* disasm.c */
u32 disassemble(u32 address, char *to, int size);            /* bytes used */

/* srecord.c */
int srecord_take(const char *line, u32 *entry);              /* see the file for what comes back */
const char *srecord_reason(int code);

/* monitor.c */
struct command { const char *name, *arguments, *help; void (*run)(const char *arguments); };
void monitor_add(const struct command *table, int count);
int monitor_obey(const char *line);
void monitor_run(void);
int read_range(const char **at, u32 *from, u32 *to);

/* main.c */
struct part_header { u32 sum; char mark[4]; u32 size; void (*enter)(void); u16 version, serial; char name[44]; };
extern const struct part_header system_header;
void power_on(void);
void exception_report(int vector);
int rom_good(void);
int system_good(void);

/* the system part */
void system_enter(void);                                     /* system.c */
int volume_mount(char *name, int size);                      /* files.c */
void volume_list(void);
struct file { u32 length, position, start; };
int file_open(const char *name, struct file *file);
int file_read(struct file *file, u8 *to, u32 count);
const char *file_reason(int code);

/* decimal.c: a number is 0.ddd... times ten to the power; the first digit is 0 only in the number 0 */
#define DECIMAL_DIGITS 14
struct decimal { i8 negative; i16 power; u8 digits[DECIMAL_DIGITS]; };
typedef int decimal_name(const char **at, struct decimal *value);     /* a name's value, or 0 where it has none */
void decimal_from(i32 n, struct decimal *to);
int decimal_read(const char **at, struct decimal *to);
void decimal_text(const struct decimal *n, char *to, int size);
void decimal_add(const struct decimal *left, const struct decimal *right, struct decimal *to);
void decimal_multiply(const struct decimal *left, const struct decimal *right, struct decimal *to);
int decimal_divide(const struct decimal *left, const struct decimal *right, struct decimal *to);
int decimal_root(const struct decimal *n, struct decimal *to);
const char *decimal_expression(const char **at, decimal_name *name, struct decimal *to);  /* 0, or what is wrong */

void basic_run(void);                                        /* basic.c */
void basic_line(const char *line);
void calculator_run(void);                                   /* calculator.c */
void calendar_run(void);                                     /* calendar.c */
void clockface_run(void);
void clockface_draw(const struct moment *now);
void sheet_run(void);                                        /* sheet.c */
void notebook_run(void);                                     /* notebook.c */
void puzzle_run(void);                                       /* puzzle.c */
void desk_run(void);                                         /* system.c */
void manual_run(const char *about);                          /* manual.c */

/* tables.s */
extern const u8 font[256][16];
extern const u16 sine_table[257];
extern const u8 gamma_table[256];
extern const u8 spread_table[64];
extern const u16 crc16_table[256];
extern const u32 crc32_table[256];
extern const u8 logo[];
extern const u8 picture[];
extern const char manual_text[], manual_end[];

#endif
