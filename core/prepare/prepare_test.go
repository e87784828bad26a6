package prepare

import (
	"bytes"
	"hash/crc32"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/chips"
	"lunette/core/outside"
	"lunette/core/words"
)

// u41 is the demo board's system ROM as the reader stored it: the CPU, a 68000, sees it with the bytes of each word swapped.
func u41(t testing.TB) []byte {
	stored, err := os.ReadFile(filepath.Join("..", "..", "testdata", "halden", "u41.bin"))
	require.NoError(t, err)
	return stored
}

// contentsOf prepares a plan that must work.
func contentsOf(t testing.TB, stored []byte, plan Plan) (contents [][]byte) {
	t.Helper()
	p, err := Prepare(stored, plan)
	require.NoError(t, err, "%+v", plan)
	for _, f := range p.Files {
		contents = append(contents, f.Content)
	}
	return contents
}

// U41 into chips, byte for byte as coreutils and binutils make it.
func TestU41AgainstOtherTools(t *testing.T) {
	stored := u41(t)
	swapped := outside.Run(t, "dd", stored, "conv=swab", "status=none")
	lane := func(of, i int) []byte {
		return objcopy(t, swapped, "-I", "binary", "-O", "binary", "--interleave="+strconv.Itoa(of), "--byte="+strconv.Itoa(i))
	}
	bank := func(half, i int) []byte {
		part := outside.Run(t, "dd", swapped, "bs=256k", "count=1", "iflag=fullblock", "skip="+strconv.Itoa(half), "status=none")
		return objcopy(t, part, "-I", "binary", "-O", "binary", "--interleave=2", "--byte="+strconv.Itoa(i))
	}
	plan := Plan{Name: "halden-u41.bin", Order: arrange.Swapped, CPU: Big}
	for _, c := range []struct {
		name   string
		device string
		view   chips.View
		buffer Buffer
		want   [][]byte
	}{
		{"27C400, low byte first: as it is stored", "27C400", chips.X16, LowFirst, [][]byte{stored}},
		{"27C400, high byte first: dd conv=swab", "27C400", chips.X16, HighFirst, [][]byte{swapped}},
		{"two 27C020", "27C020", chips.Pair, "", [][]byte{lane(2, 0), lane(2, 1)}},
		{"four 27C010", "27C010", chips.Four, "", [][]byte{lane(4, 0), lane(4, 1), lane(4, 2), lane(4, 3)}},
		{"four 27C010 in two pairs", "27C010", chips.Pairs, "", [][]byte{bank(0, 0), bank(0, 1), bank(1, 0), bank(1, 1)}},
		{"doubled 27C800", "27C800", chips.X16, LowFirst, [][]byte{append(bytes.Clone(stored), stored...)}},
		{"doubled 27C800, high byte first", "27C800", chips.X16, HighFirst, [][]byte{append(bytes.Clone(swapped), swapped...)}},
		{"27C040", "27C040", chips.X8, "", [][]byte{swapped}},
		{"27C400 in byte mode, high byte first", "27C400", chips.X8, HighFirst, [][]byte{stored}},
	} {
		t.Run(c.name, func(t *testing.T) {
			plan.Device, plan.View, plan.Buffer = c.device, c.view, c.buffer
			for _, format := range []Format{Raw, HEX, SRecord} {
				plan.Format = format
				p, err := Prepare(stored, plan)
				require.NoError(t, err)
				require.Len(t, p.Files, len(c.want))
				for i, f := range p.Files {
					require.True(t, bytes.Equal(c.want[i], f.Content), f.Name)
					in := map[Format]string{Raw: "binary", HEX: "ihex", SRecord: "srec"}[format]
					if format == Raw {
						cmp(t, f.Data, c.want[i])
					} else {
						cmp(t, objcopy(t, f.Data, "-I", in, "-O", "binary"), c.want[i])
					}
				}
			}
		})
	}
}

// objcopy runs binutils' objcopy on data as a file and returns the file that it makes.
func objcopy(t *testing.T, data []byte, args ...string) []byte {
	t.Helper()
	outside.Tool(t, "objcopy")
	in, out := filepath.Join(t.TempDir(), "in"), filepath.Join(t.TempDir(), "out")
	require.NoError(t, os.WriteFile(in, data, 0o600))
	outside.Run(t, "objcopy", nil, append(args, in, out)...)
	made, err := os.ReadFile(out)
	require.NoError(t, err)
	return made
}

