/* basic.c: Halden Basic, whole numbers only.
 *
 * The program is kept as it was typed: number (two bytes), length of the text with its closing zero (one byte), text.
 * Lines stand in the order of their numbers. Variables are A to Z; @(n) is the one array.
 */
#include "halden.h"

#define STORE       ((u8 *)BASIC_BASE)
#define STORE_SIZE  (SHEET_BASE - BASIC_BASE)
#define ARRAY_SIZE  2000
#define CALLS       24
#define LOOPS       12

static u32 used;
static i32 variables[26], array[ARRAY_SIZE];
static const char *trouble;             /* the first thing that went wrong since it was last cleared */
static const char *at;                  /* what is read next */
static u8 *line_now;                    /* the line it is in; 0 for a line typed without a number */
static int running, jumped;

struct place { u8 *line; const char *at; };
struct loop { int variable; i32 limit, step; struct place body; };
static struct place calls[CALLS];
static struct loop loops[LOOPS];
static int call_depth, loop_depth;

static const char *const demos[] = {
    "10 REM PRIMES BELOW A LIMIT, BY CROSSING OUT\n"
    "20 INPUT \"LIMIT\"; L: IF L > 1999 THEN L = 1999\n"
    "30 FOR I = 2 TO L: @(I) = 1: NEXT I\n"
    "40 FOR I = 2 TO L\n"
    "50 IF @(I) = 0 THEN GOTO 90\n"
    "60 PRINT I,\n"
    "70 IF I > L / I THEN GOTO 90\n"
    "80 FOR J = I * I TO L STEP I: @(J) = 0: NEXT J\n"
    "90 NEXT I\n"
    "100 PRINT\n",
    "10 REM TWO WAVES AND WHERE THEY MEET\n"
    "20 CLS\n"
    "30 FOR X = 0 TO 1023\n"
    "40 A = 384 + SIN(X) / 5: B = 384 + COS(X * 3) / 7\n"
    "50 PLOT X, A: PLOT X, B\n"
    "60 IF ABS(A - B) < 2 THEN CIRCLE X, A, 6\n"
    "70 NEXT X\n",
    "10 REM GUESS MY NUMBER\n"
    "20 N = RND(100) + 1: T = 0\n"
    "30 INPUT \"YOUR GUESS\"; G: T = T + 1\n"
    "40 IF G < N THEN PRINT \"TOO LOW\": GOTO 30\n"
    "50 IF G > N THEN PRINT \"TOO HIGH\": GOTO 30\n"
    "60 PRINT \"RIGHT, AFTER \"; T; \" GUESSES\"\n",
    "10 REM A WINDOW WITH RAYS\n"
    "20 CLS\n"
    "30 FOR R = 40 TO 200 STEP 40: CIRCLE 512, 384, R: NEXT R\n"
    "40 FOR W = 512 TO 1024 STEP 64\n"
    "50 DRAW 512, 384, 512 + COS(W) / 5, 384 + SIN(W) / 5\n"
    "60 NEXT W\n"
    "70 FOR I = 0 TO 7: SHADE 312 + I * 50, 400, 50, 60, I * 36: NEXT I\n",
};

static i32 expression(void);
static void statement(void);

static void wrong(const char *what)
{
    if (!trouble)
        trouble = what;
}

static int next_is(char c)
{
    at = skip_blanks(at);
    if (*at != c)
        return 0;
    at++;
    return 1;
}

static void need(char c, const char *what)
{
    if (!next_is(c))
        wrong(what);
}

/* A word counts only where no letter follows: FORT is not FOR T, and TO A is not TOA. */
static int next_word(const char *word)
{
    int length = text_length(word);
    at = skip_blanks(at);
    if (!text_begins(at, word) || (is_letter(at[length]) && is_letter(word[length - 1])))
        return 0;
    at += length;
    return 1;
}

/* Lines. */

static u32 line_number(const u8 *line)
{
    return line[0] << 8 | line[1];
}

static u8 *line_after(u8 *line)
{
    return line + 3 + line[2];
}

/* The first line whose number is not below the given one; the end of the store where there is none. */
static u8 *find_line(u32 number)
{
    u8 *line = STORE;
    while (line < STORE + used && line_number(line) < number)
        line = line_after(line);
    return line;
}

static void remove_line(u8 *line)
{
    u32 size = line_after(line) - line;
    memmove(line, line + size, STORE + used - line - size);
    used -= size;
}

