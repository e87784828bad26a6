package faults

import (
	"errors"

	"lunette/core/words"
)

// Repair returns what the master's bytes are by the explanation, made of the read that it explains: arrangement and wiring are
// undone. It is a new image; read is not changed. It fails when the explanation loses bytes, or when read is not of the size
// that was compared.
func (e Explanation) Repair(read []byte) ([]byte, error) {
	if !e.Repairable {
		return nil, errors.New("by this explanation bytes of the master are not in the read; read the chip again once the cause is gone")
	}
	if w := e.rewiring; w.width != 0 {
		if size := len(w.address); len(read) != 1<<size*(w.width/8) {
			return nil, errors.New(words.Fill("the read has {}, the wiring is that of {}; take the read that was compared",
				words.Size(len(read)), words.Size(1<<size*(w.width/8))))
		}
		read = w.undo(read)
	}
	undo, ok := e.Arrangement.Inverse()
	if !ok {
		return nil, errors.New("the read is one byte lane; join it with the others")
	}
	return undo.Apply(read), nil
}

// asWiring returns the wiring that exchanges the lines of the faults of a cause, for an image of size bytes; none when that is
// no power of two.
func (c cause) asWiring(size int) rewiring {
	if size == 0 || size&(size-1) != 0 || size < c.width/8 {
		return rewiring{}
	}
	lines := 0
	for 1<<lines*(c.width/8) < size {
		lines++
	}
	w := unchanged(c.width, lines)
	for _, f := range c.faults {
		if f.kind != Exchanged {
			return rewiring{}
		}
		i, j := f.i, f.j
		if f.address {
			i, j = i-c.width/16, j-c.width/16
			w.address[i], w.address[j] = w.address[j], w.address[i]
		} else {
			w.data[i], w.data[j] = w.data[j], w.data[i]
		}
	}
	return w
}
