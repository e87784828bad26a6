package sums

import (
	"crypto/md5"
	"crypto/sha1"
	"crypto/sha256"
	"fmt"
	"hash/crc32"
	"math/rand"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
)

// byID returns the values of sums, hex by row id.
func byID(sums []Sum) map[string]string {
	values := make(map[string]string)
	for _, sum := range sums {
		values[sum.ID] = sum.Hex
	}
	return values
}

// randomBytes returns n bytes of a generator with a fixed seed: the tests are the same at each run.
func randomBytes(n int, seed int64) []byte {
	data := make([]byte, n)
	rand.New(rand.NewSource(seed)).Read(data)
	return data
}

// constantBytes returns n bytes of one value.
func constantBytes(n int, value byte) []byte {
	data := make([]byte, n)
	for i := range data {
		data[i] = value
	}
	return data
}

func TestEveryRowYieldsItsPublishedCheckValue(t *testing.T) {
	// The values of the table come from outside: its comment says from where.
	for _, sum := range All([]byte("123456789"), nil, nil) {
		assert.Equal(t, rowByID(sum.ID).Check, sum.Hex, sum.ID)
	}
}

func TestPublishedExamples(t *testing.T) {
	for _, example := range []struct{ expected, id, data, source string }{
		// RFC 1071, section 3: the words 0001 F203 F4F5 F6F7 come to 2DDF0, with the carry DDF2. Swapped: F2DD.
		{"DDF2", "word-sum-carry-big", "\x00\x01\xf2\x03\xf4\xf5\xf6\xf7", "RFC 1071, section 3"},
		{"F2DD", "word-sum-carry-little", "\x00\x01\xf2\x03\xf4\xf5\xf6\xf7", "RFC 1071, section 3"},
		{"220D", "word-sum-carry-big-ones", "\x00\x01\xf2\x03\xf4\xf5\xf6\xf7", "RFC 1071, section 3, inverted"},
		{"00000001", "adler-32", "", "RFC 1950, section 8.2: the value starts at 1"},
		{"d41d8cd98f00b204e9800998ecf8427e", "md5", "", "RFC 1321, A.5"},
		{"0cc175b9c0f1b6a831c399e269772661", "md5", "a", "RFC 1321, A.5"},
		{"900150983cd24fb0d6963f7d28e17f72", "md5", "abc", "RFC 1321, A.5"},
		{"f96b697d7cb7938d525a2f31aaf161d0", "md5", "message digest", "RFC 1321, A.5"},
		{"c3fcd3d76192e4007dfb496cca67e13b", "md5", "abcdefghijklmnopqrstuvwxyz", "RFC 1321, A.5"},
		{"d174ab98d277d9f5a5611c2c9f419d9f", "md5",
			"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789", "RFC 1321, A.5"},
		{"57edf4a22be3c955ac49da2e2107b67a", "md5",
			"12345678901234567890123456789012345678901234567890123456789012345678901234567890", "RFC 1321, A.5"},
		{"a9993e364706816aba3e25717850c26c9cd0d89d", "sha-1", "abc", "FIPS 180-4 examples"},
		{"84983e441c3bd26ebaae4aa1f95129e5e54670f1", "sha-1",
			"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq", "FIPS 180-4 examples"},
		{"ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", "sha-256", "abc", "FIPS 180-4 examples"},
		{"248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1", "sha-256",
			"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq", "FIPS 180-4 examples"},
		// The serial line's message 02 07 carries the CRC 41 12, low byte first.
		{"1241", "crc-16-modbus", "\x02\x07", "MODBUS over Serial Line V1.02, appendix B (from memory)"},
	} {
		assert.Equal(t, example.expected, byID(All([]byte(example.data), nil, nil))[example.id],
			"%s of %q: %s", example.id, example.data, example.source)
	}
}

func TestQuickWaysEqualThePlainDefinitions(t *testing.T) {
	inputs := map[string][]byte{
		"64 KiB of FF":              constantBytes(64<<10, 0xFF),
		"65,521 bytes of 01":        constantBytes(adlerBase, 1),
		"three blocks and one byte": randomBytes(3*blockSize+1, 1),
		"100,003 random bytes":      randomBytes(100_003, 2),
	}
	for n := range 71 {
		inputs[fmt.Sprint(n, " random bytes")] = randomBytes(n, int64(n))
		inputs[fmt.Sprint(n, " bytes of FF")] = constantBytes(n, 0xFF)
		inputs[fmt.Sprint(n, " bytes of 00")] = constantBytes(n, 0)
	}
	for name, data := range inputs {
		values := byID(All(data, nil, nil))
		plain := plainValues(data)
		plain["md5"] = fmt.Sprintf("%x", md5.Sum(data))
		plain["sha-1"] = fmt.Sprintf("%x", sha1.Sum(data))
		plain["sha-256"] = fmt.Sprintf("%x", sha256.Sum256(data))
		require.Equal(t, plain, values, name)
		require.Equal(t, fmt.Sprintf("%08X", crc32.ChecksumIEEE(data)), values["crc-32"], name)
	}
}