static void enter_line(u32 number, const char *text)
{
    u8 *line = find_line(number);
    u32 length = text_length(text) + 1;
    if (line < STORE + used && line_number(line) == number)
        remove_line(line);
    if (length == 1)
        return;
    if (length > 200 || used + length + 3 > STORE_SIZE) {
        wrong("the line or the program is too long");
        return;
    }
    memmove(line + 3 + length, line, STORE + used - line);
    line[0] = number >> 8;
    line[1] = number;
    line[2] = length;
    memcpy(line + 3, text, length);
    used += 3 + length;
}

/* Expressions: OR, AND, comparison, sum, product, factor. True is 1. */

static i32 bracketed(void)
{
    i32 value;
    need('(', "a ( was expected");
    value = expression();
    need(')', "a ) was expected");
    return value;
}

static i32 *element(void)
{
    i32 index = bracketed();
    if (index >= 0 && index < ARRAY_SIZE)
        return &array[index];
    wrong("@(n) goes from 0 to 1999");
    return array;
}

static i32 read_peek(i32 address)   { return *(volatile u8 *)address; }
static i32 read_absolute(i32 n)     { return n < 0 ? -n : n; }
static i32 read_sign(i32 n)         { return (n > 0) - (n < 0); }
static i32 read_root(i32 n)         { return n < 0 ? 0 : (i32)square_root(n); }
static i32 read_chance(i32 n)       { return n > 0 ? (i32)chance(n) : 0; }
static i32 read_sine(i32 angle)     { return sine(angle) * 125 >> 13; }      /* 1000 is one */
static i32 read_cosine(i32 angle)   { return read_sine(angle + 256); }

static const struct { const char *name; i32 (*of)(i32); } functions[] = {
    { "PEEK", read_peek }, { "ABS", read_absolute }, { "SGN", read_sign }, { "SQR", read_root },
    { "RND", read_chance }, { "SIN", read_sine }, { "COS", read_cosine },
};

static i32 factor(void)
{
    u32 number;
    int i;
    at = skip_blanks(at);
    if (read_digits(&at, 10, &number))
        return number;
    if (*at == '(')
        return bracketed();
    if (next_is('-'))
        return -factor();
    if (next_is('@'))
        return *element();
    if (next_word("NOT"))
        return !factor();
    if (next_word("TICKS"))
        return ticks;
    for (i = 0; i < COUNT(functions); i++)
        if (next_word(functions[i].name))
            return functions[i].of(bracketed());
    if (is_letter(*at) && !is_letter(at[1]))
        return variables[letter_up(*at++) - 'A'];
    wrong("a number or a variable was expected");
    return 0;
}

static i32 product(void)
{
    i32 left = factor(), right;
    while (!trouble) {
        if (next_is('*')) {
            left *= factor();
            continue;
        }
        if (!next_is('/') && !next_word("MOD"))
            break;
        {
            int rest = at[-1] != '/';
            right = factor();
            if (right == 0) {
                wrong("division by zero");
                break;
            }
            left = rest ? left % right : left / right;
        }
    }
    return left;
}

static i32 sum(void)
{
    i32 left = product();
    while (!trouble) {
        if (next_is('+'))
            left += product();
        else if (next_is('-'))
            left -= product();
        else
            break;
    }
    return left;
}

static i32 comparison(void)
{
    i32 left = sum();
    if (next_word("<="))
        return left <= sum();
    if (next_word(">="))
        return left >= sum();
    if (next_word("<>"))
        return left != sum();
    if (next_is('<'))
        return left < sum();
    if (next_is('>'))
        return left > sum();
    if (next_is('='))
        return left == sum();
    return left;
}

static i32 expression(void)
{
    i32 left = comparison(), right;
    while (!trouble) {
        if (next_word("AND"))
            right = comparison(), left = left && right;
        else if (next_word("OR"))
            right = comparison(), left = left || right;
        else
            break;
    }
    return left;
}

/* Statements. */

static i32 *variable(void)
{
    at = skip_blanks(at);
    if (next_is('@'))
        return element();
    if (is_letter(*at) && !is_letter(at[1]))
        return &variables[letter_up(*at++) - 'A'];
    wrong("a variable was expected");
    return variables;
}

static void numbers(i32 *to, int count)
{
    int i;
    for (i = 0; i < count && !trouble; i++) {
        if (i)
            need(',', "a comma was expected");
        to[i] = expression();
    }
}