// cmp fails the test unless cmp of diffutils finds no difference.
func cmp(t *testing.T, ours, theirs []byte) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "theirs")
	require.NoError(t, os.WriteFile(file, theirs, 0o600))
	outside.Run(t, "cmp", ours, "-", file)
}

// board reads a byte as the hardware does, with nothing of the code under test: the CPU's address goes to the chips' address
// lines, their data lines go to the CPU. buffers are the chips' contents as the reader keeps them.
type board struct {
	plan    Plan
	wide    bool // the device has sixteen data lines
	buffers [][]byte
	bank    int // of two pairs: bytes of the image in the lower one, where the board changes over to the upper one
	from    int // where in each chip the board begins to read, by its spare address lines
}

func (b board) read(address int) byte {
	value := byte(0)
	switch b.plan.View {
	case chips.X16:
		low, high := b.word(0, b.from/2+address/2)
		if (b.plan.CPU == Big) == (address%2 == 0) {
			value = high
		} else {
			value = low
		}
	case chips.Pair:
		value = b.byte(address%2, b.from+address/2)
	case chips.Pairs:
		pair := 2 * (address / b.bank)
		value = b.byte(pair+address%2, b.from+address%b.bank/2)
	case chips.Four:
		value = b.byte(address%4, b.from+address/4)
	case chips.X8:
		value = b.byte(0, b.from+address)
	}
	if b.plan.Bits == Crossed {
		mirrored := byte(0)
		for bit := range 8 {
			mirrored |= value >> bit & 1 << (7 - bit)
		}
		value = mirrored
	}
	return value
}

// word is what a chip with sixteen data lines gives at a word address: D0-D7 and D8-D15.
func (b board) word(chip, address int) (low, high byte) {
	first, second := b.buffers[chip][2*address], b.buffers[chip][2*address+1]
	if b.plan.Buffer == HighFirst {
		return second, first
	}
	return first, second
}

// byte is what a chip gives on D0-D7 at a byte address, A-1 being the lowest line of one in byte mode.
func (b board) byte(chip, address int) byte {
	if !b.wide {
		return b.buffers[chip][address]
	}
	low, high := b.word(chip, address/2)
	if address%2 == 0 {
		return low
	}
	return high
}

func random(n int, seed uint64) []byte {
	r := rand.New(rand.NewPCG(seed, 2))
	data := make([]byte, n)
	for i := range data {
		data[i] = byte(r.Uint32())
	}
	return data
}

// For every device, view and convention the CPU reads from the chips what the order says it sees, wherever the image
// stands in them, and joining the files back gives the dump.
func TestTheCPUReadsTheImage(t *testing.T) {
	made := 0
	noise := random(2<<20, 6)
	for _, d := range chips.All() {
		if d.Capacity > 32<<10 && d.ID != "27C1024" && d.ID != "27C400" { // more of the same, which would only take time
			continue
		}
		for _, view := range []chips.View{chips.X16, chips.X8, chips.Pair, chips.Pairs, chips.Four} {
			for _, cpu := range []Endian{Big, Little} {
				for _, buffer := range []Buffer{LowFirst, HighFirst} {
					for _, spare := range []Spare{Repeat, Pad} {
						plan := Plan{Name: "x", Device: d.ID, View: view, CPU: cpu, Buffer: buffer, Spare: spare, Fill: 0x5A}
						made += readsBack(t, d, plan, noise)
					}
				}
			}
		}
	}
	assert.Greater(t, made, 400, "plans that can be carried out")
}

