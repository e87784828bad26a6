/* disasm.c: from machine code to the names of instructions, for the whole 68000.
 *
 * Each row of the table is a mask, the bits that must be found under it, the name and the operands. In a name, ? stands
 * for the condition in bits 8 to 11 and ~ for the size in bits 6 and 7; a row with ~ does not match size 3. Operands:
 *   E  effective address, bits 0-5         M  the same for the target of a move, bits 6-11
 *   D d  data register, bits 9-11, 0-2     A a  address register, bits 9-11, 0-2
 *   P -  before it counts down, 9-11, 0-2  p +  after it counts up, 9-11, 0-2
 *   I  immediate of the row's size         b w  immediate byte, word in the next word
 *   Q  1 to 8 in bits 9-11                 q  signed byte in bits 0-7
 *   B  branch target                       W  branch target, always a word
 *   L  register list in the next word      R  address register with displacement, bits 0-2
 *   V  bits 0-3                            C S U  the condition codes, status register, user stack pointer
 */
#include "halden.h"

struct form { u16 mask, match; const char *name, *operands; };

static const struct form forms[] = {
    { 0xFFFF, 0x003C, "ORI.B",    "bC" }, { 0xFFFF, 0x007C, "ORI.W",   "wS" },
    { 0xFFFF, 0x023C, "ANDI.B",   "bC" }, { 0xFFFF, 0x027C, "ANDI.W",  "wS" },
    { 0xFFFF, 0x0A3C, "EORI.B",   "bC" }, { 0xFFFF, 0x0A7C, "EORI.W",  "wS" },
    { 0xF1F8, 0x0108, "MOVEP.W",  "RD" }, { 0xF1F8, 0x0148, "MOVEP.L", "RD" },
    { 0xF1F8, 0x0188, "MOVEP.W",  "DR" }, { 0xF1F8, 0x01C8, "MOVEP.L", "DR" },
    { 0xFFC0, 0x0800, "BTST",     "bE" }, { 0xFFC0, 0x0840, "BCHG",    "bE" },
    { 0xFFC0, 0x0880, "BCLR",     "bE" }, { 0xFFC0, 0x08C0, "BSET",    "bE" },
    { 0xF1C0, 0x0100, "BTST",     "DE" }, { 0xF1C0, 0x0140, "BCHG",    "DE" },
    { 0xF1C0, 0x0180, "BCLR",     "DE" }, { 0xF1C0, 0x01C0, "BSET",    "DE" },
    { 0xFF00, 0x0000, "ORI~",     "IE" }, { 0xFF00, 0x0200, "ANDI~",   "IE" },
    { 0xFF00, 0x0400, "SUBI~",    "IE" }, { 0xFF00, 0x0600, "ADDI~",   "IE" },
    { 0xFF00, 0x0A00, "EORI~",    "IE" }, { 0xFF00, 0x0C00, "CMPI~",   "IE" },
    { 0xF1C0, 0x2040, "MOVEA.L",  "EA" }, { 0xF1C0, 0x3040, "MOVEA.W", "EA" },
    { 0xF000, 0x1000, "MOVE.B",   "EM" }, { 0xF000, 0x2000, "MOVE.L",  "EM" },
    { 0xF000, 0x3000, "MOVE.W",   "EM" },
    { 0xFFC0, 0x40C0, "MOVE.W",   "SE" }, { 0xFFC0, 0x44C0, "MOVE.W",  "EC" },
    { 0xFFC0, 0x46C0, "MOVE.W",   "ES" },
    { 0xFF00, 0x4000, "NEGX~",    "E" },  { 0xFF00, 0x4200, "CLR~",    "E" },
    { 0xFF00, 0x4400, "NEG~",     "E" },  { 0xFF00, 0x4600, "NOT~",    "E" },
    { 0xFFC0, 0x4800, "NBCD",     "E" },  { 0xFFF8, 0x4840, "SWAP",    "d" },
    { 0xFFC0, 0x4840, "PEA",      "E" },  { 0xFFF8, 0x4880, "EXT.W",   "d" },
    { 0xFFF8, 0x48C0, "EXT.L",    "d" },  { 0xFFC0, 0x4880, "MOVEM.W", "LE" },
    { 0xFFC0, 0x48C0, "MOVEM.L",  "LE" }, { 0xFFC0, 0x4C80, "MOVEM.W", "LE" },
    { 0xFFC0, 0x4CC0, "MOVEM.L",  "LE" }, { 0xFFFF, 0x4AFC, "ILLEGAL", "" },
    { 0xFFC0, 0x4AC0, "TAS",      "E" },  { 0xFF00, 0x4A00, "TST~",    "E" },
    { 0xFFF0, 0x4E40, "TRAP",     "V" },  { 0xFFF8, 0x4E50, "LINK",    "aw" },
    { 0xFFF8, 0x4E58, "UNLK",     "a" },  { 0xFFF8, 0x4E60, "MOVE.L",  "aU" },
    { 0xFFF8, 0x4E68, "MOVE.L",   "Ua" }, { 0xFFFF, 0x4E70, "RESET",   "" },
    { 0xFFFF, 0x4E71, "NOP",      "" },   { 0xFFFF, 0x4E72, "STOP",    "w" },
    { 0xFFFF, 0x4E73, "RTE",      "" },   { 0xFFFF, 0x4E75, "RTS",     "" },
    { 0xFFFF, 0x4E76, "TRAPV",    "" },   { 0xFFFF, 0x4E77, "RTR",     "" },
    { 0xFFC0, 0x4E80, "JSR",      "E" },  { 0xFFC0, 0x4EC0, "JMP",     "E" },
    { 0xF1C0, 0x4180, "CHK.W",    "ED" }, { 0xF1C0, 0x41C0, "LEA",     "EA" },
    { 0xF0F8, 0x50C8, "DB?",      "dW" }, { 0xF0C0, 0x50C0, "S?",      "E" },
    { 0xF100, 0x5000, "ADDQ~",    "QE" }, { 0xF100, 0x5100, "SUBQ~",   "QE" },
    { 0xFF00, 0x6000, "BRA",      "B" },  { 0xFF00, 0x6100, "BSR",     "B" },
    { 0xF000, 0x6000, "B?",       "B" },  { 0xF100, 0x7000, "MOVEQ",   "qD" },
    { 0xF1F8, 0x8100, "SBCD",     "dD" }, { 0xF1F8, 0x8108, "SBCD",    "-P" },
    { 0xF1C0, 0x80C0, "DIVU.W",   "ED" }, { 0xF1C0, 0x81C0, "DIVS.W",  "ED" },
    { 0xF100, 0x8000, "OR~",      "ED" }, { 0xF100, 0x8100, "OR~",     "DE" },
    { 0xF1C0, 0x90C0, "SUBA.W",   "EA" }, { 0xF1C0, 0x91C0, "SUBA.L",  "EA" },
    { 0xF138, 0x9100, "SUBX~",    "dD" }, { 0xF138, 0x9108, "SUBX~",   "-P" },
    { 0xF100, 0x9000, "SUB~",     "ED" }, { 0xF100, 0x9100, "SUB~",    "DE" },
    { 0xF1C0, 0xB0C0, "CMPA.W",   "EA" }, { 0xF1C0, 0xB1C0, "CMPA.L",  "EA" },
    { 0xF138, 0xB108, "CMPM~",    "+p" }, { 0xF100, 0xB000, "CMP~",    "ED" },
    { 0xF100, 0xB100, "EOR~",     "DE" },
    { 0xF1F8, 0xC100, "ABCD",     "dD" }, { 0xF1F8, 0xC108, "ABCD",    "-P" },
    { 0xF1F8, 0xC140, "EXG",      "Dd" }, { 0xF1F8, 0xC148, "EXG",     "Aa" },
    { 0xF1F8, 0xC188, "EXG",      "Da" },
    { 0xF1C0, 0xC0C0, "MULU.W",   "ED" }, { 0xF1C0, 0xC1C0, "MULS.W",  "ED" },
    { 0xF100, 0xC000, "AND~",     "ED" }, { 0xF100, 0xC100, "AND~",    "DE" },
    { 0xF1C0, 0xD0C0, "ADDA.W",   "EA" }, { 0xF1C0, 0xD1C0, "ADDA.L",  "EA" },
    { 0xF138, 0xD100, "ADDX~",    "dD" }, { 0xF138, 0xD108, "ADDX~",   "-P" },
    { 0xF100, 0xD000, "ADD~",     "ED" }, { 0xF100, 0xD100, "ADD~",    "DE" },
    { 0xFFC0, 0xE0C0, "ASR.W",    "E" },  { 0xFFC0, 0xE1C0, "ASL.W",   "E" },
    { 0xFFC0, 0xE2C0, "LSR.W",    "E" },  { 0xFFC0, 0xE3C0, "LSL.W",   "E" },
    { 0xFFC0, 0xE4C0, "ROXR.W",   "E" },  { 0xFFC0, 0xE5C0, "ROXL.W",  "E" },
    { 0xFFC0, 0xE6C0, "ROR.W",    "E" },  { 0xFFC0, 0xE7C0, "ROL.W",   "E" },
    { 0xF138, 0xE000, "ASR~",     "Qd" }, { 0xF138, 0xE020, "ASR~",    "Dd" },
    { 0xF138, 0xE100, "ASL~",     "Qd" }, { 0xF138, 0xE120, "ASL~",    "Dd" },
    { 0xF138, 0xE008, "LSR~",     "Qd" }, { 0xF138, 0xE028, "LSR~",    "Dd" },
    { 0xF138, 0xE108, "LSL~",     "Qd" }, { 0xF138, 0xE128, "LSL~",    "Dd" },
    { 0xF138, 0xE010, "ROXR~",    "Qd" }, { 0xF138, 0xE030, "ROXR~",   "Dd" },
    { 0xF138, 0xE110, "ROXL~",    "Qd" }, { 0xF138, 0xE130, "ROXL~",   "Dd" },
    { 0xF138, 0xE018, "ROR~",     "Qd" }, { 0xF138, 0xE038, "ROR~",    "Dd" },
    { 0xF138, 0xE118, "ROL~",     "Qd" }, { 0xF138, 0xE138, "ROL~",    "Dd" },
};

