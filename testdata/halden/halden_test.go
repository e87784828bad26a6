// Package halden checks the demo image u41.bin: that it is what README.md says, and that the ROM would find its own
// sums good at power-on. The checks are plain loops over bytes and use nothing of the project, so that the project can
// be held against them.
package halden

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/binary"
	"encoding/hex"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const (
	size       = 512 << 10
	base       = 0xF00000 // where the CPU sees the first byte
	systemPart = 0x40000
)

//go:embed u41.bin
var stored []byte

//go:embed README.md
var readme string

// cpuView exchanges the bytes of each 16-bit word, as `dd conv=swab` does.
func cpuView() []byte {
	image := bytes.Clone(stored)
	for at := 0; at < len(image); at += 2 {
		image[at], image[at+1] = image[at+1], image[at]
	}
	return image
}

type region struct {
	from, to, length int
	what             string
}

// regions reads the table of README.md: first and last offset in hexadecimal, length in decimal, what is there.
func regions(t *testing.T) []region {
	row := regexp.MustCompile(`(?m)^\| ([0-9A-F]{5}) \| ([0-9A-F]{5}) \| +(\d+) \| (.+) \|$`)
	var all []region
	for _, cells := range row.FindAllStringSubmatch(readme, -1) {
		from, err := strconv.ParseInt(cells[1], 16, 32)
		require.NoError(t, err)
		to, err := strconv.ParseInt(cells[2], 16, 32)
		require.NoError(t, err)
		length, err := strconv.Atoi(cells[3])
		require.NoError(t, err)
		all = append(all, region{int(from), int(to) + 1, length, cells[4]})
	}
	require.NotEmpty(t, all)
	return all
}

// fact reads a row of README.md's second table.
func fact(t *testing.T, name string) string {
	row := regexp.MustCompile(`(?m)^\| ` + regexp.QuoteMeta(name) + ` \| ([0-9A-Fa-f]+) \|$`)
	cells := row.FindStringSubmatch(readme)
	require.NotNil(t, cells, "README.md says nothing of the %s", name)
	return cells[1]
}

func TestTheImageIsTheOneThatTheReadmeDescribes(t *testing.T) {
	require.Len(t, stored, size)
	hash := func(b []byte) string { sum := sha256.Sum256(b); return hex.EncodeToString(sum[:]) }
	assert.Equal(t, fact(t, "SHA-256 as stored by the reader"), hash(stored))
	assert.Equal(t, fact(t, "SHA-256 as the CPU sees it"), hash(cpuView()))
}

func TestRegionsFollowOneAnotherAndBlankOnesAreBlank(t *testing.T) {
	image, end, blank := cpuView(), 0, 0
	for _, r := range regions(t) {
		require.Equal(t, end, r.from, r.what)
		require.Equal(t, r.to-r.from, r.length, r.what)
		end = r.to
		erased := bytes.Count(image[r.from:r.to], []byte{0xFF})
		if r.what == "blank, FF" {
			assert.Equal(t, r.length, erased, "%05X", r.from)
			blank += r.length
		} else {
			assert.Less(t, erased*3, r.length*2, r.what)
		}
	}
	assert.Equal(t, size, end)
	assert.Equal(t, strconv.Itoa(blank), fact(t, "blank bytes in all"))
}

// MC68000 User's Manual, exception vectors: the long at 0 is the first stack pointer, the long at 4 the first address;
// the others are handlers.
func TestVectorsPointIntoTheCode(t *testing.T) {
	image := cpuView()
	vector := func(n int) uint32 { return binary.BigEndian.Uint32(image[4*n:]) }
	assert.Equal(t, uint32(0x00010000), vector(0))
	assert.Equal(t, uint32(0xF00400), vector(1))
	handlers := map[uint32]bool{}
	for n := 1; n < 256; n++ {
		assert.Zero(t, vector(n)%2, "vector %d", n)
		assert.GreaterOrEqual(t, vector(n), uint32(base+0x400), "vector %d", n)
		assert.Less(t, vector(n), uint32(base+0x10000), "vector %d", n)
		handlers[vector(n)] = true
	}
	assert.Len(t, handlers, 255)
	assert.Equal(t, []byte{0x46, 0xFC, 0x27, 0x00, 0x4E, 0x70}, image[0x400:0x406], "MOVE #$2700,SR and RESET")
}

