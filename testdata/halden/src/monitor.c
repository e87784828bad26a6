/* monitor.c: the boot monitor. A command is a row of a table; the system part adds its own table to these. */
#include "halden.h"

#define TABLES 4

static struct { const struct command *rows; int count; } tables[TABLES];
static int table_count;
static int leaving;
static u32 next_dump, next_list;

void monitor_add(const struct command *table, int count)
{
    if (table_count < TABLES) {
        tables[table_count].rows = table;
        tables[table_count++].count = count;
    }
}

static int complain(const char *what)
{
    say("%s\n", what);
    return 0;
}

static int want_number(const char **at, const char *what, u32 *value)
{
    if (read_number(at, value))
        return 1;
    say("The %s is missing, or is no number. Numbers are hexadecimal; #10 is ten.\n", what);
    return 0;
}

static int want_even(u32 address)
{
    return address & 1 ? complain("The 68000 takes words from even addresses only.") : 1;
}

/* "from to" or "from +length". *to is the address after the last. */
int read_range(const char **at, u32 *from, u32 *to)
{
    const char *s;
    if (!want_number(at, "first address", from))
        return 0;
    s = skip_blanks(*at);
    if (*s == '+') {
        s++;
        if (!want_number(&s, "length", to))
            return 0;
        *to += *from;
    } else {
        if (!want_number(&s, "last address", to))
            return 0;
        ++*to;
    }
    *at = s;
    return *to > *from ? 1 : complain("The last address lies before the first.");
}

static void dump_row(u32 address)
{
    const u8 *bytes = (const u8 *)address;
    int i;
    say("%06X ", address);
    for (i = 0; i < 16; i++)
        say("%s%02X", i % 2 ? "" : " ", bytes[i]);
    say("  ");
    for (i = 0; i < 16; i++)
        say_char(bytes[i] >= ' ' && bytes[i] < 0x7F ? bytes[i] : '.');
    say("\n");
}

static void run_dump(const char *s)
{
    u32 from = next_dump, length = 0x100, to;
    s = skip_blanks(s);
    if (*s && !want_number(&s, "address", &from))
        return;
    s = skip_blanks(s);
    if (*s == '+')
        s++;
    if (*s && !want_number(&s, "length", &length))
        return;
    to = from + length;
    for (from &= ~15u; from < to && !stop_wanted(); from += 16)
        dump_row(from);
    next_dump = from;
}

/* "put address value ..." writes bytes; without values it shows each byte and asks. */
static void run_put(const char *s)
{
    u32 address, value;
    char line[16];
    if (!want_number(&s, "address", &address))
        return;
    if (*skip_blanks(s)) {
        while (read_number(&s, &value))
            *(volatile u8 *)address++ = value;
        if (*skip_blanks(s))
            complain("What comes after the last number was not understood; the numbers before it were written.");
        return;
    }
    for (;; address++) {
        const char *answer = line;
        say("%06X  %02X ", address, *(volatile u8 *)address);
        if (ask_line("? ", line, sizeof line) < 0 || *skip_blanks(line) == '.')
            return;
        if (read_number(&answer, &value))
            *(volatile u8 *)address = value;
        else if (*skip_blanks(line))
            return (void)complain("No number, so nothing was written.");
    }
}

static void run_fill(const char *s)
{
    u32 from, to, value;
    if (read_range(&s, &from, &to) && want_number(&s, "value", &value))
        memset((void *)from, value, to - from);
}

static void run_copy(const char *s)
{
    u32 from, to, target;
    if (read_range(&s, &from, &to) && want_number(&s, "target", &target))
        memmove((void *)target, (void *)from, to - from);
}

static void run_compare(const char *s)
{
    u32 from, to, other, count = 0;
    if (!read_range(&s, &from, &to) || !want_number(&s, "other address", &other))
        return;
    for (; from < to; from++, other++) {
        u8 left = *(volatile u8 *)from, right = *(volatile u8 *)other;
        if (left == right)
            continue;
        if (++count <= 16)
            say("%06X %02X   %06X %02X   bits %02X\n", from, left, other, right, left ^ right);
        if (stop_wanted())
            break;
    }
    if (count)
        say("%u bytes differ.\n", count);
    else
        say("The same, byte for byte.\n");
}

