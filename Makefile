# Lunette. `make run` to use it, `make test` to test it; DEVELOPERS.md says what the rest is for.

SHELL := /bin/bash
.SHELLFLAGS := -eu -o pipefail -c
.DEFAULT_GOAL := run
.DELETE_ON_ERROR:

GOROOT := $(shell go env GOROOT)
BUILT := www/built
CORE := $(shell find core wasm -name '*.go' -not -name '*_test.go') go.mod go.sum
PACKAGES := ./... ./testdata/halden/...
NODE_EXEC := $(GOROOT)/lib/wasm/go_js_wasm_exec
STATICCHECK := honnef.co/go/tools/cmd/staticcheck@v0.8.2
TYPESCRIPT := typescript@5.9.3

# Packages in which no time is spent are compiled without inlining: 50 KB less to fetch, packed.
SMALL := $(foreach package,runtime internal/runtime/... internal/abi strconv internal/strconv strings bytes sort sync \
	internal/sync syscall/js lunette/wasm lunette/core lunette/core/jsontext lunette/core/report lunette/core/dump \
	lunette/core/relate lunette/core/chips lunette/core/prepare lunette/core/words lunette/core/link lunette/core/qr lunette/core/faults \
	lunette/core/demo rsc.io/qr/gf256,-gcflags=$(package)=-l)

export GOTOOLCHAIN := local

# Serves the page on this machine and prints where; ADDR=127.0.0.1:9000 make run chooses the address.
.PHONY: run
run: build
	go run ./www/serve

# Builds what the page needs beside its own files. Two builds of one source are equal byte for byte.
.PHONY: build
build: $(BUILT)/lunette.wasm.packed $(BUILT)/wasm_exec.js $(BUILT)/halden-u41.bin.gz

.build/lunette.wasm: $(CORE)
	@mkdir -p .build
	GOOS=js GOARCH=wasm go build -trimpath -buildvcs=false $(SMALL) -ldflags="-s -w -buildid=" -o $@.linked ./wasm
	go run ./wasm/merge $@.linked $@

# Where xz is installed the core is packed a quarter smaller than by gzip; the page unpacks both (www/unpack.js).
PACK := $(shell command -v xz >/dev/null && echo "xz --format=lzma --lzma1=preset=9e -k -c" || echo "gzip -9 -n -c")
$(BUILT)/lunette.wasm.packed: .build/lunette.wasm
	$(PACK) $< > $@
	@echo "core: $$(stat -c %s $<) bytes, $$(stat -c %s $@) packed, sha256 $$(sha256sum < $@ | cut -c1-16)"

# The support script must be that of the very compiler.
$(BUILT)/wasm_exec.js: $(GOROOT)/lib/wasm/wasm_exec.js
	cp $< $@

$(BUILT)/halden-u41.bin.gz: testdata/halden/u41.bin
	gzip -9 -n -c $< > $@

# Writes the page into site/, for any static host and any path; URL=https://example.org/lunette/ make site also lets links to
# it show a card, which needs the address.
.PHONY: site
site: build
	go run ./www/serve -write site -url "$(URL)"

# Tests natively and the page in Chromium, which it installs if need be.
.PHONY: test
test: tools
	$(MAKE) build firmware
	LUNETTE_ENGINES=chromium LUNETTE_FIRMWARE=$(CURDIR)/.tools/firmware go test $(PACKAGES)

# Installs what the tests and a small page need.
.PHONY: tools
tools:
	sh www/browser/install.sh chromium references xz

# Tests what `make test` leaves out: the core as wasm under Node, the page in Firefox and WebKit.
.PHONY: test-all
test-all: test test-node test-engines

.PHONY: test-node
test-node:
	sh www/browser/install.sh nodejs
	GOOS=js GOARCH=wasm go test -exec="$(NODE_EXEC)" ./core/...

.PHONY: test-engines
test-engines: build firmware
	sh www/browser/install.sh firefox webkit
	LUNETTE_ENGINES=firefox,webkit LUNETTE_FIRMWARE=$(CURDIR)/.tools/firmware go test -count=1 ./www/...

