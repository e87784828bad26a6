package www_test

import (
	"bytes"
	"cmp"
	"encoding/base64"
	"encoding/json"
	"flag"
	"fmt"
	"image"
	"image/color"
	imagedraw "image/draw"
	"image/png"
	"maps"
	"net/http"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/www/browser"
)

var draw = flag.Bool("draw", false, "draw the icons and the card anew, with Chromium: go test ./www -run Pictures -draw; look at them before committing")

// pictures are the PNG files of the page, by name: what they show, how wide and high they are in pixels, and how many bytes
// they may have.
var pictures = map[string]struct {
	page                 string // "" for the page itself with the demo board open
	width, height, limit int
}{
	"icon-192.png": {iconPage("none", 192), 192, 192, 8 << 10},
	"icon-512.png": {iconPage("none", 512), 512, 512, 16 << 10},
	// A system cuts this to the shape it likes; a circle of 4/5 of the width always stays (https://www.w3.org/TR/appmanifest/).
	"icon-maskable.png": {iconPage("#f6f4ef", 288), 512, 512, 16 << 10},
	"card.png":          {"", 1200, 630, 120_000}, // the size that sites which show cards ask for: common practice, no source
}

// iconPage is a page that shows nothing but the icon, in its middle.
func iconPage(background string, size int) string {
	return fmt.Sprintf(`<!doctype html><style>html { background: %s } body { margin: 0; height: 100vh; display: grid; place-items: center }</style>
		<img src="icon.svg" width="%d" height="%[2]d">`, background, size)
}

// The committed pictures have the sizes that the manifest and the lines of the card say, and are light.
func TestPictures(t *testing.T) {
	if *draw {
		for name := range pictures {
			drawPicture(t, name)
		}
	}
	for name, want := range pictures {
		content := read(t, name)
		got, err := png.DecodeConfig(bytes.NewReader(content))
		require.NoError(t, err, name)
		require.Equal(t, []int{want.width, want.height}, []int{got.Width, got.Height}, name)
		require.LessOrEqual(t, len(content), want.limit, "bytes of %s", name)
	}
	var manifest struct {
		Icons []struct{ Src, Sizes, Type, Purpose string }
	}
	require.NoError(t, json.Unmarshal(read(t, "manifest.webmanifest"), &manifest))
	for _, icon := range manifest.Icons {
		if picture, drawn := pictures[icon.Src]; drawn {
			require.Equal(t, fmt.Sprintf("%dx%d image/png", picture.width, picture.height), icon.Sizes+" "+icon.Type, icon.Src)
		} else {
			require.Equal(t, "icon.svg any image/svg+xml", icon.Src+" "+icon.Sizes+" "+icon.Type)
		}
	}
	require.Len(t, manifest.Icons, len(pictures)) // the card is none, icon.svg is one
}

func drawPicture(t *testing.T, name string) {
	picture := pictures[name]
	own := page(t)
	site := browser.Serve(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/" && picture.page != "" {
			fmt.Fprint(w, picture.page)
			return
		}
		own.ServeHTTP(w, r)
	}))
	b := browser.Start(t, browser.Chromium, browser.Options{})
	b.CDP("Emulation.setDeviceMetricsOverride", map[string]any{"width": picture.width, "height": picture.height, "deviceScaleFactor": 1, "mobile": false})
	b.CDP("Emulation.setScrollbarsHidden", map[string]any{"hidden": true})
	b.CDP("Emulation.setDefaultBackgroundColorOverride", map[string]any{"color": map[string]any{"r": 0, "g": 0, "b": 0, "a": 0}})
	b.Open(site.URL)
	if picture.page == "" {
		ready(b)
		choose(b, 1, u41)
		b.WaitFor(`return document.querySelectorAll(".row .byte").length > 0`)
	}
	b.Run("document.activeElement.blur(); await new Promise(done => setTimeout(done, 500)); scrollTo(0, 0)")
	shot := b.CDP("Page.captureScreenshot", map[string]any{"format": "png"})["data"].(string)
	content, err := base64.StdEncoding.DecodeString(shot)
	require.NoError(t, err)
	whole, err := png.Decode(bytes.NewReader(content))
	require.NoError(t, err)
	var small bytes.Buffer
	require.NoError(t, (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&small, fewColours(whole)))
	require.NoError(t, os.WriteFile(name, small.Bytes(), 0o644))
}

// fewColours returns a picture in its 256 commonest colours, each other colour as the nearest of them: a page has few, and
// such a picture is half as heavy.
func fewColours(whole image.Image) image.Image {
	counts := map[color.NRGBA]int{}
	bounds := whole.Bounds()
	for y := range bounds.Dy() {
		for x := range bounds.Dx() {
			counts[color.NRGBAModel.Convert(whole.At(x, y)).(color.NRGBA)]++
		}
	}
	commonest := slices.SortedFunc(maps.Keys(counts), func(a, b color.NRGBA) int {
		return cmp.Or(counts[b]-counts[a], cmp.Compare(fmt.Sprint(a), fmt.Sprint(b)))
	})
	var palette color.Palette
	for _, c := range commonest[:min(256, len(commonest))] {
		palette = append(palette, c)
	}
	few := image.NewPaletted(bounds, palette)
	imagedraw.Draw(few, bounds, whole, bounds.Min, imagedraw.Src)
	return few
}
