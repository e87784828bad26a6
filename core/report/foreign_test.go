package report_test

import (
	"bytes"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/outside"
	"lunette/core/report"
)

// Files as other programs make them are told from dumps; what only begins alike is not.
func TestForeignFiles(t *testing.T) {
	picture := image.NewPaletted(image.Rect(0, 0, 64, 64), color.Palette{color.Black, color.White})
	written := func(write func(*bytes.Buffer) error) []byte {
		var file bytes.Buffer
		require.NoError(t, write(&file))
		return file.Bytes()
	}
	jfif := written(func(b *bytes.Buffer) error { return jpeg.Encode(b, picture, nil) })
	jfif = append([]byte("\xFF\xD8\xFF\xE0\x00\x10JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00"), jfif[2:]...) // Go writes none
	for name, file := range map[string][]byte{
		"a PNG picture":                        written(func(b *bytes.Buffer) error { return png.Encode(b, picture) }),
		"a GIF picture":                        written(func(b *bytes.Buffer) error { return gif.Encode(b, picture, nil) }),
		"a JPEG picture":                       jfif,
		"a sound, film or picture file (RIFF)": []byte("RIFF\x0A\x00\x00\x00WAVEfmt \x00\x00"),
	} {
		r := of(file)
		require.Equal(t, report.Undecided, r.Verdict.State, name)
		require.Contains(t, r.Verdict.Headline, name)
		require.Equal(t, "foreign", r.Findings[0].ID)
	}
	for _, file := range [][]byte{u41(t), noise(5000), []byte("RIFF\x0A\x00\x00\x00 is another word"), []byte("\x89PN"), {}} {
		require.NotEqual(t, "foreign", of(file).Findings[0].ID)
	}
}

// As these programs write them.
func TestForeignArchives(t *testing.T) {
	rom := u41(t)
	for tool, name := range map[string]string{"xz": "an xz archive", "bzip2": "a bzip2 archive"} {
		outside.Tool(t, tool)
		require.Contains(t, of(outside.Run(t, tool, rom, "-c")).Verdict.Headline, name)
	}
}
