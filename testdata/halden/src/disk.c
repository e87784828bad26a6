/* disk.c: the disk controller, polled, with retries. Sectors of 512 bytes are numbered from 0 through all of a
 * cylinder's heads before the arm moves on. */
#include "halden.h"

#define CYLINDERS  615
#define HEADS      4
#define SECTORS    17           /* on a track, numbered from 1 */
#define PATIENCE   2000000u     /* polls: some four seconds, twice a full turn and seek */
#define TRIES      6
#define TRIES_BEFORE_HOME 3

enum { COMMAND_HOME = 0x10, COMMAND_READ = 0x20, COMMAND_WRITE = 0x30, COMMAND_RESET = 0xF0 };
enum { GOOD, R_NO_SECTOR, R_BAD_DATA, R_NO_TRACK, R_PROTECTED, R_NOT_READY, R_NO_ANSWER, R_RANGE, R_UNKNOWN };

static const char *const reasons[] = {
    "good",
    "the sector's label was not found",
    "the sector's data do not match their check bytes",
    "the arm did not find track 0",
    "the disk is protected against writing",
    "the drive is not ready: is it turning?",
    "the controller does not answer",
    "there is no such sector on this drive",
    "the controller gave a reason that this ROM does not know",
};

struct disk disk;
static u32 retried;

const char *disk_reason(int code)
{
    return code >= 0 && code < COUNT(reasons) ? reasons[code] : reasons[R_UNKNOWN];
}

/* Waits until the controller has nothing to do or, when `data` is set, wants a byte moved. */
static int wait(int data)
{
    u32 left;
    for (left = PATIENCE; left; left--) {
        u8 status = DISK_STATUS;
        if (status & DISK_BUSY)
            continue;
        if (status & DISK_FAULT) {
            u8 reason = DISK_REASON;
            return reason && reason < R_NO_ANSWER ? reason : R_UNKNOWN;
        }
        if (!(status & DISK_READY))
            return R_NOT_READY;
        if (!data || (status & DISK_WANTS_DATA))
            return GOOD;
    }
    return R_NO_ANSWER;
}

static int command(u8 what)
{
    int reason = wait(0);
    if (reason == R_NO_ANSWER)
        return reason;
    DISK_COMMAND = what;
    return wait(what == COMMAND_READ || what == COMMAND_WRITE);
}

static void aim(u32 sector)
{
    u32 track = sector / SECTORS, cylinder = track / HEADS;
    DISK_CYLINDER_HIGH = cylinder >> 8;
    DISK_CYLINDER_LOW = cylinder;
    DISK_HEAD = track % HEADS;
    DISK_SECTOR = sector % SECTORS + 1;
}

static int move(u8 what, u8 *bytes)
{
    int i, reason = command(what);
    if (reason)
        return reason;
    for (i = 0; i < SECTOR_SIZE; i++) {
        if ((reason = wait(1)))
            return reason;
        if (what == COMMAND_READ)
            bytes[i] = DISK_DATA;
        else
            DISK_DATA = bytes[i];
    }
    return wait(0);
}

/* After three tries in place the arm is sent home, since it may stand beside the track. */
static int persist(u8 what, u32 sector, u8 *bytes)
{
    int try, reason = GOOD;
    if (sector >= CYLINDERS * HEADS * SECTORS)
        return R_RANGE;
    for (try = 0; try < TRIES; try++) {
        if (try == TRIES_BEFORE_HOME && (reason = command(COMMAND_HOME)))
            return reason;
        aim(sector);
        reason = move(what, bytes);
        if (reason == GOOD || reason == R_PROTECTED || reason == R_NOT_READY || reason == R_NO_ANSWER)
            return reason;
        retried++;
    }
    return reason;
}

int disk_read(u32 sector, u8 *to)
{
    return persist(COMMAND_READ, sector, to);
}

int disk_write(u32 sector, const u8 *from)
{
    return persist(COMMAND_WRITE, sector, (u8 *)from);
}

int disk_open(void)
{
    disk.read = disk_read;
    disk.write = disk_write;
    retried = 0;
    DISK_COMMAND = COMMAND_RESET;
    return command(COMMAND_HOME);
}
