package marks

// Sure says how far an answer can be relied on.
type Sure int

// From no answer to one that nothing speaks against.
const (
	CannotTell Sure = iota
	Weak            // a hint, to be worded as one
	Strong          // enough to act on after a look at the evidence
	Certain         // several independent stretches say so and none says otherwise
)

// String returns the word for s: "cannot tell", "weak", "strong" or "certain".
func (s Sure) String() string {
	return [...]string{"cannot tell", "weak", "strong", "certain"}[s]
}
