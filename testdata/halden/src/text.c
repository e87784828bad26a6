/* text.c: letters, numbers and forms. Text is ASCII and ends with a zero. */
#include "halden.h"

int text_length(const char *s)
{
    int n = 0;
    while (s[n])
        n++;
    return n;
}

int letter_up(int c)
{
    return c >= 'a' && c <= 'z' ? c - 'a' + 'A' : c;
}

int is_digit(int c)
{
    return c >= '0' && c <= '9';
}

int is_letter(int c)
{
    c = letter_up(c);
    return c >= 'A' && c <= 'Z';
}

int text_same(const char *left, const char *right)
{
    while (*left && letter_up(*left) == letter_up(*right))
        left++, right++;
    return letter_up(*left) == letter_up(*right);
}

int text_begins(const char *s, const char *beginning)
{
    while (*beginning)
        if (letter_up(*s++) != letter_up(*beginning++))
            return 0;
    return 1;
}

void text_copy(char *to, const char *from, int size)
{
    while (--size > 0 && *from)
        *to++ = *from++;
    *to = 0;
}

const char *skip_blanks(const char *s)
{
    while (*s == ' ' || *s == '\t')
        s++;
    return s;
}

static int digit_value(int c)
{
    c = letter_up(c);
    if (is_digit(c))
        return c - '0';
    return is_letter(c) ? c - 'A' + 10 : 99;
}

/* A number that does not fit in 32 bits is no number: *at stays where it was. */
int read_digits(const char **at, int base, u32 *value)
{
    const char *s = *at;
    u32 limit = 0xFFFFFFFFu / base, n = 0;
    if (digit_value(*s) >= base)
        return 0;
    for (; digit_value(*s) < base; s++) {
        u32 digit = digit_value(*s);
        if (n > limit || n * base > 0xFFFFFFFFu - digit)
            return 0;
        n = n * base + digit;
    }
    *value = n;
    *at = s;
    return 1;
}

int read_number(const char **at, u32 *value)
{
    const char *s = skip_blanks(*at);
    int base = 16;
    if (*s == '#')
        base = 10, s++;
    else if (*s == '%')
        base = 2, s++;
    else if (*s == '$')
        s++;
    if (!read_digits(&s, base, value) || is_letter(*s) || is_digit(*s))
        return 0;
    *at = s;
    return 1;
}

/* Digits are made from the right into the end of a buffer that holds 32 of them. */
static char *number_text(u32 n, int base, char *end)
{
    *end = 0;
    do {
        *--end = "0123456789ABCDEF"[n % base];
        n /= base;
    } while (n);
    return end;
}

static void put_padded(void (*put)(int, void *), void *where, const char *s, int width, int left, int fill)
{
    int room = width - text_length(s);
    if (fill == '0' && *s == '-') {
        put(*s++, where);
    }
    for (; !left && room > 0; room--)
        put(fill, where);
    while (*s)
        put(*s++, where);
    for (; room > 0; room--)
        put(' ', where);
}

/* The forms are %c %s %d %u %x %X and %%, with a width, a leading 0 to fill with zeros and a - to fill at the right.
 * %X and %x both write capitals. A width of * is taken from the arguments. */
void format_to(void (*put)(int c, void *where), void *where, const char *form, va_list list)
{
    char digits[36];
    for (; *form; form++) {
        int left = 0, fill = ' ', width = 0;
        const char *s = digits;
        if (*form != '%') {
            put(*form, where);
            continue;
        }
        form++;
        if (*form == '-')
            left = 1, form++;
        if (*form == '0')
            fill = '0', form++;
        if (*form == '*')
            width = va_arg(list, int), form++;
        for (; is_digit(*form); form++)
            width = width * 10 + *form - '0';
        switch (*form) {
        case 'c':
            digits[0] = va_arg(list, int);
            digits[1] = 0;
            break;
        case 's':
            s = va_arg(list, const char *);
            break;
        case 'd': {
            i32 n = va_arg(list, i32);
            char *first = number_text(n < 0 ? -(u32)n : (u32)n, 10, digits + 35);
            if (n < 0)
                *--first = '-';
            s = first;
            break;
        }
        case 'u':
            s = number_text(va_arg(list, u32), 10, digits + 35);
            break;
        case 'x':
        case 'X':
            s = number_text(va_arg(list, u32), 16, digits + 35);
            break;
        case 0:
            return;
        default:
            digits[0] = *form;
            digits[1] = 0;
        }
        put_padded(put, where, s, width, left, fill);
    }
}

struct room { char *at; int left; };

static void put_room(int c, void *where)
{
    struct room *room = where;
    if (room->left > 1) {
        *room->at++ = c;
        room->left--;
    }
}

int text_format(char *to, int size, const char *form, ...)
{
    struct room room = { to, size };
    va_list list;
    va_start(list, form);
    format_to(put_room, &room, form, list);
    va_end(list);
    *room.at = 0;
    return room.at - to;
}