static const char conditions[16][3] = {
    "T", "F", "HI", "LS", "CC", "CS", "NE", "EQ", "VC", "VS", "PL", "MI", "GE", "LT", "GT", "LE",
};

/* What is being written: where the next word is read, the room left, and whether something was impossible. */
struct work { const u16 *start, *next; char *to; int size, length, impossible; u16 code, list; char unit; };

static void out(struct work *w, const char *s)
{
    while (*s && w->length < w->size - 1)
        w->to[w->length++] = *s++;
    w->to[w->length] = 0;
}

static void out_number(struct work *w, const char *form, u32 n)
{
    char text[24];
    text_format(text, sizeof text, "%s$%X", form, n);
    out(w, text);
}

static void out_signed(struct work *w, const char *before, i32 n)
{
    char text[24];
    text_format(text, sizeof text, "%s%s$%X", before, n < 0 ? "-" : "", n < 0 ? -(u32)n : (u32)n);
    out(w, text);
}

static void out_register(struct work *w, char kind, int number, const char *form)
{
    char name[3] = { kind, '0' + number, 0 };
    for (; *form; form++) {
        char one[2] = { *form, 0 };
        out(w, *form == 'r' ? name : one);
    }
}

static void out_immediate(struct work *w, char unit)
{
    u32 n = *w->next++;
    if (unit == 'L')
        n = n << 16 | *w->next++;
    if (unit == 'B')
        n &= 0xFF;
    out_number(w, "#", n);
}

