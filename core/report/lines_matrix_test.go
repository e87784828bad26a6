package report

import (
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/marks"
	"lunette/core/survey"
)

// images are windows of real code: the demo board's, and where LUNETTE_FIRMWARE names a folder of open firmware (`make test`
// fetches it from Debian's packages) that of other CPU families.
func images(t *testing.T) map[string][]byte {
	rom, err := os.ReadFile(filepath.Join("..", "..", "testdata", "halden", "u41.bin"))
	require.NoError(t, err)
	found := map[string][]byte{"68000": rom[:16<<10], "68000, stored swapped": arrange.Swapped.Apply(rom[0x40000:0x44000])}
	for _, foreign := range []struct {
		family, name string
		from         int
	}{{"Z80", "cbios_main_msx2.rom", 0}, {"x86", "bios.bin", 0x18000}, {"x86, newer", "bios-256k.bin", 0x30000}} {
		if image, err := os.ReadFile(filepath.Join(os.Getenv("LUNETTE_FIRMWARE"), foreign.name)); err == nil {
			found[foreign.family] = image[foreign.from : foreign.from+16<<10]
		}
	}
	return found
}

// lineFindings returns what is said about the lines of an image.
func lineFindings(image []byte) (data, address Finding) {
	s := survey.Take(image, nil)
	c := contentOf(s)
	if c.constant {
		return data, address
	}
	return dataLinesFinding(s, c), addressLinesFinding(s, c, marks.Answer{})
}

// setting returns what a device with content m shows when forced says what the address and a byte become.
func setting(m []byte, address func(a int) int, value func(a int, b byte) byte) []byte {
	read := make([]byte, len(m))
	for a := range read {
		read[a] = value(a, m[address(a)])
	}
	return read
}

func sameAddress(a int) int        { return a }
func sameValue(_ int, b byte) byte { return b }
func level(low bool, a, b int) int { // of two lines wired together
	if low {
		return a & b
	}
	return a | b
}

