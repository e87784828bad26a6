package jsontext_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core"
	"lunette/core/arrange"
	"lunette/core/chips"
	"lunette/core/dump"
	"lunette/core/faults"
	"lunette/core/jsontext"
	"lunette/core/jsontext/generate/sample"
	"lunette/core/link"
	"lunette/core/prepare"
	"lunette/core/qr"
	"lunette/core/report"
	"lunette/core/sums"
	"lunette/core/texts"
)

// results has every type that a json.go writes.
var results = []jsontext.Appender{
	chips.Adapter{}, chips.Burn{}, chips.Device{}, chips.Drop{}, chips.DropRow{}, chips.Erase{}, chips.Fit{}, chips.Fitting{},
	chips.Joined{}, chips.Match{}, chips.Meeting{}, chips.Mode{}, chips.Pin{}, chips.Seating{}, chips.Seats{}, chips.Source{},
	chips.Supplies{}, chips.Tie{}, chips.Times{}, chips.Unfit{}, chips.Wire{},
	core.BlankCheck{}, core.Burning{}, core.Choice{}, core.Comparison{}, core.Hits{}, core.Info{}, core.Laid{}, core.LinePin{}, core.Loaded{}, core.OnChip{}, core.Pair{},
	core.Paper{}, core.Posting{}, core.Relation{}, core.Rereads{},
	dump.Range{},
	faults.BlankResult{}, faults.Bus{}, faults.BusCount{}, faults.Comparison{}, faults.DataCount{}, faults.DiffMap{}, faults.DiffRuns{},
	faults.Explanation{}, faults.Line{}, faults.LineLows{}, faults.LineTrouble{}, faults.LowRun{}, faults.ReadCount{}, faults.Reread{},
	faults.SideCount{}, faults.Span{}, faults.Spread{}, faults.UnstableAddress{}, faults.UnstableByte{}, faults.UnstableLine{}, faults.Wire{},
	link.Answer{}, link.Content{}, link.Finding{}, link.Pasted{}, link.Statement{},
	qr.Code{},
	prepare.Cell{}, prepare.File{}, prepare.Picture{}, prepare.Prepared{}, prepare.Row{},
	report.Body{}, report.CPU{}, report.Document{}, report.Evidence{}, report.Finding{}, report.Label{}, report.Line{}, report.Lines{}, report.Map{}, report.Mark{}, report.Order{}, report.Part{},
	report.Report{}, report.Row{}, report.Source{}, report.Stretch{}, report.Texts{}, report.Told{}, report.Verdict{},
	sample.Inner{}, sample.Sample{},
	sums.Explanation{}, sums.Match{}, sums.Sum{},
	texts.Text{},
}

// Go's encoding/json is the reference: what is generated must write the same bytes, whatever the values are.
func TestResultsEqualEncodingJSON(t *testing.T) {
	for _, result := range results {
		t.Run(reflect.TypeOf(result).String(), func(t *testing.T) {
			for state, value := range map[string]reflect.Value{
				"zero":        filled(result, 0, false),
				"empty lists": filled(result, 0, true),
				"one each":    filled(result, 1, true),
				"three each":  filled(result, 3, true),
			} {
				want, err := json.Marshal(value.Interface())
				require.NoError(t, err)
				require.Equal(t, string(want), string(jsontext.Of(value.Interface().(jsontext.Appender))), state)
			}
		})
	}
}

func TestListOfEqualsEncodingJSON(t *testing.T) {
	for _, list := range [][]core.Choice{nil, {}, core.Arrangements()[:1], core.Arrangements(), core.Families()} {
		want, err := json.Marshal(list)
		require.NoError(t, err)
		require.Equal(t, string(want), string(jsontext.ListOf(list)))
	}
}

// No result may be missing in the test above.
func TestResultsAreAllThatIsGenerated(t *testing.T) {
	tested := map[string]bool{}
	for _, result := range results {
		tested[reflect.TypeOf(result).String()] = true
	}
	generated := map[string]bool{}
	for _, pattern := range []string{"../json.go", "../*/json.go", "../*/*/json.go", "../*/*/*/json.go"} {
		files, err := filepath.Glob(pattern)
		require.NoError(t, err)
		for _, file := range files {
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			folder := regexp.MustCompile(`(?m)^package (\w+)$`).FindSubmatch(text)
			for _, method := range regexp.MustCompile(`(?m)^func \(v (\w+)\) AppendJSON`).FindAllSubmatch(text, -1) {
				generated[string(folder[1])+"."+string(method[1])] = true
			}
		}
	}
	require.Equal(t, generated, tested)
}

// filled returns a value of result's type in which every list has n entries, or is nil if there are to be no lists, and
// every other value differs from its neighbours; with n = 0 these are zero.
func filled(result any, n int, lists bool) reflect.Value {
	value := reflect.New(reflect.TypeOf(result)).Elem()
	count := 0
	fill(value, n, lists, &count)
	return value
}

func fill(v reflect.Value, n int, lists bool, count *int) {
	if v.Kind() == reflect.Slice && lists {
		v.Set(reflect.MakeSlice(v.Type(), n, n))
		for i := range n {
			fill(v.Index(i), n, lists, count)
		}
		return
	}
	if order, ok := v.Addr().Interface().(*arrange.Arrangement); ok {
		*order = arrange.All()[*count%len(arrange.All())]
		*count += n
		return
	}
	if v.Kind() == reflect.Struct {
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				fill(v.Field(i), n, lists, count)
			}
		}
		return
	}
	if n == 0 {
		return
	}
	*count++
	switch {
	case v.CanInt():
		v.SetInt(int64(*count) % 128)
	case v.CanUint():
		v.SetUint(uint64(*count) % 256)
	case v.CanFloat():
		v.SetFloat(float64(*count) / 7)
	case v.Kind() == reflect.String:
		v.SetString("<" + string(rune('A'+*count)) + "\xff\n>")
	case v.Kind() == reflect.Bool:
		v.SetBool(true)
	}
}

// reportOf is what a report of so many blocks looks like.
func reportOf(blocks int) report.Report {
	r := filled(report.Report{}, 3, true).Interface().(report.Report)
	r.Map.Kinds, r.Map.Entropy, r.Map.FF = make([]string, blocks), make([]float32, blocks), make([]uint32, blocks)
	for i := range blocks {
		r.Map.Kinds[i], r.Map.Entropy[i], r.Map.FF[i] = "mixed", float32(i%800)/100, uint32(2*i)
	}
	r.Map.Zero, r.Map.Text = r.Map.FF, r.Map.FF
	for range 200 {
		r.Texts.Listed = append(r.Texts.Listed, texts.Text{Offset: 0x1234, Length: 39, Text: "HALDEN HX-16 HALDEN HX-16 HALDEN HX-16"})
	}
	return r
}
