package core

import (
	"errors"

	"lunette/core/demo"
)

// Demo returns the names of the demo board's other dumps, which are made of its system ROM; DemoBytes hands them out.
func (b *Bench) Demo(id string) ([]Choice, error) {
	rom, ok := b.dumps[id]
	if !ok {
		return nil, errClosed
	}
	b.demo = append(demo.Dumps(rom.Bytes)[1:], demo.Board(rom.Bytes)...)
	names := []Choice{}
	for _, d := range b.demo {
		names = append(names, Choice{d.Name, d.Name})
	}
	return names, nil
}

// DemoBytes returns dump n of those that Demo last named, which it then forgets: the caller must not change it.
func (b *Bench) DemoBytes(n int) ([]byte, error) {
	if n < 0 || n >= len(b.demo) || b.demo[n].Bytes == nil {
		return nil, errors.New("there is no such dump of the demo board; open the board again")
	}
	made := b.demo[n].Bytes
	b.demo[n].Bytes = nil
	return made, nil
}
