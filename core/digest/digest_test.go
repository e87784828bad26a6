package digest_test

import (
	"crypto/md5"
	"crypto/sha1"
	"crypto/sha256"
	"encoding/hex"
	"hash"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/digest"
)

var kinds = []struct {
	name      string
	ours      func() *digest.Hash
	reference func() hash.Hash // Go's standard library
}{
	{"MD5", digest.NewMD5, md5.New},
	{"SHA-1", digest.NewSHA1, sha1.New},
	{"SHA-256", digest.NewSHA256, sha256.New},
}

func TestDocumentsOwnExamples(t *testing.T) {
	million := strings.Repeat("a", 1_000_000)
	for _, c := range []struct {
		want, input string
		kind        int
	}{
		// RFC 1321, appendix A.5, the test suite.
		{"d41d8cd98f00b204e9800998ecf8427e", "", 0},
		{"0cc175b9c0f1b6a831c399e269772661", "a", 0},
		{"900150983cd24fb0d6963f7d28e17f72", "abc", 0},
		{"f96b697d7cb7938d525a2f31aaf161d0", "message digest", 0},
		{"c3fcd3d76192e4007dfb496cca67e13b", "abcdefghijklmnopqrstuvwxyz", 0},
		{"d174ab98d277d9f5a5611c2c9f419d9f", "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789", 0},
		{"57edf4a22be3c955ac49da2e2107b67a", strings.Repeat("1234567890", 8), 0},
		// FIPS 180's examples: one block, several blocks, and a million times the letter a.
		{"a9993e364706816aba3e25717850c26c9cd0d89d", "abc", 1},
		{"84983e441c3bd26ebaae4aa1f95129e5e54670f1", "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq", 1},
		{"34aa973cd4c4daa4f61eeb2bdbad27316534016f", million, 1},
		{"ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", "abc", 2},
		{"248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1", "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq", 2},
		{"cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0", million, 2},
	} {
		h := kinds[c.kind].ours()
		h.Write([]byte(c.input))
		require.Equal(t, c.want, hex.EncodeToString(h.Sum()), kinds[c.kind].name)
	}
}

func TestEqualsStandardLibrary(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	data := make([]byte, 5000)
	for i := range data {
		data[i] = byte(r.Uint32())
	}
	for _, k := range kinds {
		t.Run(k.name, func(t *testing.T) {
			for n := 0; n < 300; n++ {
				ours, reference := k.ours(), k.reference()
				rest := data[:n+r.IntN(2)*r.IntN(len(data)-n)]
				reference.Write(rest)
				for len(rest) > 0 { // in pieces of any size
					piece := r.IntN(len(rest)) + 1
					ours.Write(rest[:piece])
					rest = rest[piece:]
				}
				require.Equal(t, reference.Sum(nil), ours.Sum())
				require.Equal(t, reference.Sum(nil), ours.Sum(), "asking changes nothing")
			}
		})
	}
}

func TestCopyGoesOnByItself(t *testing.T) {
	h := digest.NewSHA256()
	h.Write([]byte("U41"))
	c := *h
	c.Write([]byte("!"))
	want, wantCopy := sha256.Sum256([]byte("U41")), sha256.Sum256([]byte("U41!"))
	require.Equal(t, want[:], h.Sum())
	require.Equal(t, wantCopy[:], c.Sum())
}

func BenchmarkDigest(b *testing.B) {
	data := make([]byte, 1<<20)
	for _, k := range kinds {
		b.Run(k.name, func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			h := k.ours()
			for b.Loop() {
				h.Write(data)
			}
		})
		b.Run(k.name+"-reference", func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			h := k.reference()
			for b.Loop() {
				h.Write(data)
			}
		})
	}
}
