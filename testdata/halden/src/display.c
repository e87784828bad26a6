/* display.c: the bitmap screen, 1024 by 768 dots. A set bit is a dark dot on white paper.
 *
 * Text is 128 columns by 48 rows of 8 by 16 dots. Everything drawn is clipped at the edges of the screen.
 */
#include "halden.h"

#define COLUMNS (SCREEN_WIDTH / 8)
#define ROWS    (SCREEN_HEIGHT / 16)

static u8 *const screen = (u8 *)SCREEN_BASE;
static int column, row;

static u8 *row_at(int y)
{
    return screen + y * SCREEN_PITCH;
}

static void apply(u8 *at, u8 mask, enum ink ink)
{
    if (ink == INK_SET)
        *at |= mask;
    else if (ink == INK_CLEAR)
        *at &= ~mask;
    else
        *at ^= mask;
}

/* Cuts a span [*from, *from + *length) to what lies within [0, limit). */
static int clip(int *from, int *length, int limit)
{
    if (*from < 0) {
        *length += *from;
        *from = 0;
    }
    if (*length > limit - *from)
        *length = limit - *from;
    return *length > 0;
}

void display_dot(int x, int y, enum ink ink)
{
    if (x < 0 || y < 0 || x >= SCREEN_WIDTH || y >= SCREEN_HEIGHT)
        return;
    apply(row_at(y) + x / 8, 0x80 >> (x & 7), ink);
}

void display_fill(int x, int y, int width, int height, enum ink ink)
{
    int first, last;
    u8 left, right;
    if (!clip(&x, &width, SCREEN_WIDTH) || !clip(&y, &height, SCREEN_HEIGHT))
        return;
    first = x / 8;
    last = (x + width - 1) / 8;
    left = 0xFF >> (x & 7);
    right = 0xFF << (7 - ((x + width - 1) & 7));
    for (; height > 0; height--, y++) {
        u8 *at = row_at(y) + first;
        int i;
        if (first == last) {
            apply(at, left & right, ink);
            continue;
        }
        apply(at, left, ink);
        for (i = first + 1; i < last; i++)
            apply(++at, 0xFF, ink);
        apply(at + 1, right, ink);
    }
}

/* An even grey: a dot is dark where the threshold of its place in an 8 by 8 square lies above the level. The level is
 * first taken through the gamma table, so that equal steps look equal. */
void display_shade(int x, int y, int width, int height, int level)
{
    int i, light = gamma_table[level & 0xFF];
    if (!clip(&x, &width, SCREEN_WIDTH) || !clip(&y, &height, SCREEN_HEIGHT))
        return;
    for (; height > 0; height--, y++)
        for (i = x; i < x + width; i++)
            display_dot(i, y, spread_table[(y & 7) * 8 + (i & 7)] >= light ? INK_SET : INK_CLEAR);
}

/* The error term says by how much the drawn line has drifted off the true one. */
void display_line(int x0, int y0, int x1, int y1, enum ink ink)
{
    int dx = x1 > x0 ? x1 - x0 : x0 - x1, step_x = x1 > x0 ? 1 : -1;
    int dy = y1 > y0 ? y1 - y0 : y0 - y1, step_y = y1 > y0 ? 1 : -1;
    int drift = dx - dy;
    if (dy == 0) {
        display_fill(x0 < x1 ? x0 : x1, y0, dx + 1, 1, ink);
        return;
    }
    for (;;) {
        int twice = 2 * drift;
        display_dot(x0, y0, ink);
        if (x0 == x1 && y0 == y1)
            return;
        if (twice > -dy)
            drift -= dy, x0 += step_x;
        if (twice < dx)
            drift += dx, y0 += step_y;
    }
}

static void eight_dots(int x, int y, int a, int b, enum ink ink)
{
    display_dot(x + a, y + b, ink);
    display_dot(x - a, y + b, ink);
    display_dot(x + a, y - b, ink);
    display_dot(x - a, y - b, ink);
    display_dot(x + b, y + a, ink);
    display_dot(x - b, y + a, ink);
    display_dot(x + b, y - a, ink);
    display_dot(x - b, y - a, ink);
}

