package marks

import (
	"encoding/binary"
	"math/bits"
	"math/rand"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/words"
)

// A planted header is written straight from the published layout into random bytes, by code that knows nothing of the
// code under test.
type plantedHeader struct {
	row   string
	size  int
	check SelfCheck
	plant func(image []byte, rng *rand.Rand) (at int)
}

func put16(b []byte, v int) { binary.BigEndian.PutUint16(b, uint16(v)) }
func put32(b []byte, v int) { binary.BigEndian.PutUint32(b, uint32(v)) }
func le16(b []byte, v int)  { binary.LittleEndian.PutUint16(b, uint16(v)) }

// closeBytes sets the last byte so that the bytes sum to zero modulo 256.
func closeBytes(b []byte) {
	sum := byte(0)
	for _, c := range b[:len(b)-1] {
		sum += c
	}
	b[len(b)-1] = -sum
}

// plantExpansion writes 55 AA, a length in 512 bytes and a jump.
func plantExpansion(b []byte, units int) {
	copy(b, []byte{0x55, 0xAA, byte(units), 0xE9, 0x10, 0x02})
	le16(b[0x18:], 0)
	le16(b[0x1A:], 0)
}

// plantPCI writes an expansion ROM with a PCI data structure of the given code type.
func plantPCI(b []byte, units, kind int, last bool) {
	plantExpansion(b, units)
	le16(b[0x18:], 0x1C)
	p := b[0x1C:]
	clear(p[:0x18])
	copy(p, "PCIR\x34\x12\x78\x56")
	le16(p[0x0A:], 0x18)
	le16(p[0x10:], units)
	p[0x14] = byte(kind)
	if last {
		p[0x15] = 0x80
	}
	closeBytes(b[:units*512])
}

