/* main.c: from power-on to the monitor, and what happens after an exception. */
#include "halden.h"

static const char banner[] =
    "HALDEN HX-16 SYSTEM ROM REV C 1988-03-14\n"
    "Monitor 3.1, system part 3.4. Type `help` for the commands, `manual` for the manual.\n";

static const char *const exception_names[] = {
    "reset", "reset", "Bus error", "Address error", "Illegal instruction", "Division by zero", "CHK out of bounds",
    "TRAPV overflow", "Privilege violation", "Trace", "Line 1010 instruction", "Line 1111 instruction",
};

#define EXCEPTION_SPURIOUS  24
#define EXCEPTION_ATTENTION 31
#define EXCEPTION_TRAPS     32
#define EXCEPTION_CARDS     64

int rom_good(void)
{
    return sum_closing((const u32 *)ROM_BASE, ROM_SIZE) == 0xFFFFFFFFu;
}

int system_good(void)
{
    return memcmp(system_header.mark, "HXSY", 4) == 0 && system_header.size == SYSTEM_SIZE &&
           sum_leading((const u16 *)SYSTEM_BASE, SYSTEM_SIZE) == system_header.sum;
}

static void result(const char *what, int good, const char *note)
{
    say("  %-28s %s%s%s\n", what, good ? "good" : "NOT GOOD", *note ? ", " : "", note);
}

/* Each test that fails is named, and the machine goes on as far as it can: the monitor is the tool for the rest. */
static void self_test(void)
{
    struct memory_fault fault;
    struct moment now;
    char note[80];
    u32 size = memory_size();
    int reason;

    LATCH = LATCH_OVERLAY_OFF | LATCH_LAMP(0) | LATCH_LAMP(1) | LATCH_LAMP(2);
    result("ROM, closing sum", rom_good(), "");
    result("system part, leading sum", system_good(), system_header.name);
    text_format(note, sizeof note, "%u KiB", size / 1024);
    result("RAM, address lines", !memory_address_lines(0x80000, 0x80000, &fault), note);
    text_format(note, sizeof note, "040000 to %06X", 0x080000 - 1);
    result("RAM, march", !memory_march(USER_BASE, 0x080000, &fault), note);
    result("settings", settings_load(), settings.owner);
    result("clock", clock_read(&now), "");
    reason = disk_open();
    result("disk", !reason, disk_reason(reason));
}

void power_on(void)
{
    settings_load();
    display_open();
    keyboard_open();
    serial_open(0, settings_rate());
    serial_open(1, 1200);
    console_open();
    __asm__ volatile("move.w #0x2000, %sr");
    say("%s\n", banner);
    display_picture(SCREEN_WIDTH - 128, 16, 96, 112, logo);
    self_test();
    LATCH = LATCH_OVERLAY_OFF | LATCH_LAMP(3);
    if (system_good())
        system_header.enter();
    monitor_run();
}

static void name_exception(int vector)
{
    if (vector < COUNT(exception_names))
        say("%s", exception_names[vector]);
    else if (vector == EXCEPTION_SPURIOUS)
        say("Spurious interrupt");
    else if (vector == EXCEPTION_ATTENTION)
        say("The attention button");
    else if (vector >= EXCEPTION_TRAPS && vector < EXCEPTION_TRAPS + 16)
        say("Trap %d", vector - EXCEPTION_TRAPS);
    else if (vector >= EXCEPTION_CARDS)
        say("Interrupt %d of an expansion card", vector);
    else
        say("Exception %d", vector);
}

/* The registers are in `saved`. The kind word of a bus or address error says in bit 4 whether it was a read, and in
 * bits 0 to 2 which space it was in. */
void exception_report(int vector)
{
    char text[64];
    console_open();
    say("\n");
    name_exception(vector);
    if (vector == 2 || vector == 3)
        say(" on %s %s at %06X", saved.kind & 0x10 ? "reading" : "writing",
            (saved.kind & 3) == 2 ? "program" : "data", saved.access & 0xFFFFFF);
    say(", program at %06X\n", saved.pc & 0xFFFFFF);
    monitor_obey("regs");
    if (!(saved.pc & 1)) {
        disassemble(saved.pc, text, sizeof text);
        say("%06X   %s\n", saved.pc, text);
    }
    __asm__ volatile("move.w #0x2000, %sr");
    monitor_run();
}

/* What TRAP #0 gives to programs where no function of the ROM has the right shape. */
void service_character(u32 c)
{
    say_char(c);
}

void service_string(u32 unused, u32 also_unused, const char *s)
{
    (void)unused;
    (void)also_unused;
    say("%s", s);
}

int service_ready(void)
{
    return console.ready();
}
