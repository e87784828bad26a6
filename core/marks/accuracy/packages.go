package main

// The corpus: Debian packages that hold code, split by package. Tuning looked only at the tuning set. The test set was
// written down before any of it was run; a package that was looked at afterwards to find the reason of a wrong answer is
// to be moved to tuning.

type set string

const (
	tuning  set = "tuning"
	test    set = "test"
	unknown set = "unknown" // code of CPUs that the table does not have
)

// machines are the names Debian's cross libraries go by.
var machines = []string{"m68k", "powerpc", "mips", "mipsel", "sparc64", "armel", "armhf", "hppa", "s390x", "i386", "amd64",
	"alpha", "sh4"}

// A crossLibrary is a shared library that Debian carries for many CPUs; {} stands for the machine.
var crossLibraries = []struct {
	name string
	set  set
}{
	{"libc6-{}-cross", tuning},
	{"libgomp1-{}-cross", tuning},
	{"libobjc4-{}-cross", tuning},
	{"libstdc++6-{}-cross", test},
	{"libgfortran5-{}-cross", tuning}, // was in the test set until it was looked at
	{"libgphobos3-{}-cross", test},
	{"libgnat-12-{}-cross", tuning}, // the same
	{"libgm2-17-{}-cross", test},
	{"libasan8-{}-cross", test},
	{"libubsan1-{}-cross", test},
	{"libgo21-{}-cross", tuning}, // the same
}

// elfPackages hold ELF files or archives of them beside the cross libraries.
var elfPackages = []struct {
	name string
	set  set
}{
	{"libc6.1-alpha-cross", tuning},
	{"libc6-sparc-sparc64-cross", tuning},
	{"libc6-s390-s390x-cross", tuning},
	{"libgcc-s2-m68k-cross", tuning},
	{"libgcc-s1-sh4-cross", tuning},
	{"libnewlib-arm-none-eabi", tuning},
	{"avr-libc", tuning},
	{"picolibc-arm-none-eabi", test},
	{"libc6-arm64-cross", unknown},
	{"libc6-riscv64-cross", unknown},
	{"libc6-arc-cross", unknown},
	{"libstdc++6-arm64-cross", unknown},
	{"libstdc++6-riscv64-cross", unknown},
	{"libstdc++6-arc-cross", unknown},
	{"picolibc-xtensa-lx106-elf", unknown},
}

// A rom is a file of machine code or a ROM image without a container that says for which CPU.
type rom struct {
	pkg, file string // file is a pattern below the package's root
	set       set
	family    string // ID; "" for a CPU that the table does not have
	skip      int    // bytes before the image
	whole     bool   // a firmware image: judged whole, not in windows
}

var binaries = []rom{
	{"cbios", "usr/share/cbios/*.rom", test, "z80", 0, true},
	{"opense-basic", "usr/share/spectrum-roms/*.rom", test, "z80", 0, true},
	{"open-roms", "usr/share/open-roms/C64/kernal", test, "m6502", 0, true},
	{"open-roms", "usr/share/open-roms/C64/basic", test, "m6502", 0, true},
	{"brickos", "usr/lib/brickos/brickOS.srec", test, "h8", 0, true},
	{"arduino-core-avr", "usr/share/arduino/hardware/arduino/avr/bootloaders/*/*.hex", test, "avr", 0, true},
	{"sigrok-firmware-fx2lafw", "usr/share/sigrok-firmware/*.fw", test, "i8051", 0, true},
	{"firmware-linux-free", "lib/firmware/carl9170-1.fw", test, "sh", 0, true},
	{"firmware-linux-free", "lib/firmware/usbduxsigma_firmware.bin", test, "i8051", 0, true},
	{"firmware-ath9k-htc", "lib/firmware/ath9k_htc/*.fw", unknown, "", 0, true},
	{"seabios", "usr/share/seabios/*.bin", test, "x86", 0, true},
	{"ipxe-qemu", "usr/lib/ipxe/qemu/*.rom", test, "x86", 0, true},
	{"ipxe", "boot/ipxe.lkrn", test, "x86", 0, true},
	{"grub-pc-bin", "usr/lib/grub/i386-pc/*.img", test, "x86", 0, true},
	{"syslinux-common", "usr/lib/syslinux/memdisk", test, "x86", 0, true},
	{"memtest86+", "boot/memtest86+*.bin", test, "x86", 0, true},
	{"qemu-system-data", "usr/share/qemu/s390-ccw.img", test, "s390", 0, true},
	{"qemu-system-data", "usr/share/qemu/s390-netboot.img", test, "s390", 0, true},
	{"qemu-system-data", "usr/share/qemu/palcode-clipper", test, "alpha", 0, true},
	{"qemu-system-data", "usr/share/qemu/hppa-firmware.img", test, "hppa", 0, true},
	{"qemu-system-data", "usr/share/qemu/slof.bin", test, "ppc", 0, true},
	{"qemu-system-data", "usr/share/qemu/qboot.rom", test, "x86", 0, true},
	{"qemu-system-data", "usr/share/qemu/kvmvapic.bin", test, "x86", 0, true},
	{"qemu-system-data", "usr/share/qemu/sgabios.bin", test, "x86", 0, true},
	{"qemu-system-data", "usr/share/qemu/opensbi-riscv64-generic-fw_dynamic.bin", unknown, "", 0, true},
	{"u-boot-qemu", "usr/lib/u-boot/maltael/u-boot.bin", test, "mips", 0, true},
	{"u-boot-qemu", "usr/lib/u-boot/malta/u-boot.bin", test, "mips", 0, true},
	{"u-boot-qemu", "usr/lib/u-boot/malta64el/u-boot.bin", test, "mips", 0, true},
	{"u-boot-qemu", "usr/lib/u-boot/malta64/u-boot.bin", test, "mips", 0, true},
	{"u-boot-qemu", "usr/lib/u-boot/qemu-ppce500/u-boot.bin", test, "ppc", 0, true},
	{"u-boot-qemu", "usr/lib/u-boot/qemu_arm/u-boot.bin", test, "arm", 0, true},
	{"u-boot-qemu", "usr/lib/u-boot/qemu-x86/u-boot.rom", test, "x86", 0, true},
	{"u-boot-qemu", "usr/lib/u-boot/qemu-x86_64/u-boot.rom", test, "x86", 0, true},
	{"u-boot-qemu", "usr/lib/u-boot/qemu-riscv64/u-boot.bin", unknown, "", 0, true},
	{"u-boot-qemu", "usr/lib/u-boot/qemu_arm64/u-boot.bin", unknown, "", 0, true},
	{"firmware-microbit-micropython", "usr/share/firmware-microbit-micropython/firmware.hex", test, "thumb", 0, true},
}

