//go:build js && wasm

// Command wasm is the core as the page's worker runs it: one table of calls by name, bytes in, JSON out. It keeps the open
// dumps and knows nothing about them; every answer is made in package core.
//
// A call that may take long returns a promise and pauses when its host says so, that other calls get their turn. A panic
// is not caught: it ends the program, and the client starts a new worker and opens the dumps there again.
package main

import (
	"runtime"
	"syscall/js"

	"lunette/core"
	"lunette/core/jsontext"
	"lunette/core/report"
	"lunette/core/sums"
)

func main() {
	calls := map[string]any{
		"load":          call(load),
		"loadOne":       call(loadOne),
		"loadText":      call(loadText),
		"remove":        call(remove),
		"report":        promise(inspect),
		"arrangements":  call(arrangements),
		"families":      call(families),
		"size":          call(size),
		"bytes":         call(content),
		"place":         call(place),
		"find":          promise(find),
		"sums":          promise(checksums),
		"explain":       promise(explain),
		"link":          promise(makeLink),
		"read":          call(readLink),
		"check":         promise(check),
		"paper":         call(paper),
		"labels":        call(labels),
		"bodies":        call(bodies),
		"qr":            call(qrCode),
		"relations":     promise(relations),
		"make":          call(makeRelated),
		"pair":          call(pair),
		"compare":       promise(compare),
		"laid":          call(laid),
		"repaired":      call(repaired),
		"rereads":       call(rereads),
		"consensus":     call(consensus),
		"consensusList": call(consensusList),
		"blank":         call(blank),
		"fits":          call(fits),
		"prepare":       call(prepareFiles),
		"file":          call(file),
		"chips":         call(chips),
		"findChips":     call(findChips),
		"times":         call(times),
		"seat":          call(seat),
		"dropIn":        call(dropIn),
		"demo":          call(demo),
		"demoBytes":     call(demoBytes),
		"panic":         call(func([]js.Value) (any, error) { panic("asked for") }),
	}
	js.Global().Call("lunetteReady", calls)
	select {}
}

// bench holds the open dumps, by the ids the page gave them.
var bench = core.NewBench()

// load takes a source id, a file name and the file's bytes; it returns core.Loaded as JSON.
func load(args []js.Value) (any, error) {
	return asJSON(bench.Open(args[0].String(), args[1].String(), received(args[2])))
}

// loadOne takes what load takes, of a file with one dump; it returns the dump's id.
func loadOne(args []js.Value) (any, error) {
	return bench.OpenAside(args[0].String(), args[1].String(), received(args[2]))
}

// received copies a Uint8Array. Before a large one it throws away what is no longer used: most likely that is a dump of the
// same size, and memory that wasm has once taken it never gives back.
func received(array js.Value) []byte {
	const large = 1 << 20
	size := array.Length()
	if size >= large {
		runtime.GC()
	}
	data := make([]byte, size)
	js.CopyBytesToGo(data, array)
	return data
}

// loadText takes a source id, a name and pasted text; it returns core.Loaded as JSON.
func loadText(args []js.Value) (any, error) {
	return asJSON(bench.OpenText(args[0].String(), args[1].String(), args[2].String()))
}

// remove takes a source id.
func remove(args []js.Value) (any, error) {
	bench.Close(args[0].String())
	return nil, nil
}

// inspect takes a dump's id, the order and the family that a person says it has (empty for neither), and a promise of the
// digests that the browser computes; it returns a report as JSON.
func inspect(args []js.Value, host core.Host) (any, error) {
	digests := func() sums.Known { return texts(await(args[3])) }
	return jsonOr(bench.Inspect(args[0].String(), core.ByHand{Order: args[1].String(), Family: args[2].String()}, digests, host))
}

func arrangements([]js.Value) (any, error) {
	return listAsJSON(core.Arrangements())
}

func families([]js.Value) (any, error) {
	return listAsJSON(core.Families())
}

// size takes a dump's id and an arrangement's.
func size(args []js.Value) (any, error) {
	return bench.Size(args[0].String(), args[1].String())
}

// content takes a dump's id, an arrangement's, and a stretch of the arranged image; it returns a Uint8Array. A negative
// end means the end of the image.
func content(args []js.Value) (any, error) {
	return sent(bench.Bytes(args[0].String(), args[1].String(), args[2].Int(), args[3].Int()))
}

// sent copies bytes into a Uint8Array.
func sent(data []byte, err error) (any, error) {
	if err != nil {
		return nil, err
	}
	array := js.Global().Get("Uint8Array").New(len(data))
	js.CopyBytesToJS(array, data)
	return array, nil
}

// relations returns a list of core.Relation as JSON.
func relations(_ []js.Value, host core.Host) (any, error) {
	return listAsJSON(bench.Relations(host))
}

// makeRelated takes the number of a relation; it returns the bytes of the dump that it offers.
func makeRelated(args []js.Value) (any, error) {
	return sent(bench.Make(args[0].Int()))
}

