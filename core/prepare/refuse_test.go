package prepare

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/chips"
	"lunette/core/dump"
)

// Every refusal says what is wrong and what to do, and gives nothing.
func TestRefusals(t *testing.T) {
	good := Plan{Name: "x.bin", Device: "27C400", View: chips.X16, CPU: Big, Buffer: LowFirst}
	for _, c := range []struct {
		says   string
		size   int
		change func(*Plan)
	}{
		{"the dump is empty", 0, func(*Plan) {}},
		{`there is no device "27C401" in the catalogue; take one of its families`, 512 << 10, func(p *Plan) { p.Device = "27C401" }},
		{`the view "x32" is none of x16, x8, pair, pairs and four`, 512 << 10, func(p *Plan) { p.View = "x32" }},
		{"a 27C010 holds 128 KiB, and each of 1 chip would have to hold 512 KiB; take a larger device, as the 27C040", 512 << 10,
			func(p *Plan) { p.Device, p.View = "27C010", chips.X8 }},
		{"each of 2 chips would have to hold 256 KiB; take a larger device, as the 27C020", 512 << 10,
			func(p *Plan) { p.Device, p.View = "27C010", chips.Pair }},
		{"as the 27C020, or make two pairs of these if the board has sockets for four", 512 << 10,
			func(p *Plan) { p.Device, p.View = "27C010", chips.Pair }},
		{"each of 4 chips would have to hold 128 KiB; take a larger device, as the 27C010", 512 << 10,
			func(p *Plan) { p.Device, p.View = "27C512", chips.Pairs }},
		{"the dump has 384 KiB, and no address line changes over from the lower pair to the upper one at half of that", 384 << 10,
			func(p *Plan) { p.Device, p.View = "27C010", chips.Pairs }},
		{"the dump has 524,286 bytes, which 4 chips cannot share evenly", 512<<10 - 2,
			func(p *Plan) { p.Device, p.View = "27C010", chips.Pairs }},
		{"the dump has 524,287 bytes, which 2 chips cannot share evenly; look whether a byte at its end is missing", 512<<10 - 1,
			func(p *Plan) { p.Device, p.View = "27C020", chips.Pair }},
		{"which leaves half a 16-bit word", 512<<10 - 1, func(*Plan) {}},
		{"a 27C040 has eight data lines and the board reads sixteen from one chip; make a pair of x8 chips, or take a x16 device, as the 27C4096",
			512 << 10, func(p *Plan) { p.Device = "27C040" }},
		{"a 27C4096 always gives sixteen bits at a time and has no byte mode", 512 << 10, func(p *Plan) { p.Device, p.View = "27C4096", chips.X8 }},
		{"a mask-4M-40 is a mask ROM, made with its contents; take a device that can be written with the same pins, as the 27C400",
			512 << 10, func(p *Plan) { p.Device = "mask-4M-40" }},
		{"depends on the CPU; say big-endian (68000) or little-endian (8086)", 512 << 10, func(p *Plan) { p.CPU = "" }},
		{"say whether the reader's buffer keeps the low or the high byte", 512 << 10, func(p *Plan) { p.Buffer = "" }},
		{`the buffer "middle" is not known, expected low and high`, 512 << 10, func(p *Plan) { p.Buffer = "middle" }},
		{`the CPU "vax" is not known`, 512 << 10, func(p *Plan) { p.CPU = "vax" }},
		{`the format "text" is not known`, 512 << 10, func(p *Plan) { p.Format = "text" }},
		{"the end 2 is not known", 512 << 10, func(p *Plan) { p.End = 2 }},
		{"the order takes byte lane 1 of 0 to 3 only and would leave the rest of the dump out", 512 << 10,
			func(p *Plan) { p.Order = arrange.Lane(1, 4) }},
		{"the bits of the dump are mirrored", 512 << 10, func(p *Plan) { p.Order = arrange.Mirrored }},
		{"the dump is one byte lane of 2 and is to become one chip of sixteen bits; join the lanes", 512 << 10,
			func(p *Plan) { p.Lanes = 2 }},
		{"lane 2 of 2 is none", 512 << 10, func(p *Plan) { p.View, p.Lane, p.Lanes = chips.X8, 2, 2 }},
		{"lane 1 of 0 is none", 512 << 10, func(p *Plan) { p.View, p.Lane = chips.X8, 1 }},
		{"384 KiB do not go into the 512 KiB of a 27C400 a whole number of times; pad the image instead", 384 << 10,
			func(p *Plan) { p.Spare = Repeat }},
	} {
		plan := good
		c.change(&plan)
		p, err := Prepare(make([]byte, c.size), plan)
		require.Error(t, err, c.says)
		assert.Nil(t, p)
		assert.Contains(t, err.Error(), c.says)
		assert.False(t, strings.HasSuffix(err.Error(), "."), err.Error())
	}
}

