#!/bin/sh
# Fetches open firmware that tests read, from Debian's packages, into the folder named by the first argument: images that
# somebody else made, for checks whose answers we did not make up. `make firmware` calls it. Nothing is installed.
#
#   sh testdata/firmware.sh FOLDER && LUNETTE_FIRMWARE=$PWD/FOLDER go test ./core/marks
#
# Needs apt-get, dpkg-deb and python3. A package that this Debian does not carry is named and left out; the lists of what it
# carries are fetched when none can be found.
set -eu
[ $# -eq 1 ] || { echo "usage: $0 folder" >&2; exit 2; }
mkdir -p "$1"
target=$(cd "$1" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
chmod 755 "$work"
cd "$work"
if ! apt-cache show seabios >/dev/null 2>&1; then
	if [ "$(id -u)" = 0 ]; then apt-get update -qq; else sudo apt-get update -qq; fi || {
		echo "firmware.sh: apt-get knows no packages and cannot fetch their lists; run apt-get update as root, then try again" >&2
		exit 1
	}
fi
for package in seabios ipxe-qemu qemu-system-data cbios u-boot-qemu fs-uae; do
	apt-get download -qq "$package" 2>"$work/complaints" || { echo "not here: $package: $(tail -n 1 complaints)" >&2; continue; }
	dpkg-deb -x "$package"_*.deb "$package"
done
# PC: system ROMs, display and network expansion ROMs. FCode: display cards.
find . -path '*/seabios/*.bin' -exec cp {} "$target" \;
find . -path '*/ipxe/qemu/*.rom' -exec cp {} "$target" \;
find . -path '*/share/qemu/*' \( -name 'QEMU,*.bin' -o -name kvmvapic.bin -o -name sgabios.bin -o -name slof.bin \
	-o -name npcm7xx_bootrom.bin \) -exec cp {} "$target" \;
# Z80: main and extension ROMs.
find . -path '*/share/cbios/*.rom' -exec cp {} "$target" \;
# ARM.
find . -path '*/u-boot/qemu_arm/u-boot.bin' -exec cp {} "$target/u-boot-arm.bin" \;
# 68000: the two 512 KiB system ROMs that lie in a zip.
find . -path '*/fs-uae.dat' -exec python3 - {} "$target" \; <<'PYTHON'
import sys, zipfile
z = zipfile.ZipFile(sys.argv[1])
roms = [m for m in z.infolist() if m.file_size == 512 << 10]
for number, member in enumerate(sorted(roms, key=lambda m: m.filename), 1):
    open(f"{sys.argv[2]}/system-68000-{number}.rom", "wb").write(z.read(member))
PYTHON
ls "$target" | wc -l | sed 's/$/ images/'