// as86Libraries are archives of objects for 8086 code.
var as86Libraries = []struct {
	label, family, pkg, file string
	set                      set
}{
	{"8086 library", "x86", "elks-libc", "usr/lib/bcc/libc.a", tuning},
	{"8086 library", "x86", "elks-libc", "usr/lib/bcc/libdos.a", tuning},
	{"8086 library, registers", "x86", "elks-libc", "usr/lib/bcc/libc_f.a", tuning},
}

// A build is code compiled here, because Debian carries no library for the CPU.
type build struct {
	label, family string
	set           set
	compiler      string   // must be on the path
	args          []string // before the file and the output
	output        string   // "elf", "rel", "cc65", "coff"
	sources       string   // a key of sources
}

var builds = []build{
	{"68000 with frames", "m68k", tuning, "m68k-linux-gnu-gcc", []string{"-m68000", "-O1", "-fno-omit-frame-pointer", "-fno-pic", "-fno-builtin", "-ffreestanding", "-w"}, "elf", "newlib"},
	{"68000 with frames", "m68k", test, "m68k-linux-gnu-gcc", []string{"-m68000", "-O2", "-fno-omit-frame-pointer", "-fno-pic", "-w"}, "elf", "stb"},
	{"68000 no frames", "m68k", test, "m68k-linux-gnu-gcc", []string{"-m68000", "-Os", "-fno-pic", "-w"}, "elf", "stb"},
	{"H8/300", "h8", tuning, "h8300-hitachi-coff-gcc", []string{"-O2", "-w"}, "coff", "newlib"},
	{"H8/300H", "h8", tuning, "h8300-hitachi-coff-gcc", []string{"-O2", "-mh", "-w"}, "coff", "newlib"},
	{"6502 C", "m6502", tuning, "cl65", []string{"-t", "none", "-O"}, "cc65", "newlib"},
	{"Z80 C", "z80", tuning, "sdcc", []string{"-mz80"}, "rel", "newlib"},
	{"SM83 C", "z80", tuning, "sdcc", []string{"-msm83"}, "rel", "newlib"},
	{"8051 C large", "i8051", tuning, "sdcc", []string{"-mmcs51", "--model-large"}, "rel", "newlib"},
	{"8051 C small", "i8051", tuning, "sdcc", []string{"-mmcs51", "--model-small"}, "rel", "newlib"},
	{"STM8 C", "", unknown, "sdcc", []string{"-mstm8"}, "rel", "newlib"},
	{"68HC08 C", "", unknown, "sdcc", []string{"-mhc08"}, "rel", "newlib"},
	{"TLCS-90 C", "", unknown, "sdcc", []string{"-mtlcs90"}, "rel", "newlib"},
}

// relLibraries are archives of the small compiler's own object files, in text.
var relLibraries = []struct {
	label, family, file string
	set                 set
}{
	{"Z80 library", "z80", "usr/share/sdcc/lib/z80/z80.lib", test},
	{"SM83 library", "z80", "usr/share/sdcc/lib/sm83/sm83.lib", test},
	{"R2000 library", "z80", "usr/share/sdcc/lib/r2k/r2k.lib", test},
	{"8051 library", "i8051", "usr/share/sdcc/lib/large/*.lib", test},
	{"STM8 library", "", "usr/share/sdcc/lib/stm8/stm8.lib", unknown},
	{"68HC08 library", "", "usr/share/sdcc/lib/hc08/hc08.lib", unknown},
}
