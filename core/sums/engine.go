package sums

// parts says which running values a rule reads, as a set of bits.
type parts uint

const (
	needColumns parts = 1 << iota
	needRemainders
	needRotating
	needDigest // and the two bits above it: the digests in their order
)

// A rule prints one sum from the running values of an engine, as hex of width bits.
type rule interface {
	needs() parts
	print(e *Engine, width int) string
}

// totals are the running values of a range that can be joined: those of two neighbours give those of both together.
type totals struct {
	bytes int
	columns
	remainders
}

func (t *totals) write(p []byte, needs parts) {
	if needs&needRemainders != 0 {
		t.remainders.write(p)
	}
	for len(p) > 0 {
		n := min(len(p), tallySize)
		t.columns.join(tally(p[:n]), t.bytes, n)
		t.bytes += n
		p = p[n:]
	}
}

// join continues t with the totals of the bytes that follow.
func (t *totals) join(next *totals) {
	t.columns.join(next.columns, t.bytes, next.bytes)
	t.remainders.join(next.remainders, next.bytes)
	t.bytes += next.bytes
}

// filled returns the totals of n bytes of one value, by doubling.
func filled(value byte, n int) (all totals) {
	var run totals
	run.write([]byte{value}, needRemainders)
	for ; n > 0; n >>= 1 {
		if n&1 == 1 {
			all.join(&run)
		}
		run.join(&run)
	}
	return all
}

// chains are the running values that can only be carried on, byte after byte.
type chains struct {
	rotating
	digests
}

func (c *chains) write(p []byte, needs parts) {
	if needs&needRotating != 0 {
		c.rotating.write(p)
	}
	c.digests.write(p)
}

func (c *chains) clone() chains { return chains{c.rotating, c.digests.clone()} }

// An Engine computes the catalogue over bytes that come in pieces of any size. Make one with NewEngine; the zero value
// is not ready. It holds under 1 KiB besides tables of 32 KiB that all engines share.
type Engine struct {
	rows  []Row
	needs parts
	known [digestCount]string
	totals
	chains
}

// NewEngine returns an engine for the whole catalogue. known may be nil.
func NewEngine(known Known) *Engine { return newEngine(catalogue(), known) }

func newEngine(rows []Row, known Known) *Engine {
	e := &Engine{rows: rows}
	for _, row := range rows {
		if d, ok := row.rule.(digestRule); ok {
			if e.known[d] = known.digestOf(row); e.known[d] != "" {
				continue
			}
		}
		e.needs |= row.rule.needs()
	}
	e.digests = newDigests(e.needs)
	return e
}

// Write takes the next bytes in. It always takes all of them and returns no error.
func (e *Engine) Write(p []byte) (int, error) {
	e.totals.write(p, e.needs)
	e.chains.write(p, e.needs)
	return len(p), nil
}

// Sums returns the sums of the bytes written so far, in the order of the catalogue. Writing may go on afterwards.
func (e *Engine) Sums() []Sum {
	all := make([]Sum, len(e.rows))
	for i, row := range e.rows {
		all[i] = Sum{
			ID: row.ID, Name: row.Name, Group: row.Group, Bits: row.Bits,
			Hex:  row.rule.print(e, row.Bits),
			Note: row.Note, Source: row.Source,
		}
	}
	return all
}