var plantedHeaders = []plantedHeader{
	{"pc-expansion", 16 << 10, CheckHolds, func(b []byte, _ *rand.Rand) int {
		plantExpansion(b, 32)
		closeBytes(b)
		return 0
	}},
	{"pci-expansion", 64 << 10, CheckHolds, func(b []byte, _ *rand.Rand) int {
		plantPCI(b[0x2000:], 16, 0, true)
		return 0x2000
	}},
	{"plug-and-play", 32 << 10, CheckHolds, func(b []byte, _ *rand.Rand) int {
		plantExpansion(b, 64)
		le16(b[0x1A:], 0x40)
		copy(b[0x40:], "$PnP\x01\x02")
		b[0x49] = 0
		sum := byte(0)
		for _, c := range b[0x40:0x60] {
			sum += c
		}
		b[0x49] = -sum
		return 0x40
	}},
	{"pc-system", 64 << 10, CheckHolds, func(b []byte, _ *rand.Rand) int {
		copy(b[len(b)-16:], "\xEA\x5B\xE0\x00\xF004/17/91\x00\xFC")
		return len(b) - 16
	}},
	{"8086-start", 64 << 10, CheckNone, func(b []byte, _ *rand.Rand) int {
		copy(b[len(b)-16:], "\xEA\x5B\xE0\x00\xF0")
		b[0xE05B] = 0xFA
		return len(b) - 16
	}},
	{"fcode", 8 << 10, CheckHolds, func(b []byte, _ *rand.Rand) int {
		const length = 0x1234
		b[0], b[1] = 0xFD, 0x08
		put32(b[4:], length)
		sum := 0
		for _, c := range b[8:length] {
			sum += int(c)
		}
		put16(b[2:], sum)
		return 0
	}},
	{"pci-fcode", 64 << 10, CheckHolds, func(b []byte, _ *rand.Rand) int {
		plantPCI(b, 16, 1, true)
		le16(b[2:], 0x40)
		const length = 0x700
		b[0x40], b[0x41] = 0xF1, 0x08
		put32(b[0x44:], length)
		sum := 0
		for _, c := range b[0x48 : 0x40+length] {
			sum += int(c)
		}
		put16(b[0x42:], sum)
		return 0x40
	}},
	{"nubus", 32 << 10, CheckHolds, func(b []byte, _ *rand.Rand) int {
		end := len(b)
		const length = 0x1800
		put32(b[end-16:], length)
		b[end-8], b[end-7] = 1, 1
		put32(b[end-6:], 0x5A932BC7)
		b[end-2], b[end-1] = 0, 0x78 // lane 3: low nibble 8, high nibble its complement
		put32(b[end-12:], 0)
		sum := uint32(0)
		for _, c := range b[end-length:] {
			sum = sum<<1 | sum>>31
			sum += uint32(c)
		}
		put32(b[end-12:], int(sum))
		return end - length
	}},
	{"rom-part", 64 << 10, CheckHolds, func(b []byte, _ *rand.Rand) int {
		for lane := range 4 {
			b[4*3+lane], b[4*4+lane], b[4*5+lane], b[4*6+lane], b[4*7+lane] = byte(lane), 0x55, 0xAA, 0x33, 16
			sum := byte(0)
			for i := 0; i < 16<<10-1; i++ {
				sum = sum<<1 | sum>>7
				sum += b[4*i+lane]
			}
			b[4*(16<<10-1)+lane] = sum
		}
		return 0
	}},
	{"turbochannel", 16 << 10, CheckHolds, func(b []byte, _ *rand.Rand) int {
		copy(b, "\x01\x04\x02\x01\x55\x00\xAA\xFFV1.2    MAKER   PART-AA TCF0")
		return 0
	}},
	{"msx-cartridge", 16 << 10, CheckNone, func(b []byte, _ *rand.Rand) int {
		copy(b, "AB\x10\x40\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00")
		return 0
	}},
	{"68000-vectors", 64 << 10, CheckNone, func(b []byte, rng *rand.Rand) int {
		put32(b, 0x00080000)
		put32(b[4:], 0x00FC0400)
		for i := 2; i < 64; i++ {
			put32(b[4*i:], 0x00FC0400+2*rng.Intn(0x7000))
		}
		put16(b[0x400:], 0x46FC) // MOVE #,SR
		return 0
	}},
	{"superh-vectors", 64 << 10, CheckNone, func(b []byte, rng *rand.Rand) int {
		for i := range 64 {
			put32(b[4*i:], 0x400+2*rng.Intn(0x7000))
		}
		put32(b[4:], 0x0FFFF000)
		put32(b[12:], 0x0FFFF000)
		return 0
	}},
	{"z80-start", 8 << 10, CheckNone, func(b []byte, rng *rand.Rand) int {
		copy(b, "\xF3\xC3\x00\x01")
		for i := 8; i <= 0x38; i += 8 {
			copy(b[i:], []byte{0xC3, byte(i), 0x02})
		}
		return 0
	}},
	{"8051-start", 8 << 10, CheckNone, func(b []byte, rng *rand.Rand) int {
		copy(b, "\x02\x01\x00\x02\x01\x40")
		for i := 0x0B; i <= 0x23; i += 8 {
			copy(b[i:], []byte{0x02, 0x03, byte(i)})
		}
		return 0
	}},
	{"arm-vectors", 64 << 10, CheckNone, func(b []byte, rng *rand.Rand) int {
		for i := range 8 {
			put32(b[4*i:], 0xEA000000+0x40+rng.Intn(0x1000))
		}
		return 0
	}},
	{"mips-start", 64 << 10, CheckNone, func(b []byte, rng *rand.Rand) int {
		for i := range 4 {
			put32(b[8*i:], 0x0BF00000+0x100+rng.Intn(0x1000))
			put32(b[8*i+4:], 0)
		}
		return 0
	}},
	{"powerpc-vectors", 64 << 10, CheckNone, func(b []byte, rng *rand.Rand) int {
		for i := 0x100; i <= 0xD00; i += 0x100 {
			put32(b[i:], 0x48000000+4*rng.Intn(0x2000))
		}
		return 0
	}},
	{"6502-vectors", 8 << 10, CheckNone, func(b []byte, rng *rand.Rand) int {
		end := len(b)
		le16(b[end-6:], 0xF123)
		le16(b[end-4:], 0xE500)
		le16(b[end-2:], 0xF456)
		copy(b[0x500:], "\xD8\xA2\xFF\x9A") // CLD; LDX #FF; TXS
		return end - 6
	}},
	{"6800-vectors", 2 << 10, CheckNone, func(b []byte, rng *rand.Rand) int {
		end := len(b)
		put16(b[end-8:], 0xF900)
		put16(b[end-6:], 0xFA10)
		put16(b[end-4:], 0xFB20)
		put16(b[end-2:], 0xF880)
		copy(b[0x80:], "\x8E\x00\x7F") // LDS #007F
		return end - 8
	}},
}

func randomBytes(rng *rand.Rand, n int) []byte {
	b := make([]byte, n)
	rng.Read(b)
	return b
}

