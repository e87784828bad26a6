/* puzzle.c: fifteen tiles and a gap. */
#include "halden.h"

#define SIDE  4
#define TILE  64
#define LEFT  640
#define TOP   120

static u8 tiles[SIDE * SIDE];
static int gap, moves;

static void draw_tile(int place)
{
    char label[4];
    int x = LEFT + place % SIDE * TILE, y = TOP + place / SIDE * TILE;
    if (!tiles[place]) {
        display_shade(x, y, TILE, TILE, 110);
        return;
    }
    display_fill(x, y, TILE, TILE, INK_SET);
    display_fill(x + 1, y + 1, TILE - 2, TILE - 2, INK_CLEAR);
    text_format(label, sizeof label, "%d", tiles[place]);
    display_text(x + TILE / 2 - 4 * text_length(label), y + TILE / 2 - 8, label, INK_SET);
}

static void draw_board(void)
{
    int i;
    display_frame(LEFT - 12, TOP - 36, SIDE * TILE + 24, SIDE * TILE + 48, "Fifteen");
    for (i = 0; i < SIDE * SIDE; i++)
        draw_tile(i);
}

static void say_board(void)
{
    int i;
    for (i = 0; i < SIDE * SIDE; i++) {
        if (tiles[i])
            say("%4d", tiles[i]);
        else
            say("   .");
        if (i % SIDE == SIDE - 1)
            say("\n");
    }
}

/* Moves the tile that lies dx, dy from the gap into it. */
static int slide(int dx, int dy)
{
    int x = gap % SIDE + dx, y = gap / SIDE + dy, from = y * SIDE + x;
    if (x < 0 || y < 0 || x >= SIDE || y >= SIDE)
        return 0;
    tiles[gap] = tiles[from];
    tiles[from] = 0;
    draw_tile(gap);
    gap = from;
    draw_tile(gap);
    return 1;
}

static int solved(void)
{
    int i;
    for (i = 0; i < SIDE * SIDE - 1; i++)
        if (tiles[i] != i + 1)
            return 0;
    return 1;
}

/* Two hundred moves from the solved board, so that it can be solved. */
static void shuffle(void)
{
    static const i8 steps[4][2] = { { 1, 0 }, { -1, 0 }, { 0, 1 }, { 0, -1 } };
    int i;
    for (i = 0; i < SIDE * SIDE; i++)
        tiles[i] = (i + 1) % (SIDE * SIDE);
    gap = SIDE * SIDE - 1;
    for (i = 0; i < 200; i++) {
        const i8 *step = steps[chance(4)];
        slide(step[0], step[1]);
    }
    moves = 0;
}

void puzzle_run(void)
{
    chance_seed(ticks);
    shuffle();
    draw_board();
    say("Arrows, or l r u d, move a tile into the gap; escape leaves.\n");
    say_board();
    while (!solved()) {
        int moved = 0;
        switch (ask_key()) {
        case -1:
        case 0x1B:
            say("\f");
            return;
        case KEY_LEFT:  case 'l': moved = slide(1, 0); break;
        case KEY_RIGHT: case 'r': moved = slide(-1, 0); break;
        case KEY_UP:    case 'u': moved = slide(0, 1); break;
        case KEY_DOWN:  case 'd': moved = slide(0, -1); break;
        }
        if (moved) {
            moves++;
            say("\n");
            say_board();
        }
    }
    say("Done, in %d moves.\n", moves);
}
