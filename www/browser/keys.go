package browser

import (
	"strings"
	"unicode/utf8"
)

// keyCodes holds the keys that have no character of their own, by their name in the standard "UI Events KeyboardEvent
// key Values". The code points are those of WebDriver's section "Keyboard actions". Meta is
// left out: WebKit takes it for Alt.
var keyCodes = map[string]string{
	"Backspace": "\uE003", "Tab": "\uE004", "Enter": "\uE007", "Escape": "\uE00C", "Space": " ", "Delete": "\uE017",
	"Shift": "\uE008", "Control": "\uE009", "Alt": "\uE00A",
	"PageUp": "\uE00E", "PageDown": "\uE00F", "End": "\uE010", "Home": "\uE011", "Insert": "\uE016",
	"ArrowLeft": "\uE012", "ArrowUp": "\uE013", "ArrowRight": "\uE014", "ArrowDown": "\uE015",
	"F1": "\uE031", "F2": "\uE032", "F3": "\uE033", "F4": "\uE034", "F5": "\uE035", "F6": "\uE036",
	"F7": "\uE037", "F8": "\uE038", "F9": "\uE039", "F10": "\uE03A", "F11": "\uE03B", "F12": "\uE03C",
}

// Keys presses one chord after the other, wherever the keyboard's focus is: Keys("ArrowDown", "Shift+PageDown",
// "Control+a", "7").
func (b *Browser) Keys(chords ...string) {
	b.t.Helper()
	var strokes []any
	for _, chord := range chords {
		parts := []string{chord}
		if utf8.RuneCountInString(chord) > 1 {
			parts = strings.Split(chord, "+")
		}
		for _, part := range parts {
			strokes = append(strokes, map[string]any{"type": "keyDown", "value": b.key(part)})
		}
		for i := len(parts) - 1; i >= 0; i-- {
			strokes = append(strokes, map[string]any{"type": "keyUp", "value": b.key(parts[i])})
		}
	}
	b.must(performActions, map[string]any{"actions": []any{keyboard(strokes)}})
}

// pointer moves the mouse to the first point, presses, moves along the others and releases, with keys held meanwhile.
func (e Element) pointer(points [][2]int, held []string) {
	e.b.t.Helper()
	corner := e.run("element.scrollIntoView({block: 'nearest', inline: 'nearest'});" +
		"const box = element.getBoundingClientRect(); return {x: Math.round(box.x), y: Math.round(box.y)}")
	moves := make([]any, 0, len(points)+2)
	for i, point := range points {
		moves = append(moves, map[string]any{"type": "pointerMove", "duration": 0, "origin": "viewport",
			"x": number(corner, "x") + point[0], "y": number(corner, "y") + point[1]})
		if i == 0 {
			moves = append(moves, map[string]any{"type": "pointerDown", "button": 0})
		}
	}
	moves = append(moves, map[string]any{"type": "pointerUp", "button": 0})
	mouse := map[string]any{"type": "pointer", "id": "mouse", "parameters": map[string]any{"pointerType": "mouse"},
		"actions": moves}

	var down, up []any
	for _, name := range held {
		down = append(down, map[string]any{"type": "keyDown", "value": e.b.key(name)})
		up = append(up, map[string]any{"type": "keyUp", "value": e.b.key(name)})
	}
	if len(held) > 0 {
		e.b.must(performActions, map[string]any{"actions": []any{keyboard(down)}})
		defer e.b.must(performActions, map[string]any{"actions": []any{keyboard(up)}})
	}
	e.b.must(performActions, map[string]any{"actions": []any{mouse}})
}

func keyboard(strokes []any) map[string]any {
	return map[string]any{"type": "key", "id": "keyboard", "actions": strokes}
}

// key returns what WebDriver calls a key: its character, or the code point that stands for it.
func (b *Browser) key(name string) string {
	b.t.Helper()
	if code, ok := keyCodes[name]; ok {
		return code
	}
	if utf8.RuneCountInString(name) != 1 {
		b.t.Fatalf("key %q is neither one character nor a name such as PageDown", name)
	}
	return name
}