// place takes a dump's id, an arrangement's and a stretch of the stored bytes; it returns a dump.Range as JSON.
func place(args []js.Value) (any, error) {
	return jsonOr(bench.Place(args[0].String(), args[1].String(), args[2].Int(), args[3].Int()))
}

// find takes a dump's id, an arrangement's, "text" or "hex", and the pattern; it returns core.Hits as JSON.
func find(args []js.Value, host core.Host) (any, error) {
	return jsonOr(bench.Find(args[0].String(), args[1].String(), args[2].String(), args[3].String(), host))
}

// checksums takes a dump's id, an arrangement's, a stretch of the arranged image and a promise of the digests that the
// browser computes; it returns a list of sums.Sum as JSON.
func checksums(args []js.Value, host core.Host) (any, error) {
	return listOr(bench.Sums(args[0].String(), args[1].String(), args[2].Int(), args[3].Int(), texts(await(args[4])), host))
}

// explain takes a dump's id and a printed value; it returns a sums.Explanation as JSON.
func explain(args []js.Value, host core.Host) (any, error) {
	return jsonOr(bench.Explain(args[0].String(), args[1].String(), host))
}

// makeLink takes a dump's id, a title, the page's address and whether the link is to be short; it returns a core.Posting as
// JSON.
func makeLink(args []js.Value, host core.Host) (any, error) {
	plan := core.LinkPlan{Title: args[1].String(), Base: args[2].String(), Short: args[3].Bool()}
	return jsonOr(bench.Link(args[0].String(), plan, host))
}

// readLink takes a link or what follows # in it; it returns a link.Statement as JSON.
func readLink(args []js.Value) (any, error) { return jsonOr(core.ReadLink(args[0].String())) }

// check takes a dump's id and a link; it returns a link.Answer as JSON.
func check(args []js.Value, host core.Host) (any, error) {
	return jsonOr(bench.Check(args[0].String(), args[1].String(), host))
}

// paper takes a dump's id, a plain object with the fields of report.Job, and a list of plain objects with those of
// report.Section; it returns a core.Paper as JSON.
func paper(args []js.Value) (any, error) {
	job := texts(args[1])
	sections := make([]report.Section, args[2].Length())
	for i := range sections {
		section := args[2].Index(i)
		sections[i] = report.Section{Title: section.Get("title").String(), Lines: list(section.Get("lines"))}
	}
	return jsonOr(bench.ReportText(args[0].String(), report.Job{Name: job["name"], Owner: job["owner"], Date: job["date"],
		Reads: job["reads"], Notes: job["notes"]}, sections))
}

// labels takes a dump's id, a name and a device to print, and whether they are for the files last prepared of it; it returns
// a list of report.Label as JSON.
func labels(args []js.Value) (any, error) {
	return listOr(bench.Labels(args[0].String(), args[1].String(), args[2].String(), args[3].Bool()))
}

// bodies returns a list of report.Body as JSON.
func bodies([]js.Value) (any, error) { return listAsJSON(core.Bodies()) }

// qrCode takes a text; it returns a qr.Code as JSON.
func qrCode(args []js.Value) (any, error) { return jsonOr(core.QR(args[0].String())) }

// list returns the strings of an array.
func list(array js.Value) []string {
	values := make([]string, array.Length())
	for i := range values {
		values[i] = array.Index(i).String()
	}
	return values
}

// pair takes the id of the dump that is looked at, or ""; it returns a core.Pair as JSON.
func pair(args []js.Value) (any, error) {
	return asJSON(bench.Pair(args[0].String()))
}

// compare takes the ids of a master, of a read and of a device; it returns a core.Comparison as JSON.
func compare(args []js.Value, host core.Host) (any, error) {
	return jsonOr(bench.Compare(args[0].String(), args[1].String(), args[2].String(), host))
}

// laid takes a stretch of the last comparison; it returns a core.Laid as JSON.
func laid(args []js.Value) (any, error) {
	return jsonOr(bench.Laid(args[0].Int(), args[1].Int()))
}

// repaired takes the number of an explanation; it returns the bytes of the repaired dump.
func repaired(args []js.Value) (any, error) {
	return sent(bench.Repaired(args[0].Int()))
}

// rereads takes a list of ids of dumps and the id of a device; it returns a core.Rereads as JSON.
func rereads(args []js.Value) (any, error) {
	return jsonOr(bench.Rereads(list(args[0]), args[1].String()))
}

// consensus returns the bytes of what the rereads agree on.
func consensus([]js.Value) (any, error) {
	image, _, err := bench.Consensus()
	return sent(image, err)
}

// consensusList returns the text that belongs to the consensus.
func consensusList([]js.Value) (any, error) {
	_, list, err := bench.Consensus()
	return sent(list, err)
}

// blank takes the ids of the read of a chip, of a master or "", and of a device; it returns a core.BlankCheck as JSON.
func blank(args []js.Value) (any, error) {
	return jsonOr(bench.Blank(args[0].String(), args[1].String(), args[2].String()))
}

// fits takes the id of a dump; it returns a core.Burning as JSON.
func fits(args []js.Value) (any, error) {
	return jsonOr(bench.Fits(args[0].String()))
}

