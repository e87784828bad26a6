/* files.c: reads volumes of the form "HXV1".
 *
 * Sector 0 is the label: "HXV1", the sectors of the volume (long), the first sector and the number of sectors of the
 * directory (words), the name (24 bytes), and in the last word a CRC-16 of all before it. The directory is rows of 32
 * bytes: the name (16), kind and flags (bytes), date (word: year since 1980, month, day in 7, 4 and 5 bits), length
 * (long), map sector (long), spare (word), CRC-16 of the row's first 30 bytes. A map sector is pairs of longs, first
 * sector and count, up to a count of zero; its last long is the number of the map sector that goes on, or zero.
 */
#include "halden.h"

#define LABEL_NAME   12
#define ROW_SIZE     32
#define PAIRS        63

enum { GOOD, R_DISK = 100, R_NOT_A_VOLUME, R_LABEL, R_NO_FILE, R_ROW, R_MAP, R_NOT_MOUNTED };

static u8 sector[SECTOR_SIZE];
static u32 sector_held = 0;                 /* the number of the one in `sector`, plus one */
static u32 volume_sectors, directory_first, directory_count;
static int last_disk_reason;

static u32 word_at(const u8 *p)
{
    return p[0] << 8 | p[1];
}

static u32 long_at(const u8 *p)
{
    return word_at(p) << 16 | word_at(p + 2);
}

const char *file_reason(int code)
{
    switch (code) {
    case GOOD:           return "good";
    case R_DISK:         return disk_reason(last_disk_reason);
    case R_NOT_A_VOLUME: return "there is no HX volume on the disk";
    case R_LABEL:        return "the label of the volume does not match its check word";
    case R_NO_FILE:      return "there is no file of that name";
    case R_ROW:          return "the directory row does not match its check word";
    case R_MAP:          return "the map of the file points outside the volume";
    default:             return "no volume is mounted";
    }
}

static int hold(u32 number)
{
    if (sector_held == number + 1)
        return GOOD;
    sector_held = 0;
    if ((last_disk_reason = disk.read(number, sector)))
        return R_DISK;
    sector_held = number + 1;
    return GOOD;
}

int volume_mount(char *name, int size)
{
    int reason;
    directory_count = 0;
    sector_held = 0;
    if ((reason = hold(0)))
        return reason;
    if (memcmp(sector, "HXV1", 4))
        return R_NOT_A_VOLUME;
    if (crc16(0xFFFF, sector, SECTOR_SIZE - 2) != word_at(sector + SECTOR_SIZE - 2))
        return R_LABEL;
    volume_sectors = long_at(sector + 4);
    directory_first = word_at(sector + 8);
    directory_count = word_at(sector + 10);
    if (directory_first + directory_count > volume_sectors)
        return R_LABEL;
    text_copy(name, (char *)sector + LABEL_NAME, size < 25 ? size : 25);
    return GOOD;
}

/* Walks the directory. Calls `each` with every row in use until it answers other than 0, which is passed on. */
static int walk(int (*each)(const u8 *row, void *what), void *what)
{
    u32 s, at;
    if (!directory_count)
        return R_NOT_MOUNTED;
    for (s = 0; s < directory_count; s++)
        for (at = 0; at < SECTOR_SIZE; at += ROW_SIZE) {
            int reason = hold(directory_first + s);
            if (reason)
                return reason;
            if (sector[at] && (reason = each(sector + at, what)))
                return reason;
        }
    return GOOD;
}

static int row_good(const u8 *row)
{
    return crc16(0xFFFF, row, ROW_SIZE - 2) == word_at(row + ROW_SIZE - 2);
}

static int list_row(const u8 *row, void *what)
{
    char name[17];
    u32 date = word_at(row + 18);
    (void)what;
    text_copy(name, (const char *)row, sizeof name);
    say("%-16s %c %8u bytes  %d-%02d-%02d%s\n", name, row[16] ? row[16] : '-', long_at(row + 20), 1980 + (date >> 9),
        date >> 5 & 15, date & 31, row_good(row) ? "" : "  the row is damaged");
    return stop_wanted() ? R_NO_FILE : GOOD;
}

void volume_list(void)
{
    int reason = walk(list_row, 0);
    if (reason && reason != R_NO_FILE)
        say("%s\n", file_reason(reason));
}

struct search { char name[17]; struct file *file; int found; };

static int match_row(const u8 *row, void *what)
{
    struct search *search = what;
    char name[17];
    text_copy(name, (const char *)row, sizeof name);
    if (!text_same(name, search->name))
        return GOOD;
    if (!row_good(row))
        return R_ROW;
    search->file->length = long_at(row + 20);
    search->file->start = long_at(row + 24);
    search->file->position = 0;
    search->found = 1;
    return R_NO_FILE;               /* only to stop the walk */
}

int file_open(const char *name, struct file *file)
{
    struct search search = { "", file, 0 };
    int reason;
    text_copy(search.name, name, sizeof search.name);
    reason = walk(match_row, &search);
    if (search.found)
        return GOOD;
    return reason ? reason : R_NO_FILE;
}

/* The volume's sector that holds sector `wanted` of the file. */
static int locate(const struct file *file, u32 wanted, u32 *found)
{
    u32 map = file->start, links;
    int reason, i;
    for (links = 0; map && links < volume_sectors; links++) {
        if (map >= volume_sectors)
            return R_MAP;
        if ((reason = hold(map)))
            return reason;
        for (i = 0; i < PAIRS; i++) {
            u32 first = long_at(sector + 8 * i), count = long_at(sector + 8 * i + 4);
            if (count == 0)
                return R_MAP;
            if (first >= volume_sectors || count > volume_sectors - first)
                return R_MAP;
            if (wanted < count) {
                *found = first + wanted;
                return GOOD;
            }
            wanted -= count;
        }
        map = long_at(sector + SECTOR_SIZE - 4);
    }
    return R_MAP;
}

/* Reads up to `count` bytes: how many there were, or the reason below 0. */
int file_read(struct file *file, u8 *to, u32 count)
{
    u32 done = 0;
    if (count > file->length - file->position)
        count = file->length - file->position;
    while (done < count) {
        u32 within = file->position % SECTOR_SIZE, part = SECTOR_SIZE - within, number;
        int reason = locate(file, file->position / SECTOR_SIZE, &number);
        if (!reason)
            reason = hold(number);
        if (reason)
            return -reason;
        if (part > count - done)
            part = count - done;
        memcpy(to + done, sector + within, part);
        done += part;
        file->position += part;
    }
    return done;
}
