package main

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A small matrix: some faults of each kind on the demo board's code and on sparse images, and on the firmware of three more CPU
// families where it has been fetched. `make faults` runs the whole.
func TestSmallMatrix(t *testing.T) {
	var out strings.Builder
	m := matrix{halden: "../../../testdata/halden/u41.bin", firmware: os.Getenv("LUNETTE_FIRMWARE"), out: &out, shown: 10,
		sample: 12, pairs: 5, families: 1}
	if m.firmware != "" {
		m.families = 4
	}
	require.True(t, m.run([]int{8 << 10, 32 << 10}), "\n%s", &out)
	t.Log("\n" + out.String())
}

// The simulation itself, by hand: what arrives when A0 is stuck, when D0 and D1 are bridged, and when words are stored high byte
// first. A, C, E and G have D0 set.
func TestBoard(t *testing.T) {
	one := setting{16, 8, false}
	for name, c := range map[string]struct {
		t    truth
		want string
	}{
		"A0 stuck low":         {truth{order: orders[0], width: 8, troubles: one.singles("address")[:1]}, "AACCEEGG"},
		"A0 and A1 exchanged":  {truth{order: orders[0], width: 8, troubles: one.singles("address")[2:3]}, "ACBDEGFH"},
		"A0 and A1, low wins":  {truth{order: orders[0], width: 8, troubles: one.singles("address")[3:4]}, "AAADEEEH"},
		"A0 and A1, high wins": {truth{order: orders[0], width: 8, troubles: one.singles("address")[4:5]}, "ADDDEHHH"},
		"D0 stuck high":        {truth{order: orders[0], width: 8, troubles: one.singles("data")[1:2]}, "ACCEEGGI"},
		"D0 and D1 exchanged":  {truth{order: orders[0], width: 8, troubles: one.singles("data")[2:3]}, "BACDFEGH"},
		"x16: A0 stuck low":    {truth{order: orders[0], width: 16, troubles: setting{16, 16, false}.singles("address")[:1]}, "ABABEFEF"},
		"x16: D0 stuck high":   {truth{order: orders[0], width: 16, troubles: setting{16, 16, false}.singles("data")[1:2]}, "ABCDEFGH"},
		"x16 high first: D0":   {truth{order: orders[0], width: 16, high: true, troubles: setting{16, 16, false}.singles("data")[1:2]}, "ACCEEGGI"},
		"swapped":              {truth{order: orders[1], width: 8}, "BADCFEHG"},
		"halves":               {truth{order: orders[2], width: 8}, "CDABGHEF"},
		"wired":                {truth{order: orders[0], width: 8, address: []int{2, 0, 1}, data: inOrder(8)}, "AEBFCGDH"},
	} {
		require.Equal(t, c.want, string(c.t.read([]byte("ABCDEFGH"))), name)
	}
}
