/* check.c: runs functions of the finished ROM image and holds their answers against values from outside.
 *
 *   check.elf tests             every check; the number of those that failed is the exit code
 *   check.elf list FROM TO      what the ROM's disassembler sees at every even address: size and text
 *   check.elf screen LINE KEYS  obeys a monitor line, takes the keys and writes the screen as a portable bitmap
 *   check.elf session           the monitor on standard input and output
 */
#include "halden.h"

int system_call(int number, int a, int b, int c);
extern const u8 raw_picture[];

enum { SYSTEM_EXIT = 1, SYSTEM_READ = 3, SYSTEM_WRITE = 4 };

static char said[20000];
static int said_count, failures, checks;
static const char *typed;

/* Three streams for the ROM: a script and a record; standard input and output; the screen only. */

static void record(int c)
{
    if (said_count < COUNT(said) - 1)
        said[said_count++] = c;
    said[said_count] = 0;
}

static int next_typed(void)
{
    return *typed ? (u8)*typed++ : -1;
}

static int never(void)
{
    return 0;
}

static int from_input(void)
{
    u8 c;
    return system_call(SYSTEM_READ, 0, (int)&c, 1) == 1 ? c : -1;
}

static void to_output(int c)
{
    u8 byte = c;
    system_call(SYSTEM_WRITE, 1, (int)&byte, 1);
}

static void write_text(const char *s)
{
    system_call(SYSTEM_WRITE, 1, (int)s, text_length(s));
}

/* What the ROM says when `script` is typed at the monitor. */
static const char *session(const char *script)
{
    console = (struct stream){ next_typed, never, record };
    typed = script;
    said_count = 0;
    record(0);
    said_count = 0;
    monitor_run();
    return said;
}

static int holds(const char *text, const char *part)
{
    for (; *text; text++)
        if (memcmp(text, part, text_length(part)) == 0)
            return 1;
    return *part == 0;
}

static void report(const char *what, const char *expected, const char *found)
{
    failures++;
    write_text("FAILED: ");
    write_text(what);
    write_text("\n  expected: ");
    write_text(expected);
    write_text("\n  found:    ");
    write_text(found);
    write_text("\n");
}

static void same(u32 expected, u32 found, const char *what)
{
    char left[12], right[12];
    checks++;
    if (expected == found)
        return;
    text_format(left, sizeof left, "%08X", expected);
    text_format(right, sizeof right, "%08X", found);
    report(what, left, right);
}

static void same_text(const char *expected, const char *found, const char *what)
{
    checks++;
    if (text_length(expected) != text_length(found) || memcmp(expected, found, text_length(expected)))
        report(what, expected, found);
}

static void says(const char *script, const char *expected)
{
    const char *found = session(script);
    checks++;
    if (!holds(found, expected))
        report(script, expected, found);
}

/* The products and quotients at the left are worked out by the compiler on the machine that compiles. */
static void check_arithmetic(void)
{
    volatile u32 a = 0x12345678, b = 0x9ABCDEF0, c = 0x1F, d = 0x10001;
    volatile i32 n = -1000003, m = 977;
    same(0x12345678u * 0x9ABCDEF0u, a * b, "product");
    same(0x9ABCDEF0u / 0x1F, b / c, "quotient by a short number");
    same(0x9ABCDEF0u % 0x1F, b % c, "remainder by a short number");
    same(0x9ABCDEF0u / 0x10001, b / d, "quotient by a long number");
    same(0x9ABCDEF0u % 0x12345678u, b % a, "remainder by a long number");
    same(-1000003 / 977, n / m, "signed quotient");
    same(-1000003 % 977, n % m, "signed remainder");
    same(-1000003 / -977, n / -m, "quotient of two negative numbers");
    same(FIXED(3.75), fixed_multiply(FIXED(-2.5), FIXED(-1.5)), "fixed-point product");
    same(FIXED(-0.25), fixed_divide(FIXED(1), FIXED(-4)), "fixed-point quotient");
    same(0x7FFFFFFF, fixed_multiply(FIXED(300), FIXED(300)), "product that does not fit");
    same(65535, square_root(0xFFFFFFFF), "root of the largest number");
    same(46340, square_root(0x7FFFFFFF), "root of the largest signed number");
    same(92681, fixed_root(FIXED(2)), "root of two, 1.4142 in 65536ths");
    same(46341, sine(128), "sine of 45 degrees, 0.70711 in 65536ths");
    same(FIXED(-1), cosine(512), "cosine of 180 degrees");
    same(128, direction(1000, 1000), "direction of 45 degrees");
    same(768, direction(0, -7), "direction of 270 degrees");
    same(21, common_divisor(1071, 462), "Euclid's example, 1071 and 462");
}