// Every single fault of a line that shows in one dump alone, on every line and every pair, in real code: a stuck data line and
// two that are bridged, of a x8 and of a x16 chip, an address line without effect and two that are bridged. Each must be
// named; the lines at the edge of a byte and the highest address lines may be doubted, the others are faulty.
func TestEveryLineFaultAlone(t *testing.T) {
	count := map[Severity]int{}
	data := func(name, say string, edge bool, image []byte) {
		f, _ := lineFindings(image)
		allowed := []Severity{Fault, Warning}
		if edge {
			allowed = append(allowed, Note) // such content may not use the line: it is named, and not judged
		}
		require.Contains(t, allowed, f.Severity, "%s: %s", name, f.Answer)
		texts := f.Answer
		for _, e := range f.Evidence {
			texts += "\n" + e.Text
		}
		require.Contains(t, texts, say, name)
		count[f.Severity]++
	}
	for name, m := range images(t) {
		for k := range 16 {
			lane, bit := k/8, k%8
			for _, high := range []bool{false, true} {
				word := "low"
				if high {
					word = "high"
				}
				stuck := func(b byte) byte {
					if high {
						return b | 1<<bit
					}
					return b &^ (1 << bit)
				}
				d := "D" + strconv.Itoa(bit) + " never leaves " + word
				if lane == 0 {
					data(name, d, bit%7 == 0, setting(m, sameAddress, func(_ int, b byte) byte { return stuck(b) }))
				}
				data(name, d+" in the "+[]string{"even", "odd"}[lane]+" bytes", bit%7 == 0, setting(m, sameAddress, func(a int, b byte) byte {
					if a%2 == lane {
						return stuck(b)
					}
					return b
				}))
			}
		}
		for j := range 16 {
			for i := range j {
				for _, low := range []bool{false, true} {
					if j < 8 {
						data(name, "D"+strconv.Itoa(i)+" and D"+strconv.Itoa(j)+" always read the same", atEdge([]int{i, j}), setting(m, sameAddress, func(_ int, b byte) byte {
							v := byte(level(low, int(b>>i), int(b>>j)) & 1)
							return b&^(1<<i|1<<j) | v<<i | v<<j
						}))
					}
					say := "D" + strconv.Itoa(i%8) + " and D" + strconv.Itoa(j%8) + " always read the same in the "
					if i < 8 && j >= 8 {
						say = "D" + strconv.Itoa(i) + " and D" + strconv.Itoa(j) + " of a x16 chip always read the same"
					}
					read := make([]byte, len(m))
					for a := 0; a < len(m); a += 2 {
						w := int(m[a]) | int(m[a+1])<<8
						v := level(low, w>>i, w>>j) & 1
						w = w&^(1<<i|1<<j) | v<<i | v<<j
						read[a], read[a+1] = byte(w), byte(w>>8)
					}
					data(name, say, atEdge([]int{i % 8, j % 8}) || i%8%7 == 0 && j%8%7 == 0, read)
				}
			}
		}
		for j := range 14 {
			for _, forced := range []int{0, 1 << j} {
				s := survey.Take(setting(m, func(a int) int { return a&^(1<<j) | forced }, sameValue), nil)
				if j == 13 {
					require.Equal(t, 1<<j, s.Period, "%s: A%d", name, j)
					continue // a doubled image or an overdump: for the finding of repeats
				}
				f := addressLinesFinding(s, contentOf(s), marks.Answer{})
				require.Equal(t, Fault, f.Severity, "%s: A%d", name, j)
				require.Contains(t, f.Answer, "Address line A"+strconv.Itoa(j)+" changes nothing")
				count[f.Severity]++
			}
			for i := range j {
				for _, low := range []bool{false, true} {
					_, f := lineFindings(setting(m, func(a int) int {
						v := level(low, a>>i, a>>j) & 1
						return a&^(1<<i|1<<j) | v<<i | v<<j
					}, sameValue))
					require.Contains(t, []Severity{Fault, Warning}, f.Severity, "%s: A%d and A%d: %s", name, i, j, f.Answer)
					require.Equal(t, "Address lines A"+strconv.Itoa(i)+" and A"+strconv.Itoa(j)+" act as one.", f.Answer, name)
					count[f.Severity]++
				}
			}
		}
	}
	t.Logf("%d images: %d faults called faulty, %d suspect, %d named but not judged", len(images(t)), count[Fault], count[Warning], count[Note])
}

// No window of anything whole may have its lines called faulty. LUNETTE_FIRMWARE and LUNETTE_CORPUS name folders.
func TestNoLineFaultInWindows(t *testing.T) {
	if runtime.GOOS == "js" {
		t.Skip("the native run of this test reads the folders")
	}
	windows, warned := 0, 0
	for _, folder := range []string{os.Getenv("LUNETTE_FIRMWARE"), os.Getenv("LUNETTE_CORPUS"), filepath.Join("..", "..", "testdata", "halden", "u41.bin")} {
		if folder == "" {
			continue
		}
		require.NoError(t, filepath.Walk(folder, func(path string, info os.FileInfo, err error) error {
			if err != nil || !info.Mode().IsRegular() {
				return err
			}
			image, err := os.ReadFile(path)
			require.NoError(t, err)
			for _, size := range []int{1 << 10, 8 << 10, 64 << 10, 512 << 10} {
				step := size * max(1, len(image)/size/16) // 16 windows of each size
				for from := 0; from+size <= len(image); from += step {
					data, address := lineFindings(image[from : from+size])
					require.NotEqual(t, Fault, data.Severity, "%s %X+%X: %s", path, from, size, data.Answer)
					require.NotEqual(t, Fault, address.Severity, "%s %X+%X: %s", path, from, size, address.Answer)
					windows++
					if data.Severity == Warning || address.Severity == Warning {
						warned++
					}
				}
			}
			return nil
		}))
	}
	t.Logf("%d windows, none called faulty, %d suspect", windows, warned)
}