// readsBack tries a plan with several orders and sizes and returns how many could be carried out.
func readsBack(t *testing.T, d chips.Device, plan Plan, noise []byte) (made int) {
	for n, order := range arrange.Orders() {
		plan.Order = order
		plan.Bits = [3]Bits{"", Straight, Crossed}[n%3]
		if order.IsMirrored() && plan.Bits == "" {
			plan.Bits = Crossed
		}
		plan.End = arrange.End(n % 2)
		size := d.Capacity * plan.View.Chips() >> (n % 3)
		if n%2 == 1 && d.Capacity > 64<<10 {
			continue
		}
		if plan.Spare == Pad && plan.View == chips.Pairs {
			size >>= 1 // whatever is no power of two is refused
		} else if plan.Spare == Pad {
			size -= 4 * plan.View.Chips()
		}
		stored := noise[:size]
		p, err := Prepare(stored, plan)
		if err != nil {
			continue
		}
		made++
		b := board{plan: plan, wide: d.HasBits(16), bank: size / 2}
		for _, f := range p.Files {
			require.Len(t, f.Content, d.Capacity)
			b.buffers = append(b.buffers, f.Content)
		}
		image, period := order.Apply(stored), size
		if plan.Spare == Pad && plan.End == arrange.Top {
			b.from = d.Capacity - size/plan.View.Chips()
		}
		for address := 0; address < size; address += 1 + size/997 {
			if got := b.read(address); got != image[address] {
				t.Fatalf("%+v: the CPU reads %02X at %X, expected %02X", plan, got, address, image[address])
			}
		}
		if plan.Spare == Repeat && plan.View != chips.Pairs {
			for at := 0; at < d.Capacity*plan.View.Lanes(); at += period/3 + 5 {
				require.Equal(t, image[at%period], b.read(at))
			}
		}
		if plan.Spare == Repeat && plan.View == chips.Pairs {
			for b.from = 0; b.from < d.Capacity; b.from += size / 4 { // whatever the spare lines are tied to
				require.Equal(t, image[size-3], b.read(size-3))
			}
		}
		checkPicture(t, p, image, stored, plan.Bits == Crossed)
	}
	return made
}

// checkPicture checks that the picture has the first eight bytes once in each half, where they stand in the files.
func checkPicture(t *testing.T, p *Prepared, image, stored []byte, crossed bool) {
	require.Len(t, p.Picture.CPU, 8)
	drawn := 0
	for k, row := range p.Picture.Chips {
		require.Equal(t, p.Files[k].Name, row.File)
		for i, cell := range row.Cells {
			drawn++
			require.True(t, i == 0 || cell.Offset > row.Cells[i-1].Offset, "in the order of the file")
			require.Equal(t, words.Byte(p.Files[k].Content[cell.Offset]), cell.Value)
			at := slices.IndexFunc(p.Picture.CPU, func(c Cell) bool { return c.Address == cell.Address })
			seen := p.Picture.CPU[at]
			require.Equal(t, words.Byte(image[cell.Address]), seen.Value)
			require.Equal(t, cell.Offset, seen.Offset)
			if !crossed {
				require.Equal(t, seen.Value, cell.Value)
				if image[cell.Address] == stored[cell.Stored] {
					require.Equal(t, words.Byte(stored[cell.Stored]), cell.Value)
				}
			}
		}
	}
	require.Equal(t, 8, drawn)
}

// The figures on the card are those of the file, by other means.
func TestCardAndSums(t *testing.T) {
	stored := u41(t)
	plan := Plan{Name: "roms/halden-u41.bin", Device: "27C020", View: chips.Pair, Order: arrange.Swapped, CPU: Big}
	p, err := Prepare(stored, plan)
	require.NoError(t, err)
	assert.Equal(t, "halden-u41.even.27C020.bin", p.Files[0].Name)
	assert.Equal(t, "halden-u41.odd.27C020.bin", p.Files[1].Name)
	assert.Equal(t, []string{"D8-D15", "D0-D7"}, []string{p.Files[0].Lines, p.Files[1].Lines})
	for _, f := range p.Files {
		sum := 0
		for _, b := range f.Content {
			sum += int(b)
		}
		assert.Equal(t, strings.ToUpper(strconv.FormatInt(int64(sum%65536)+65536, 16))[1:], f.ByteSum)
		assert.Equal(t, strings.ToUpper(strconv.FormatInt(int64(crc32.ChecksumIEEE(f.Content))+1<<32, 16))[1:], f.CRC)
		assert.Contains(t, p.Card, f.Name+"\n  device     27C020, DIP-32\n")
		assert.Contains(t, p.Card, f.ByteSum)
		assert.Contains(t, p.Card, f.CRC)
	}
	assert.Equal(t, "halden-u41.card.27C020.txt", p.CardName)
	for _, line := range strings.Split(p.Card, "\n") {
		assert.LessOrEqual(t, len(line), 72, line)
	}
	plan.CPU = Little
	p, err = Prepare(stored, plan)
	require.NoError(t, err)
	assert.Equal(t, []string{"D0-D7", "D8-D15"}, []string{p.Files[0].Lines, p.Files[1].Lines}, "8086: the even byte is on D0-D7")
}

