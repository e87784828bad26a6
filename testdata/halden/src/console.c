/* console.c: the console is the screen and keyboard together with serial line 0; what is typed at either counts, what
 * is said goes to both. The rest of the ROM knows only the stream. */
#include "halden.h"

#define HISTORY_LINES 8
#define LINE_SIZE     120
#define PAGE_ROWS     44

struct stream console;

static char history[HISTORY_LINES][LINE_SIZE];
static int history_next;

static int both_ready(void)
{
    return keyboard_ready() || serial_ready(0);
}

static int both_get(void)
{
    while (!both_ready())
        ;
    return keyboard_ready() ? keyboard_get() : serial_get(0);
}

static void both_put(int c)
{
    display_put(c);
    if (c == '\n')
        serial_put(0, '\r');
    if (c != '\f')
        serial_put(0, c);
}

void console_open(void)
{
    console.get = both_get;
    console.ready = both_ready;
    console.put = both_put;
}

void say_char(int c)
{
    console.put(c);
}

static void put_console(int c, void *where)
{
    (void)where;
    console.put(c);
}

void say(const char *form, ...)
{
    va_list list;
    va_start(list, form);
    format_to(put_console, 0, form, list);
    va_end(list);
}

int ask_key(void)
{
    return console.get();
}

int ask_yes(const char *question)
{
    int c;
    say("%s (y/n) ", question);
    do
        c = letter_up(ask_key());
    while (c != 'Y' && c != 'N' && c != -1);
    say("%s\n", c == 'Y' ? "yes" : "no");
    return c == 'Y';
}

int stop_wanted(void)
{
    int c;
    if (!console.ready())
        return 0;
    c = console.get();
    return c == 0x1B || c == 3;
}

/* The line editor. `length` characters stand in the line, the cursor before the one at `at`. */
struct edit { char *line; int length, at, size, back; };

static void move_left(int count)
{
    while (count-- > 0)
        say_char('\b');
}

/* Writes again what stands from the cursor on, wipes `gone` places after it and comes back. */
static void show_rest(struct edit *e, int gone)
{
    int i;
    for (i = e->at; i < e->length; i++)
        say_char(e->line[i]);
    for (i = 0; i < gone; i++)
        say_char(' ');
    move_left(e->length - e->at + gone);
}

static void insert_char(struct edit *e, int c)
{
    if (e->length >= e->size - 1) {
        say_char('\a');
        return;
    }
    memmove(e->line + e->at + 1, e->line + e->at, e->length - e->at);
    e->line[e->at] = c;
    e->length++;
    say_char(c);
    e->at++;
    show_rest(e, 0);
}

static void delete_char(struct edit *e)
{
    if (e->at == e->length)
        return;
    e->length--;
    memmove(e->line + e->at, e->line + e->at + 1, e->length - e->at);
    show_rest(e, 1);
}

static void replace_line(struct edit *e, const char *with)
{
    int old = e->length;
    move_left(e->at);
    e->at = 0;
    text_copy(e->line, with, e->size);
    e->length = text_length(e->line);
    show_rest(e, old > e->length ? old - e->length : 0);
    for (; e->at < e->length; e->at++)
        say_char(e->line[e->at]);
}

static void recall(struct edit *e, int step)
{
    int back = e->back + step;
    if (back < 0 || back > HISTORY_LINES)
        return;
    if (back && !history[(history_next + HISTORY_LINES - back) % HISTORY_LINES][0])
        return;
    e->back = back;
    replace_line(e, back ? history[(history_next + HISTORY_LINES - back) % HISTORY_LINES] : "");
}

static void remember(const char *line)
{
    if (!*line || text_same(line, history[(history_next + HISTORY_LINES - 1) % HISTORY_LINES]))
        return;
    text_copy(history[history_next], line, LINE_SIZE);
    history_next = (history_next + 1) % HISTORY_LINES;
}

int ask_line(const char *prompt, char *line, int size)
{
    struct edit e = { line, 0, 0, size, 0 };
    say("%s", prompt);
    for (;;) {
        int c = console.get();
        switch (c) {
        case -1:
            return -1;
        case 3:
        case 0x1B:
            say("\n");
            return -2;
        case '\r':
        case '\n':
            line[e.length] = 0;
            say("\n");
            remember(line);
            return e.length;
        case '\b':
        case 0x7F:
            if (e.at > 0) {
                e.at--;
                say_char('\b');
                delete_char(&e);
            }
            break;
        case KEY_DELETE:
            delete_char(&e);
            break;
        case KEY_LEFT:
            if (e.at > 0) {
                e.at--;
                say_char('\b');
            }
            break;
        case KEY_RIGHT:
            if (e.at < e.length)
                say_char(line[e.at++]);
            break;
        case KEY_HOME:
            move_left(e.at);
            e.at = 0;
            break;
        case KEY_END:
            for (; e.at < e.length; e.at++)
                say_char(line[e.at]);
            break;
        case KEY_UP:
            line[e.length] = 0;
            recall(&e, 1);
            break;
        case KEY_DOWN:
            recall(&e, -1);
            break;
        default:
            if (c >= ' ' && c < 0x7F)
                insert_char(&e, c);
        }
    }
}

/* Shows a long text a screenful at a time. */
void page_text(const char *text, u32 length)
{
    int rows = 0;
    for (; length && *text; text++, length--) {
        say_char(*text);
        if (*text != '\n' || ++rows < PAGE_ROWS || length < 2)
            continue;
        say("-- more: any key, or escape to leave --");
        if (ask_key() == 0x1B) {
            say("\n");
            return;
        }
        say("\r%40s\r", "");
        rows = 0;
    }
}
