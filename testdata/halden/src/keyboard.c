/* keyboard.c: from the numbers of keys to characters.
 *
 * The keyboard numbers its keys by place: row 0 is the row of digits, and the number is 16 times the row plus the
 * column. Four layouts differ in what stands at each place.
 */
#include "halden.h"

#define KEYS        80          /* five rows of sixteen */
#define RING        32

enum { K_SHIFT = 0xF0, K_CONTROL, K_LOCK, K_NONE };
#define K_S "\xF0"
#define K_C "\xF1"
#define K_L "\xF2"
#define K_N "\xF3"

struct layout { const char *name; const char *plain, *shifted; };

/* Row 3 ends with three arrows. Row 4: control, lock, space bar, help, home, end, delete and the arrow down. */
#define BOTTOM K_C K_L K_N K_N "      " K_N "\x87\x84\x85\x86\x81"

static const struct layout layouts[] = {
    { "Halden standard",
      "\x1B" "1234567890-=" "\b" K_N K_N
      "\t" "qwertyuiop[]" "\r" K_N K_N
      K_C "asdfghjkl;'`" "\r" K_N K_N
      K_S "\\zxcvbnm,./" K_S "\x82\x80\x83"
      BOTTOM,
      "\x1B" "!@#$%^&*()_+" "\b" K_N K_N
      "\t" "QWERTYUIOP{}" "\r" K_N K_N
      K_C "ASDFGHJKL:\"~" "\r" K_N K_N
      K_S "|ZXCVBNM<>?" K_S "\x82\x80\x83"
      BOTTOM },
    { "Halden northern",
      "\x1B" "1234567890+'" "\b" K_N K_N
      "\t" "qwertyuiop[~" "\r" K_N K_N
      K_C "asdfghjkl{}@" "\r" K_N K_N
      K_S "<zxcvbnm,.-" K_S "\x82\x80\x83"
      BOTTOM,
      "\x1B" "!\"#$%&/()=?`" "\b" K_N K_N
      "\t" "QWERTYUIOP]^" "\r" K_N K_N
      K_C "ASDFGHJKL|\\*" "\r" K_N K_N
      K_S ">ZXCVBNM;:_" K_S "\x82\x80\x83"
      BOTTOM },
    { "Halden river",
      "\x1B" "&1234567890)" "\b" K_N K_N
      "\t" "azertyuiop^$" "\r" K_N K_N
      K_C "qsdfghjklm'`" "\r" K_N K_N
      K_S "<wxcvbn,;:!" K_S "\x82\x80\x83"
      BOTTOM,
      "\x1B" "|@#\"{}[]\\-_(" "\b" K_N K_N
      "\t" "AZERTYUIOP~*" "\r" K_N K_N
      K_C "QSDFGHJKLM%+" "\r" K_N K_N
      K_S ">WXCVBN?./=" K_S "\x82\x80\x83"
      BOTTOM },
    { "Halden alphabetic",         /* for test benches: nobody there can type */
      "\x1B" "1234567890-=" "\b" K_N K_N
      "\t" "abcdefghij[]" "\r" K_N K_N
      K_C "klmnopqrs;'`" "\r" K_N K_N
      K_S "\\tuvwxyz,./" K_S "\x82\x80\x83"
      BOTTOM,
      "\x1B" "!@#$%^&*()_+" "\b" K_N K_N
      "\t" "ABCDEFGHIJ{}" "\r" K_N K_N
      K_C "KLMNOPQRS:\"~" "\r" K_N K_N
      K_S "|TUVWXYZ<>?" K_S "\x82\x80\x83"
      BOTTOM },
};

static u8 ring[RING];
static volatile u8 ring_in, ring_out;
static u8 shift, control, lock, layout;

void keyboard_open(void)
{
    ring_in = ring_out = 0;
    shift = control = lock = 0;
    KEYS_LAMPS = 0;
    keyboard_layout(settings.layout);
}

int keyboard_layout(int number)
{
    if (number >= 0 && number < COUNT(layouts))
        layout = number;
    return layout;
}

const char *keyboard_layout_name(int number)
{
    return number >= 0 && number < COUNT(layouts) ? layouts[number].name : 0;
}

/* A full ring loses the newest character: what was typed first should come out first. */
static void ring_put(u8 c)
{
    u8 next = (ring_in + 1) % RING;
    if (next == ring_out)
        return;
    ring[ring_in] = c;
    ring_in = next;
}

static void modifier(u8 which, int down)
{
    if (which == K_SHIFT)
        shift = down;
    if (which == K_CONTROL)
        control = down;
    if (which == K_LOCK && down) {
        lock = !lock;
        KEYS_LAMPS = lock;
    }
}

/* Takes one byte of the keyboard's: a key's number, with bit 7 set when the key came up. */
void keyboard_feed(int code)
{
    int key = code & 0x7F, down = !(code & 0x80);
    u8 plain, c;
    if (key >= KEYS)
        return;
    plain = layouts[layout].plain[key];
    if (plain >= K_SHIFT) {
        modifier(plain, down);
        return;
    }
    if (!down)
        return;
    c = layouts[layout].shifted[key];
    if (!shift && !(lock && is_letter(plain)))
        c = plain;
    if (control && is_letter(c))
        c &= 0x1F;
    ring_put(c);
}

void keyboard_take(void)
{
    while (KEYS_STATUS & KEYS_WAITING)
        keyboard_feed(KEYS_CODE);
}

int keyboard_ready(void)
{
    return ring_in != ring_out;
}

int keyboard_get(void)
{
    u8 c;
    while (!keyboard_ready())
        ;
    c = ring[ring_out];
    ring_out = (ring_out + 1) % RING;
    return c;
}
