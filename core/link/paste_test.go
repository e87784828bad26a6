package link

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/outside"
)

// hostile are titles that try to become markup.
var hostile = []string{
	"U41 of a Halden HX-16", "[/b][url=https://evil.example]here[/url]", "[code]", "](https://evil.example) [x", "**bold** _it_ `c` ~~s~~",
	"<script>alert(1)</script>", "# head", "- item", "1. item", "&lt;b&gt; &copy;", `\`, `\*`, "www.evil.example", "![x](y)", "```", "a\n\n# b",
	"{} {}", "| a | b |", "(x) [y]", "***", "e@evil.example <https://evil.example>",
}

func TestTextsSayWhatIsKnown(t *testing.T) {
	image := u41(t)
	s, err := Of(image, reportOf(image), "U41 [system]", nil)
	require.NoError(t, err)
	url := "https://example.org/lunette/#" + Encode(s)
	texts := Texts(s, url)
	require.Equal(t, `U41 [system]
Sound: A whole, good 68000 image, stored swapped.
512 KiB, 68000 code, stored swapped
CRC-32 `+s.CRC32+`
SHA-256 `+s.SHA256+`
SHA-256 in the CPU's order `+s.SHA256CPU+`
Compare your own dump with it; no dump leaves your browser:
`+url+"\n", texts.Plain)
	require.Equal(t, `[b]U41 (system)[/b]
Sound: A whole, good 68000 image, stored swapped.
512 KiB, 68000 code, stored swapped
[code]CRC-32 `+s.CRC32+`
SHA-256 `+s.SHA256+`
SHA-256 in the CPU's order `+s.SHA256CPU+`[/code]
[url=`+url+`]Compare your own dump with it; no dump leaves your browser[/url]
`, texts.Forum)
	back, err := Decode(strings.Split(texts.Plain, "\n")[7])
	require.NoError(t, err)
	require.Equal(t, s, back)
}

func TestTitleCannotBecomeForumMarkup(t *testing.T) {
	s := of(t, random(2048), arrange.Stored)
	for _, title := range hostile {
		s.Title = clean(title, MaxTitle)
		tags := regexp.MustCompile(`\[[^\]]*\]`).FindAllString(Texts(s, "https://example.org/#s1.x]y z").Forum, -1)
		require.Equal(t, []string{"[b]", "[/b]", "[code]", "[/code]", "[url=https://example.org/#s1.x%5Dy%20z]", "[/url]"}, tags)
	}
}

// cmark, the reference program of CommonMark, must find one link, one code block and the title as it was written.
func TestTitleCannotBecomeMarkdown(t *testing.T) {
	s := of(t, random(2048), arrange.Stored)
	for _, title := range hostile {
		s.Title = clean(title, MaxTitle)
		html := string(outside.Run(t, "cmark", []byte(Texts(s, "https://example.org/a(b)c#"+Encode(s)).Markdown)))
		require.Equal(t, []string{"<p>", "<strong>", "</strong>", "</p>", "<p>", "</p>", "<p>", "</p>", "<pre>", "<code>", "</code>", "</pre>", "<p>",
			`<a href="https://example.org/a%28b%29c#` + Encode(s) + `">`, "</a>", "</p>"}, regexp.MustCompile(`<[^>]*>`).FindAllString(html, -1), html)
		written := strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;").Replace(s.Title)
		require.Contains(t, html, "<strong>"+written+"</strong>")
	}
}
