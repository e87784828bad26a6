package main

import "strings"

// strokes draws the characters from 32 up. A point is a column a to g and a row 0 to c; points joined by blanks are a
// line, lines are parted by bars, a point alone is a dot. Capitals stand on rows 0 to 9, small letters on 3 to 9, and
// rows a to c hang below the line.
var strokes = [...]string{
	"", "d0 d6|d9", "c0 c2|e0 e2", "c1 c8|e1 e8|a3 g3|a6 g6", "g2 f1 b1 a2 a3 b4 f5 g6 g7 f8 b8 a7|d0 d9",
	"a8 g1|b0 a1 b2 c1 b0|f7 e8 f9 g8 f7", "g9 b3 b1 c0 e1 e2 a6 a8 b9 d9 g6", "d0 d2",
	"e0 c2 c7 e9", "c0 e2 e7 c9", "d1 d7|a2 g6|a6 g2", "d2 d8|a5 g5", "d8 d9 cb", "b5 f5", "d8 d9|e8 e9", "a9 g0",
	"c0 e0 g2 g7 e9 c9 a7 a2 c0|e3 c6", "b2 d0 d9|b9 f9", "a2 c0 e0 g2 g3 a9 g9",
	"a1 b0 f0 g1 g3 f4 c4|f4 g5 g8 f9 b9 a8",
	"f9 f0 a6 g6", "g0 a0 a4 e4 g6 g7 e9 b9 a8", "f0 c0 a2 a7 c9 e9 g7 g6 e4 a4", "a0 g0 c6 c9",
	"c0 e0 g1 g3 e4 c4 a3 a1 c0|e4 g6 g7 e9 c9 a7 a6 c4", "b9 e9 g7 g2 e0 c0 a2 a3 c5 g5", "d3 d4|d8 d9", "d3 d4|d8 d9 cb",
	"f1 b5 f9", "a4 g4|a7 g7", "b1 f5 b9", "a2 c0 e0 g2 g3 d5 d6|d9",
	"e6 c6 c3 e3 e6 g6 g1 f0 b0 a1 a8 b9 g9", "a9 a3 d0 g3 g9|a6 g6", "a0 a9 e9 g8 g6 e4 a4|e4 g2 g1 e0 a0",
	"g2 e0 c0 a2 a7 c9 e9 g7", "a0 a9 d9 g7 g2 d0 a0", "g0 a0 a9 g9|a4 e4", "g0 a0 a9|a4 e4",
	"g2 e0 c0 a2 a7 c9 e9 g7 g5 d5",
	"a0 a9|g0 g9|a4 g4", "b0 f0|d0 d9|b9 f9", "c0 g0|f0 f7 d9 b9 a7", "a0 a9|g0 a5|c4 g9", "a0 a9 g9", "a9 a0 d4 g0 g9",
	"a9 a0 g9 g0", "c0 e0 g2 g7 e9 c9 a7 a2 c0",
	"a9 a0 e0 g1 g4 e5 a5", "c0 e0 g2 g7 e9 c9 a7 a2 c0|e7 ga", "a9 a0 e0 g1 g4 e5 a5|d5 g9",
	"g1 f0 b0 a1 a3 b4 f5 g6 g8 f9 b9 a8",
	"a0 g0|d0 d9", "a0 a7 c9 e9 g7 g0", "a0 a3 d9 g3 g0", "a0 b9 d4 f9 g0",
	"a0 g9|g0 a9", "a0 d4 g0|d4 d9", "a0 g0 a9 g9", "e0 c0 c9 e9", "a0 g9", "c0 e0 e9 c9", "b2 d0 f2", "ac gc",
	"c0 e2", "b3 e3 f4 f8 g9|f6 c6 a7 a8 b9 d9 f8", "a0 a9|a5 c3 e3 g5 g7 e9 c9 a7", "g4 f3 c3 a5 a7 c9 f9 g8",
	"g0 g9|g5 e3 c3 a5 a7 c9 e9 g7", "a6 g6 g5 e3 c3 a5 a7 c9 f9", "g0 e0 d1 d9|b4 f4",
	"g3 gb fc bc ab|g5 e3 c3 a5 a7 c9 e9 g7",
	"a0 a9|a5 c3 e3 g5 g9", "c3 d3 d9|b9 f9|d0 d1", "d3 e3 eb dc bc ab|e0 e1", "a0 a9|f3 a6|c5 f9", "c0 d0 d9|b9 f9",
	"a9 a3|a4 b3 c3 d4 d9|d4 e3 f3 g4 g9", "a9 a3|a5 c3 e3 g5 g9", "c3 e3 g5 g7 e9 c9 a7 a5 c3",
	"a3 ac|a5 c3 e3 g5 g7 e9 c9 a7", "g3 gc|g5 e3 c3 a5 a7 c9 e9 g7", "b9 b3|b5 d3 e3 f4", "f3 b3 a4 a5 b6 e6 f7 f8 e9 a9",
	"c0 c8 d9 e9 f8|a3 e3", "a3 a7 c9 e9 g7|g3 g9", "a3 a4 d9 g4 g3", "a3 b9 d5 f9 g3",
	"a3 g9|g3 a9", "a3 a4 d9|g3 g4 bc", "a3 g3 a9 g9", "f0 e0 d1 d3 c4 d5 d8 e9 f9", "d0 dc", "b0 c0 d1 d3 e4 d5 d8 c9 b9",
	"a5 b4 c4 e6 f6 g5", "a9 a4 c1 e1 g4 g9 a9|d1 d9|a5 g5", // 127: the arched window
}

const glyphRows = 16

// font draws 256 characters of 8 by 16 dots, a byte to the row, leftmost dot in bit 7. Characters below 32 are empty;
// from 128 up the lower half comes again white on black.
func font() []byte {
	rows := make([]byte, 256*glyphRows)
	for i, drawing := range strokes {
		glyph := rows[(32+i)*glyphRows:][:glyphRows]
		for line := range strings.SplitSeq(drawing, "|") {
			points := strings.Fields(line)
			for p := range points {
				draw(glyph, points[max(p-1, 0)], points[p])
			}
		}
	}
	for i := range 128 * glyphRows {
		rows[128*glyphRows+i] = ^rows[i]
	}
	return rows
}

func place(point string) (x, y int) {
	return int(point[0] - 'a'), 2 + strings.IndexByte("0123456789abc", point[1])
}

// draw sets the dots nearest to the line between two points.
func draw(glyph []byte, from, to string) {
	x0, y0 := place(from)
	x1, y1 := place(to)
	steps := max(x1-x0, x0-x1, y1-y0, y0-y1, 1)
	for s := 0; s <= steps; s++ {
		x := (2*(x0*(steps-s)+x1*s) + steps) / (2 * steps)
		y := (2*(y0*(steps-s)+y1*s) + steps) / (2 * steps)
		glyph[y] |= 0x80 >> x
	}
}