static void do_let(void)
{
    i32 *to = variable(), value;
    need('=', "= was expected");
    value = expression();
    if (!trouble)
        *to = value;
}

static void say_text(void)
{
    while (*at && *at != '"')
        say_char(*at++);
    need('"', "a text is not closed");
}

static int at_end(void)
{
    at = skip_blanks(at);
    return *at == 0 || *at == ':';
}

static void do_print(void)
{
    int line_ends = 1;
    while (!at_end() && !trouble) {
        line_ends = 1;
        if (next_is('"')) {
            say_text();
        } else {
            i32 value = expression();
            if (!trouble)
                say("%d", value);
        }
        if (next_is(';'))
            line_ends = 0;
        else if (next_is(','))
            say("\t"), line_ends = 0;
    }
    if (line_ends)
        say("\n");
}

static void do_input(void)
{
    char answer[40];
    const char *s = answer;
    u32 number = 0;
    int minus;
    i32 *to;
    if (next_is('"')) {
        say_text();
        need(';', "a ; was expected after the text");
    }
    to = variable();
    if (trouble)
        return;
    if (ask_line("? ", answer, sizeof answer) < 0) {
        wrong("stopped");
        return;
    }
    s = skip_blanks(s);
    minus = *s == '-';
    s += minus;
    read_digits(&s, 10, &number);
    *to = minus ? -(i32)number : (i32)number;
}

static void jump(u32 number)
{
    u8 *line = find_line(number);
    if (line == STORE + used || line_number(line) != number) {
        wrong("there is no line of that number");
        return;
    }
    line_now = line;
    at = (const char *)line + 3;
    running = jumped = 1;
}

static void skip_line(void)
{
    while (*at)
        at++;
}

static void do_if(void)
{
    i32 truth = expression();
    u32 number;
    if (!next_word("THEN"))
        wrong("THEN was expected");
    if (trouble)
        return;
    if (!truth) {
        skip_line();
        return;
    }
    at = skip_blanks(at);
    if (read_digits(&at, 10, &number))
        jump(number);
    else
        statement();
}

static void do_goto(void)
{
    i32 number = expression();
    if (!trouble)
        jump(number);
}

static void do_gosub(void)
{
    i32 number = expression();
    if (call_depth == CALLS)
        wrong("too many GOSUBs within each other");
    if (trouble)
        return;
    calls[call_depth++] = (struct place){ line_now, at };
    jump(number);
}

static void return_to(struct place place)
{
    line_now = place.line;
    at = place.at;
}

static void do_return(void)
{
    if (call_depth == 0)
        wrong("RETURN without GOSUB");
    else
        return_to(calls[--call_depth]);
}

/* A loop over a variable that is already being counted begins anew. */
static void do_for(void)
{
    struct loop loop;
    i32 first;
    at = skip_blanks(at);
    loop.variable = letter_up(*at) - 'A';
    if (!is_letter(*at) || is_letter(at[1]))
        return wrong("a variable from A to Z was expected");
    at++;
    need('=', "= was expected");
    first = expression();
    if (!next_word("TO"))
        wrong("TO was expected");
    loop.limit = expression();
    loop.step = next_word("STEP") ? expression() : 1;
    if (trouble)
        return;
    loop.body = (struct place){ line_now, at };
    variables[loop.variable] = first;
    while (loop_depth && loops[loop_depth - 1].variable == loop.variable)
        loop_depth--;
    if (loop_depth == LOOPS)
        return wrong("too many FORs within each other");
    loops[loop_depth++] = loop;
}

static void do_next(void)
{
    struct loop *loop;
    at = skip_blanks(at);
    if (is_letter(*at) && !is_letter(at[1])) {
        int wanted = letter_up(*at++) - 'A';
        while (loop_depth && loops[loop_depth - 1].variable != wanted)
            loop_depth--;
    }
    if (!loop_depth)
        return wrong("NEXT without FOR");
    loop = &loops[loop_depth - 1];
    variables[loop->variable] += loop->step;
    if (loop->step < 0 ? variables[loop->variable] >= loop->limit : variables[loop->variable] <= loop->limit)
        return_to(loop->body);
    else
        loop_depth--;
}

static void do_rem(void)     { skip_line(); }
static void do_end(void)     { running = 0; skip_line(); }
static void do_clear(void)   { say("\f"); }

static void do_poke(void)
{
    i32 n[2];
    numbers(n, 2);
    if (!trouble && (u32)n[0] >= USER_BASE && (u32)n[0] < RAM_SIZE)
        *(u8 *)n[0] = n[1];
    else
        wrong("POKE reaches RAM from 262144 up only");
}

