/* decimal.c: arithmetic on fourteen decimal digits, as a desk calculator does it, so that 0.1 is 0.1. */
#include "halden.h"

#define POWER_LIMIT 99

static const struct decimal zero = { 0, 0, { 0 } };

static int is_zero(const struct decimal *n)
{
    return n->digits[0] == 0;
}

/* Takes a row of digits whose point stands before the first, and keeps the first fourteen that matter, rounded. */
static void keep(u8 *digits, int count, int power, int negative, struct decimal *to)
{
    int first = 0, i;
    while (first < count && digits[first] == 0)
        first++;
    *to = zero;
    if (first == count)
        return;
    to->negative = negative;
    to->power = power - first;
    for (i = 0; i < DECIMAL_DIGITS && first + i < count; i++)
        to->digits[i] = digits[first + i];
    if (first + DECIMAL_DIGITS < count && digits[first + DECIMAL_DIGITS] >= 5) {
        for (i = DECIMAL_DIGITS - 1; i >= 0 && ++to->digits[i] == 10; i--)
            to->digits[i] = 0;
        if (i < 0) {
            to->digits[0] = 1;
            to->power++;
        }
    }
    if (to->power < -POWER_LIMIT)
        *to = zero;
}

void decimal_from(i32 n, struct decimal *to)
{
    u8 digits[10];
    u32 rest = n < 0 ? -(u32)n : (u32)n;
    int i;
    for (i = 9; i >= 0; i--) {
        digits[i] = rest % 10;
        rest /= 10;
    }
    keep(digits, 10, 10, n < 0, to);
}

int decimal_read(const char **at, struct decimal *to)
{
    const char *s = *at;
    u8 digits[40];
    int count = 0, power = 0, point = 0, any = 0;
    for (; is_digit(*s) || (*s == '.' && !point); s++) {
        if (*s == '.') {
            point = 1;
            continue;
        }
        any = 1;
        if (count < COUNT(digits))
            digits[count++] = *s - '0';
        if (!point)
            power++;
    }
    if (!any)
        return 0;
    if (letter_up(*s) == 'E' && (is_digit(s[1]) || (s[1] == '-' && is_digit(s[2])))) {
        int minus = s[1] == '-';
        u32 exponent = 0;
        s += 1 + minus;
        if (read_digits(&s, 10, &exponent) && exponent <= POWER_LIMIT)
            power += minus ? -(int)exponent : (int)exponent;
    }
    keep(digits, count, power, 0, to);
    *at = s;
    return 1;
}

/* As few digits as say it all; with an exponent where the plain form would be longer than fifteen places. */
void decimal_text(const struct decimal *n, char *to, int size)
{
    char text[40];
    int last = DECIMAL_DIGITS, at = 0, i, plain = n->power >= -3 && n->power <= DECIMAL_DIGITS;
    int point = plain ? n->power : 1;
    while (last > 0 && n->digits[last - 1] == 0)
        last--;
    if (n->negative)
        text[at++] = '-';
    if (point <= 0) {
        text[at++] = '0';
        text[at++] = '.';
        for (i = point; i < 0; i++)
            text[at++] = '0';
    }
    for (i = 0; i < last || i < point; i++) {
        if (i == point && point > 0)
            text[at++] = '.';
        text[at++] = '0' + (i < last ? n->digits[i] : 0);
    }
    if (is_zero(n)) {
        at = 0;
        text[at++] = '0';
    }
    text[at] = 0;
    if (plain)
        text_copy(to, text, size);
    else
        text_format(to, size, "%sE%d", text, n->power - 1);
}

/* Compares sizes without signs: below 0, 0 or above 0. */
static int compare_sizes(const struct decimal *left, const struct decimal *right)
{
    if (is_zero(left) || is_zero(right))
        return is_zero(right) - is_zero(left);
    if (left->power != right->power)
        return left->power - right->power;
    return memcmp(left->digits, right->digits, DECIMAL_DIGITS);
}

/* Both numbers are laid under each other, the larger above, in a row with a place before it for the carry. */
void decimal_add(const struct decimal *left, const struct decimal *right, struct decimal *to)
{
    u8 row[2 * DECIMAL_DIGITS + 2] = { 0 };
    const struct decimal *large = left, *small = right;
    int i, shift, carry = 0;
    if (compare_sizes(left, right) < 0)
        large = right, small = left;
    shift = large->power - small->power;
    if (is_zero(small) || shift > DECIMAL_DIGITS) {
        *to = *large;
        return;
    }
    memcpy(row + 1, large->digits, DECIMAL_DIGITS);
    for (i = COUNT(row) - 1; i >= 0; i--) {
        int from = i - 1 - shift;
        int digit = from >= 0 && from < DECIMAL_DIGITS ? small->digits[from] : 0;
        int sum = row[i] + carry + (large->negative == small->negative ? digit : -digit);
        carry = sum > 9 ? 1 : sum < 0 ? -1 : 0;
        row[i] = sum - 10 * carry;
    }
    keep(row, COUNT(row), large->power + 1, large->negative, to);
}

