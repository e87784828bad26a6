/* clock.c: the clock part, and the calendar that goes with it. */
#include "halden.h"

#define HOLD      0x01          /* the digits stand still while this is set */
#define STOPPED   0x08          /* the battery was out */
#define TRIES     5

const char *const month_names[12] = {
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
};

const char *const weekday_names[7] = {
    "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday",
};

/* Two digits each, the lower first: second, minute, hour, day, month, year of the century. */
static int pair(int n)
{
    return CLOCK_DIGIT(2 * n) + 10 * CLOCK_DIGIT(2 * n + 1);
}

static void set_pair(int n, int value)
{
    CLOCK_SET(2 * n, value % 10);
    CLOCK_SET(2 * n + 1, value / 10);
}

static void take(struct moment *m)
{
    m->second = pair(0);
    m->minute = pair(1);
    m->hour = pair(2);
    m->day = pair(3);
    m->month = pair(4);
    m->year = pair(5);
    m->year += m->year < 80 ? 2000 : 1900;
}

static int same_moment(const struct moment *a, const struct moment *b)
{
    return a->second == b->second && a->minute == b->minute && a->hour == b->hour &&
           a->day == b->day && a->month == b->month && a->year == b->year;
}

/* A digit may turn over between two looks, so two looks must agree. */
int clock_read(struct moment *now)
{
    struct moment again;
    int i;
    if (CLOCK_CONTROL & STOPPED)
        return 0;
    for (i = 0; i < TRIES; i++) {
        take(now);
        take(&again);
        if (same_moment(now, &again))
            return moment_valid(now);
    }
    return 0;
}

int clock_write(const struct moment *now)
{
    if (!moment_valid(now) || now->year < 1980 || now->year > 2079)
        return 0;
    CLOCK_CONTROL = HOLD;
    set_pair(0, now->second);
    set_pair(1, now->minute);
    set_pair(2, now->hour);
    set_pair(3, now->day);
    set_pair(4, now->month);
    set_pair(5, now->year % 100);
    CLOCK_CONTROL = 0;
    return 1;
}

int is_leap(int year)
{
    return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
}

int days_in_month(int year, int month)
{
    static const u8 days[12] = { 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31 };
    return month == 2 && is_leap(year) ? 29 : days[month - 1];
}

int moment_valid(const struct moment *m)
{
    return m->month >= 1 && m->month <= 12 && m->day >= 1 && m->day <= days_in_month(m->year, m->month) &&
           m->hour >= 0 && m->hour < 24 && m->minute >= 0 && m->minute < 60 && m->second >= 0 && m->second < 60;
}

/* Leap days before 1 January of the year. */
static i32 leap_days(int year)
{
    int before = year - 1;
    return before / 4 - before / 100 + before / 400;
}

i32 day_number(int year, int month, int day)
{
    i32 number = (year - 1900) * 365 + leap_days(year) - leap_days(1900) + day - 1;
    int m;
    for (m = 1; m < month; m++)
        number += days_in_month(year, m);
    return number;
}

void day_date(i32 number, struct moment *m)
{
    m->year = 1900 + number / 366;
    while (number >= day_number(m->year + 1, 1, 1))
        m->year++;
    number -= day_number(m->year, 1, 1);
    for (m->month = 1; number >= days_in_month(m->year, m->month); m->month++)
        number -= days_in_month(m->year, m->month);
    m->day = number + 1;
}

/* 1 January 1900 was a Monday. */
int weekday(i32 number)
{
    return number % 7;
}

/* A week belongs to the year that holds its Thursday (ISO 8601). */
int week_of_year(int year, int month, int day)
{
    i32 number = day_number(year, month, day);
    i32 thursday = number - weekday(number) + 3;
    struct moment m;
    day_date(thursday, &m);
    return (thursday - day_number(m.year, 1, 1)) / 7 + 1;
}

/* The rule for any Gregorian year as an anonymous reader sent it to a journal in 1876. */
void easter(int year, int *month, int *day)
{
    int a = year % 19, b = year / 100, c = year % 100;
    int d = b / 4, e = b % 4, f = (b + 8) / 25, g = (b - f + 1) / 3;
    int h = (19 * a + b - d - g + 15) % 30;
    int i = c / 4, k = c % 4;
    int l = (32 + 2 * e + 2 * i - h - k) % 7;
    int m = (a + 11 * h + 22 * l) / 451;
    *month = (h + l - 7 * m + 114) / 31;
    *day = (h + l - 7 * m + 114) % 31 + 1;
}
