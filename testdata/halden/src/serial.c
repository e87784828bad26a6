/* serial.c: the twin serial part, polled. */
#include "halden.h"

#define CRYSTAL      3686400u   /* hertz */
#define MODE_8N1     0x13       /* eight bits, no parity, one stop bit, receiver and transmitter on */
#define PATIENCE     60000      /* polls before a line that does not take a byte is given up */

static u8 complaints;           /* the receiver's error bits since somebody asked */
static u8 dead[2];              /* a line that once did not take a byte is not waited for again */

/* The part divides its crystal by 16 times the divisor; rates from 900 to 230400 bits a second can be had. */
void serial_open(int line, u32 rate)
{
    u32 divisor = (CRYSTAL / 16 + rate / 2) / rate;
    if (divisor < 1)
        divisor = 1;
    if (divisor > 255)
        divisor = 255;
    SERIAL_MODE(line) = 0;
    SERIAL_DIVIDE(line) = divisor;
    SERIAL_MODE(line) = MODE_8N1;
    dead[line] = 0;
    complaints = 0;
}

int serial_ready(int line)
{
    return SERIAL_STATUS(line) & SERIAL_RECEIVED;
}

int serial_get(int line)
{
    u8 status;
    do
        status = SERIAL_STATUS(line);
    while (!(status & SERIAL_RECEIVED));
    complaints |= status & (SERIAL_OVERRUN | SERIAL_PARITY | SERIAL_FRAMING);
    return SERIAL_DATA(line);
}

void serial_put(int line, int c)
{
    u32 left = PATIENCE;
    if (dead[line])
        return;
    while (!(SERIAL_STATUS(line) & SERIAL_SPACE))
        if (--left == 0) {
            dead[line] = 1;
            return;
        }
    SERIAL_DATA(line) = c;
}

/* The worst thing the receiver has seen, or 0; asking forgets it. */
const char *serial_complaint(void)
{
    u8 seen = complaints;
    complaints = 0;
    if (seen & SERIAL_OVERRUN)
        return "characters came faster than they were read";
    if (seen & SERIAL_FRAMING)
        return "no stop bit where one should be: do both ends use the same rate?";
    if (seen & SERIAL_PARITY)
        return "wrong parity: this end uses none";
    return 0;
}
