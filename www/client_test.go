package www_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/www/browser"
)

// inspect takes bytes in either form and leaves them alone; what is no dump, and a worker that ends meanwhile, is an error.
func TestClientInspect(t *testing.T) {
	own := page(t)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		b.Open(elsewhere(t, own).URL + "/other.html")
		got := b.Run(`
			const { open, WorkerLost } = await import("/tools/lunette/lunette.js");
			const l = await open();
			const buffer = await (await fetch("/u41.bin")).arrayBuffer();
			const part = new Uint8Array(buffer, 16, 1024); // the buffer holds more than it shows
			const [whole, ofPart] = await Promise.all([l.inspect(buffer, "u41.bin"), l.inspect(part, "part.bin")]);

			let noDump = "";
			try { await l.inspect(new TextEncoder().encode(":01000000AB53\n:00000001FF\n"), "u41.hex"); } catch (error) { noDump = error.message; }

			const { dumps } = await l.load(new Blob([part]), "open.bin");
			const large = l.inspect(new Uint8Array(16 << 20), "large.bin"); // pauses, and hears the panic
			let lost = false, panicked = false;
			l.panic().catch(() => { panicked = true; });
			try { await large; } catch (error) { lost = error instanceof WorkerLost; }
			const again = await l.inspect(part, "again.bin");
			const kept = await l.report(dumps[0].id);
			return { sizes: [whole.dump.size, ofPart.dump.size, again.dump.size, kept.dump.size],
				names: [whole.dump.name, ofPart.dump.name, again.dump.name, kept.dump.name],
				left: buffer.byteLength, noDump, lost, panicked };`).(map[string]any)
		require.Equal(t, []any{524288.0, 1024.0, 1024.0, 1024.0}, got["sizes"])
		require.Equal(t, []any{"u41.bin", "part.bin", "again.bin", "open.bin"}, got["names"])
		require.Equal(t, 524288.0, got["left"], "the caller's bytes")
		require.Contains(t, got["noDump"], "54", "the checksum expected")
		require.Equal(t, true, got["lost"])
		require.Equal(t, true, got["panicked"])
	})
}