# Fetches open firmware that tests read: real images that this project did not make and does not hold.
.PHONY: firmware
firmware: .tools/firmware/done
.tools/firmware/done: testdata/firmware.sh
	sh testdata/firmware.sh .tools/firmware
	@touch $@

# Says what no test would: format, doubtful code, types of the page's scripts, and things that must not be anywhere.
.PHONY: lint
lint: build
	@test -z "$$(gofmt -l core wasm www testdata)" || { gofmt -l core wasm www testdata; echo "run gofmt -w on these"; exit 1; }
	go vet $(PACKAGES)
	GOOS=js GOARCH=wasm go vet ./wasm
	GOBIN=$(CURDIR)/.tools go install $(STATICCHECK)
	.tools/staticcheck $(PACKAGES)
	GOOS=js GOARCH=wasm .tools/staticcheck ./wasm
	@! grep -rn 'syscall/js' core || { echo "core must not know the browser"; exit 1; }
	@! GOOS=js GOARCH=wasm go list -deps ./wasm | grep -xE 'fmt|encoding/json|archive/zip|compress/flate|regexp|time|os|crypto/.*' || { echo "these packages are too heavy for the page (DEVELOPERS.md)"; exit 1; }
	@! grep -nE 'innerHTML|outerHTML|insertAdjacentHTML|document\.write|eval\(' www/*.js || { echo "text reaches the page as text nodes only"; exit 1; }
	@! grep -nE '(src|href|url)[=(]"?https?:' www/*.html www/*.js www/css/*.css || { echo "the page asks no other host for anything"; exit 1; }
	sh www/browser/install.sh nodejs npm
	@test -x .tools/node_modules/.bin/tsc || npm install --silent --no-save --no-audit --no-fund --prefix .tools $(TYPESCRIPT)
	.tools/node_modules/.bin/tsc --noEmit --allowJs --strict --target es2023 --module esnext --moduleResolution bundler \
		--lib es2023,dom,dom.iterable --skipLibCheck www/*.js

# Measures speed, memory and weight in the browser, against the same core natively and a general-purpose hash library.
.PHONY: bench
bench: build
	sh www/browser/install.sh chromium nodejs npm
	@test -d .tools/node_modules/hash-wasm || npm install --silent --no-save --no-audit --no-fund --prefix .tools hash-wasm@4.13.0
	go test ./www/bench -run '^$$' -bench Numbers -timeout 30m -library $(CURDIR)/.tools/node_modules/hash-wasm/dist/index.umd.min.js

# Looks for inputs that break a parser, FUZZTIME each.
FUZZTIME := 30s
.PHONY: fuzz
fuzz:
	@for package in $$(go list ./core/...); do for target in $$(go test -list '^Fuzz' $$package | grep ^Fuzz || true); do \
		echo "$$package $$target"; go test -run '^$$' -fuzz "^$$target\$$" -fuzztime $(FUZZTIME) $$package; done; done

# Builds the demo board's ROM with Debian's cross compiler, runs its code under a 68000 emulator and compares the image with
# the committed one. Only for those who change the ROM; nothing else needs these tools.
.PHONY: demo
demo:
	testdata/halden/build check

# How often byte order and CPU are told rightly, on code that nobody tuned on; ends with an error if one was confidently
# wrong. Fetches a corpus and compilers from Debian.
.PHONY: accuracy
accuracy:
	go run ./core/marks/accuracy -corpus .tools/corpus

# Breaks lines between a simulated chip and reader in every way there is, and counts how often core/faults names what was done;
# ends with an error if a line was blamed wrongly. Takes a quarter of an hour.
.PHONY: faults
faults: firmware
	go run ./core/faults/matrix -firmware .tools/firmware

.PHONY: clean
clean:
	rm -rf .build site $(BUILT)/*.gz $(BUILT)/*.packed $(BUILT)/wasm_exec.js
