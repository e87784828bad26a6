/* unpack.c: takes apart what the packer of the ROM's build put together (pack/lz.go).
 *
 * A pack begins with "HXP1", the unpacked length, the packed length that follows the header, and the CRC-32 of what
 * comes out, each a long. Then come bits, highest first:
 *   0, eight bits              one byte as it is
 *   1, length, distance        a copy of length + 1 bytes from distance bytes back
 * Length and distance are numbers from 1 up. A number with n bits after its leading one is n ones, a zero, and the n
 * bits; of a distance less one the lowest six bits are written plainly after the number that holds the rest.
 */
#include "halden.h"

#define PLAIN_BITS 6

enum { GOOD, NOT_A_PACK, NO_ROOM, ENDS_EARLY, POINTS_OUTSIDE, CRC_WRONG };

static const char *const reasons[] = {
    "good",
    "this does not begin like a pack",
    "there is not enough room for what it holds",
    "the pack ends too early",
    "a copy points outside what has been unpacked",
    "what came out does not match its check value",
};

struct bits { const u8 *at, *end; u32 held; int count, short_of; };

static u32 take(struct bits *b, int count)
{
    u32 value = 0;
    for (; count; count--) {
        if (b->count == 0) {
            if (b->at == b->end) {
                b->short_of = 1;
                return 0;
            }
            b->held = *b->at++;
            b->count = 8;
        }
        value = (value << 1) | ((b->held >> --b->count) & 1);
    }
    return value;
}

static u32 take_number(struct bits *b)
{
    int n = 0;
    while (take(b, 1) && n < 24)
        n++;
    return (1u << n) | take(b, n);
}

static u32 long_at(const u8 *p)
{
    return (u32)p[0] << 24 | (u32)p[1] << 16 | (u32)p[2] << 8 | p[3];
}

u32 unpacked_size(const u8 *packed)
{
    return memcmp(packed, "HXP1", 4) ? 0 : long_at(packed + 4);
}

const char *unpack_reason(int code)
{
    return code >= 0 && code < COUNT(reasons) ? reasons[code] : "";
}

int unpack(const u8 *packed, u8 *to, u32 room)
{
    struct bits b = { packed + 16, packed + 16 + long_at(packed + 8), 0, 0, 0 };
    u32 size = unpacked_size(packed), done = 0;
    if (size == 0)
        return NOT_A_PACK;
    if (size > room)
        return NO_ROOM;
    while (done < size) {
        if (take(&b, 1)) {
            u32 length = take_number(&b) + 1;
            u32 distance = take_number(&b) - 1;
            distance = (distance << PLAIN_BITS | take(&b, PLAIN_BITS)) + 1;
            if (b.short_of)
                return ENDS_EARLY;
            if (distance > done || length > size - done)
                return POINTS_OUTSIDE;
            for (; length; length--, done++)
                to[done] = to[done - distance];
        } else {
            to[done++] = take(&b, 8);
            if (b.short_of)
                return ENDS_EARLY;
        }
    }
    return crc32(0, to, size) == long_at(packed + 12) ? GOOD : CRC_WRONG;
}
