/* settings.c: what the battery keeps. */
#include "halden.h"

#define VERSION 3

struct settings settings;

static const struct settings factory = { VERSION, 0, 3, 0, 160, { 0, 0, 0 }, "nobody yet", 0 };
static const u32 rates[] = { 1200, 2400, 4800, 9600, 19200, 38400 };

static u16 check(void)
{
    return crc16(0xFFFF, (const u8 *)&settings, offsetof(struct settings, crc));
}

/* 1 when what the battery kept is whole; else the factory's settings stand. */
int settings_load(void)
{
    u8 *to = (u8 *)&settings;
    u32 i;
    for (i = 0; i < sizeof settings; i++)
        to[i] = CLOCK_KEPT(i);
    if (settings.version == VERSION && settings.crc == check())
        return 1;
    settings = factory;
    return 0;
}

void settings_save(void)
{
    const u8 *from = (const u8 *)&settings;
    u32 i;
    settings.version = VERSION;
    settings.crc = check();
    for (i = 0; i < sizeof settings; i++)
        CLOCK_KEPT(i) = from[i];
}

u32 settings_rate(void)
{
    return settings.rate < COUNT(rates) ? rates[settings.rate] : 9600;
}
