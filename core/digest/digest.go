// Package digest computes MD5, SHA-1 and SHA-256, as lists of dumps name them.
//
// It is here because the standard library's packages, with all that makes them fit for secrets, would add 110 KB to the
// page's first visit (DEVELOPERS.md, "Why no fmt ...?"); a dump is no secret and its digest only a name. The tests hold each
// against the standard library and its document's own examples. Where a browser has digests of its own the page uses
// those, and these are the reference and the fallback.
package digest

import "encoding/binary"

// blockSize is the number of bytes that all three work on at a time.
const blockSize = 64

// A Hash is a running digest. Copying a Hash copies its state: both go on by themselves.
type Hash struct {
	kind   *kind
	state  [8]uint32
	rest   [blockSize]byte // bytes that do not fill a block yet
	filled int             // how many
	length uint64          // bytes written in all
}

// kind is what tells one digest from another.
type kind struct {
	init   [8]uint32
	words  int // of the state that make the digest
	order  binary.ByteOrder
	blocks func(state *[8]uint32, p []byte) // works whole blocks into the state
}

var (
	md5Kind    = kind{[8]uint32{0x67452301, 0xEFCDAB89, 0x98BADCFE, 0x10325476}, 4, binary.LittleEndian, md5Blocks}
	sha1Kind   = kind{[8]uint32{0x67452301, 0xEFCDAB89, 0x98BADCFE, 0x10325476, 0xC3D2E1F0}, 5, binary.BigEndian, sha1Blocks}
	sha256Kind = kind{[8]uint32{0x6A09E667, 0xBB67AE85, 0x3C6EF372, 0xA54FF53A, 0x510E527F, 0x9B05688C, 0x1F83D9AB, 0x5BE0CD19},
		8, binary.BigEndian, sha256Blocks}
)

// NewMD5 returns a Hash that computes MD5 (RFC 1321), 16 bytes.
func NewMD5() *Hash { return newHash(&md5Kind) }

// NewSHA1 returns a Hash that computes SHA-1 (FIPS 180-4), 20 bytes.
func NewSHA1() *Hash { return newHash(&sha1Kind) }

// NewSHA256 returns a Hash that computes SHA-256 (FIPS 180-4), 32 bytes.
func NewSHA256() *Hash { return newHash(&sha256Kind) }

func newHash(k *kind) *Hash { return &Hash{kind: k, state: k.init} }

// Write adds p to what is digested.
func (h *Hash) Write(p []byte) {
	h.length += uint64(len(p))
	if h.filled > 0 {
		n := copy(h.rest[h.filled:], p)
		h.filled += n
		p = p[n:]
		if h.filled < blockSize {
			return
		}
		h.kind.blocks(&h.state, h.rest[:])
		h.filled = 0
	}
	whole := len(p) &^ (blockSize - 1)
	h.kind.blocks(&h.state, p[:whole])
	h.filled = copy(h.rest[:], p[whole:])
}

// Sum returns the digest of all that was written so far; writing can go on.
func (h *Hash) Sum() []byte {
	end := *h
	// All three end with one bit, zeros up to 8 bytes before the end of a block, and the length in bits.
	padding := make([]byte, blockSize-(h.filled+8)%blockSize, 2*blockSize)
	padding[0] = 0x80
	var length [8]byte
	h.kind.order.PutUint64(length[:], 8*h.length)
	end.Write(append(padding, length[:]...))

	sum := make([]byte, 4*h.kind.words)
	for i := range h.kind.words {
		h.kind.order.PutUint32(sum[4*i:], end.state[i])
	}
	return sum
}
