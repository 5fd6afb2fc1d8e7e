#!/usr/bin/env bash
# Installs what is needed, builds and passes all tests: with gcc, then with clang under the address
# and undefined-behaviour sanitizers. Usage: bash tests/run.sh [BUILD-FOLDER]
set -euo pipefail
cd "$(dirname "$0")/.."
. tests/packages.sh
install_packages

build=${1:-build}
[ -f "$build/build.ninja" ] || meson setup "$build" --werror
[ -f "$build-clang/build.ninja" ] || CC=clang CXX=clang++ meson setup "$build-clang" --werror \
	-Db_sanitize=address,undefined -Db_lundef=false

status=0
for folder in "$build" "$build-clang"; do
	ninja -C "$folder"
	meson test -C "$folder" --timeout-multiplier 5 --print-errorlogs || status=$?
done

# One plain closing line.
python3 - "$build" "$build-clang" <<'PYTHON'
import json, sys
results = [json.loads(line)["result"]
           for folder in sys.argv[1:]
           for line in open(folder + "/meson-logs/testlog.json", encoding="utf-8")]
passed = sum(result in ("OK", "EXPECTEDFAIL") for result in results)
skipped = results.count("SKIP")
print(f"{passed} passed, {len(results) - passed - skipped} failed, {skipped} skipped")
PYTHON
exit "$status"
