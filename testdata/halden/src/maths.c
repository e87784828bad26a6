/* maths.c: whole-number and fixed-point mathematics, made of the processor's 16 by 16 bit multiplication. */
#include "halden.h"

static u32 size_of(i32 n)
{
    return n < 0 ? -(u32)n : (u32)n;
}

/* The 64-bit product less its lowest 16 bits, from four short products. Overflow gives the largest number. */
fixed fixed_multiply(fixed left, fixed right)
{
    u32 a = size_of(left), b = size_of(right);
    u32 high = (a >> 16) * (b >> 16);
    u32 cross = (a >> 16) * (b & 0xFFFF);
    u32 other = (a & 0xFFFF) * (b >> 16);
    u32 low = ((a & 0xFFFF) * (b & 0xFFFF) + 0x8000) >> 16;
    u32 sum = cross + other;
    u32 product = (high << 16) + sum + low;
    if (high > 0x7FFF || sum < cross || product < sum || product > 0x7FFFFFFF)
        product = 0x7FFFFFFF;
    return (left ^ right) < 0 ? -(i32)product : (i32)product;
}

/* Long division, a bit at a time: 32 bits of whole part and 16 more after the point. */
fixed fixed_divide(fixed left, fixed right)
{
    u32 rest = 0, a = size_of(left), b = size_of(right), quotient = 0;
    int bit;
    if (b == 0)
        return left < 0 ? -0x7FFFFFFF : 0x7FFFFFFF;
    for (bit = 47; bit >= 0; bit--) {
        u32 next = bit >= 16 ? (a >> (bit - 16)) & 1 : 0;
        u32 carry = rest >> 31;
        rest = (rest << 1) | next;
        if (quotient & 0x80000000u)
            return (left ^ right) < 0 ? -0x7FFFFFFF : 0x7FFFFFFF;
        quotient <<= 1;
        if (carry || rest >= b) {
            rest -= b;
            quotient |= 1;
        }
    }
    if (quotient > 0x7FFFFFFF)
        quotient = 0x7FFFFFFF;
    return (left ^ right) < 0 ? -(i32)quotient : (i32)quotient;
}

/* The largest whole number whose square is not above n. Two bits of n make one of the root. */
u32 square_root(u32 n)
{
    u32 root = 0, bit = 1u << 30;
    while (bit > n)
        bit >>= 2;
    for (; bit; bit >>= 2) {
        if (n >= root + bit) {
            n -= root + bit;
            root = (root >> 1) + bit;
        } else {
            root >>= 1;
        }
    }
    return root;
}

/* The root of n has 8 bits after the point when n has 16; eight more come from one step of Heron's rule. */
fixed fixed_root(fixed n)
{
    fixed root;
    if (n <= 0)
        return 0;
    root = square_root(n) << 8;
    return (root + fixed_divide(n, root)) / 2;
}

/* The table holds the first quarter, 0 to 256, in 65536ths; 65536 itself would not fit and stands as 65535. */
static fixed quarter(int angle)
{
    return angle == 256 ? FIXED(1) : sine_table[angle];
}

fixed sine(int angle)
{
    angle &= 1023;
    if (angle < 256)
        return quarter(angle);
    if (angle < 512)
        return quarter(512 - angle);
    if (angle < 768)
        return -quarter(angle - 512);
    return -quarter(1024 - angle);
}

fixed cosine(int angle)
{
    return sine(angle + 256);
}

/* The angle under which x, y is seen from 0, 0: halving the step ten times finds it. */
int direction(i32 x, i32 y)
{
    int angle = 0, step;
    i32 best = -0x7FFFFFFF;
    while (x > 0x3FFF || y > 0x3FFF || x < -0x3FFF || y < -0x3FFF)
        x /= 2, y /= 2;
    while ((x || y) && size_of(x) < 0x2000 && size_of(y) < 0x2000)
        x *= 2, y *= 2;
    for (step = 256; step; step >>= 1) {
        int up = (angle + step) & 1023, down = (angle - step) & 1023, at = angle;
        int tries[3] = { at, up, down }, i;
        best = -0x7FFFFFFF;
        for (i = 0; i < 3; i++) {
            i32 along = x * (cosine(tries[i]) / 2) / 256 + y * (sine(tries[i]) / 2) / 256;
            if (along > best) {
                best = along;
                angle = tries[i];
            }
        }
    }
    return angle;
}

u32 common_divisor(u32 left, u32 right)
{
    while (right) {
        u32 rest = left % right;
        left = right;
        right = rest;
    }
    return left;
}

#define FIRST_STATE 0x1988

static u32 chance_state;

void chance_seed(u32 seed)
{
    chance_state = seed;
}

/* A shift register with feedback that goes through every 32-bit state but zero. */
u32 chance(u32 below)
{
    if (!chance_state)
        chance_state = FIRST_STATE;
    chance_state ^= chance_state << 13;
    chance_state ^= chance_state >> 17;
    chance_state ^= chance_state << 5;
    return below ? chance_state % below : chance_state;
}