static u32 here(const struct work *w)
{
    return (u32)w->next;
}

/* A base with a short displacement and an index register: the second word says which. */
static void out_indexed(struct work *w, const char *base, int relative)
{
    u32 place = here(w);
    u16 word = *w->next++;
    char text[40];
    i32 displacement = (i8)word;
    if (relative)
        text_format(text, sizeof text, "$%X(%s,%c%d.%c)", place + displacement, base,
                    word & 0x8000 ? 'A' : 'D', word >> 12 & 7, word & 0x0800 ? 'L' : 'W');
    else
        text_format(text, sizeof text, "%s$%X(%s,%c%d.%c)", displacement < 0 ? "-" : "",
                    displacement < 0 ? -displacement : displacement, base,
                    word & 0x8000 ? 'A' : 'D', word >> 12 & 7, word & 0x0800 ? 'L' : 'W');
    out(w, text);
}

static void out_address(struct work *w, int mode, int number, char unit)
{
    char base[3] = { 'A', '0' + number, 0 };
    u32 place;
    switch (mode) {
    case 0: out_register(w, 'D', number, "r"); return;
    case 1: out_register(w, 'A', number, "r"); return;
    case 2: out_register(w, 'A', number, "(r)"); return;
    case 3: out_register(w, 'A', number, "(r)+"); return;
    case 4: out_register(w, 'A', number, "-(r)"); return;
    case 5:
        out_signed(w, "", (i16)*w->next++);
        out_register(w, 'A', number, "(r)");
        return;
    case 6: out_indexed(w, base, 0); return;
    }
    switch (number) {
    case 0:
        out_number(w, "", (u32)(i32)(i16)*w->next++);
        out(w, ".W");
        return;
    case 1:
        place = *w->next++;
        out_number(w, "", place << 16 | *w->next++);
        return;
    case 2:
        place = here(w);
        out_number(w, "", place + (i16)*w->next++);
        out(w, "(PC)");
        return;
    case 3: out_indexed(w, "PC", 1); return;
    case 4: out_immediate(w, unit); return;
    }
    w->impossible = 1;
}

