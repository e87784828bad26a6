package browser

import "fmt"

// Element is a place in the page, not a node: the n-th match of a selector. It is found anew for each act, and waited for,
// so that a part of the page which has just been drawn again does no harm.
type Element struct {
	b   *Browser
	css string
	n   int
}

// Control is how a part of the page presents itself to a screen reader, by the rules of https://www.w3.org/TR/accname-1.2/
// as the engine follows them.
type Control struct {
	Role, Label string
	HTML        string // its opening tag, for messages
}

// Find waits for the first element that matches css. ":focus" finds the one that the keyboard reaches.
func (b *Browser) Find(css string) Element {
	b.t.Helper()
	b.wait("for "+css, func() error { _, err := b.locate(css, 0); return err })
	return Element{b, css, 0}
}

// FindAll returns the elements that match css now, in the order of the page; there may be none.
func (b *Browser) FindAll(css string) []Element {
	b.t.Helper()
	matches, _ := b.must(findAll, selector(css)).([]any)
	elements := make([]Element, len(matches))
	for n := range elements {
		elements[n] = Element{b, css, n}
	}
	return elements
}

// Click clicks the middle of the element, scrolled into view first; it waits while something else lies over it.
func (e Element) Click() { e.b.t.Helper(); e.do(clickElement, nil) }

// Type gives the element the keyboard and types text into it. For single keys and chords use Browser.Keys.
func (e Element) Type(text string) { e.b.t.Helper(); e.do(sendKeys, map[string]any{"text": text}) }

// Clear empties a text field.
func (e Element) Clear() { e.b.t.Helper(); e.do(clearElement, nil) }

// Text returns the text that the element shows, without what is hidden.
func (e Element) Text() string { e.b.t.Helper(); return text(e.do(elementText, nil)) }

// Attribute returns an attribute as the HTML has it, "" where it is not set.
func (e Element) Attribute(name string) string {
	e.b.t.Helper()
	return text(e.run("return element.getAttribute(arguments[2])", name))
}

// Property returns a property of the DOM object, such as value, checked or disabled.
func (e Element) Property(name string) any {
	e.b.t.Helper()
	return e.run("return element[arguments[2]]", name)
}

// Role returns the role that a screen reader is told, such as "button".
func (e Element) Role() string { e.b.t.Helper(); return text(e.do(computedRole, nil)) }

// Label returns the name that a screen reader is told.
func (e Element) Label() string { e.b.t.Helper(); return text(e.do(computedLabel, nil)) }

// Control returns role, name and opening tag together.
func (e Element) Control() Control {
	e.b.t.Helper()
	return Control{e.Role(), e.Label(), text(e.run("return element.cloneNode(false).outerHTML"))}
}

// ClickAt clicks a point of the element, in CSS pixels from its left upper corner, while the named keys are held:
// ClickAt(10, 20, "Shift").
func (e Element) ClickAt(x, y int, held ...string) { e.b.t.Helper(); e.pointer([][2]int{{x, y}}, held) }

// Drag presses the mouse at one point of the element and releases it at another, both in CSS pixels from its left upper
// corner.
func (e Element) Drag(fromX, fromY, toX, toY int) {
	e.b.t.Helper()
	e.pointer([][2]int{{fromX, fromY}, {(fromX + toX) / 2, (fromY + toY) / 2}, {toX, toY}}, nil)
}

// do carries a command out on the element, again while the page is not ready for it.
func (e Element) do(c command, params map[string]any) any {
	e.b.t.Helper()
	var answer any
	e.b.wait(fmt.Sprintf("to do %s to %s (match %d)", c.path, e.css, e.n), func() error {
		id, err := e.b.locate(e.css, e.n)
		if err != nil {
			return err
		}
		full := map[string]any{"id": id}
		for key, value := range params {
			full[key] = value
		}
		answer, err = e.b.carriage.do(c, full)
		return err
	})
	return answer
}

// run runs a script that finds the element as "element"; further arguments start at arguments[2].
func (e Element) run(script string, args ...any) any {
	e.b.t.Helper()
	var answer any
	e.b.wait("for "+e.css, func() error {
		if _, err := e.b.locate(e.css, e.n); err != nil {
			return err
		}
		var err error
		answer, err = e.b.run("const element = document.querySelectorAll(arguments[0])[arguments[1]];"+script,
			append([]any{e.css, e.n}, args...)...)
		return err
	})
	return answer
}

// elementKey is the name under which an element's number travels (WebDriver, "web element identifier").
const elementKey = "element-6066-11e4-a52e-4f735466cecf"

// locate returns the driver's number for the n-th match of css, counted from 0.
func (b *Browser) locate(css string, n int) (string, error) {
	answer, err := b.carriage.do(findAll, selector(css))
	if err != nil {
		return "", err
	}
	matches, _ := answer.([]any)
	if n >= len(matches) {
		return "", notYet{fmt.Errorf("%d elements match", len(matches))}
	}
	match, _ := matches[n].(map[string]any)
	return text(match[elementKey]), nil
}

func selector(css string) map[string]any {
	return map[string]any{"using": "css selector", "value": css}
}

func text(value any) string { s, _ := value.(string); return s }
