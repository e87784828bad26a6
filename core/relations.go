package core

import (
	"errors"
	"strings"

	"lunette/core/relate"
	"lunette/core/sorted"
	"lunette/core/words"
)

// Relation says how some of the open dumps belong together.
type Relation struct {
	Kind     relate.Kind `json:"kind"`
	Dumps    []string    `json:"dumps"` // ids
	Sentence string      `json:"sentence"`
	Sure     string      `json:"sure"` // "certain" or "strong"
	Evidence []string    `json:"evidence"`
	Chance   string      `json:"chance,omitempty"`
	Makes    string      `json:"makes,omitempty"` // name of the dump that Make makes of them; empty where there is none to make
}

// Relations returns how the open dumps belong together, the surest first.
func (b *Bench) Relations(host Host) []Relation {
	related, recipes := b.named(), []relate.Recipe(nil)
	dumps := make([]relate.Named, len(related))
	for i, id := range related {
		dumps[i] = relate.Named{Name: b.dumps[id].Name, Bytes: b.dumps[id].Bytes}
	}
	var progress func(float64)
	if host != nil {
		progress = host.Progress
	}
	relations := []Relation{}
	for _, found := range relate.Find(dumps, progress) {
		relation := Relation{Kind: found.Kind, Sentence: found.Sentence, Sure: found.Sure.String(), Evidence: found.Evidence, Chance: found.Chance}
		for _, i := range found.Dumps {
			relation.Dumps = append(relation.Dumps, related[i])
		}
		if found.Kind == relate.NearlySame {
			relation.Sentence += b.provenAmong(relation.Dumps)
		}
		if found.Recipe.Join != relate.Nothing && found.Recipe.Already < 0 {
			relation.Makes = found.Recipe.Name
		}
		recipes = append(recipes, found.Recipe)
		relations = append(relations, relation)
	}
	b.related, b.recipes = related, recipes // only now: the search pauses, and meanwhile the earlier ones may be asked for
	return relations
}

// provenAmong says, of dumps that are nearly the same, which of them something proves: what that is does not hold in the
// others. It says nothing when there is no such dump, or more than one.
func (b *Bench) provenAmong(ids []string) string {
	var proven []string
	for _, id := range ids {
		if b.seen[id].Verdict.Proven {
			proven = append(proven, b.dumps[id].Name)
		}
	}
	if len(proven) != 1 {
		return ""
	}
	return words.Fill(" Only {} is proven by what is built into it; the same does not hold in the others.", proven[0])
}

// Make makes the dump that relation number n of the last call of Relations offers.
func (b *Bench) Make(n int) ([]byte, error) {
	if n < 0 || n >= len(b.recipes) {
		return nil, errors.New("this relation is no longer known; look for relations again")
	}
	images := make([][]byte, len(b.related))
	for i, id := range b.related {
		d, open := b.dumps[id]
		if !open {
			return nil, errClosed
		}
		images[i] = d.Bytes
	}
	return b.recipes[n].Make(images)
}

// named returns the ids of the open dumps, but for those set aside, in an order that does not change.
func (b *Bench) named() []string {
	ids := make([]string, 0, len(b.dumps))
	for id := range b.dumps {
		source, _, _ := strings.Cut(id, "/")
		if !b.aside[source] {
			ids = append(ids, id)
		}
	}
	sorted.By(ids, strings.Compare)
	return ids
}
