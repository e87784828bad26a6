package marks

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
)

func demoROM(t testing.TB) []byte {
	rom, err := os.ReadFile(filepath.Join("..", "..", "testdata", "halden", "u41.bin"))
	require.NoError(t, err)
	return rom
}

// The demo ROM is stored as a x16 reader writes it; in every further arrangement the answer must undo that too.
func TestInspectUndoesEveryOrder(t *testing.T) {
	rom := demoROM(t)
	for _, order := range arrange.Orders() {
		a := Inspect(order.Apply(rom), nil)
		want, ok := order.Then(arrange.Swapped)
		require.True(t, ok)
		require.Equal(t, want, a.Order, order.String())
		require.Equal(t, Certain, a.Sure, order.String())
		require.Equal(t, "m68k", a.Family)
		require.Empty(t, a.Also)
		require.Empty(t, a.Conflicts)
		kinds := map[string]bool{}
		for _, clue := range a.Clues {
			kinds[clue.Kind] = true
			require.NotEmpty(t, clue.Sentence)
		}
		require.Equal(t, map[string]bool{"code": true, "text": true, "header": true, "sum": true}, kinds)
	}
}

// Two chips of which one was read swapped, joined into one file: what speaks for either order must both be told.
func TestConflictsAreShown(t *testing.T) {
	rom := demoROM(t)
	straight := arrange.Swapped.Apply(rom)
	joined := append(append([]byte{}, straight[:0x8000]...), rom[0x54000:0x56000]...) // code one way, text the other
	a := Inspect(joined, nil)
	require.NotEmpty(t, a.Conflicts)
	require.LessOrEqual(t, a.Sure, Weak)
}

func TestInspectOfNothing(t *testing.T) {
	for _, data := range [][]byte{nil, {1}, make([]byte, 4096)} {
		a := Inspect(data, nil)
		require.Equal(t, CannotTell, a.Sure)
		require.Equal(t, arrange.Stored, a.Order)
		require.Empty(t, a.Family)
		require.Empty(t, a.Clues)
	}
}

// Open firmware that this project did not make, in every order: the answer is right, or both readings are named, or it is
// "cannot tell". The families are those of the packages it comes from. LUNETTE_FIRMWARE names the folder.
func TestFirmwareInEveryOrder(t *testing.T) {
	folder := os.Getenv("LUNETTE_FIRMWARE")
	if folder == "" {
		t.Skip("LUNETTE_FIRMWARE names no folder of firmware; make test does")
	}
	answered := 0
	for _, c := range []struct {
		files, family string
		stored        arrange.Arrangement // how the package stores it
	}{
		{"bios*.bin", "x86", arrange.Stored},
		{"vgabios*.bin", "x86", arrange.Stored},
		{"pxe-*.rom", "x86", arrange.Stored},
		{"efi-*.rom", "x86", arrange.Stored},
		{"cbios_main_*.rom", "z80", arrange.Stored},
		{"system-68000-*.rom", "m68k", arrange.Stored},
		{"slof.bin", "ppc", arrange.Stored},
		{"npcm7xx_bootrom.bin", "arm", arrange.Stored},
		{"u-boot-arm.bin", "arm", arrange.Stored},
	} {
		paths, err := filepath.Glob(filepath.Join(folder, c.files))
		require.NoError(t, err)
		require.NotEmpty(t, paths, c.files)
		for _, path := range paths[:min(3, len(paths))] {
			image, err := os.ReadFile(path)
			require.NoError(t, err)
			for _, order := range arrange.Orders() {
				a := Inspect(order.Apply(image), nil)
				require.Contains(t, append(a.Also, a.Order), order, "%s %s: %s", path, order, a.Sure)
				require.Equal(t, c.family, a.Family, "%s %s", path, order)
				if a.Sure >= Strong {
					require.Equal(t, order, a.Order, "%s %s", path, order)
					answered++
				}
			}
		}
	}
	t.Logf("%d firm answers, all right", answered)
}