// The leading kind: a long, then words that sum to it. Common practice in 68000 desktop ROMs (memory).
func TestLeadingSumOfTheSystemPart(t *testing.T) {
	part := cpuView()[systemPart:]
	var sum uint32
	for at := 4; at < len(part); at += 2 {
		sum += uint32(part[at])<<8 | uint32(part[at+1])
	}
	assert.Equal(t, binary.BigEndian.Uint32(part), sum)
	assert.Equal(t, fact(t, "leading sum of the system part"), hex8(sum))
	assert.Equal(t, "HXSY", string(part[4:8]))
	assert.Equal(t, uint32(len(part)), binary.BigEndian.Uint32(part[8:]))
}

// The closing kind: all longs sum to FFFFFFFF with end-around carry; the balancing long 24 bytes before the end, the
// size 20 bytes before it. Common practice in 68000 system ROMs.
func TestClosingSumOfTheWholeRom(t *testing.T) {
	image := cpuView()
	var sum uint64
	for at := 0; at < size; at += 4 {
		sum += uint64(binary.BigEndian.Uint32(image[at:]))
	}
	for sum>>32 != 0 {
		sum = sum>>32 + sum&0xFFFFFFFF
	}
	assert.Equal(t, uint64(0xFFFFFFFF), sum)
	assert.Equal(t, fact(t, "balancing long"), hex8(binary.BigEndian.Uint32(image[size-24:])))
	assert.Equal(t, uint32(size), binary.BigEndian.Uint32(image[size-20:]))
}

// Neither sum may hold by accident in the order in which the file is stored, or the demo would prove nothing.
func TestSumsDoNotHoldAsStored(t *testing.T) {
	var leading uint32
	for at := systemPart + 4; at < size; at += 2 {
		leading += uint32(binary.BigEndian.Uint16(stored[at:]))
	}
	assert.NotEqual(t, binary.BigEndian.Uint32(stored[systemPart:]), leading)
	var closing uint64
	for at := 0; at < size; at += 4 {
		closing += uint64(binary.BigEndian.Uint32(stored[at:]))
	}
	assert.NotZero(t, closing%0xFFFFFFFF)
}

func hex8(n uint32) string {
	var b [4]byte
	binary.BigEndian.PutUint32(b[:], n)
	return string(bytes.ToUpper([]byte(hex.EncodeToString(b[:]))))
}

func TestTextIsReadableOnlyInTheOrderOfTheCpu(t *testing.T) {
	image := cpuView()
	for _, text := range []string{
		"HALDEN HX-16 SYSTEM ROM REV C 1988-03-14",
		"HX-16 system part 3.4, 1988-03-11",
		"THE HALDEN HX-16: A SHORT MANUAL",
		"Halden alphabetic",
		"the drive is not ready: is it turning?",
		"U41 REVC",
	} {
		assert.True(t, bytes.Contains(image, []byte(text)), text)
		assert.False(t, bytes.Contains(stored, []byte(text)), text)
	}
	assert.True(t, bytes.Contains(stored, []byte("AHDLNEH -X61")), "what the manual says the reader shows")
}

// The compiler is needed by nobody but those who change the ROM, so this runs where LUNETTE_DEMO_REBUILD=1 asks for it.
func TestBuildingAgainGivesTheSameBytes(t *testing.T) {
	if os.Getenv("LUNETTE_DEMO_REBUILD") != "1" || runtime.GOOS == "js" {
		t.Skip("building the ROM needs a cross compiler; LUNETTE_DEMO_REBUILD=1 asks for it")
	}
	out := t.TempDir()
	command := exec.Command("./build", "check")
	command.Env = append(os.Environ(), "OUT="+out)
	said, err := command.CombinedOutput()
	require.NoError(t, err, string(said))
	built, err := os.ReadFile(filepath.Join(out, "u41.bin"))
	require.NoError(t, err)
	assert.True(t, bytes.Equal(stored, built),
		"the image differs from the committed one, which was built with the compiler named in README.md")
}
