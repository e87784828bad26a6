/* srecord.c: takes S-records, one line at a time, into RAM. */
#include "halden.h"

enum { NOT_RAM = -5, BAD_LENGTH, BAD_SUM, BAD_DIGIT, NOT_A_RECORD, TAKEN, HEADER, LAST };

const char *srecord_reason(int code)
{
    switch (code) {
    case NOT_A_RECORD: return "no S-record";
    case BAD_DIGIT:    return "a character that is no hexadecimal digit";
    case BAD_SUM:      return "the record's sum is wrong";
    case BAD_LENGTH:   return "the record is longer or shorter than it says";
    case NOT_RAM:      return "the record wants to go where no RAM for programs is";
    default:           return "good";
    }
}

static int digit(int c)
{
    c = letter_up(c);
    if (is_digit(c))
        return c - '0';
    return c >= 'A' && c <= 'F' ? c - 'A' + 10 : -1;
}

/* Bytes of the address for the types S0 to S9; 0 where there is no such type. */
static const u8 address_bytes[10] = { 2, 2, 3, 4, 0, 2, 3, 4, 3, 2 };

/* Takes the record on the line. 0: data, now in RAM; 1: header or count; 2: the last one, *entry is set; below 0: the
 * reason, and RAM is as it was. */
int srecord_take(const char *line, u32 *entry)
{
    u8 bytes[256];
    int type, count, width, i, total = 1, sum = 0;
    u32 address = 0;
    line = skip_blanks(line);
    if (letter_up(line[0]) != 'S' || !is_digit(line[1]) || !(width = address_bytes[line[1] - '0']))
        return NOT_A_RECORD;
    type = line[1] - '0';
    line += 2;
    for (i = 0; i < total; i++, line += 2) {
        int high = digit(line[0]), low = high < 0 ? -1 : digit(line[1]);
        if (low < 0)
            return line[0] < ' ' ? BAD_LENGTH : BAD_DIGIT;
        bytes[i] = high << 4 | low;
        sum += bytes[i];
        if (i == 0)
            total = bytes[0] + 1;
    }
    count = total - 1;
    if (*skip_blanks(line) >= '!' || count < width + 1)
        return BAD_LENGTH;
    if ((sum & 0xFF) != 0xFF)
        return BAD_SUM;
    for (i = 1; i <= width; i++)
        address = address << 8 | bytes[i];
    if (type == 0 || type == 5 || type == 6)
        return HEADER;
    if (type >= 7) {
        *entry = address;
        return LAST;
    }
    count -= width + 1;
    if (address < USER_BASE || address + count > RAM_SIZE || address + count < address)
        return NOT_RAM;
    memcpy((u8 *)address, bytes + 1 + width, count);
    return TAKEN;
}