// prepareFiles takes the id of a dump and a plain object with the fields of core.BurnPlan; it returns a prepare.Prepared as
// JSON.
func prepareFiles(args []js.Value) (any, error) {
	said := func(field string) string {
		if value := args[1].Get(field); value.Type() == js.TypeString {
			return value.String()
		}
		return ""
	}
	plan := core.BurnPlan{Device: said("device"), View: said("view"), Order: said("order"), CPU: said("cpu"), Buffer: said("buffer"),
		Spare: said("spare"), End: said("end"), Bits: said("bits"), Format: said("format"), Fill: 0xFF}
	if fill := args[1].Get("fill"); fill.Type() == js.TypeNumber {
		plan.Fill = fill.Int()
	}
	prepared, err := bench.Prepare(args[0].String(), plan)
	if err != nil {
		return nil, err
	}
	return asJSON(prepared)
}

// file takes the number of a prepared file; it returns its bytes.
func file(args []js.Value) (any, error) {
	return sent(bench.PreparedFile(args[0].Int()))
}

// chips returns the catalogue, a list of chips.Device as JSON.
func chips([]js.Value) (any, error) { return listAsJSON(core.Chips()) }

// findChips takes a text; it returns a list of chips.Match as JSON.
func findChips(args []js.Value) (any, error) { return listAsJSON(core.FindChips(args[0].String())) }

// times takes the id of a device and a lamp's irradiance as it is written, "" for the usual; it returns a chips.Times as JSON.
func times(args []js.Value) (any, error) {
	return jsonOr(core.Times(args[0].String(), args[1].String()))
}

// seat takes the ids of a chip and a socket, and how the board ties BYTE and VPP; it returns a chips.Seats as JSON.
func seat(args []js.Value) (any, error) {
	return jsonOr(core.Seat(args[0].String(), args[1].String(), args[2].String(), args[3].String()))
}

// dropIn takes the ids of an old chip and a new one; it returns a chips.Drop as JSON.
func dropIn(args []js.Value) (any, error) {
	return jsonOr(core.DropIn(args[0].String(), args[1].String()))
}

// demo takes the id of the demo board's ROM; it returns the board's other dumps, a list of core.Choice as JSON.
func demo(args []js.Value) (any, error) { return listOr(bench.Demo(args[0].String())) }

// demoBytes takes the number of one of them; it returns its bytes.
func demoBytes(args []js.Value) (any, error) { return sent(bench.DemoBytes(args[0].Int())) }

func asJSON(result jsontext.Appender) (any, error) { return string(jsontext.Of(result)), nil }

func jsonOr(result jsontext.Appender, err error) (any, error) {
	if err != nil {
		return nil, err
	}
	return asJSON(result)
}

func listAsJSON[E jsontext.Appender](results []E) (any, error) {
	return string(jsontext.ListOf(results)), nil
}

func listOr[E jsontext.Appender](results []E, err error) (any, error) {
	if err != nil {
		return nil, err
	}
	return listAsJSON(results)
}

// texts returns the properties of a plain object of strings.
func texts(object js.Value) map[string]string {
	keys := js.Global().Get("Object").Call("keys", object)
	values := make(map[string]string, keys.Length())
	for i := range keys.Length() {
		key := keys.Index(i).String()
		values[key] = object.Get(key).String()
	}
	return values
}

// call makes a function for JavaScript that returns the result at once, or an Error: Go cannot throw.
func call(f func([]js.Value) (any, error)) js.Func {
	return js.FuncOf(func(_ js.Value, args []js.Value) any {
		result, err := f(args)
		if err != nil {
			return jsError(err)
		}
		return result
	})
}

// promise makes a function for JavaScript that returns a promise of the result; its last argument is the host.
func promise(f func([]js.Value, core.Host) (any, error)) js.Func {
	return js.FuncOf(func(_ js.Value, args []js.Value) any {
		var executor js.Func
		executor = js.FuncOf(func(_ js.Value, settle []js.Value) any {
			executor.Release()
			go func() {
				last := len(args) - 1
				result, err := f(args[:last], host{args[last]})
				if err != nil {
					settle[1].Invoke(jsError(err))
					return
				}
				settle[0].Invoke(result)
			}()
			return nil
		})
		return js.Global().Get("Promise").New(executor)
	})
}

// host is the worker during one long call.
type host struct{ js.Value }

// Progress tells the worker how much is done, 0 to 1, and pauses for as long as it says.
func (h host) Progress(share float64) {
	if pause := h.Call("progress", share); pause.Truthy() {
		await(pause)
	}
}

// await blocks this goroutine, not the worker, until the promise is fulfilled, and returns what it holds. The promise must
// not be rejected.
func await(promise js.Value) js.Value {
	fulfilled := make(chan js.Value, 1)
	then := js.FuncOf(func(_ js.Value, args []js.Value) any {
		fulfilled <- args[0]
		return nil
	})
	defer then.Release()
	promise.Call("then", then)
	return <-fulfilled
}

func jsError(err error) js.Value {
	return js.Global().Get("Error").New(err.Error())
}
