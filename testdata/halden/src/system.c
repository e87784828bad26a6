/* system.c: the door to the system part: its header, its commands, and the desk. */
#include "halden.h"

/* The packer puts the leading sum into the first long. */
const struct part_header system_header __attribute__((section(".header"))) = {
    0, { 'H', 'X', 'S', 'Y' }, SYSTEM_SIZE, system_enter, 0x0304, 117, "HX-16 system part 3.4, 1988-03-11",
};

/* The last 32 bytes of U41. The packer puts in the long that makes the closing sum come out. */
const struct { char mark[8]; u32 balance, size; char name[16]; } closing __attribute__((section(".closing"))) = {
    { 'U', '4', '1', ' ', 'R', 'E', 'V', 'C' }, 0, ROM_SIZE, "Halden 88-03-14",
};

struct accessory { const char *name, *about; void (*run)(void); };

static const struct accessory accessories[] = {
    { "Calculator", "fourteen digits and a paper strip",     calculator_run },
    { "Sheet",      "figures in rows and columns",           sheet_run },
    { "Notebook",   "short notes",                           notebook_run },
    { "Calendar",   "months, week numbers, days between",    calendar_run },
    { "Clock",      "the time, with hands",                  clockface_run },
    { "Fifteen",    "tiles to push while the disk is slow",  puzzle_run },
    { "Basic",      "programs in whole numbers",             basic_run },
};

static void draw_desk(void)
{
    char line[60];
    int i;
    say("\f");
    display_shade(0, 0, SCREEN_WIDTH, SCREEN_HEIGHT, settings.shade);
    display_frame(80, 96, 480, 64 + 32 * COUNT(accessories), "The desk");
    for (i = 0; i < COUNT(accessories); i++) {
        text_format(line, sizeof line, "%d  %-12s %s", i + 1, accessories[i].name, accessories[i].about);
        display_text(104, 144 + 32 * i, line, INK_SET);
    }
    display_picture(SCREEN_WIDTH - 160, 40, 96, 112, logo);
    display_at(0, 44);
}

void desk_run(void)
{
    int key;
    for (;;) {
        draw_desk();
        say("1 to %d opens, escape leaves the desk: ", COUNT(accessories));
        do
            key = ask_key();
        while (key != -1 && key != 0x1B && (key < '1' || key >= '1' + COUNT(accessories)));
        say("\f");
        if (key == -1 || key == 0x1B)
            return;
        accessories[key - '1'].run();
    }
}

static void run_desk(const char *s)
{
    (void)s;
    desk_run();
}

static void run_basic(const char *s)
{
    s = skip_blanks(s);
    if (*s)
        basic_line(s);
    else
        basic_run();
}

static void run_accessory(const char *s)
{
    int i;
    s = skip_blanks(s);
    for (i = 0; i < COUNT(accessories); i++)
        if (*s && text_begins(accessories[i].name, s)) {
            accessories[i].run();
            return;
        }
    for (i = 0; i < COUNT(accessories); i++)
        say("%-12s %s\n", accessories[i].name, accessories[i].about);
}

static int mounted(void)
{
    char name[25];
    int reason = volume_mount(name, sizeof name);
    if (reason)
        say("%s\n", file_reason(reason));
    else
        say("Volume %s\n", name);
    return !reason;
}

static void run_files(const char *s)
{
    (void)s;
    if (mounted())
        volume_list();
}

/* Brings a whole file to USER_BASE; its length, or -1. */
static i32 fetch(const char *name)
{
    struct file file;
    int reason;
    if (!mounted())
        return -1;
    reason = file_open(skip_blanks(name), &file);
    if (!reason && file.length > RAM_SIZE - USER_BASE) {
        say("%u bytes do not fit into RAM.\n", file.length);
        return -1;
    }
    if (!reason) {
        i32 length = file_read(&file, (u8 *)USER_BASE, file.length);
        if (length >= 0)
            return length;
        reason = -length;
    }
    say("%s\n", file_reason(reason));
    return -1;
}

static void run_type(const char *s)
{
    i32 length = fetch(s);
    if (length > 0)
        page_text((const char *)USER_BASE, length);
}

/* Programs are linked to run at USER_BASE and begin there. */
static void run_run(const char *s)
{
    if (fetch(s) <= 0)
        return;
    saved.pc = USER_BASE;
    saved.ssp = RAM_SIZE;
    saved.sr = 0x2000;
    go_program(&saved);
}

static void run_owner(const char *s)
{
    s = skip_blanks(s);
    if (*s) {
        text_copy(settings.owner, s, sizeof settings.owner);
        settings_save();
    }
    say("This machine belongs to %s.\n", settings.owner);
}

static void run_shade(const char *s)
{
    u32 level;
    if (!read_number(&s, &level) || level > 255)
        return (void)say("shade 0 (black) to FF (white); it is %X.\n", settings.shade);
    settings.shade = level;
    settings_save();
    display_shade(0, 0, SCREEN_WIDTH, 16, level);
}

static const struct command system_commands[] = {
    { "desk",   "",          "the desk with its accessories", run_desk },
    { "open",   "[name]",    "one accessory, without the desk", run_accessory },
    { "basic",  "[line]",    "Halden Basic", run_basic },
    { "volume", "",          "the files on the disk", run_files },
    { "type",   "name",      "show a file", run_type },
    { "run",    "name",      "bring a program from the disk and start it", run_run },
    { "manual", "[chapter]", "the manual", manual_run },
    { "owner",  "[name]",    "show or set whose machine this is", run_owner },
    { "shade",  "[level]",   "the grey of the desk", run_shade },
};

void system_enter(void)
{
    monitor_add(system_commands, COUNT(system_commands));
    disk.read = disk_read;
    disk.write = disk_write;
    if (settings.boot == 1)
        desk_run();
}
