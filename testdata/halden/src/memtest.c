/* memtest.c: tests of RAM that name the address, what was written and what came back. */
#include "halden.h"

static int differs(volatile u16 *at, u16 expected, struct memory_fault *fault)
{
    u16 found = *at;
    if (found == expected)
        return 0;
    fault->address = (u32)at;
    fault->expected = expected;
    fault->found = found;
    return 1;
}

/* One element of a march: in each word read `expected`, then write `next`, upwards or downwards. */
static int element(u32 from, u32 to, int up, u16 expected, u16 next, struct memory_fault *fault)
{
    volatile u16 *at = (volatile u16 *)(up ? from : to - 2);
    u32 count = (to - from) / 2;
    int step = up ? 1 : -1;
    for (; count; count--, at += step) {
        if (differs(at, expected, fault))
            return 1;
        *at = next;
    }
    return 0;
}

/* The march known as C-, once for each background. It finds stuck bits, bits that will not change, and words that
 * change when another is written. */
int memory_march(u32 from, u32 to, struct memory_fault *fault)
{
    static const u16 backgrounds[] = { 0x0000, 0x5555, 0x3333, 0x0F0F, 0x00FF };
    int i;
    for (i = 0; i < COUNT(backgrounds); i++) {
        u16 zero = backgrounds[i], one = ~zero;
        volatile u16 *at;
        for (at = (volatile u16 *)from; (u32)at < to; at++)
            *at = zero;
        if (element(from, to, 1, zero, one, fault) || element(from, to, 1, one, zero, fault) ||
            element(from, to, 0, zero, one, fault) || element(from, to, 0, one, zero, fault) ||
            element(from, to, 1, zero, zero, fault))
            return 1;
    }
    return 0;
}

/* Writes at every power of two from the base what no other such address holds, then looks whether one overwrote
 * another. `from` is a multiple of `size`, and size a power of two. */
int memory_address_lines(u32 from, u32 size, struct memory_fault *fault)
{
    u32 offset;
    u16 number = 0x0101;
    *(volatile u16 *)from = 0xA5C3;
    for (offset = 2; offset < size; offset <<= 1, number += 0x0101)
        *(volatile u16 *)(from + offset) = number;
    if (differs((volatile u16 *)from, 0xA5C3, fault))
        return 1;
    number = 0x0101;
    for (offset = 2; offset < size; offset <<= 1, number += 0x0101)
        if (differs((volatile u16 *)(from + offset), number, fault))
            return 1;
    return 0;
}

/* RAM comes in steps of 512 KiB. An empty step does not answer, or answers with what is in a lower one. */
u32 memory_size(void)
{
    u32 step = 0x80000, at;
    for (at = step; at < RAM_SIZE; at += step) {
        volatile u16 *low = (volatile u16 *)USER_BASE, *high = (volatile u16 *)(USER_BASE + at);
        u16 kept_low = *low, kept_high = *high;
        int there;
        *low = 0x4841;
        *high = 0x5836;
        there = *high == 0x5836 && *low == 0x4841;
        *high = kept_high;
        *low = kept_low;
        if (!there)
            break;
    }
    return at;
}
