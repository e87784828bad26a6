/* notebook.c: short notes, kept by line until the power goes. */
#include "halden.h"

#define LINES     200
#define LINE_TEXT 100

static char (*const lines)[LINE_TEXT] = (char (*)[LINE_TEXT])NOTES_BASE;
static int count;

static void show(int from, int to)
{
    int i;
    for (i = from; i < to && !stop_wanted(); i++)
        say("%3d  %s\n", i + 1, lines[i]);
}

static void open_gap(int at)
{
    memmove(lines[at + 1], lines[at], (count - at) * LINE_TEXT);
    count++;
}

/* Lines are taken until an empty one. */
static void write_from(int at)
{
    char line[LINE_TEXT], prompt[8];
    while (count < LINES) {
        text_format(prompt, sizeof prompt, "%3d  ", at + 1);
        if (ask_line(prompt, line, sizeof line) <= 0)
            return;
        open_gap(at);
        text_copy(lines[at++], line, LINE_TEXT);
    }
    say("The notebook is full.\n");
}

static void tear_out(int from, int to)
{
    memmove(lines[from], lines[to], (count - to) * LINE_TEXT);
    count -= to - from;
}

static int contains(const char *line, const char *what)
{
    for (; *line; line++)
        if (text_begins(line, what))
            return 1;
    return 0;
}

static void find(const char *what)
{
    int i, found = 0;
    for (i = 0; i < count; i++)
        if (*what && contains(lines[i], what)) {
            show(i, i + 1);
            found++;
        }
    if (!found)
        say("Nothing of that kind.\n");
}

/* Exchanges a word for another in every line; a line that would grow too long stays as it was. */
static void exchange(const char *s)
{
    char old[24], new[24], line[LINE_TEXT];
    int i, n, changed = 0;
    for (n = 0; *s && *s != '/' && n < 23; s++)
        old[n++] = *s;
    old[n] = 0;
    if (*s == '/')
        s++;
    text_copy(new, s, sizeof new);
    if (!old[0])
        return (void)say("exchange old/new\n");
    for (i = 0; i < count; i++) {
        const char *from = lines[i];
        int at = 0, hit = 0;
        while (*from && at < LINE_TEXT - 24) {
            if (text_begins(from, old)) {
                at += text_format(line + at, LINE_TEXT - at, "%s", new);
                from += text_length(old);
                hit = 1;
            } else {
                line[at++] = *from++;
            }
        }
        line[at] = 0;
        if (hit && !*from) {
            text_copy(lines[i], line, LINE_TEXT);
            changed++;
        }
    }
    say("%d lines changed.\n", changed);
}

static void tally(void)
{
    int i, words = 0, letters = 0;
    const char *s;
    for (i = 0; i < count; i++)
        for (s = lines[i]; *s; s++) {
            letters += *s > ' ';
            words += *s > ' ' && s[1] <= ' ';
        }
    say("%d lines, %d words, %d letters.\n", count, words, letters);
}

/* Sorts by inserting each line where it belongs among those before it. */
static void sort(void)
{
    char line[LINE_TEXT];
    int i, at;
    for (i = 1; i < count; i++) {
        text_copy(line, lines[i], LINE_TEXT);
        for (at = i; at > 0; at--) {
            const char *a = lines[at - 1], *b = line;
            while (*a && letter_up(*a) == letter_up(*b))
                a++, b++;
            if (letter_up(*a) <= letter_up(*b))
                break;
            text_copy(lines[at], lines[at - 1], LINE_TEXT);
        }
        text_copy(lines[at], line, LINE_TEXT);
    }
}

static int line_argument(const char **at, int missing)
{
    u32 n;
    *at = skip_blanks(*at);
    if (!read_digits(at, 10, &n) || n < 1)
        return missing;
    return n > (u32)count ? count : (int)n - 1;
}

static void notebook_line(const char *s)
{
    if (text_begins(s, "write")) {
        s += 5;
        write_from(line_argument(&s, count));
    } else if (text_begins(s, "tear")) {
        int from, to;
        s += 4;
        from = line_argument(&s, count);
        to = line_argument(&s, from) + 1;
        if (from < count && to > from && to <= count)
            tear_out(from, to);
    } else if (text_begins(s, "find ")) {
        find(skip_blanks(s + 5));
    } else if (text_begins(s, "exchange ")) {
        exchange(skip_blanks(s + 9));
    } else if (text_same(s, "show")) {
        show(0, count);
    } else if (text_same(s, "count")) {
        tally();
    } else if (text_same(s, "sort")) {
        sort();
    } else {
        say("show, write [line], tear line [line], find text, exchange old/new, sort, count, leave\n");
    }
}

void notebook_run(void)
{
    char line[LINE_TEXT];
    show(0, count);
    while (ask_line("notebook> ", line, sizeof line) > 0 && !text_same(line, "leave"))
        notebook_line(skip_blanks(line));
}