func headersOfRow(found []Header, row string) (of []Header) {
	for _, h := range found {
		if h.Row == row {
			of = append(of, h)
		}
	}
	return of
}

// Each row has a planted example, so that a row added without one is noticed.
func TestEveryHeaderRowHasAnExample(t *testing.T) {
	planted := map[string]bool{}
	for _, p := range plantedHeaders {
		planted[p.row] = true
	}
	for _, r := range HeaderRows {
		assert.True(t, planted[r.ID], "no example of %s", r.ID)
		assert.NotEmpty(t, r.Source, r.ID)
		assert.NotNil(t, r.test, r.ID)
	}
}

// Layouts: the published ones named in HeaderRows. The image is stored in each arrangement; the header must be found in
// that one, and in no other.
func TestPlantedHeaderIsFoundInItsArrangementOnly(t *testing.T) {
	for _, p := range plantedHeaders {
		t.Run(p.row, func(t *testing.T) {
			row := headerRow(t, p.row)
			for seed := range int64(3) {
				rng := rand.New(rand.NewSource(seed))
				image := randomBytes(rng, p.size)
				at := p.plant(image, rng)
				for _, order := range arrange.Orders() {
					stored := order.Apply(image) // each order undoes itself
					found := headersOfRow(FindHeaders(stored, nil), p.row)
					want := order
					if row.either && exchangesHalves(order) {
						want = otherEnd(order)
					}
					if order.IsMirrored() && p.check == CheckNone && len(found) == 0 {
						continue // weak patterns are not told in orders that hardly ever occur
					}
					require.Len(t, found, 1, "stored with %s, seed %d", order, seed)
					h := found[0]
					assert.Equal(t, want, h.Order, "stored with %s", order)
					if row.either {
						assert.Equal(t, []arrange.Arrangement{otherEnd(want)}, h.Also)
					}
					assert.Equal(t, at, h.At)
					assert.Equal(t, want.Source(at, len(stored)), h.Stored)
					assert.Equal(t, p.check, h.SelfCheck)
					assert.Equal(t, p.check == CheckHolds, h.Settles, "%s, %.1f bits", order, h.Bits)
					assert.NotEmpty(t, h.Detail)
				}
			}
		})
	}
}

func headerRow(t *testing.T, id string) HeaderRow {
	for _, r := range HeaderRows {
		if r.ID == id {
			return r
		}
	}
	require.Fail(t, "no row "+id)
	return HeaderRow{}
}

// A header that lies whole in one byte lane is found there, with random bytes in the other lanes.
func TestPlantedHeaderIsFoundInALane(t *testing.T) {
	for _, p := range plantedHeaders {
		if row := headerRow(t, p.row); row.whole || p.row == "rom-part" {
			continue
		}
		t.Run(p.row, func(t *testing.T) {
			for _, lanes := range []int{2, 4} {
				for lane := range lanes {
					rng := rand.New(rand.NewSource(int64(lane)))
					image := randomBytes(rng, p.size)
					at := p.plant(image, rng)
					all := make([][]byte, lanes)
					for i := range all {
						all[i] = randomBytes(rng, p.size)
					}
					all[lane] = image
					stored, err := arrange.Join(all)
					require.NoError(t, err)
					found := headersOfRow(FindHeaders(stored, nil), p.row)
					require.Len(t, found, 1)
					assert.Equal(t, arrange.Lane(lane, lanes), found[0].Order)
					assert.Equal(t, at, found[0].At)
					assert.Equal(t, at*lanes+lane, found[0].Stored)
				}
			}
		})
	}
}

// One part of a joined set, alone, says which byte lane it is.
func TestROMPartAlone(t *testing.T) {
	rng := rand.New(rand.NewSource(5))
	joined := randomBytes(rng, 64<<10)
	for _, p := range plantedHeaders {
		if p.row == "rom-part" {
			p.plant(joined, rng)
		}
	}
	for lane, part := range arrange.Split(joined, 4) {
		found := headersOfRow(FindHeaders(part, nil), "rom-part")
		require.Len(t, found, 1)
		assert.Equal(t, CheckHolds, found[0].SelfCheck)
		assert.Contains(t, found[0].Detail[1], "byte lane "+string(rune('0'+lane)))
	}
	swapped := arrange.Split(joined, 4)
	swapped[0], swapped[1] = swapped[1], swapped[0]
	wrong, err := arrange.Join(swapped)
	require.NoError(t, err)
	for _, h := range headersOfRow(FindHeaders(wrong, nil), "rom-part") {
		assert.NotEqual(t, arrange.Stored, h.Order, "parts joined in the wrong order do not count up")
	}
}

