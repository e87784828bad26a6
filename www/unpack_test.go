package www_test

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/outside"
	"lunette/www/browser"
)

// What xz (its .lzma format) and gzip pack is unpacked, what is not packed stays as it is, and damage is an error.
func TestUnpack(t *testing.T) {
	outside.Tool(t, "xz")
	rom := read(t, u41)
	long := bytes.Repeat([]byte("a long match, and a far one"), 40_000)
	contents := [][]byte{rom, {}, {0x1f}, []byte("words"), bytes.Repeat([]byte{0xFF}, 1<<20), append(long, rom[:9999]...)}
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		digest := func(packed []byte) string {
			return b.Run(`
				const { unpack } = await import("/unpack.js");
				try {
					const plain = await unpack(Uint8Array.from(atob(arguments[0]), (c) => c.charCodeAt(0)));
					const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", plain));
					return Array.from(sum, (b) => b.toString(16).padStart(2, "0")).join("");
				} catch (error) { return error.message; }`, base64.StdEncoding.EncodeToString(packed)).(string)
		}
		var packed []byte
		for _, content := range contents {
			sum := sha256.Sum256(content)
			want := hex.EncodeToString(sum[:])
			for _, settings := range []string{"preset=9e", "preset=0,lc=0,lp=2,pb=2"} {
				packed = outside.Run(t, "xz", content, "--format=lzma", "--lzma1="+settings, "-c")
				require.Equal(t, want, digest(packed), "%d bytes, %s", len(content), settings)
			}
			var zipped bytes.Buffer
			w := gzip.NewWriter(&zipped)
			_, err := w.Write(content)
			require.NoError(t, err)
			require.NoError(t, w.Close())
			require.Equal(t, want, digest(zipped.Bytes()), "%d bytes, gzip", len(content))
		}
		wasm := []byte("\x00asm\x01\x00\x00\x00")
		sum := sha256.Sum256(wasm)
		require.Equal(t, hex.EncodeToString(sum[:]), digest(wasm))
		require.Contains(t, digest(packed[:len(packed)/2]), "damaged")
	})
}