// What verify would catch: a file that is not what the plan makes.
func TestVerifyCatchesEveryChange(t *testing.T) {
	for _, plan := range []Plan{
		{Device: "27C512", View: chips.X8, Fill: 0xFF},
		{Device: "27C512", View: chips.Pair, Spare: Pad, End: arrange.Top},
		{Device: "27C1024", View: chips.X16, CPU: Big, Buffer: LowFirst, Format: HEX},
		{Device: "27C020", View: chips.Four, Order: arrange.Reversed, Format: SRecord},
		{Device: "27C256", View: chips.Pairs, Order: arrange.Swapped},
	} {
		stored := random(48<<10, 1)
		if plan.View == chips.Pairs {
			stored = random(64<<10, 1)
		}
		j, err := plan.job(stored)
		require.NoError(t, err)
		contents := j.contents(stored)
		for i := range contents {
			for _, at := range []int{0, 1, j.lane - 1, len(contents[i]) / 2, len(contents[i]) - 1} {
				var files []File
				for k, content := range contents {
					if k == i {
						content = append([]byte{}, content...)
						content[at] ^= 1
					}
					files = append(files, j.file(k, content))
				}
				require.Error(t, j.verify(files, stored), "%+v chip %d byte %d", plan, i, at)
			}
		}
		var files []File
		for k, content := range contents {
			files = append(files, j.file(k, content))
		}
		require.NoError(t, j.verify(files, stored))
		files[0].Data = files[0].Data[:len(files[0].Data)/2]
		require.Error(t, j.verify(files, stored), "a file cut short")
	}
}

func TestNamesOfAnyDump(t *testing.T) {
	for _, c := range []struct{ want, name string }{
		{"halden-u41", "halden-u41.bin"},
		{"u41", "zip/inner/u41.bin"},
		{"u41", `C:\roms\u41.BIN`},
		{"dump", ""},
		{"dump", "..."},
		{"hidden", ".hidden"},
		{"U41-v1-2", "U41 (v1.2).bin"},
		{"dump", "ÄÖÜ.bin"},
		{strings.Repeat("a", 40), strings.Repeat("a", 300)},
	} {
		assert.Equal(t, c.want, (&job{plan: Plan{Name: c.name}}).stem(), c.name)
	}
}

func FuzzPrepare(f *testing.F) {
	f.Add([]byte("ABCDEFGH"), uint16(4096), "u41.bin", "2716", "x8", "stored", "big", "low", "repeat", 0, byte(0xFF), "", "raw")
	f.Add([]byte("ABC"), uint16(0), "", "27C400", "x16", "swap16", "big", "high", "pad", 1, byte(0), "", "hex")
	f.Add([]byte("ABCD"), uint16(100), "a/b", "2732", "four", "reverse32-mirror", "little", "", "", 1, byte(1), "crossed", "srec")
	f.Add([]byte("ABCD"), uint16(2048), "x", "2764", "pairs", "swap16", "big", "", "pad", 1, byte(1), "straight", "raw")
	f.Add([]byte("ABCD"), uint16(3), "x", "2764", "pair", "lane1of2", "", "", "", 0, byte(1), "straight", "srec")
	f.Fuzz(func(t *testing.T, unit []byte, times uint16, name, device, view, order, cpu, buffer, spare string, end int, fill byte, bits, format string) {
		if len(unit) > 64 {
			unit = unit[:64]
		}
		stored := make([]byte, 0, len(unit)*int(times))
		for range times {
			stored = append(stored, unit...)
		}
		arrangement, ok := arrange.Parse(order)
		if !ok {
			arrangement = arrange.Swapped
		}
		p, err := Prepare(stored, Plan{name, device, chips.View(view), arrangement, Endian(cpu), Buffer(buffer), Spare(spare),
			arrange.End(end), fill, Bits(bits), Format(format), 0, 0, ""})
		if err != nil {
			require.Nil(t, p)
			return
		}
		names := map[string]bool{}
		for _, file := range p.Files {
			require.False(t, names[file.Name])
			names[file.Name] = true
			require.NotContains(t, file.Name, "/")
			require.Len(t, file.Content, file.Size)
			if format == "hex" || format == "srec" {
				dumps, err := dump.Load(file.Name, file.Data)
				require.NoError(t, err)
				require.Equal(t, file.Content, dumps[0].Bytes)
			}
		}
	})
}