/* "find from to text" or "find from to 12 34 56" */
static void run_find(const char *s)
{
    u8 wanted[32];
    u32 from, to, value, count = 0;
    int length = 0;
    if (!read_range(&s, &from, &to))
        return;
    s = skip_blanks(s);
    if (*s == '"') {
        for (s++; *s && *s != '"' && length < COUNT(wanted); s++)
            wanted[length++] = *s;
    } else {
        while (length < COUNT(wanted) && read_number(&s, &value))
            wanted[length++] = value;
    }
    if (!length)
        return (void)complain("Find what? Bytes, or a text between quotes.");
    for (; from + length <= to && !stop_wanted(); from++)
        if (memcmp((void *)from, wanted, length) == 0 && ++count <= 40)
            say("%06X\n", from);
    say("Found %u times.\n", count);
}

static void run_go(const char *s)
{
    u32 value;
    if (*skip_blanks(s)) {
        if (!want_number(&s, "address", &value) || !want_even(value))
            return;
        saved.pc = value;
    }
    if (saved.ssp < 0x400 || saved.ssp > RAM_SIZE)
        saved.ssp = RAM_SIZE;
    if (saved.sr == 0)
        saved.sr = 0x2000;
    go_program(&saved);
}

static u32 *find_register(const char *name)
{
    int number = name[1] - '0';
    if (text_same(name, "PC"))
        return &saved.pc;
    if (text_same(name, "USP"))
        return &saved.usp;
    if (text_same(name, "SSP") || text_same(name, "A7"))
        return &saved.ssp;
    if (number < 0 || number > 7 || name[2])
        return 0;
    return letter_up(name[0]) == 'D' ? &saved.d[number] : letter_up(name[0]) == 'A' ? &saved.a[number] : 0;
}

static void show_registers(void)
{
    int i;
    for (i = 0; i < 8; i++)
        say("%sD%d %08X", i ? "  " : "", i, saved.d[i]);
    say("\n");
    for (i = 0; i < 7; i++)
        say("%sA%d %08X", i ? "  " : "", i, saved.a[i]);
    say("\nPC %08X  SSP %08X  USP %08X  SR %04X  %s mask %d  %c%c%c%c%c\n", saved.pc, saved.ssp, saved.usp, saved.sr,
        saved.sr & 0x2000 ? "system" : "user", saved.sr >> 8 & 7, saved.sr & 16 ? 'X' : '-', saved.sr & 8 ? 'N' : '-',
        saved.sr & 4 ? 'Z' : '-', saved.sr & 2 ? 'V' : '-', saved.sr & 1 ? 'C' : '-');
}

static void run_registers(const char *s)
{
    char name[5];
    int n = 0;
    u32 *place, value;
    s = skip_blanks(s);
    if (!*s)
        return show_registers();
    while ((is_letter(*s) || is_digit(*s)) && n < 4)
        name[n++] = *s++;
    name[n] = 0;
    place = find_register(name);
    if (!place)
        return (void)complain("The registers are D0 to D7, A0 to A7, PC, SSP and USP.");
    if (want_number(&s, "value", &value))
        *place = value;
}

static void run_list(const char *s)
{
    char text[64];
    u32 address = next_list, lines = 20, size, i;
    if (*skip_blanks(s) && !want_number(&s, "address", &address))
        return;
    if (*skip_blanks(s) && !want_number(&s, "number of lines", &lines))
        return;
    if (!want_even(address))
        return;
    for (; lines && !stop_wanted(); lines--, address += size) {
        size = disassemble(address, text, sizeof text);
        say("%06X ", address);
        for (i = 0; i < 10; i += 2)
            if (i < size)
                say(" %04X", *(u16 *)(address + i));
            else
                say("     ");
        say("  %s\n", text);
    }
    next_list = address;
}

