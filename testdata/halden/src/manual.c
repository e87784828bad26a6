/* manual.c: shows the manual, which is plain text with its chapters' titles on lines that begin with "== ". */
#include "halden.h"

static const char *line_after(const char *s)
{
    while (s < manual_end && *s != '\n')
        s++;
    return s < manual_end ? s + 1 : s;
}

static int is_title(const char *s)
{
    return s[0] == '=' && s[1] == '=' && s[2] == ' ';
}

static const char *next_title(const char *s)
{
    while (s < manual_end && !is_title(s))
        s = line_after(s);
    return s;
}

static void say_contents(void)
{
    const char *s;
    say("Chapters of the manual; `manual` and the beginning of a title shows one, `manual all` everything:\n");
    for (s = next_title(manual_text); s < manual_end; s = next_title(line_after(s))) {
        const char *c;
        say("  ");
        for (c = s + 3; *c != '\n'; c++)
            say_char(*c);
        say("\n");
    }
}

void manual_run(const char *about)
{
    const char *s;
    about = skip_blanks(about);
    if (!*about)
        return say_contents();
    if (text_same(about, "all"))
        return page_text(manual_text, manual_end - manual_text);
    for (s = next_title(manual_text); s < manual_end; s = next_title(line_after(s)))
        if (text_begins(s + 3, about))
            return page_text(s + 3, next_title(line_after(s)) - s - 3);
    say("The manual has no chapter of that name.\n");
}
