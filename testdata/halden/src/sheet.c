/* sheet.c: a sheet of figures, columns A to H by rows 1 to 24. A cell holds a text, or a number or expression that may
 * name other cells; SUM(A1:A9) adds a range. */
#include "halden.h"

#define SHEET_COLUMNS 8
#define SHEET_ROWS    24
#define CELL_TEXT     32
#define CELL_WIDTH    13

enum { STALE, AT_WORK, KNOWN, WRONG };

struct cell { char text[CELL_TEXT]; struct decimal value; u8 state; const char *wrong; };

static struct cell (*const cells)[SHEET_COLUMNS] = (struct cell (*)[SHEET_COLUMNS])SHEET_BASE;
static int started;

/* A text that is no figure begins with a quote, and is shown as it is. */
static int is_text(const struct cell *c)
{
    return c->text[0] == '"';
}

static int read_place(const char **at, int *column, int *row)
{
    const char *s = skip_blanks(*at);
    u32 number;
    int letter = letter_up(*s) - 'A';
    if (letter < 0 || letter >= SHEET_COLUMNS || !is_digit(s[1]))
        return 0;
    s++;
    if (!read_digits(&s, 10, &number) || number < 1 || number > SHEET_ROWS)
        return 0;
    *column = letter;
    *row = number - 1;
    *at = s;
    return 1;
}

static void work_out(struct cell *c);

/* An empty cell and a text count as nothing. */
static int cell_value(struct cell *c, struct decimal *value)
{
    if (c->state == STALE)
        work_out(c);
    *value = c->value;
    return c->state == KNOWN;
}

static int sum_range(const char **at, struct decimal *value)
{
    const char *s = *at;
    int c0, r0, c1, r1, c, r;
    struct decimal one;
    if (!read_place(&s, &c0, &r0) || *s++ != ':' || !read_place(&s, &c1, &r1) || *s++ != ')')
        return 0;
    decimal_from(0, value);
    for (r = r0; r <= r1; r++)
        for (c = c0; c <= c1; c++) {
            if (!cell_value(&cells[r][c], &one))
                return 0;
            decimal_add(value, &one, value);
        }
    *at = s;
    return 1;
}

static int name_value(const char **at, struct decimal *value)
{
    const char *s = *at;
    int column, row;
    if (text_begins(s, "sum(")) {
        s += 4;
        if (!sum_range(&s, value))
            return 0;
    } else if (!read_place(&s, &column, &row) || !cell_value(&cells[row][column], value)) {
        return 0;
    }
    *at = s;
    return 1;
}

/* A cell that is met again while it is being worked out depends on itself. */
static void work_out(struct cell *c)
{
    const char *s = skip_blanks(c->text);
    c->state = AT_WORK;
    c->wrong = 0;
    decimal_from(0, &c->value);
    if (*s && !is_text(c)) {
        c->wrong = decimal_expression(&s, name_value, &c->value);
        if (!c->wrong && *s)
            c->wrong = "the end was not understood";
    }
    c->state = c->wrong ? WRONG : KNOWN;
}

static void recalculate(void)
{
    int r, c;
    for (r = 0; r < SHEET_ROWS; r++)
        for (c = 0; c < SHEET_COLUMNS; c++)
            cells[r][c].state = STALE;
    for (r = 0; r < SHEET_ROWS; r++)
        for (c = 0; c < SHEET_COLUMNS; c++)
            if (cells[r][c].state == STALE)
                work_out(&cells[r][c]);
}

static void say_cell(const struct cell *c)
{
    char text[40];
    if (is_text(c)) {
        text_copy(text, c->text + 1, CELL_WIDTH);
        say("%-*s", CELL_WIDTH, text);
        return;
    }
    text[0] = 0;
    if (c->state == WRONG)
        text_copy(text, "?", sizeof text);
    else if (*skip_blanks(c->text))
        decimal_text(&c->value, text, sizeof text);
    if (text_length(text) >= CELL_WIDTH)
        text_copy(text, "too wide", sizeof text);
    say("%*s ", CELL_WIDTH - 1, text);
}

/* Rows after the last that holds anything are not shown. */
static void show(void)
{
    int r, c, last = 0;
    for (r = 0; r < SHEET_ROWS; r++)
        for (c = 0; c < SHEET_COLUMNS; c++)
            if (cells[r][c].text[0])
                last = r + 1;
    say("    ");
    for (c = 0; c < SHEET_COLUMNS; c++)
        say("%6s%c%6s", "", 'A' + c, "");
    say("\n");
    for (r = 0; r < last; r++) {
        say("%2d  ", r + 1);
        for (c = 0; c < SHEET_COLUMNS; c++)
            say_cell(&cells[r][c]);
        say("\n");
    }
}

static void clear(void)
{
    memset(cells, 0, sizeof(struct cell) * SHEET_COLUMNS * SHEET_ROWS);
    recalculate();
    started = 1;
}

/* Copies a formula down a column, its cell names moved by a row each time. */
static void copy_down(int column, int row, int to)
{
    const char *from = cells[row][column].text;
    int r;
    for (r = row + 1; r <= to; r++) {
        char *out = cells[r][column].text;
        const char *s = from;
        int left = CELL_TEXT - 4, c, named;
        while (*s && left > 0) {
            const char *place = s;
            if (!is_text(&cells[row][column]) && is_letter(*s) && read_place(&place, &c, &named)) {
                int n = text_format(out, left, "%c%d", 'A' + c, named + 1 + r - row);
                out += n;
                left -= n;
                s = place;
            } else {
                *out++ = *s++;
                left--;
            }
        }
        *out = 0;
    }
}

/* "B3 = A1 * 2", "B3" to look at it, "down B3 9", "show", "clear" */
static void sheet_line(const char *s)
{
    int column, row;
    u32 last;
    int down = text_begins(s, "down ");
    if (text_same(s, "show"))
        return show();
    if (text_same(s, "clear"))
        return clear();
    if (down)
        s += 5;
    if (!read_place(&s, &column, &row))
        return (void)say("Cells are A1 to H24. `B3 = A1 * 2`, `B4 = \"text`, `down B3 9`, `show`, `clear`, `leave`.\n");
    s = skip_blanks(s);
    if (down) {
        if (!read_digits(&s, 10, &last) || last > SHEET_ROWS)
            return (void)say("Down to which row?\n");
        copy_down(column, row, last - 1);
        recalculate();
    } else if (*s == '=') {
        text_copy(cells[row][column].text, skip_blanks(s + 1), CELL_TEXT);
        recalculate();
    }
    say("%s\n", cells[row][column].text);
    if (cells[row][column].state == WRONG)
        say("%s\n", cells[row][column].wrong);
}

void sheet_run(void)
{
    char line[80];
    if (!started)
        clear();
    show();
    while (ask_line("sheet> ", line, sizeof line) > 0 && !text_same(line, "leave"))
        sheet_line(skip_blanks(line));
}
