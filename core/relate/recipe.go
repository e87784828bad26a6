package relate

import (
	"errors"
	"path"
	"strconv"
	"strings"

	"lunette/core/arrange"
	"lunette/core/words"
)

// A Join says how a recipe puts dumps together.
type Join string

// The ways to put dumps together.
const (
	Nothing    Join = ""            // there is nothing to make
	Alone      Join = "alone"       // one dump is taken as it is
	Interleave Join = "interleaved" // byte by byte, the lane of address 0 first
	InSequence Join = "in sequence" // one after the other
)

// A Recipe makes one new dump of some that are open: it joins them, keeps a stretch of the result, and arranges that.
type Recipe struct {
	Join        Join                `json:"join"`
	Dumps       []int               `json:"dumps"`       // indexes into the dumps that Find was given, in the order of joining
	From        int                 `json:"from"`        // the stretch that is kept, in bytes of what was joined
	To          int                 `json:"to"`          // its end, which is not in it; 0 keeps all
	Arrangement arrange.Arrangement `json:"arrangement"` // how the stretch is arranged
	Name        string              `json:"name"`        // a name for the new dump
	Already     int                 `json:"already"`     // index of an open dump that holds just that, -1 for none
}

// Make makes the new dump; dumps are those that Find was given. It fails when there is nothing to make, or when these are
// not the dumps of the recipe. The dumps are not changed.
func (r Recipe) Make(dumps [][]byte) ([]byte, error) {
	size, err := r.size(dumps)
	if err != nil {
		return nil, err
	}
	var joined []byte
	switch r.Join {
	case Interleave:
		lanes := make([][]byte, len(r.Dumps))
		for k, i := range r.Dumps {
			lanes[k] = dumps[i]
		}
		if joined, err = arrange.Join(lanes); err != nil {
			return nil, err
		}
	case InSequence:
		for _, i := range r.Dumps {
			joined = append(joined, dumps[i]...)
		}
	default:
		joined = dumps[r.Dumps[0]]
	}
	return r.Arrangement.Apply(joined[r.From : r.From+size]), nil
}

// size returns the bytes that the recipe makes, before any lane is taken.
func (r Recipe) size(dumps [][]byte) (int, error) {
	if r.Join == Nothing || len(r.Dumps) == 0 {
		return 0, errors.New("there is nothing to make of these dumps")
	}
	total := 0
	for _, i := range r.Dumps {
		if i < 0 || i >= len(dumps) {
			return 0, errors.New(words.Fill("the recipe asks for dump {} and {} are given; give all that were related",
				strconv.Itoa(i), strconv.Itoa(len(dumps))))
		}
		total += len(dumps[i])
		if r.Join == Alone {
			break
		}
	}
	to := r.To
	if to == 0 {
		to = total
	}
	if r.From < 0 || to > total || r.From > to {
		return 0, errors.New(words.Fill("the recipe keeps bytes {} to {} of {}; the dumps are not those it was made for",
			words.Count(r.From), words.Count(to), words.Count(total)))
	}
	return to - r.From, nil
}

// newName returns a name for a dump made of others: their names joined, then what was done.
func newName(what string, names ...string) string {
	ending := ""
	plain := make([]string, len(names))
	for i, name := range names {
		name = path.Base(name)
		if dot := strings.LastIndexByte(name, '.'); dot > 0 {
			if i == 0 {
				ending = name[dot:]
			}
			name = name[:dot]
		}
		plain[i] = name
	}
	return strings.Join(plain, "+") + "." + what + ending
}
