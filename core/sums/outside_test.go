package sums

import (
	"encoding/json"
	"fmt"
	"hash/adler32"
	"hash/crc32"
	"hash/crc64"
	"math/bits"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/outside"
)

// samples are what the programs from outside the project are asked about.
func samples() map[string][]byte {
	return map[string][]byte{
		"nothing":             {},
		"one byte":            {0x80},
		"the check string":    []byte("123456789"),
		"65,539 random bytes": randomBytes(65_539, 10),
		"100,001 bytes of FF": constantBytes(100_001, 0xFF),
	}
}

// TestCoreutils compares with the checksum programs of GNU coreutils.
func TestCoreutils(t *testing.T) {
	first := func(output []byte) string { return strings.Fields(string(output))[0] }
	decimal := func(bits int) func(output []byte) string {
		return func(output []byte) string {
			value, err := strconv.ParseUint(first(output), 10, 64)
			require.NoError(t, err)
			return fmt.Sprintf("%0*X", bits/4, value)
		}
	}
	samples := samples()
	samples["17 MiB and 1 byte of FF"] = constantBytes(17<<20+1, 0xFF) // its byte sum exceeds 32 bits
	for name, data := range samples {
		values := byID(All(data, nil, nil))
		for _, program := range []struct {
			id, command string
			arguments   []string
			read        func(output []byte) string
		}{
			{"bsd-sum", "sum", []string{"-r"}, decimal(16)},
			{"system-v-sum", "sum", []string{"-s"}, decimal(16)},
			{"cksum", "cksum", nil, decimal(32)},
			{"md5", "md5sum", nil, first},
			{"sha-1", "sha1sum", nil, first},
			{"sha-256", "sha256sum", nil, first},
		} {
			output := outside.Run(t, program.command, data, program.arguments...)
			assert.Equal(t, program.read(output), values[program.id], "%s of %s", program.command, name)
		}
	}
}

// python computes with Python's own arithmetic and its modules zlib, binascii and bz2. CRC-16/KERMIT it has only for
// mirrored bits; the block checksum of a bzip2 file stands at its tenth byte, and one block holds up to 900,000 bytes.
const python = `
import sys, json, zlib, binascii, bz2
data = sys.stdin.buffer.read()
def words(size, order):
    padded = data + bytes(-len(data) % size)
    return [int.from_bytes(padded[i:i+size], order) for i in range(0, len(padded), size)]
def carried(total, bits):
    return total if total == 0 else (total - 1) % (2**bits - 1) + 1
values = {}
def put(name, value, bits, negated=()):
    forms = {"": value, "-twos": -value, "-ones": ~value}
    for form in ("",) + negated:
        values[name + form] = "%0*X" % (bits // 4, forms[form] % 2**bits)
both = ("-twos", "-ones")
for bits in (8, 16, 32):
    put("byte-sum-%d" % bits, sum(data), bits, both)
for order in ("big", "little"):
    for bits in (16, 32):
        put("word-sum-%d-%s" % (bits, order), sum(words(2, order)), bits, both)
    put("long-sum-32-" + order, sum(words(4, order)), 32, both)
    put("word-sum-carry-" + order, carried(sum(words(2, order)), 16), 16, ("-ones",))
    put("long-sum-carry-" + order, carried(sum(words(4, order)), 32), 32, ("-ones",))
mirror = bytes(int("{:08b}".format(i)[::-1], 2) for i in range(256))
put("crc-32", zlib.crc32(data), 32)
put("adler-32", zlib.adler32(data), 32)
put("crc-16-xmodem", binascii.crc_hqx(data, 0), 16)
put("crc-16-ibm-3740", binascii.crc_hqx(data, 0xFFFF), 16)
put("crc-16-kermit", int("{:016b}".format(binascii.crc_hqx(data.translate(mirror), 0))[::-1], 2), 16)
if 0 < len(data) <= 65536:
    values["crc-32-bzip2"] = bz2.compress(data)[10:14].hex().upper()
json.dump(values, sys.stdout)
`

// TestPython compares with Python's arithmetic, zlib, binascii and bz2.
func TestPython(t *testing.T) {
	for name, data := range samples() {
		var expected map[string]string
		require.NoError(t, json.Unmarshal(outside.Run(t, "python3", data, "-c", python), &expected))
		values := byID(All(data, nil, nil))
		for id, value := range expected {
			assert.Equal(t, value, values[id], "%s of %s", id, name)
		}
	}
}

// TestGoHashPackages compares with hash/crc32 and hash/crc64, which know low-bit-first CRCs only: for the others the
// bytes and the result are mirrored. A 16-bit polynomial times x^48 makes hash/crc64 compute a CRC of 16 bits.
func TestGoHashPackages(t *testing.T) {
	crc16 := func(data []byte, reflectedPolynomial, start uint64) uint64 {
		return ^crc64.Update(^start, crc64.MakeTable(reflectedPolynomial), data)
	}
	for name, data := range samples() {
		mirrored := arrange.Mirrored.Apply(data)
		expected := map[string]string{
			"crc-16-arc":      fmt.Sprintf("%04X", crc16(data, 0xA001, 0)),
			"crc-16-modbus":   fmt.Sprintf("%04X", crc16(data, 0xA001, 0xFFFF)),
			"crc-16-kermit":   fmt.Sprintf("%04X", crc16(data, 0x8408, 0)),
			"crc-16-xmodem":   fmt.Sprintf("%04X", bits.Reverse16(uint16(crc16(mirrored, 0x8408, 0)))),
			"crc-16-ibm-3740": fmt.Sprintf("%04X", bits.Reverse16(uint16(crc16(mirrored, 0x8408, 0xFFFF)))),
			"crc-32":          fmt.Sprintf("%08X", crc32.ChecksumIEEE(data)),
			"crc-32-bzip2":    fmt.Sprintf("%08X", bits.Reverse32(crc32.ChecksumIEEE(mirrored))),
			"crc-32-cksum":    fmt.Sprintf("%08X", bits.Reverse32(crc32.Update(0xFFFFFFFF, crc32.IEEETable, mirrored))),
			"adler-32":        fmt.Sprintf("%08X", adler32.Checksum(data)),
		}
		values := byID(All(data, nil, nil))
		for id, value := range expected {
			assert.Equal(t, value, values[id], "%s of %s", id, name)
		}
	}
}