// One bit changed inside what a self-check covers: the header is still told, and that its check does not hold.
func TestSelfCheckThatDoesNotHold(t *testing.T) {
	for _, row := range []string{"pc-expansion", "pci-expansion", "plug-and-play", "fcode", "nubus", "rom-part"} {
		for _, p := range plantedHeaders {
			if p.row != row {
				continue
			}
			rng := rand.New(rand.NewSource(9))
			image := randomBytes(rng, p.size)
			at := p.plant(image, rng)
			good := headersOfRow(FindHeaders(image, nil), row)
			place := at + 0x100
			if row == "plug-and-play" {
				place = at + 0x1F
			}
			image[place] ^= 1 << bits.TrailingZeros8(0x10)
			bad := headersOfRow(FindHeaders(image, nil), row)
			require.Len(t, bad, 1, row)
			assert.Equal(t, CheckFails, bad[0].SelfCheck, row)
			assert.NotEqual(t, bad[0].Expected, bad[0].Found, row)
			assert.False(t, bad[0].Settles)
			assert.Less(t, bad[0].Bits, good[0].Bits, row)
		}
	}
}

// Expansion ROMs one after another in one dump: all are listed, and each says where it stands in the chain.
func TestChainedImages(t *testing.T) {
	rng := rand.New(rand.NewSource(3))
	image := randomBytes(rng, 128<<10)
	plantPCI(image[0:], 8, 0, false)
	plantPCI(image[8*512:], 16, 1, false)
	plantPCI(image[24*512:], 4, 3, true)
	plantExpansion(image[64<<10:], 8) // another card's ROM, 2 KiB steps
	closeBytes(image[64<<10:][:8*512])

	found := FindHeaders(image, nil)
	chain := headersOfRow(found, "pci-expansion")
	require.Len(t, chain, 3)
	for _, h := range chain {
		switch h.At {
		case 0:
			assert.Contains(t, h.Detail, "image 1 of 3 in its chain")
			assert.Equal(t, CheckHolds, h.SelfCheck)
			assert.Equal(t, "x86", h.Family)
		case 8 * 512:
			assert.Contains(t, h.Detail, "image 2 of 3 in its chain")
			assert.Equal(t, CheckNotAsked, h.SelfCheck)
		case 24 * 512:
			assert.Contains(t, h.Detail, "image 3 of 3 in its chain")
		default:
			assert.Fail(t, "unexpected image", "at %X", h.At)
		}
	}
	other := headersOfRow(found, "pc-expansion")
	require.Len(t, other, 1)
	assert.Equal(t, 64<<10, other[0].At)

	cut := headersOfRow(FindHeaders(image[:24*512], nil), "pci-expansion")
	require.Len(t, cut, 2)
	said := append(cut[0].Detail, cut[1].Detail...)
	assert.Contains(t, said, "it says another image follows at 003000, and none does: the dump may be cut short")
}

