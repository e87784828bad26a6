package qr

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"rsc.io/qr/coding"

	"lunette/core/outside"
)

// text returns n characters that a link may have.
func text(n int) string {
	const alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_:/.#"
	r := rand.New(rand.NewPCG(uint64(n), 18004))
	b := make([]byte, n)
	for i := range b {
		b[i] = alphabet[r.IntN(len(alphabet))]
	}
	return string(b)
}

// capacities are the characters that fit at level M in byte mode, from version 1 on (ISO/IEC 18004, table 7; as rsc.io/qr has
// them, less mode and count).
func capacities() []int {
	var all []int
	for v := coding.Version(1); v <= 40; v++ {
		all = append(all, v.DataBytes(coding.M)-header(int(v)))
	}
	return all
}

// rsc.io/qr/coding is the reference: in every version, full and not, and under every mask, each module must be the same.
func TestEveryModuleIsThatOfTheLibrary(t *testing.T) {
	require.Equal(t, []int{14, 26, 42}, capacities()[:3], "ISO/IEC 18004, table 7 (from memory)")
	require.Equal(t, MaxText, capacities()[39])
	for v, most := range capacities() {
		least := 1
		if v > 0 {
			least = capacities()[v-1] + 1
		}
		for _, n := range []int{least, (least + most) / 2, most} {
			code, err := Of(text(n))
			require.NoError(t, err)
			require.Equal(t, 21+4*v, code.Side)
			masks := 0
			for mask := range 8 {
				plan, err := coding.NewPlan(coding.Version(v+1), coding.M, coding.Mask(mask))
				require.NoError(t, err)
				want, err := plan.Encode(coding.String(text(n)))
				require.NoError(t, err)
				s := newSymbol(v + 1)
				s.place(withChecks(dataWords(text(n), v+1, coding.Version(v+1).DataBytes(coding.M)), v+1))
				s.apply(mask)
				rows := s.code().Rows
				for i, row := range rows {
					for j := range row {
						if (row[j] == '1') != want.Black(j, i) {
							require.Fail(t, "module", "version %d, mask %d, %d characters: row %d, column %d", v+1, mask, n, i, j)
						}
					}
				}
				if strings.Join(rows, "") == strings.Join(code.Rows, "") {
					masks++
				}
			}
			require.Equal(t, 1, masks, "the code has one of the eight masks")
		}
	}
}

func TestTextsThatDoNotFit(t *testing.T) {
	_, err := Of("")
	require.EqualError(t, err, "a text of 0 characters does not fit into a QR code; take 1 to 2,331")
	_, err = Of(text(MaxText + 1))
	require.EqualError(t, err, "a text of 2,332 characters does not fit into a QR code; take 1 to 2,331")
	_, err = Of("U41 ä")
	require.EqualError(t, err, "character 5 of the text is not ASCII; a link is")
}

// picture returns a code as a portable grey map (PGM, its manual page), with its quiet zone and some pixels a module.
func picture(c Code, pixels int) []byte {
	side := (c.Side + 2*QuietZone) * pixels
	var b bytes.Buffer
	b.WriteString("P5\n" + strconv.Itoa(side) + " " + strconv.Itoa(side) + "\n255\n")
	for y := range side {
		for x := range side {
			i, j, shade := y/pixels-QuietZone, x/pixels-QuietZone, byte(255)
			if i >= 0 && j >= 0 && i < c.Side && j < c.Side && c.Rows[i][j] == '1' {
				shade = 0
			}
			b.WriteByte(shade)
		}
	}
	return b.Bytes()
}

// zbarimg is an independent decoder: what it reads must be the text, at lengths from one character to the longest link.
func TestAnIndependentDecoderReadsIt(t *testing.T) {
	outside.Tool(t, "zbarimg")
	file := filepath.Join(t.TempDir(), "code.pgm")
	for _, n := range []int{1, 14, 15, 60, 120, 180, 213, 250, 299, 500, 1000, 1560} {
		code, err := Of(text(n))
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(file, picture(code, 4), 0o600))
		read := outside.Run(t, "zbarimg", nil, "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", file)
		require.Equal(t, text(n), strings.TrimSuffix(string(read), "\n"), "%d characters", n)
		if n == 299 {
			require.LessOrEqual(t, code.Side, 69, "a short link stays readable at arm's length")
		}
	}
}

