package sums

import (
	"strings"

	"lunette/core/digest"
)

// A digestRule is the rule of a cryptographic digest: its place in digestMakers.
type digestRule int

const (
	digestMD5 digestRule = iota
	digestSHA1
	digestSHA256
	digestCount
)

var digestMakers = [digestCount]func() *digest.Hash{digest.NewMD5, digest.NewSHA1, digest.NewSHA256}

func (d digestRule) needs() parts { return needDigest << d }

func (d digestRule) print(e *Engine, width int) string {
	if e.known[d] != "" {
		return e.known[d]
	}
	const digits = "0123456789abcdef"
	text := make([]byte, 0, width/4)
	for _, b := range e.digests[d].Sum() {
		text = append(text, digits[b>>4], digits[b&15])
	}
	return string(text)
}

// digests are the running digests; nil where none is asked for.
type digests [digestCount]*digest.Hash

func newDigests(needs parts) (d digests) {
	for i, maker := range digestMakers {
		if needs&digestRule(i).needs() != 0 {
			d[i] = maker()
		}
	}
	return d
}

func (d *digests) write(p []byte) {
	for _, h := range d {
		if h != nil {
			h.Write(p)
		}
	}
}

// clone returns digests that go on from here by themselves.
func (d *digests) clone() (clones digests) {
	for i, h := range d {
		if h == nil {
			continue
		}
		clone := *h
		clones[i] = &clone
	}
	return clones
}

// Known holds digests of the same bytes that were computed elsewhere, as by the browser's crypto.subtle: hex by row id.
// They are taken instead of computing them again. One that is not hex of the row's width is computed all the same.
type Known map[string]string

// digestOf returns the known digest of a row, in lower case, or "".
func (k Known) digestOf(row Row) string {
	text := strings.ToLower(k[row.ID])
	if len(text) != row.Bits/4 || strings.Trim(text, "0123456789abcdef") != "" {
		return ""
	}
	return text
}