// Open firmware that others made, from Debian's packages (testfirmware.sh): each image, stored in each order, must be
// claimed in that order and in no other by anything that settles.
func TestHeadersOfOpenFirmware(t *testing.T) {
	want := []struct {
		file, row string
		check     SelfCheck
		at        int // from the start, or from the end when negative
		settles   bool
	}{
		{"bios.bin", "pc-system", CheckHolds, -16, true},
		{"bios-256k.bin", "pc-system", CheckHolds, -16, true},
		{"vgabios.bin", "pc-expansion", CheckHolds, 0, true},
		{"vgabios-isavga.bin", "pc-expansion", CheckHolds, 0, true},
		{"sgabios.bin", "pc-expansion", CheckHolds, 0, true},
		{"kvmvapic.bin", "pc-expansion", CheckHolds, 0, true},
		{"vgabios-stdvga.bin", "pci-expansion", CheckHolds, 0, true},
		{"vgabios-cirrus.bin", "pci-expansion", CheckHolds, 0, true},
		{"pxe-e1000.rom", "pci-expansion", CheckHolds, 0, true},
		{"pxe-e1000.rom", "plug-and-play", CheckHolds, 0x40, true},
		{"efi-e1000.rom", "pci-expansion", CheckHolds, 0, true},
		{"efi-rtl8139.rom", "plug-and-play", CheckHolds, 0x40, true},
		{"QEMU,VGA.bin", "fcode", CheckHolds, 0, true},
		{"QEMU,cgthree.bin", "fcode", CheckHolds, 0, true},
		{"QEMU,tcx.bin", "fcode", CheckHolds, 0, true},
		{"cbios_disk.rom", "msx-cartridge", CheckNone, 0, false},
		{"slof.bin", "powerpc-vectors", CheckNone, 0, false},
	}
	for _, w := range want {
		t.Run(w.file+" "+w.row, func(t *testing.T) {
			image := openFirmware(t, w.file)
			if w.at < 0 {
				w.at += len(image)
			}
			for _, order := range arrange.Orders() {
				if len(image)%order.Unit() != 0 {
					continue // the last incomplete group is not what the order makes of a longer image
				}
				var here []Header
				for _, h := range FindHeaders(order.Apply(image), nil) {
					assert.Equal(t, order, h.Order, "%s in another arrangement", h.Row)
					if h.Row == w.row && h.At == w.at {
						here = append(here, h)
					}
				}
				require.Len(t, here, 1, order)
				assert.Equal(t, w.check, here[0].SelfCheck)
				if !order.IsMirrored() { // which has an eighth of the weight
					assert.Equal(t, w.settles, here[0].Settles, "%.1f bits", here[0].Bits)
				}
			}
		})
	}
	t.Run("chain", func(t *testing.T) {
		chain := headersOfRow(FindHeaders(openFirmware(t, "efi-e1000.rom"), nil), "pci-expansion")
		require.Len(t, chain, 2)
		assert.Contains(t, chain[0].Detail, "image 1 of 2 in its chain")
		assert.Contains(t, chain[1].Detail, "image 2 of 2 in its chain")
		assert.Contains(t, chain[0].Detail, "PCI vendor 8086, device 100E") // an e1000, as the file's name says
	})
	t.Run("little-endian ARM", func(t *testing.T) {
		found := headersOfRow(FindHeaders(openFirmware(t, "u-boot-arm.bin"), nil), "arm-vectors")
		require.Len(t, found, 1)
		assert.Equal(t, arrange.Stored, found[0].Order)
		assert.Contains(t, found[0].Detail, "words read with the low byte first here; the same as high byte first with 32-bit words reversed")
	})
}

// openFirmware returns an image that testdata/firmware.sh fetched.
func openFirmware(t testing.TB, name string) []byte {
	t.Helper()
	folder := os.Getenv("LUNETTE_FIRMWARE")
	if folder == "" {
		t.Skip("LUNETTE_FIRMWARE names no folder; make firmware fills one from Debian's packages")
	}
	image, err := os.ReadFile(filepath.Join(folder, name))
	if os.IsNotExist(err) {
		t.Skipf("%s is not in %s: this Debian has no package with it", name, folder)
	}
	require.NoError(t, err)
	return image
}

func FuzzFindHeaders(f *testing.F) {
	rng := rand.New(rand.NewSource(1))
	for _, p := range plantedHeaders {
		image := randomBytes(rng, min(p.size, 8<<10))
		if p.size <= 8<<10 {
			p.plant(image, rng)
		}
		f.Add(image)
	}
	f.Add([]byte{})
	f.Add([]byte{0x55, 0xAA, 0xFF, 0xE9})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 64<<10 {
			return
		}
		reached := 0
		for _, h := range FindHeaders(data, func(done int) { reached = done }) {
			if h.At < 0 || h.At >= h.Order.Len(len(data)) || h.Stored != h.Order.Source(h.At, len(data)) {
				t.Fatalf("%s at %X, stored %X, in %d bytes", h.Row, h.At, h.Stored, len(data))
			}
			if h.Bits < leastHeaderBits || h.Tries < 1 || h.Settles && h.SelfCheck != CheckHolds {
				t.Fatalf("%s with %.1f bits, %s, settles %v", h.Row, h.Bits, h.SelfCheck, h.Settles)
			}
		}
		if reached != len(data) {
			t.Fatalf("progress ended at %d of %d", reached, len(data))
		}
	})
}

func BenchmarkFindHeaders(b *testing.B) {
	for _, size := range []int{512 << 10, 64 << 20} {
		data := randomBytes(rand.New(rand.NewSource(1)), size)
		b.Run(words.Size(size), func(b *testing.B) {
			b.SetBytes(int64(size))
			for b.Loop() {
				FindHeaders(data, nil)
			}
		})
	}
}
