package main

import (
	"embed"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// Where Debian carries no library for a CPU, code is compiled here. shim holds headers that small compilers need in place
// of those of the sources.
//
//go:embed all:shim
var shim embed.FS

// prepare lays out the sources and returns their files and the folder of headers.
func (c corpus) prepare(sources string) (files []string, include string) {
	switch sources {
	case "stb":
		root := c.unpack("libstb-dev")
		if root == "" {
			return nil, ""
		}
		include = filepath.Join(root, "usr/include/stb")
		dir := filepath.Join(c.dir, "stb")
		os.MkdirAll(dir, 0o755)
		headers, _ := filepath.Glob(filepath.Join(include, "*.h"))
		for _, h := range headers {
			name := strings.TrimSuffix(filepath.Base(h), ".h")
			file := filepath.Join(dir, name+".c")
			text := fmt.Sprintf("#define %s_IMPLEMENTATION\n#include \"%s.h\"\n", strings.ToUpper(name), name)
			os.WriteFile(file, []byte(text), 0o644)
			files = append(files, file)
		}
		return files, include
	case "newlib":
		root := c.unpack("newlib-source")
		if root == "" {
			return nil, ""
		}
		dir := filepath.Join(c.dir, "newlib")
		if _, err := os.Stat(dir); err != nil {
			os.MkdirAll(dir, 0o755)
			tars, _ := filepath.Glob(filepath.Join(root, "usr/src/newlib/*.tar.*"))
			exec.Command("tar", "xf", tars[0], "-C", dir, "--strip-components=1").Run()
		}
		for _, part := range []string{"string", "stdlib", "search", "ctype", "time", "misc", "stdio"} {
			found, _ := filepath.Glob(filepath.Join(dir, "newlib/libc", part, "*.c"))
			files = append(files, found...)
		}
		found, _ := filepath.Glob(filepath.Join(dir, "newlib/libm/common/*.c"))
		files = append(files, found...)
		return files, filepath.Join(dir, "newlib/libc/include")
	}
	return nil, ""
}

func (c corpus) layShim() string {
	dir := filepath.Join(c.dir, "shim")
	os.MkdirAll(filepath.Join(dir, "sys"), 0o755)
	for _, sub := range []string{"shim", "shim/sys"} {
		entries, _ := shim.ReadDir(sub)
		for _, e := range entries {
			if !e.IsDir() {
				data, _ := shim.ReadFile(sub + "/" + e.Name())
				os.WriteFile(filepath.Join(c.dir, sub, e.Name()), data, 0o644)
			}
		}
	}
	return dir
}

// extensions are those that the compilers insist on; the others take any.
var extensions = map[string]string{"rel": ".rel", "elf": ".o", "coff": ".o", "cc65": ".o"}

// compile returns the code of one build, all objects joined. The result is kept for the next run.
func (c corpus) compile(b build) []byte {
	kept := filepath.Join(c.dir, "built", strings.NewReplacer(" ", "_", "/", "_").Replace(b.label+"-"+string(b.set)))
	if code, err := os.ReadFile(kept); err == nil {
		return code
	}
	if _, err := exec.LookPath(b.compiler); err != nil {
		fmt.Fprintf(os.Stderr, "%s: no %s on the path, left out\n", b.label, b.compiler)
		return nil
	}
	files, include := c.prepare(b.sources)
	if b.output != "elf" && b.output != "coff" {
		include = c.layShim()
	}
	work, _ := os.MkdirTemp("", "accuracy")
	defer os.RemoveAll(work)
	var objects []string
	for n, file := range files {
		object := filepath.Join(work, fmt.Sprintf("o%d%s", n, extensions[b.output]))
		args := append(append([]string{}, b.args...), "-c", "-I"+include, "-o", object, file)
		cmd := exec.Command(b.compiler, args...)
		cmd.Dir = work
		if cmd.Run() == nil {
			objects = append(objects, object)
		}
	}
	code := c.join(b, objects, work)
	fmt.Fprintf(os.Stderr, "%s: %d of %d files compiled, %d bytes\n", b.label, len(objects), len(files), len(code))
	if len(code) > 0 { // else a header or a library may be missing, and the next run tries again
		os.MkdirAll(filepath.Dir(kept), 0o755)
		os.WriteFile(kept, code, 0o644)
	}
	return code
}

// join takes the code out of the objects, in the way of each format.
func (c corpus) join(b build, objects []string, work string) []byte {
	var code []byte
	switch b.output {
	case "elf":
		for _, o := range objects {
			file, _ := os.ReadFile(o)
			_, _, sections := elfCode(file)
			for _, s := range sections {
				code = append(code, s...)
			}
		}
	case "coff":
		for _, o := range objects {
			out := o + ".bin"
			exec.Command("h8300-hitachi-coff-objcopy", "-O", "binary", "-j", ".text", o, out).Run()
			data, _ := os.ReadFile(out)
			code = append(code, data...)
		}
	case "rel":
		code = linkRel(b.args[0], objects, work)
	case "cc65":
		for len(objects) > 0 {
			n := min(12, len(objects))
			code = append(code, linkCC65(objects[:n], work)...)
			objects = objects[n:]
		}
	}
	return code
}

// linkRel links objects of the small compiler; what they call and do not have stands as address 0, with a warning only.
func linkRel(machine string, objects []string, work string) []byte {
	linker := map[string]string{"-mz80": "sdldz80", "-msm83": "sdldgb", "-mr2k": "sdldz80", "-mmcs51": "sdld", "-mstm8": "sdldstm8",
		"-mhc08": "sdld6808", "-mtlcs90": "sdldz80"}[machine]
	var code []byte
	for len(objects) > 0 {
		n := min(40, len(objects))
		out := filepath.Join(work, "linked.ihx")
		os.Remove(out)
		cmd := exec.Command(linker, append([]string{"-n", "-i", out}, objects[:n]...)...)
		cmd.Dir = work
		cmd.Run()
		code = append(code, image(out)...)
		objects = objects[n:]
	}
	return code
}

// linkCC65 links objects with the compiler's own run-time library; symbols of nobody get an address of their own.
func linkCC65(objects []string, work string) []byte {
	out := filepath.Join(work, "linked.bin")
	config := filepath.Join(work, "all.cfg")
	os.WriteFile(config, []byte(`MEMORY { ZP: file="", start=$80, size=$60; M: file=%O, start=$1000, size=$E000; B: file="", start=$0, size=$8000; }
SEGMENTS { ZEROPAGE: load=ZP,type=zp; CODE: load=M,type=ro; LOWCODE: load=M,type=ro,optional=yes; ONCE: load=M,type=ro,optional=yes; STARTUP: load=M,type=ro,optional=yes; RODATA: load=B,type=ro,optional=yes; DATA: load=B,type=rw,optional=yes; INIT: load=B,type=rw,optional=yes; BSS: load=B,type=bss,define=yes,optional=yes; }
FEATURES { CONDES: type=constructor,label=__CONSTRUCTOR_TABLE__,count=__CONSTRUCTOR_COUNT__,segment=ONCE; CONDES: type=destructor,label=__DESTRUCTOR_TABLE__,count=__DESTRUCTOR_COUNT__,segment=RODATA; }
`), 0o644)
	stub := ""
	for range 3 {
		os.Remove(out)
		args := []string{"-C", config, "-o", out}
		args = append(args, objects...)
		if stub != "" {
			os.WriteFile(filepath.Join(work, "stub.s"), []byte(stub), 0o644)
			exec.Command("ca65", filepath.Join(work, "stub.s"), "-o", filepath.Join(work, "stub.o")).Run()
			args = append(args, filepath.Join(work, "stub.o"))
		}
		args = append(args, "none.lib")
		log, err := exec.Command("ld65", args...).CombinedOutput()
		if err == nil {
			break
		}
		address := 0x2345
		for _, line := range strings.Split(string(log), "\n") {
			if _, rest, ok := strings.Cut(line, "Unresolved external '"); ok {
				name, _, _ := strings.Cut(rest, "'")
				address += 0x57
				stub += fmt.Sprintf(".export %s : absolute = $%04X\n", name, address)
			}
		}
	}
	code, _ := os.ReadFile(out)
	return code
}

// as86Code returns the code of an as86 object (its format as in the assembler's own manual page and linker).
func as86Code(file []byte) []byte {
	if len(file) < 16 || file[0] != 0xA3 || file[1] != 0x86 {
		return nil
	}
	text := int(file[5]) | int(file[6])<<8
	if text <= 0 || text >= len(file) {
		return nil
	}
	var out []byte
	segment, size := 0, 2
	emit := func(b ...byte) {
		if segment == 0 {
			out = append(out, b...)
		}
	}
	at := text
	for at < len(file) {
		c := file[at]
		at++
		switch {
		case c == 0:
			return out
		case c < 4: // skip
			n := 1 << (c - 1)
			at += n
		case c&0xF8 == 0x08: // size of relocated values
			size = int(c & 7)
			if size == 3 {
				size = 4
			}
		case c&0xF0 == 0x20:
			segment = int(c & 0x0F)
		case c&0xC0 == 0x40:
			n := int(c & 0x3F)
			if n == 0 {
				n = 64
			}
			if at+n > len(file) {
				return out
			}
			emit(file[at : at+n]...)
			at += n
		case c&0xC0 == 0x80:
			if at+size > len(file) {
				return out
			}
			emit(file[at : at+size]...)
			at += size
		case c&0xC0 == 0xC0:
			at++
			if c&4 != 0 {
				at++
			}
			n := []int{0, 1, 2, 4}[c&3]
			if at+n > len(file) {
				return out
			}
			value := make([]byte, 4)
			value[1] = byte(len(out) >> 6) // an address as a linker would put in
			copy(value, file[at:at+n])
			emit(value[:size]...)
			at += n
		default:
			return out
		}
	}
	return out
}
