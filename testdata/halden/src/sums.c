/* sums.c: the checks over ranges of bytes. The tables are made by the packer from their polynomials. */
#include "halden.h"

u16 crc16(u16 so_far, const u8 *bytes, u32 count)
{
    for (; count; count--)
        so_far = (so_far << 8) ^ crc16_table[(so_far >> 8) ^ *bytes++];
    return so_far;
}

u32 crc32(u32 so_far, const u8 *bytes, u32 count)
{
    so_far = ~so_far;
    for (; count; count--)
        so_far = (so_far >> 8) ^ crc32_table[(so_far ^ *bytes++) & 0xFF];
    return ~so_far;
}

/* What is carried out at the top comes in again at the bottom. An image that balances sums to FFFFFFFF. */
u32 sum_closing(const u32 *longs, u32 size)
{
    u32 sum = 0, count;
    for (count = size / 4; count; count--) {
        u32 next = *longs++;
        sum += next;
        if (sum < next)
            sum++;
    }
    return sum;
}

u32 sum_leading(const u16 *words, u32 size)
{
    u32 sum = 0, count;
    words += 2;
    for (count = size / 2 - 2; count; count--)
        sum += *words++;
    return sum;
}