static void run_sum(const char *s)
{
    u32 from, to, i, bytes = 0, words = 0;
    if (!read_range(&s, &from, &to))
        return;
    for (i = from; i < to; i++)
        bytes += *(u8 *)i;
    for (i = (from + 1) & ~1u; i + 1 < to; i += 2)
        words += *(u16 *)i;
    say("%u bytes. Sum of bytes %08X, of words %08X.\n", to - from, bytes, words);
    say("CRC-16 %04X  CRC-32 %08X\n", crc16(0xFFFF, (u8 *)from, to - from), crc32(0, (u8 *)from, to - from));
}

static void run_test(const char *s)
{
    struct memory_fault fault;
    u32 from = USER_BASE, to = memory_size(), bad;
    if (*skip_blanks(s) && !read_range(&s, &from, &to))
        return;
    from = (from + 1) & ~1u;
    to &= ~1u;
    if (from < USER_BASE || to > RAM_SIZE)
        return (void)complain("Below 040000 the monitor itself lives, above 1FFFFF there is no RAM.");
    say("Testing %06X to %06X ...\n", from, to - 1);
    bad = memory_march(from, to, &fault);
    if (bad)
        say("Fault at %06X: wrote %04X, read %04X, bits %04X. %s\n", fault.address, fault.expected, fault.found,
            fault.expected ^ fault.found,
            (fault.expected ^ fault.found) & 0xFF00 ? "The even byte, D8 to D15." : "The odd byte, D0 to D7.");
    else
        say("No fault.\n");
}

/* S-records from the console until the last one; line endings may be of any kind. */
static void run_load(const char *s)
{
    static char line[600];
    u32 entry = 0;
    int number = 0, result = 0;
    (void)s;
    say("Send S-records now; escape ends.\n");
    do {
        int length = ask_line("", line, sizeof line);
        if (length < 0)
            return;
        if (!length)
            continue;
        number++;
        result = srecord_take(line, &entry);
        if (result < 0)
            say("line %d: %s\n", number, srecord_reason(result));
    } while (result != 2);
    saved.pc = entry;
    say("%d lines, start address %06X. `go` goes there.\n", number, entry);
}

static void run_sector(const char *s)
{
    static u8 sector[SECTOR_SIZE];
    u32 number, i;
    int reason;
    if (!want_number(&s, "sector", &number))
        return;
    reason = disk.read(number, sector);
    if (reason)
        return (void)say("sector %u: %s\n", number, disk_reason(reason));
    for (i = 0; i < SECTOR_SIZE; i += 16)
        dump_row((u32)sector + i);
}

static void run_date(const char *s)
{
    struct moment m = { 0 };
    u32 field[6] = { 0 };
    int i;
    if (*skip_blanks(s)) {
        s = skip_blanks(s);
        for (i = 0; i < 6 && read_digits(&s, 10, &field[i]); i++)
            while (*s && !is_digit(*s))
                s++;
        m = (struct moment){ field[0], field[1], field[2], field[3], field[4], field[5] };
        if (i < 3 || !clock_write(&m))
            return (void)complain("A date is written 1988-03-14 16:05:00, and lies between 1980 and 2079.");
    }
    if (!clock_read(&m))
        return (void)complain("The clock is not set. `date 1988-03-14 16:05:00` would set it.");
    say("%s, %d %s %d, %02d:%02d:%02d\n", weekday_names[weekday(day_number(m.year, m.month, m.day))], m.day,
        month_names[m.month - 1], m.year, m.hour, m.minute, m.second);
}

static void run_keys(const char *s)
{
    u32 number;
    int i;
    if (*skip_blanks(s)) {
        if (!want_number(&s, "number of the layout", &number))
            return;
        settings.layout = keyboard_layout(number);
        settings_save();
    }
    for (i = 0; keyboard_layout_name(i); i++)
        say("%c %d  %s\n", i == settings.layout ? '*' : ' ', i, keyboard_layout_name(i));
}

static void run_number(const char *s)
{
    u32 n;
    int bit;
    if (!want_number(&s, "number", &n))
        return;
    say("$%X  #%u  %%", n, n);
    for (bit = 31; bit > 0 && !(n >> bit); bit--)
        ;
    for (; bit >= 0; bit--)
        say_char('0' + (n >> bit & 1));
    say("\n");
}

