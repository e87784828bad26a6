#!/bin/sh
# Installs what the tests need and this machine lacks: sh install.sh chromium firefox webkit nodejs npm references
# References are the programs that the core's tests compare with.
# It does nothing when all is there. The programs are those of "launchers" in launch.go, the packages Debian's.
set -eu

missing= packages=

# need "PROGRAM [OTHER NAME]" PACKAGE: notes the package unless one of the programs is found.
need() {
	for program in $1; do
		if command -v "$program" >/dev/null; then return; fi
	done
	missing="$missing ${1%% *}"
	packages="$packages $2"
}

for name; do
	case $name in
	chromium)
		need "chromium chromium-browser" chromium
		need chromedriver chromium-driver
		;;
	firefox)
		need "firefox-esr firefox" firefox-esr
		;;
	webkit)
		need WebKitWebDriver webkit2gtk-driver
		need Xvfb xvfb
		;;
	nodejs)
		need "node nodejs" nodejs
		;;
	npm)
		need npm npm
		;;
	xz)
		need xz xz-utils
		;;
	references)
		need objcopy binutils
		need python3 python3
		need xxd xxd
		need hexdump bsdextrautils
		need cmark cmark
		need zbarimg zbar-tools
		need bzip2 bzip2
		;;
	*)
		echo "install.sh: \"$name\" is unknown; known are chromium, firefox, webkit, nodejs, npm, xz and references" >&2
		exit 2
		;;
	esac
done
if [ -z "$packages" ]; then exit 0; fi

if ! command -v apt-get >/dev/null; then
	echo "install.sh: missing:$missing. This system has no apt-get: install by its own means what Debian calls$packages, then try again." >&2
	exit 1
fi
if [ "$(id -u)" = 0 ]; then
	as_root=
elif command -v sudo >/dev/null; then
	as_root=sudo
else
	echo "install.sh: missing:$missing. Run this as root, then try again: apt-get update && apt-get install --no-install-recommends$packages" >&2
	exit 1
fi

echo "install.sh: missing:$missing. Installing$packages"
# Another installation may be under way: wait for its lock rather than fail. Word splitting of $packages is wanted.
{
	$as_root apt-get -q update &&
		$as_root apt-get -q -y -o DPkg::Lock::Timeout=300 install --no-install-recommends $packages
} </dev/null || {
	echo "install.sh: apt-get could not install$packages: see its message above, install them by hand, then try again." >&2
	exit 1
}