/* D0-D3/A0/A5-A6. Bit 0 is D0, but A7 where the address counts down. */
static void out_list(struct work *w)
{
    int backwards = (w->code >> 3 & 7) == 4, i, first = -1, any = 0;
    for (i = 0; i <= 16; i++) {
        int set = i < 16 && (w->list >> (backwards ? 15 - i : i) & 1);
        if (first >= 0 && (!set || i == 8)) {
            if (any++)
                out(w, "/");
            out_register(w, first < 8 ? 'D' : 'A', first & 7, "r");
            if (first != i - 1)
                out_register(w, first < 8 ? 'D' : 'A', (i - 1) & 7, "-r");
            first = -1;
        }
        if (set && first < 0)
            first = i;
    }
    if (!any)
        out(w, "none");
}

static void out_operand(struct work *w, char kind)
{
    u16 code = w->code;
    int high = code >> 9 & 7, low = code & 7;
    u32 place = here(w);
    switch (kind) {
    case 'E': out_address(w, code >> 3 & 7, low, w->unit); break;
    case 'M': out_address(w, code >> 6 & 7, high, w->unit); break;
    case 'D': out_register(w, 'D', high, "r"); break;
    case 'd': out_register(w, 'D', low, "r"); break;
    case 'A': out_register(w, 'A', high, "r"); break;
    case 'a': out_register(w, 'A', low, "r"); break;
    case 'P': out_register(w, 'A', high, "-(r)"); break;
    case '-': out_register(w, 'A', low, "-(r)"); break;
    case 'p': out_register(w, 'A', high, "(r)+"); break;
    case '+': out_register(w, 'A', low, "(r)+"); break;
    case 'I': out_immediate(w, w->unit); break;
    case 'b': out_immediate(w, 'B'); break;
    case 'w': out_signed(w, "#", (i16)*w->next++); break;
    case 'Q': out_number(w, "#", high ? high : 8); break;
    case 'q': out_signed(w, "#", (i8)code); break;
    case 'V': out_number(w, "#", code & 15); break;
    case 'L': out_list(w); break;
    case 'C': out(w, "CCR"); break;
    case 'S': out(w, "SR"); break;
    case 'U': out(w, "USP"); break;
    case 'R':
        out_signed(w, "", (i16)*w->next++);
        out_register(w, 'A', low, "(r)");
        break;
    case 'B':
        if ((i8)code) {
            out_number(w, "", place + (i8)code);
            break;
        }
        /* fall through */
    case 'W':
        out_number(w, "", place + (i16)*w->next++);
        break;
    }
}

/* The name with its condition and size put in; also finds the unit of immediates. */
static void out_name(struct work *w, const char *name)
{
    for (; *name; name++) {
        char one[3] = { *name, 0, 0 };
        if (*name == '?') {
            out(w, conditions[w->code >> 8 & 15]);
            continue;
        }
        if (*name == '~') {
            one[0] = '.';
            one[1] = "BWL"[w->code >> 6 & 3];
            w->unit = one[1];
        }
        if (*name == '.')
            w->unit = name[1];
        out(w, one);
    }
}

static int size_fits(const struct form *form, u16 code)
{
    const char *s = form->name;
    while (*s && *s != '~')
        s++;
    return !*s || (code >> 6 & 3) != 3;
}

static const struct form *find_form(u16 code)
{
    int i;
    for (i = 0; i < COUNT(forms); i++)
        if ((code & forms[i].mask) == forms[i].match && size_fits(&forms[i], code))
            return &forms[i];
    return 0;
}

u32 disassemble(u32 address, char *to, int size)
{
    struct work w = { (const u16 *)address, (const u16 *)address, to, size, 0, 0, 0, 0, 'W' };
    const struct form *form;
    const char *operand;
    w.code = *w.next++;
    form = find_form(w.code);
    if (form) {
        int comes_from_memory = w.code & 0x0400;
        out_name(&w, form->name);
        operand = form->operands;
        if (*operand == 'L')
            w.list = *w.next++;
        if (*operand)
            do
                out(&w, " ");
            while (w.length < 8);
        if (*operand == 'L' && comes_from_memory)
            operand = "EL";
        for (; *operand; operand++) {
            out_operand(&w, *operand);
            if (operand[1])
                out(&w, ",");
        }
    }
    if (form && !w.impossible)
        return here(&w) - address;
    text_format(to, size, "DC.W    $%04X", w.code);
    return 2;
}