/* Check values of the nine digits: CRC-16 as ITU-T V.41 with FFFF at the start, CRC-32 as IEEE 802.3 (the published
 * catalogues give both). */
static void check_sums(void)
{
    const u8 *digits = (const u8 *)"123456789";
    static const u16 words[] = { 0x0001, 0x0002, 0x8000, 0xFFFF, 0x0003 };
    static const u32 longs[] = { 0xFFFFFFFE, 0x00000003 };
    same(0x29B1, crc16(0xFFFF, digits, 9), "CRC-16 of the nine digits");
    same(0xCBF43926, crc32(0, digits, 9), "CRC-32 of the nine digits");
    same(0x18002, sum_leading(words, sizeof words), "leading sum skips the first long");
    same(0x00000002, sum_closing(longs, sizeof longs), "closing sum carries around");
    same(1, rom_good(), "the closing sum of the image");
    same(1, system_good(), "the leading sum of the system part");
}

static void check_picture(void)
{
    u8 *to = (u8 *)USER_BASE;
    u32 size = SCREEN_PITCH * SCREEN_HEIGHT;
    same(size, unpacked_size(picture), "size of the picture");
    same_text("good", unpack_reason(unpack(picture, to, size)), "unpacking the picture");
    same(0, memcmp(to, raw_picture, size), "the picture is the one that was packed");
    same_text("there is not enough room for what it holds", unpack_reason(unpack(picture, to, size - 1)), "room");
    same_text("this does not begin like a pack", unpack_reason(unpack(font[65], to, size)), "no pack");
}

/* A pack with one bit turned anywhere must be noticed, and nothing may be written beyond the room. */
static void check_damaged_packs(void)
{
    enum { ROUNDS = 60, GUARD = 64 };
    u8 *pack = (u8 *)0x100000, *to = (u8 *)0x180000;
    u32 size = unpacked_size(picture), i;
    int round;
    for (round = 0; round < ROUNDS; round++) {
        u32 where = 16 + chance(80000);
        memcpy(pack, picture, 0x14000);
        memset(to + size, 0xA5, GUARD);
        pack[where] ^= 1 << chance(8);
        same(1, unpack(pack, to, size) != 0, "a damaged pack is noticed");
        for (i = 0; i < GUARD && to[size + i] == 0xA5; i++)
            ;
        same(GUARD, i, "nothing is written beyond the room");
    }
}

/* ISO 8601 gives 1 January 1977 as in week 53 of 1976 and 31 December 1979 as in week 1 of 1980. The Easter dates are
 * those of the almanacs; 22 March and 25 April are the earliest and the latest there can be. */