// Plans that make other bytes have other names.
func TestNamesTellFilesApart(t *testing.T) {
	named := map[string]string{}
	stored := random(64<<10, 3)
	for _, device := range []string{"27C256", "27C512", "27C010", "27C020", "27C1024", "27C400"} {
		for _, view := range []chips.View{chips.X16, chips.X8, chips.Pair, chips.Pairs, chips.Four} {
			for _, buffer := range []Buffer{LowFirst, HighFirst} {
				for _, spare := range []Spare{Repeat, Pad} {
					for _, end := range []arrange.End{arrange.Bottom, arrange.Top} {
						for _, fill := range []byte{0x00, 0xFF} {
							for _, bits := range []Bits{Straight, Crossed} {
								p, err := Prepare(stored, Plan{"a b.bin", device, view, arrange.Stored, Big, buffer, spare, end, fill, bits, Raw, 0, 0, ""})
								if err != nil {
									continue
								}
								for _, f := range p.Files {
									sum := f.CRC + strconv.Itoa(f.Size)
									if other, ok := named[f.Name]; ok {
										require.Equal(t, other, sum, "%s names two contents", f.Name)
									}
									named[f.Name] = sum
								}
							}
						}
					}
				}
			}
		}
	}
	assert.Greater(t, len(named), 100)
	assert.Contains(t, named, "a-b.low-first.padFF-top.27C400.bin")
	assert.Contains(t, named, "a-b.byte-mode.high-first.8-times.27C400.bin")
}

// A dump that is a lane already keeps the lane in its file's name and on its card.
func TestALaneForOneChip(t *testing.T) {
	p, err := Prepare(random(32<<10, 4), Plan{Name: "halden-u8.bin", Device: "27C256", View: chips.X8, CPU: Big, Lane: 1, Lanes: 2})
	require.NoError(t, err)
	require.Len(t, p.Files, 1)
	assert.Equal(t, "halden-u8.odd.27C256.bin", p.Files[0].Name)
	assert.Equal(t, "D0-D7", p.Files[0].Lines, "68000: the odd byte is on D0-D7")
	assert.Contains(t, p.Card, "lane       odd")
	assert.Contains(t, p.Steps[0], "one lane already (odd)")
}

func TestPicture(t *testing.T) {
	p, err := Prepare([]byte("ABCDEFGH"+strings.Repeat("x", 65528)), Plan{Device: "27C1024", View: chips.X16, CPU: Big, Buffer: LowFirst,
		Spare: Pad, End: arrange.Top, Fill: 0xFF})
	require.NoError(t, err)
	require.Len(t, p.Picture.CPU, 8)
	assert.Equal(t, Cell{Address: 1, Stored: 1, Offset: 65536, Value: "42", Tint: 1}, p.Picture.CPU[1])
	row := p.Picture.Chips[0]
	assert.Equal(t, 65536, row.From)
	assert.Equal(t, Cell{Address: 1, Stored: 1, Offset: 65536, Value: "42", Tint: 1}, row.Cells[0])
	assert.Equal(t, Cell{Address: 0, Stored: 0, Offset: 65537, Value: "41", Tint: 0}, row.Cells[1])
}

// The dump is not changed, and what is returned of it may not be changed through it either way.
func TestTheDumpIsKept(t *testing.T) {
	stored := random(64<<10, 5)
	kept := bytes.Clone(stored)
	contents := contentsOf(t, stored, Plan{Device: "27C512", View: chips.X8})
	clear(contents[0])
	assert.Equal(t, kept, stored)
}