/* As on paper: every digit times every digit, then the carries. */
void decimal_multiply(const struct decimal *left, const struct decimal *right, struct decimal *to)
{
    u16 columns[2 * DECIMAL_DIGITS] = { 0 };
    u8 row[2 * DECIMAL_DIGITS];
    int i, j;
    u32 carry = 0;
    for (i = 0; i < DECIMAL_DIGITS; i++)
        for (j = 0; j < DECIMAL_DIGITS; j++)
            columns[i + j + 1] += left->digits[i] * right->digits[j];
    for (i = COUNT(row) - 1; i >= 0; i--) {
        carry += columns[i];
        row[i] = carry % 10;
        carry /= 10;
    }
    keep(row, COUNT(row), left->power + right->power, left->negative != right->negative, to);
}

/* Subtracts the divisor, counts, and shifts by a place. 0 where the divisor is 0. */
int decimal_divide(const struct decimal *left, const struct decimal *right, struct decimal *to)
{
    u8 rest[DECIMAL_DIGITS + 1] = { 0 }, row[DECIMAL_DIGITS + 2];
    int place, i;
    if (is_zero(right))
        return 0;
    memcpy(rest + 1, left->digits, DECIMAL_DIGITS);
    for (place = 0; place < COUNT(row); place++) {
        row[place] = 0;
        while (rest[0] || memcmp(rest + 1, right->digits, DECIMAL_DIGITS) >= 0) {
            int borrow = 0;
            for (i = DECIMAL_DIGITS; i >= 0; i--) {
                int digit = rest[i] - (i ? right->digits[i - 1] : 0) - borrow;
                borrow = digit < 0;
                rest[i] = borrow ? digit + 10 : digit;
            }
            row[place]++;
        }
        memmove(rest, rest + 1, DECIMAL_DIGITS);
        rest[DECIMAL_DIGITS] = 0;
    }
    keep(row, COUNT(row), left->power - right->power + 1, left->negative != right->negative, to);
    return 1;
}

/* Heron's rule, from a guess that has the right power. */
int decimal_root(const struct decimal *n, struct decimal *to)
{
    struct decimal half, guess, quotient, sum;
    const char *text = "0.5";
    int i;
    if (n->negative)
        return 0;
    *to = zero;
    if (is_zero(n))
        return 1;
    decimal_read(&text, &half);
    decimal_from(1, &guess);
    guess.power = (n->power + 1) / 2 + (n->power > 0);
    for (i = 0; i < 60; i++) {
        decimal_divide(n, &guess, &quotient);
        decimal_add(&guess, &quotient, &sum);
        decimal_multiply(&sum, &half, &quotient);
        if (memcmp(&quotient, &guess, sizeof guess) == 0)
            break;
        guess = quotient;
    }
    *to = guess;
    return 1;
}

/* Expressions: sums of products of factors. The first thing that is wrong is remembered, and the rest is let pass. */
struct reader { const char *at; decimal_name *name; const char *wrong; int depth; };

static void read_sum(struct reader *r, struct decimal *to);

static int next_is(struct reader *r, char c)
{
    r->at = skip_blanks(r->at);
    if (*r->at != c)
        return 0;
    r->at++;
    return 1;
}

static void read_factor(struct reader *r, struct decimal *to)
{
    *to = zero;
    r->at = skip_blanks(r->at);
    if (++r->depth > 20) {
        r->wrong = "too many brackets within brackets";
    } else if (next_is(r, '-')) {
        read_factor(r, to);
        to->negative = !to->negative && !is_zero(to);
    } else if (next_is(r, '(')) {
        read_sum(r, to);
        if (!r->wrong && !next_is(r, ')'))
            r->wrong = "a bracket is not closed";
    } else if (text_begins(r->at, "root")) {
        struct decimal of;
        r->at += 4;
        read_factor(r, &of);
        if (!r->wrong && !decimal_root(&of, to))
            r->wrong = "a negative number has no root here";
    } else if (!decimal_read(&r->at, to) && !(is_letter(*r->at) && r->name && r->name(&r->at, to))) {
        r->wrong = *r->at ? "a number was expected, or a name that has one" : "something is missing at the end";
    }
    if (next_is(r, '%'))
        to->power -= is_zero(to) ? 0 : 2;
    r->depth--;
}

static void read_product(struct reader *r, struct decimal *to)
{
    struct decimal right;
    read_factor(r, to);
    while (!r->wrong) {
        if (next_is(r, '*')) {
            read_factor(r, &right);
            decimal_multiply(to, &right, to);
        } else if (next_is(r, '/')) {
            read_factor(r, &right);
            if (!r->wrong && !decimal_divide(to, &right, to))
                r->wrong = "division by zero";
        } else {
            break;
        }
        if (to->power > POWER_LIMIT)
            r->wrong = "the number is too large";
    }
}

static void read_sum(struct reader *r, struct decimal *to)
{
    struct decimal right;
    read_product(r, to);
    while (!r->wrong) {
        int minus = next_is(r, '-');
        if (!minus && !next_is(r, '+'))
            break;
        read_product(r, &right);
        if (minus && !is_zero(&right))
            right.negative = !right.negative;
        decimal_add(to, &right, to);
    }
}

const char *decimal_expression(const char **at, decimal_name *name, struct decimal *to)
{
    struct reader r = { *at, name, 0, 0 };
    read_sum(&r, to);
    *at = skip_blanks(r.at);
    return r.wrong;
}
