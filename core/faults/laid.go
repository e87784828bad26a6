package faults

// MasterAt returns the byte of the master that was compared with the byte of the read at an offset. ok is false where none
// was.
func (c Comparison) MasterAt(master []byte, at int) (value byte, ok bool) {
	size := c.Arrangement.Len(len(master))
	j := at + c.MasterFrom
	if j < 0 || j >= size*c.Repeated {
		return 0, false
	}
	return c.Arrangement.At(master, j%size), true
}
