/* calendar.c: the calendar and the clock face on the desk. */
#include "halden.h"

#define FACE_X      820
#define FACE_Y      420
#define FACE_RADIUS 150

static void say_centred(const char *text, int width)
{
    int before = (width - text_length(text)) / 2;
    say("%*s%s%*s", before, "", text, width - before - text_length(text), "");
}

/* One row of a month: its week number, then seven days. Row 0 holds day 1. */
static void say_week(int year, int month, int row)
{
    int first = weekday(day_number(year, month, 1)), days = days_in_month(year, month), d;
    int monday = row * 7 - first + 1;
    if (monday > days) {
        say("%24s", "");
        return;
    }
    say("%2d ", week_of_year(year, month, monday < 1 ? 1 : monday));
    for (d = monday; d < monday + 7; d++)
        if (d < 1 || d > days)
            say("   ");
        else
            say("%3d", d);
}

static void say_months(int year, int first, int count)
{
    char title[20];
    int m, row;
    for (m = first; m < first + count; m++) {
        text_format(title, sizeof title, "%s %d", month_names[m - 1], year);
        say_centred(title, 24);
        say("   ");
    }
    say("\n");
    for (m = 0; m < count; m++)
        say("wk  Mo Tu We Th Fr Sa Su   ");
    say("\n");
    for (row = 0; row < 6; row++) {
        for (m = first; m < first + count; m++) {
            say_week(year, m, row);
            say("   ");
        }
        say("\n");
    }
}

static void say_year(int year)
{
    int m, month, day;
    for (m = 1; m <= 12; m += 3)
        say_months(year, m, 3);
    easter(year, &month, &day);
    say("Easter Sunday is %d %s. The year has %d days.\n", day, month_names[month - 1], is_leap(year) ? 366 : 365);
}

static int read_date(const char **at, struct moment *m)
{
    u32 field[3];
    int i;
    for (i = 0; i < 3; i++) {
        while (**at == ' ' || **at == '-' || **at == '.')
            ++*at;
        if (!read_digits(at, 10, &field[i]))
            return 0;
    }
    *m = (struct moment){ field[0], field[1], field[2], 0, 0, 0 };
    return moment_valid(m) && m->year >= 1900 && m->year <= 2199;
}

/* "between 1988-03-14 1991-10-02" */
static void say_between(const char *s)
{
    struct moment from, to;
    i32 days;
    if (!read_date(&s, &from) || !read_date(&s, &to)) {
        say("Two dates are wanted, as 1988-03-14, from 1900 to 2199.\n");
        return;
    }
    days = day_number(to.year, to.month, to.day) - day_number(from.year, from.month, from.day);
    say("%d days, that is %d weeks and %d days. The second is a %s.\n", days, days / 7, days % 7,
        weekday_names[weekday(day_number(to.year, to.month, to.day))]);
}

static void calendar_line(const char *s)
{
    u32 year = 0, month = 0;
    if (text_begins(s, "between")) {
        say_between(s + 7);
        return;
    }
    if (!read_digits(&s, 10, &year) || year < 1900 || year > 2199) {
        say("A year from 1900 to 2199, a year and a month, or `between` and two dates.\n");
        return;
    }
    s = skip_blanks(s);
    if (read_digits(&s, 10, &month) && month >= 1 && month <= 12)
        say_months(year, month, 1);
    else
        say_year(year);
}

void calendar_run(void)
{
    char line[60];
    struct moment now;
    if (clock_read(&now))
        say_months(now.year, now.month, 1);
    while (ask_line("calendar> ", line, sizeof line) > 0 && !text_same(line, "leave"))
        calendar_line(skip_blanks(line));
}

/* Angle 0 of maths.c points right and turns with y; a clock's hand at 0 points up. */
static void hand(int part, int of, int length, int width)
{
    int angle = part * 1024 / of - 256, side;
    int x = FACE_X + (cosine(angle) * length >> 16), y = FACE_Y + (sine(angle) * length >> 16);
    for (side = -width; side <= width; side++) {
        int dx = sine(angle) * side >> 16, dy = -(cosine(angle) * side >> 16);
        display_line(FACE_X + dx, FACE_Y + dy, x, y, INK_SET);
    }
}

void clockface_draw(const struct moment *now)
{
    static const char *const numerals[] = { "XII", "III", "VI", "IX" };
    int i;
    display_frame(FACE_X - 190, FACE_Y - 200, 380, 380, "Clock");
    display_circle(FACE_X, FACE_Y, FACE_RADIUS, INK_SET);
    display_circle(FACE_X, FACE_Y, FACE_RADIUS + 4, INK_SET);
    for (i = 0; i < 60; i++) {
        int angle = i * 1024 / 60, inner = FACE_RADIUS - (i % 5 ? 4 : 12);
        display_line(FACE_X + (cosine(angle) * inner >> 16), FACE_Y + (sine(angle) * inner >> 16),
                     FACE_X + (cosine(angle) * FACE_RADIUS >> 16), FACE_Y + (sine(angle) * FACE_RADIUS >> 16), INK_SET);
    }
    for (i = 0; i < 4; i++) {
        int angle = i * 256 - 256, radius = FACE_RADIUS - 28;
        display_text(FACE_X + (cosine(angle) * radius >> 16) - 4 * text_length(numerals[i]),
                     FACE_Y + (sine(angle) * radius >> 16) - 8, numerals[i], INK_SET);
    }
    hand(now->hour % 12 * 60 + now->minute, 720, 80, 3);
    hand(now->minute, 60, 120, 2);
    hand(now->second, 60, 130, 0);
}

/* Draws once a second until a key is pressed. */
void clockface_run(void)
{
    struct moment now;
    int shown = -1;
    if (!clock_read(&now)) {
        say("The clock is not set.\n");
        return;
    }
    while (!console.ready())
        if (clock_read(&now) && now.second != shown) {
            shown = now.second;
            clockface_draw(&now);
        }
    console.get();
    say("\f");
}
