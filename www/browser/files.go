package browser

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// SetFiles chooses files in a file input, as the system's dialog would. Only Chromium takes a folder here.
func (e Element) SetFiles(paths ...string) {
	e.b.t.Helper()
	whole := make([]string, len(paths))
	for i, path := range paths {
		var err error
		if whole[i], err = filepath.Abs(path); err == nil {
			_, err = os.Stat(whole[i])
		}
		if err != nil {
			e.b.t.Fatalf("file to choose: %v", err)
		}
	}
	e.do(sendKeys, map[string]any{"text": strings.Join(whole, "\n")})
}

// Drop drops files with these names and contents on the element. No driver can drag from a file manager, so a script
// makes the events; in Chromium their items give no folder entry.
func (e Element) Drop(files map[string][]byte) {
	e.b.t.Helper()
	e.run(fill+`for (const type of ["dragenter", "dragover", "drop"]) {
			const event = new DragEvent(type, {bubbles: true, cancelable: true, dataTransfer: new DataTransfer()});
			fill(event.dataTransfer);
			element.dispatchEvent(event);
		}`, files, "")
}

// Paste pastes text, files or both at the element, by an event that a script makes: the page hears of it, but no text field
// fills. For a real paste copy text out of a field: Keys("Control+a", "Control+c"), then Keys("Control+v") elsewhere.
func (e Element) Paste(text string, files map[string][]byte) {
	e.b.t.Helper()
	e.run(fill+`const event = new ClipboardEvent("paste", {bubbles: true, cancelable: true, clipboardData: new DataTransfer()});
		fill(event.clipboardData);
		element.dispatchEvent(event);`, files, text)
}

// fill is the script that puts files (arguments[2]) and text (arguments[3]) into an event. Firefox forgets what was put
// in before the event was made, so it must be done after.
const fill = `const [, , files, text] = arguments;
	const fill = transfer => {
		for (const [name, content] of Object.entries(files ?? {})) {
			const bytes = Uint8Array.from(atob(content ?? ""), character => character.charCodeAt(0));
			transfer.items.add(new File([bytes], name));
		}
		if (text) transfer.setData("text/plain", text);
	};
`

// Downloaded waits until a download of that name has wholly arrived in the folder Downloads, and returns its content. An
// empty file never counts as arrived: Firefox makes one as a placeholder.
func (b *Browser) Downloaded(name string) []byte {
	b.t.Helper()
	var content []byte
	b.wait("for the download "+name, func() error {
		before := len(content)
		var err error
		content, err = os.ReadFile(filepath.Join(b.Downloads, name))
		if errors.Is(err, os.ErrNotExist) || len(content) == 0 || len(content) != before {
			return notYet{fmt.Errorf("%d bytes so far, folder %s", len(content), b.Downloads)}
		}
		return err
	})
	return content
}
