/* calculator.c: the desk calculator. It keeps a paper strip of results and ten memories, M0 to M9. */
#include "halden.h"

#define MEMORIES 10

static struct decimal memories[MEMORIES];
static struct decimal last;
static int started;

static void start(void)
{
    int i;
    for (i = 0; i < MEMORIES; i++)
        decimal_from(0, &memories[i]);
    decimal_from(0, &last);
    started = 1;
}

static const char pi_text[] = "3.14159265358979";

/* M0 to M9, `it` for the last result, and pi. */
static int name_value(const char **at, struct decimal *value)
{
    const char *s = *at;
    if (letter_up(s[0]) == 'M' && is_digit(s[1])) {
        *value = memories[s[1] - '0'];
        *at = s + 2;
        return 1;
    }
    if (text_begins(s, "it")) {
        *value = last;
        *at = s + 2;
        return 1;
    }
    if (text_begins(s, "pi")) {
        const char *text = pi_text;
        *at = s + 2;
        return decimal_read(&text, value);
    }
    return 0;
}

/* "expression" or "expression > M3" */
static void work_out(const char *line)
{
    struct decimal value;
    char text[40];
    const char *wrong = decimal_expression(&line, name_value, &value);
    if (!wrong && *line == '>') {
        line = skip_blanks(line + 1);
        if (letter_up(line[0]) == 'M' && is_digit(line[1])) {
            memories[line[1] - '0'] = value;
            line = skip_blanks(line + 2);
        } else {
            wrong = "the memories are M0 to M9";
        }
    }
    if (!wrong && *line)
        wrong = "the end was not understood";
    if (wrong) {
        say("%30s\n", wrong);
        return;
    }
    last = value;
    decimal_text(&value, text, sizeof text);
    say("%30s\n", text);
}

static void show_memories(void)
{
    char text[40];
    int i;
    for (i = 0; i < MEMORIES; i++) {
        decimal_text(&memories[i], text, sizeof text);
        say("M%d %27s\n", i, text);
    }
}

void calculator_run(void)
{
    char line[100];
    if (!started)
        start();
    say("Calculator. + - * / %% root ( ), `it` is the last result, `> M1` keeps it, `m` shows what is kept.\n");
    while (ask_line("= ", line, sizeof line) >= 0) {
        const char *s = skip_blanks(line);
        if (!*s || text_same(s, "leave"))
            return;
        if (text_same(s, "m"))
            show_memories();
        else
            work_out(s);
    }
}