static void check_calendar(void)
{
    static const struct { int year, month, day; } easters[] = {
        { 1818, 3, 22 }, { 1943, 4, 25 }, { 1961, 4, 2 }, { 1988, 4, 3 }, { 2000, 4, 23 }, { 2024, 3, 31 },
        { 2038, 4, 25 },
    };
    struct moment m = { 1999, 12, 31, 23, 59, 58 }, back;
    i32 number;
    int i, month, day;
    same(0, weekday(day_number(1988, 3, 14)), "14 March 1988 was a Monday");
    same(5, weekday(day_number(2000, 1, 1)), "1 January 2000 was a Saturday");
    same(25567, day_number(1970, 1, 1), "days from 1900 to 1970");
    same(53, week_of_year(1977, 1, 1), "week of 1 January 1977");
    same(1, week_of_year(1979, 12, 31), "week of 31 December 1979");
    same(0, is_leap(1900), "1900 was no leap year");
    same(1, is_leap(2000), "2000 was one");
    for (i = 0; i < COUNT(easters); i++) {
        easter(easters[i].year, &month, &day);
        same(easters[i].month * 100 + easters[i].day, month * 100 + day, "Easter");
    }
    for (number = 0; number < 80000; number += 37) {
        day_date(number, &back);
        same(number, day_number(back.year, back.month, back.day), "day to date and back");
    }
    same(1, clock_write(&m), "setting the clock");
    same(1, clock_read(&back), "reading the clock");
    same(0, memcmp(&m, &back, sizeof m), "the clock holds what was set");
    m.day = 32;
    same(0, clock_write(&m), "no month has 32 days");
}

/* The record is the one printed in most descriptions of the form (from memory). */
static void check_srecords(void)
{
    u32 entry = 0;
    same_text("the record wants to go where no RAM for programs is",
              srecord_reason(srecord_take("S1137AF00A0A0D0000000000000000000000000061", &entry)), "a good record");
    same_text("the record's sum is wrong",
              srecord_reason(srecord_take("S1137AF00A0A0D0000000000000000000000000062", &entry)), "a wrong sum");
    same_text("the record is longer or shorter than it says",
              srecord_reason(srecord_take("S1137AF00A0A0D00000000000000000000000061", &entry)), "a short record");
    same(0, srecord_take("S206040000CAFE2D", &entry), "two bytes to 040000");
    same(0xCAFE, *(u16 *)0x040000, "the bytes are there");
    same(2, srecord_take("S804040000F7", &entry), "the last record");
    same(0x040000, entry, "its address");
}

static void check_keyboard(void)
{
    int i;
    console_open();
    for (i = 0; keyboard_layout_name(i); i++)
        keyboard_layout(i);
    same(4, i, "four layouts");
    keyboard_layout(0);
    keyboard_feed(0x21);
    same('a', keyboard_get(), "the key under the left hand");
    keyboard_feed(0x30);
    keyboard_feed(0x21);
    keyboard_feed(0xB0);
    same('A', keyboard_get(), "with shift");
    keyboard_feed(0x20);
    keyboard_feed(0x34);
    keyboard_feed(0xA0);
    same(3, keyboard_get(), "control and C");
    keyboard_layout(2);
    keyboard_feed(0x21);
    same('q', keyboard_get(), "the same key in the river layout");
    keyboard_feed(0x4F);
    same(KEY_DOWN, keyboard_get(), "the last key of the last row");
    keyboard_layout(0);
    same(0, keyboard_ready(), "keys that come up say nothing");
}

static void check_memory(void)
{
    struct memory_fault fault;
    same(0, memory_march(0x080000, 0x081000, &fault), "march over good memory");
    same(0, memory_address_lines(0x080000, 0x80000, &fault), "address lines of good memory");
    same(RAM_SIZE, memory_size(), "two megabytes");
}

/* A volume of 12 sectors made by hand as files.c tells it: label, directory, one map, and a file in two pieces. */
static u8 volume[12][SECTOR_SIZE];

static int volume_read(u32 sector, u8 *to)
{
    if (sector >= 12)
        return 7;
    memcpy(to, volume[sector], SECTOR_SIZE);
    return 0;
}

static void set_long(u8 *at, u32 n)
{
    at[0] = n >> 24, at[1] = n >> 16, at[2] = n >> 8, at[3] = n;
}

static void set_word(u8 *at, u16 n)
{
    at[0] = n >> 8, at[1] = n;
}