func TestPenalties(t *testing.T) {
	of := func(rows ...string) *symbol {
		s := &symbol{side: len(rows)}
		for _, row := range rows {
			for _, c := range row {
				s.modules = append(s.modules, module(c-'0'))
			}
		}
		return s
	}
	for _, c := range []struct {
		want int
		row  string
	}{
		{0, "1010"},
		{0, "1111"},
		{3, "11111"},  // N1
		{4, "111111"}, // and 1 for each more
		{3, "00000"},
		{3 + 3, "1111100000"},
		{40, "1011101"},              // N3: the quiet zone is light on both sides
		{40, "10111010000"},          // light after it
		{40, "00001011101"},          // and before
		{0, "1010111010101"},         // dark near on both sides
		{40, "1010111010000"},        // dark near on one
		{80, "10111010111010"},       // two that share a dark module, each with light on one side
		{3 + 40, "1111101110100001"}, // both
	} {
		s := &symbol{side: len(c.row)}
		for _, m := range c.row {
			s.modules = append(s.modules, module(m-'0'))
		}
		require.Equal(t, c.want, s.linePenalty(0, 1), c.row)
	}
	// Whole squares, by hand: 3 a square of two by two, and 10 each 5 % away from half.
	require.Equal(t, 0, of("10", "01").penalty())
	require.Equal(t, 3+100, of("11", "11").penalty())            // one square; all dark: 50 % away
	require.Equal(t, 3+100, of("00", "00").penalty())            // one square; none dark
	require.Equal(t, 50, of("10", "11").penalty())               // 75 % dark: 25 % away
	require.Equal(t, 4*3+100, of("111", "111", "111").penalty()) // four squares
	require.Equal(t, 10, of("101", "010", "101").penalty())      // 5 of 9 dark, 55.6 %: one whole step of 5 %
	require.Equal(t, 16*3+5*3+5*3+100, of("11111", "11111", "11111", "11111", "11111").penalty())
}

// The code that is shown has the least penalty of the eight, by a plain count of the rules.
func TestBestOfTheEightMasks(t *testing.T) {
	chosen := map[string]bool{}
	for _, n := range []int{10, 40, 90, 150, 220, 290, 300, 310, 320, 330} {
		code, err := Of(text(n))
		require.NoError(t, err)
		least, best := -1, ""
		for mask := range 8 {
			plan, err := coding.NewPlan(coding.Version((code.Side-17)/4), coding.M, coding.Mask(mask))
			require.NoError(t, err)
			c, err := plan.Encode(coding.String(text(n)))
			require.NoError(t, err)
			rows := make([]string, code.Side)
			for i := range rows {
				for j := range rows {
					rows[i] += map[bool]string{true: "1", false: "0"}[c.Black(j, i)]
				}
			}
			if p := plain(rows); least < 0 || p < least {
				least, best = p, strings.Join(rows, "\n")
			}
			if strings.Join(rows, "\n") == strings.Join(code.Rows, "\n") {
				chosen[strconv.Itoa(mask)] = true
			}
		}
		require.Equal(t, best, strings.Join(code.Rows, "\n"), "%d characters", n)
	}
	require.Greater(t, len(chosen), 2, "not always the same mask")
}

// plain counts the penalty of ISO/IEC 18004, section 6.8.2, with strings.
func plain(rows []string) int {
	columns := make([]string, len(rows))
	for i := range rows {
		for j := range rows {
			columns[j] += rows[i][j : j+1]
		}
	}
	p := 0
	for _, line := range append(append([]string{}, rows...), columns...) {
		for _, colour := range "01" {
			other := map[rune]string{'0': "1", '1': "0"}[colour]
			for _, run := range strings.Split(line, other) {
				if len(run) >= 5 {
					p += 3 + len(run) - 5
				}
			}
		}
		bordered := "0000" + line + "0000"
		for at := 4; at+11 <= len(bordered); at++ {
			if bordered[at:at+7] == "1011101" && (bordered[at-4:at] == "0000" || bordered[at+7:at+11] == "0000") {
				p += 40
			}
		}
	}
	darks := 0
	for i, row := range rows {
		darks += strings.Count(row, "1")
		for j := 0; i > 0 && j+2 <= len(row); j++ {
			if square := rows[i-1][j:j+2] + row[j:j+2]; square == "0000" || square == "1111" {
				p += 3
			}
		}
	}
	total := len(rows) * len(rows)
	percent := 100 * float64(darks) / float64(total)
	for step := 5.0; percent <= 50-step || percent >= 50+step; step += 5 {
		p += 10
	}
	return p
}

func BenchmarkOf(b *testing.B) {
	link := text(299)
	for b.Loop() {
		if _, err := Of(link); err != nil {
			b.Fatal(err)
		}
	}
}