/* One eighth is walked, the rest are its mirror images. */
void display_circle(int x, int y, int radius, enum ink ink)
{
    int a = radius, b = 0, drift = 1 - radius;
    while (a >= b) {
        eight_dots(x, y, a, b, ink);
        b++;
        if (drift > 0) {
            a--;
            drift -= 2 * a;
        }
        drift += 2 * b + 1;
    }
}

/* One character with its left upper dot at x, y. On a byte's edge this is sixteen stores. */
static void glyph(int x, int y, u8 c, enum ink ink)
{
    const u8 *rows = font[c];
    int i, bit;
    if ((x & 7) == 0 && x >= 0 && y >= 0 && x <= SCREEN_WIDTH - 8 && y <= SCREEN_HEIGHT - 16) {
        u8 *at = row_at(y) + x / 8;
        for (i = 0; i < 16; i++, at += SCREEN_PITCH)
            apply(at, rows[i], ink);
        return;
    }
    for (i = 0; i < 16; i++)
        for (bit = 0; bit < 8; bit++)
            if (rows[i] & (0x80 >> bit))
                display_dot(x + bit, y + i, ink);
}

void display_text(int x, int y, const char *s, enum ink ink)
{
    for (; *s; s++, x += 8)
        glyph(x, y, *s, ink);
}

static void scroll(void)
{
    memmove(screen, row_at(16), (ROWS - 1) * 16 * SCREEN_PITCH);
    memset(row_at((ROWS - 1) * 16), 0, 16 * SCREEN_PITCH);
}

static void cursor(void)
{
    display_fill(column * 8, row * 16 + 14, 8, 2, INK_INVERT);
}

void display_at(int to_column, int to_row)
{
    cursor();
    column = to_column < 0 ? 0 : to_column >= COLUMNS ? COLUMNS - 1 : to_column;
    row = to_row < 0 ? 0 : to_row >= ROWS ? ROWS - 1 : to_row;
    cursor();
}

static void next_row(void)
{
    column = 0;
    if (++row == ROWS) {
        row = ROWS - 1;
        scroll();
    }
}

/* Writes at the cursor as a terminal does. The bell is a blink of the whole screen. */
void display_put(int c)
{
    cursor();
    switch (c) {
    case '\n':
        next_row();
        break;
    case '\r':
        column = 0;
        break;
    case '\b':
        if (column > 0)
            column--;
        break;
    case '\t':
        do
            column++;
        while (column % 8);
        if (column >= COLUMNS)
            next_row();
        break;
    case '\f':
        memset(screen, 0, SCREEN_HEIGHT * SCREEN_PITCH);
        column = row = 0;
        break;
    case '\a':
        display_fill(0, 0, SCREEN_WIDTH, SCREEN_HEIGHT, INK_INVERT);
        display_fill(0, 0, SCREEN_WIDTH, SCREEN_HEIGHT, INK_INVERT);
        break;
    default:
        display_fill(column * 8, row * 16, 8, 16, INK_CLEAR);
        glyph(column * 8, row * 16, c, INK_SET);
        if (++column == COLUMNS)
            next_row();
    }
    cursor();
}

void display_open(void)
{
    memset(screen, 0, SCREEN_HEIGHT * SCREEN_PITCH);
    column = row = 0;
    cursor();
}

/* Rows of whole bytes, leftmost dot in bit 7; x is taken to the byte's edge below it. */
void display_picture(int x, int y, int width, int height, const u8 *bits)
{
    int pitch = (width + 7) / 8, i;
    for (i = 0; i < height; i++, bits += pitch)
        if (y + i >= 0 && y + i < SCREEN_HEIGHT && x >= 0 && x / 8 + pitch <= SCREEN_PITCH)
            memcpy(row_at(y + i) + x / 8, bits, pitch);
}

/* A sheet with a double line around it, a shadow, and its title set out of a dark bar. */
void display_frame(int x, int y, int width, int height, const char *title)
{
    display_shade(x + 6, y + 6, width, height, 96);
    display_fill(x, y, width, height, INK_SET);
    display_fill(x + 1, y + 1, width - 2, height - 2, INK_CLEAR);
    display_fill(x + 3, y + 3, width - 6, 20, INK_SET);
    display_fill(x + 3, y + 25, width - 6, 1, INK_SET);
    display_text(x + (width - 8 * text_length(title)) / 2, y + 5, title, INK_INVERT);
}