static void check_files(void)
{
    static u8 bytes[1000];
    struct file file;
    char name[25];
    u8 *row = volume[1];
    memcpy(volume[0], "HXV1\0\0\0\x0C\0\1\0\1Harness", 19);
    set_word(volume[0] + 510, crc16(0xFFFF, volume[0], 510));
    memcpy(row, "letter", 6);
    row[16] = 'T';
    set_word(row + 18, 8 << 9 | 3 << 5 | 14);
    set_long(row + 20, 700);
    set_long(row + 24, 5);
    set_word(row + 30, crc16(0xFFFF, row, 30));
    set_long(volume[5], 9), set_long(volume[5] + 4, 1);
    set_long(volume[5] + 8, 3), set_long(volume[5] + 12, 1);
    memset(volume[9], 'a', SECTOR_SIZE);
    memset(volume[3], 'b', SECTOR_SIZE);

    disk.read = volume_read;
    same(0, volume_mount(name, sizeof name), "mounting");
    same_text("Harness", name, "the volume's name");
    same(0, file_open("LETTER", &file), "opening");
    same(700, file_read(&file, bytes, sizeof bytes), "reading to the end");
    same('a' << 8 | 'b', bytes[511] << 8 | bytes[512], "where the pieces meet");
    says("volume\n", "letter           T      700 bytes  1988-03-14");
    says("type Nothing\n", "there is no file of that name");
    set_long(volume[5] + 8, 300);
    says("type letter\n", "the map of the file points outside the volume");
    row[20] = 1;
    says("type letter\n", "the directory row does not match its check word");
}

/* Decimal results as a desk calculator shows them. */
static void check_desk(void)
{
    says("open calc\n0.1*10\n", "  1\n");
    says("open calc\n2/3\n", "  0.66666666666667\n");
    says("open calc\n1-0.9999\n", "  0.0001\n");
    says("open calc\n100000000000-0.5\n", "  99999999999.5\n");
    says("open calc\n(12+8)*-3.5 > M4\n\nopen calc\nm4/7+it\n", "  -80\n");
    says("open calc\nroot 2\n", "  1.414213562373");
    says("open calc\n19% * 250\n", "  47.5\n");
    says("open calc\n9E60*9E60\n", "the number is too large");
    says("open calc\n1/0\n", "division by zero");
    says("open sheet\nA1 = 12\nA2 = 30\nA3 = SUM(A1:A2) / 4\nB1 = A1 * 2\ndown B1 3\nshow\n", "10.5           21");
    says("open sheet\nC1 = C2\nC2 = C1\nshow\n", "?");
    says("open cale\n1988 3\n", "11  14 15 16 17 18 19 20");
    says("open cale\nbetween 1988-03-14 2000-01-01\n", "4310 days");
    says("open note\nwrite\nberlin\nAthens\n\nsort\nexchange athens/Oslo\nshow\n", "  1  Oslo\n  2  berlin\n");
}

static void check_basic(void)
{
    says("basic\ndemo 1\nrun\n30\n", "2\t3\t5\t7\t11\t13\t17\t19\t23\t29\t\n");
    says("basic print 7 * (3 + 4) mod 10; \" \"; 10 / 4\n", "9 2\n");
    says("basic\nnew\n10 for i = 3 to 1 step -1\n20 gosub 100\n30 next i\n40 end\n"
         "100 print i * i;\n110 return\nrun\n", "941");
    says("basic\nnew\n10 goto 20\nrun\n", "Line 10: there is no line of that number");
    says("basic\nnew\n20 print 1 / (2 - 2)\nrun\n", "Line 20: division by zero");
}