func TestPiecesOfAnySizeAddUp(t *testing.T) {
	random := rand.New(rand.NewSource(3))
	for _, size := range []int{0, 1, 2, 3, 7, 100, 5000, 70_001} {
		data := randomBytes(size, int64(size))
		expected := All(data, nil, nil)
		for range 20 {
			e := NewEngine(nil)
			for rest := data; len(rest) > 0; {
				n := min(random.Intn(1+random.Intn(3000)), len(rest))
				written, err := e.Write(rest[:n])
				require.NoError(t, err)
				require.Equal(t, n, written)
				if random.Intn(50) == 0 {
					e.Sums() // does not disturb
				}
				rest = rest[n:]
			}
			require.Equal(t, expected, e.Sums(), "%d bytes", size)
		}
	}
}

func TestTotalsOfNeighboursJoin(t *testing.T) {
	random := rand.New(rand.NewSource(4))
	for range 200 {
		data := randomBytes(random.Intn(5000), random.Int63())
		cut := random.Intn(len(data) + 1)
		var first, second, whole totals
		first.write(data[:cut], needRemainders)
		second.write(data[cut:], needRemainders)
		whole.write(data, needRemainders)
		first.join(&second)
		require.Equal(t, whole, first, "%d bytes cut at %d", len(data), cut)
	}
	for _, n := range []int{0, 1, 2, 3, 255, 4096, 70_001} {
		var whole totals
		whole.write(constantBytes(n, 0xA5), needRemainders)
		require.Equal(t, whole, filled(0xA5, n), "%d bytes of A5", n)
	}
}

func TestArrangedEqualsArrangingFirst(t *testing.T) {
	for _, size := range []int{0, 1, 2, 3, 5, 6, 7, 64, 1001, 2*blockSize + 7} {
		data := randomBytes(size, int64(size))
		for _, a := range arrange.All() {
			image := a.Apply(data)
			require.Equal(t, All(image, nil, nil), Of(data, a, nil, nil), "%d bytes, %s", size, a)
			from, to := len(image)/3, len(image)-len(image)/5
			require.Equal(t, All(image[from:to], nil, nil), Over(data, a, from, to, nil, nil), "part of %d bytes, %s", size, a)
		}
	}
}

func TestDigestsKnownFromElsewhereAreTaken(t *testing.T) {
	data := []byte("123456789")
	known := Known{
		"md5":     "AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA", // taken as it is, in lower case
		"sha-1":   "too short",
		"sha-256": "zzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzz",
	}
	values := byID(All(data, known, nil))
	assert.Equal(t, "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa", values["md5"])
	assert.Equal(t, rowByID("sha-1").Check, values["sha-1"], "what is no SHA-1 is computed")
	assert.Equal(t, rowByID("sha-256").Check, values["sha-256"], "what is not hex is computed")
}

func TestProgressComesOnceAMiBAndCountsBytes(t *testing.T) {
	var calls []int
	All(make([]byte, 3<<20+5), nil, func(done int) { calls = append(calls, done) })
	assert.Equal(t, []int{1 << 20, 2 << 20, 3 << 20}, calls)
}

func TestCatalogueIsSound(t *testing.T) {
	seen := make(map[string]bool)
	for _, row := range Catalogue() {
		assert.False(t, seen[row.ID], "id %s twice", row.ID)
		seen[row.ID] = true
		assert.NotEmpty(t, row.Name, row.ID)
		assert.NotEmpty(t, row.Group, row.ID)
		assert.NotEmpty(t, row.Note, row.ID)
		assert.NotEmpty(t, row.Source, row.ID)
		assert.Len(t, row.Check, row.Bits/4, row.ID)
		if c, ok := row.rule.(crc); ok {
			assert.Zero(t, reduce(reduceModulus(c.polynomial, row.Bits), c.polynomial, row.Bits),
				"%s: its polynomial does not divide the modulus; multiply the modulus by it", row.ID)
		}
	}
	rows := Catalogue()
	rows[0].ID = "changed"
	assert.NotEqual(t, "changed", Catalogue()[0].ID, "a caller's change must not reach the table")
}

// reduceModulus returns x^64 + modulus less the leading term, by taking away polynomial * x^(64-degree).
func reduceModulus(polynomial uint64, degree int) uint64 {
	return modulus ^ polynomial<<(64-degree)
}

func ExampleAll() {
	for _, sum := range All([]byte("123456789"), nil, nil)[:3] {
		fmt.Println(sum.Name+":", sum.Hex, "-", sum.Note)
	}
	// Output:
	// 8-bit byte sum: DD - on labels of small chips; closes many option ROMs
	// 16-bit byte sum: 01DD - usual on labels and in a reader's status line
	// 32-bit byte sum: 000001DD - shown by later readers
}