static void run_check(const char *s)
{
    (void)s;
    say("U41, closing sum over the whole ROM:      %08X, %s\n", sum_closing((u32 *)ROM_BASE, ROM_SIZE),
        rom_good() ? "good" : "WRONG, should be FFFFFFFF");
    say("System part, leading sum at F40000:       %08X, %s\n", sum_leading((u16 *)SYSTEM_BASE, SYSTEM_SIZE),
        system_good() ? "good" : "WRONG, should be what the first long says");
}

static void run_picture(const char *s)
{
    u8 *room = (u8 *)USER_BASE;
    int reason = unpack(picture, room, RAM_SIZE - USER_BASE);
    (void)s;
    if (reason)
        return (void)say("The picture in the ROM is damaged: %s.\n", unpack_reason(reason));
    display_picture(0, 0, SCREEN_WIDTH, SCREEN_HEIGHT, room);
    ask_key();
    say("\f");
}

static void run_font(const char *s)
{
    int c;
    (void)s;
    for (c = 32; c < 127; c++)
        say("%c%s", c, c % 32 == 31 ? "\n" : " ");
    say("\n");
}

static void run_leave(const char *s)
{
    (void)s;
    leaving = ask_yes("What is in memory will be lost. Start again?");
}

static void run_help(const char *s)
{
    int t, i;
    s = skip_blanks(s);
    for (t = 0; t < table_count; t++)
        for (i = 0; i < tables[t].count; i++) {
            const struct command *c = &tables[t].rows[i];
            if (!*s || text_same(s, c->name))
                say("%-9s %-22s %s\n", c->name, c->arguments, c->help);
        }
}

static const struct command base_commands[] = {
    { "help",    "[command]",            "this list, or one line of it", run_help },
    { "dump",    "[address [+length]]",  "show memory as bytes and text", run_dump },
    { "put",     "address [values]",     "write bytes; without values, ask for each", run_put },
    { "fill",    "from to value",        "write one byte all over a range", run_fill },
    { "copy",    "from to target",       "copy memory; the ranges may overlap", run_copy },
    { "compare", "from to other",        "show where two ranges differ, and in which bits", run_compare },
    { "find",    "from to what",         "find bytes, or a \"text\"", run_find },
    { "list",    "[address [lines]]",    "show machine code as instructions", run_list },
    { "regs",    "[register value]",     "show or change the registers of the program", run_registers },
    { "go",      "[address]",            "start or go on with the program", run_go },
    { "load",    "",                     "take S-records from the console", run_load },
    { "sum",     "from to",              "sums and CRCs of a range", run_sum },
    { "test",    "[from to]",            "test RAM; what is there is lost", run_test },
    { "check",   "",                     "check the sums of this ROM", run_check },
    { "sector",  "number",               "show one sector of the disk", run_sector },
    { "date",    "[date time]",          "show or set the clock", run_date },
    { "keys",    "[layout]",             "show or choose the keyboard layout", run_keys },
    { "number",  "number",               "a number in three bases", run_number },
    { "font",    "",                     "show every character", run_font },
    { "picture", "",                     "unpack and show the picture in this ROM", run_picture },
    { "leave",   "",                     "start the machine again from the reset vector", run_leave },
};

/* 0 when there is no such command. A beginning will do where it is the first that fits. */
int monitor_obey(const char *line)
{
    char name[12];
    int n = 0, t, i;
    line = skip_blanks(line);
    while (is_letter(*line) && n < COUNT(name) - 1)
        name[n++] = *line++;
    name[n] = 0;
    if (!n)
        return !*line;
    for (t = 0; t < table_count; t++)
        for (i = 0; i < tables[t].count; i++)
            if (text_begins(tables[t].rows[i].name, name)) {
                tables[t].rows[i].run(line);
                return 1;
            }
    return 0;
}

void monitor_run(void)
{
    static char line[120];
    if (!table_count)
        monitor_add(base_commands, COUNT(base_commands));
    leaving = 0;
    while (!leaving) {
        int length = ask_line("HX> ", line, sizeof line);
        const char *complaint = serial_complaint();
        if (complaint)
            say("Serial line: %s\n", complaint);
        if (length == -1)
            return;
        if (length > 0 && !monitor_obey(line))
            say("There is no such command. `help` lists them.\n");
    }
}