static void check_monitor(void)
{
    says("dump F00000 +10\n", "F00000  0001 0000 00F0 0400");
    says("find F40000 F4003F \"HXSY\"\n", "F40004\nFound 1 times.");
    says("put 40100 48 58 2D 31 36\ndump 40100 +10\n", "4858 2D31 36");
    says("copy 40100 40104 40102\ndump 40100 +8\n", "4858 4858 2D31 36");
    says("fill 40200 402FF A5\ncompare 40200 402FF 40200\n", "The same");
    says("put 40280 A4\ncompare 40200 402FE 40201\n", "bits 01");
    says("number #1988\n", "$7C4  #1988  %11111000100");
    says("sum F00000 F7FFFF\n", "524288 bytes.");
    says("nothing\n", "There is no such command.");
    says("hel\blp\n", "help      [command]");
    says("manual the keyboard\n", "called alphabetic is for test benches");
    says("list F00400 1\n", "MOVE.W  #$2700,SR");
}

static int dot(int x, int y)
{
    return ((u8 *)SCREEN_BASE)[y * SCREEN_PITCH + x / 8] >> (7 - x % 8) & 1;
}

static void check_display(void)
{
    enum { FACE_X = 820, FACE_Y = 420 };
    struct moment three = { 1988, 3, 14, 15, 0, 30 };
    u8 *screen = (u8 *)SCREEN_BASE;
    display_open();
    display_put('A');
    same(font['A'][2], screen[2 * 128], "the letter's third row is on the screen");
    display_fill(-5, 100, 13, 1, INK_SET);
    same(0xFF00, screen[100 * 128] << 8 | screen[100 * 128 + 1], "a bar cut at the left edge");
    display_fill(6, 101, 4, 1, INK_SET);
    same(0x03C0, screen[101 * 128] << 8 | screen[101 * 128 + 1], "a bar across a byte's edge");
    display_line(2000, 2000, -50, -50, INK_SET);
    same(0x80, screen[0] & 0x80, "a line cut at both ends passes the corner");
    clockface_draw(&three);
    same(1, dot(FACE_X + 70, FACE_Y), "the hour hand points right at three");
    same(1, dot(FACE_X, FACE_Y - 110), "the minute hand points up");
    same(1, dot(FACE_X, FACE_Y + 125), "the second hand points down at thirty");
    same(0, dot(FACE_X - 70, FACE_Y), "no hand points left");
}

static void run_tests(void)
{
    char line[60];
    check_arithmetic();
    check_sums();
    check_picture();
    check_damaged_packs();
    check_calendar();
    check_srecords();
    check_keyboard();
    check_memory();
    check_display();
    check_files();
    check_monitor();
    check_desk();
    check_basic();
    text_format(line, sizeof line, "%d checks, %d failed\n", checks, failures);
    write_text(line);
}

/* The screen as it is when everything has been typed and the ROM waits for more. */
static int typed_then_screen(void)
{
    if (*typed)
        return (u8)*typed++;
    write_text("P4\n1024 768\n");
    system_call(SYSTEM_WRITE, 1, SCREEN_BASE, SCREEN_PITCH * SCREEN_HEIGHT);
    system_call(SYSTEM_EXIT, 0, 0, 0);
    return -1;
}

static void list_sizes(u32 from, u32 to)
{
    char text[64], line[90];
    for (; from < to; from += 2) {
        u32 size = disassemble(from, text, sizeof text);
        text_format(line, sizeof line, "%06x %u %s\n", from, size, text);
        write_text(line);
    }
}

int check_main(int count, const char **words)
{
    const char *what = count > 1 ? words[1] : "tests";
    u32 from, to;
    display_open();
    settings_load();
    console = (struct stream){ from_input, never, to_output };
    session("");                        /* so that the base part's commands are there before the system part's */
    system_header.enter();
    console = (struct stream){ from_input, never, to_output };
    if (text_same(what, "tests")) {
        run_tests();
        return failures;
    }
    if (text_same(what, "list") && count == 4 && read_digits(&words[2], 16, &from) && read_digits(&words[3], 16, &to)) {
        list_sizes(from, to);
    } else if (text_same(what, "screen")) {
        console = (struct stream){ typed_then_screen, never, display_put };
        typed = count > 3 ? words[3] : "";
        monitor_obey(count > 2 ? words[2] : "help");
        typed_then_screen();
    } else {
        monitor_run();
    }
    return 0;
}
