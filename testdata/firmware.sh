#!/bin/sh
# Fetches open firmware from Debian's packages into the folder named: sh firmware.sh FOLDER
# Real images that this project did not make: a PC's system ROM, video and network expansion ROMs, FCode. Nothing is
# installed. Tests read them; none is committed.
set -eu

folder=$1
packages="seabios ipxe-qemu qemu-system-data"

if ! command -v apt-get >/dev/null || ! command -v dpkg-deb >/dev/null; then
	echo "firmware.sh: this system has no apt-get; unpack Debian's packages $packages into $folder by hand, then try again" >&2
	exit 1
fi
mkdir -p "$folder"
cd "$folder"
for package in $packages; do
	# The lists of a new machine may be empty; only then are they fetched.
	apt-get -q download "$package" 2>/dev/null || { apt-get -q update && apt-get -q download "$package"; } || {
		echo "firmware.sh: apt-get could not download $package; see its message above" >&2
		exit 1
	}
	dpkg-deb -x "$package"_*.deb "$package"
	rm -f "$package"_*.deb
done