static void do_plot(void)
{
    i32 n[2];
    numbers(n, 2);
    if (!trouble)
        display_dot(n[0], n[1], INK_SET);
}

static void do_draw(void)
{
    i32 n[4];
    numbers(n, 4);
    if (!trouble)
        display_line(n[0], n[1], n[2], n[3], INK_SET);
}

static void do_circle(void)
{
    i32 n[3];
    numbers(n, 3);
    if (!trouble)
        display_circle(n[0], n[1], n[2], INK_SET);
}

static void do_shade(void)
{
    i32 n[5];
    numbers(n, 5);
    if (!trouble)
        display_shade(n[0], n[1], n[2], n[3], n[4]);
}

static void do_list(void)
{
    u8 *line;
    for (line = STORE; line < STORE + used && !stop_wanted(); line = line_after(line))
        say("%u %s\n", line_number(line), (const char *)line + 3);
}

static void do_new(void)
{
    used = 0;
    running = 0;
    skip_line();
}

static void do_run(void)
{
    memset(variables, 0, sizeof variables);
    memset(array, 0, sizeof array);
    call_depth = loop_depth = 0;
    line_now = STORE;
    running = jumped = used > 0;
    at = used ? (const char *)STORE + 3 : "";
}

static void do_demo(void)
{
    char text[100];
    const char *s;
    i32 number = expression();
    if (number < 1 || number > COUNT(demos))
        wrong("the programs in the ROM are 1 to 4");
    if (trouble)
        return;
    used = 0;
    for (s = demos[number - 1]; *s; s++) {
        u32 line = 0;
        int n = 0;
        read_digits(&s, 10, &line);
        for (s = skip_blanks(s); *s != '\n' && n < COUNT(text) - 1; s++)
            text[n++] = *s;
        text[n] = 0;
        enter_line(line, text);
    }
    skip_line();
}

static const struct { const char *word; void (*run)(void); } statements[] = {
    { "PRINT", do_print }, { "INPUT", do_input }, { "LET", do_let }, { "IF", do_if }, { "GOTO", do_goto },
    { "GOSUB", do_gosub }, { "RETURN", do_return }, { "FOR", do_for }, { "NEXT", do_next }, { "REM", do_rem },
    { "END", do_end }, { "CLS", do_clear }, { "POKE", do_poke }, { "PLOT", do_plot }, { "DRAW", do_draw },
    { "CIRCLE", do_circle }, { "SHADE", do_shade }, { "LIST", do_list }, { "NEW", do_new }, { "RUN", do_run },
    { "DEMO", do_demo },
};

static void statement(void)
{
    int i;
    for (i = 0; i < COUNT(statements); i++)
        if (next_word(statements[i].word)) {
            statements[i].run();
            return;
        }
    do_let();
}

/* Goes on from statement to statement and line to line until the program ends, somebody stops it, or it cannot. */
static void execute(void)
{
    for (;;) {
        jumped = 0;
        if (!at_end())
            statement();
        if (!trouble && running && stop_wanted())
            wrong("stopped");
        if (trouble)
            break;
        if (jumped || next_is(':'))
            continue;
        if (*skip_blanks(at))
            wrong("the end of the statement was not understood");
        if (!running || !line_now || trouble)
            break;
        line_now = line_after(line_now);
        if (line_now >= STORE + used)
            break;
        at = (const char *)line_now + 3;
    }
    if (trouble && line_now)
        say("Line %u: %s\n", line_number(line_now), trouble);
    else if (trouble)
        say("%s\n", trouble);
}

/* A line with a number is kept, one without is obeyed. */
void basic_line(const char *line)
{
    u32 number;
    trouble = 0;
    line = skip_blanks(line);
    if (read_digits(&line, 10, &number)) {
        if (number < 1 || number > 65535)
            wrong("line numbers go from 1 to 65535");
        else
            enter_line(number, skip_blanks(line));
        if (trouble)
            say("%s\n", trouble);
        return;
    }
    line_now = 0;
    running = 0;
    at = line;
    execute();
}

void basic_run(void)
{
    static char line[120];
    say("Halden Basic. DEMO 1 to DEMO 4 fetch programs from the ROM; LIST, RUN, NEW; an empty line leaves.\n");
    while (ask_line("> ", line, sizeof line) > 0)
        basic_line(line);
}
