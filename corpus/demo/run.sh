#!/usr/bin/env bash
# Installs what is needed, builds cutlint and checks the demo: the draft with its mistakes first,
# then its corrected twin.
set -euo pipefail
cd "$(dirname "$0")/../.."
. tests/packages.sh
install_packages

build=build
[ -f "$build/build.ninja" ] || meson setup "$build" > /dev/null
ninja -C "$build" > /dev/null

# Checks a drawing and fails unless the exit status is the one expected.
check() {
	echo "\$ cutlint check $1"
	status=0
	"$build/src/cutlint" check "$1" || status=$?
	echo "exit status $status"
	echo
	[ "$status" -eq "$2" ]
}

check corpus/demo/lantern-walk-draft.svg 1
check corpus/demo/lantern-walk.svg 0
