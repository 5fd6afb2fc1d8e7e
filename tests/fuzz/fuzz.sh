#!/bin/sh
# Runs one fuzz target under libFuzzer with the address and undefined-behaviour sanitizers.
# Usage: sh tests/fuzz/fuzz.sh FOLDER TARGET SECONDS [libFuzzer option]...
# FOLDER keeps objects, new inputs and crashes between runs. TARGET: path-data, style-sheet,
# drawing, job-file. Exit status 77: clang or its fuzzer runtime is missing.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
folder=$1 target=$2 seconds=$3
shift 3
rooms="base geometry model svg job"
flags="-std=c11 -O1 -g -fno-omit-frame-pointer -fsanitize=fuzzer-no-link,address,undefined
	-fno-sanitize-recover=undefined -I$root/include -I$root/src"
libraries="libxml-2.0 libpcre2-8 libmd zlib"

mkdir -p "$folder/objects" "$folder/new-$target" "$folder/crash-$target"
folder=$(cd "$folder" && pwd)
if ! command -v clang >/dev/null; then
	echo "skipped: clang is not installed"
	exit 77
fi
echo 'int LLVMFuzzerTestOneInput(const char *b, unsigned long n) { (void)b; return (int)(n & 0); }' \
	>"$folder/probe.c"
if ! clang -fsanitize=fuzzer,address -o "$folder/probe" "$folder/probe.c" 2>/dev/null; then
	echo "skipped: clang's fuzzer runtime is not installed"
	exit 77
fi

# A room's sources are compiled anew when any source or header is newer than its object.
newest=$(find "$root/src" "$root/include" -name '*.[ch]' -newer "$folder/objects/stamp" 2>/dev/null |
	head -1) || true
if [ ! -f "$folder/objects/stamp" ] || [ -n "$newest" ]; then
	: >"$folder/objects/stamp.new"
	for room in $rooms; do
		for source in "$root/src/$room"/*.c; do
			echo "$source $folder/objects/$room-$(basename "$source" .c).o"
		done
	# shellcheck disable=SC2016 # $0 and $1 are the inner shell's
	done | xargs -P 2 -L 1 sh -c \
		'clang '"$(echo $flags $(pkg-config --cflags $libraries))"' -c -o "$1" "$0"'
	mv "$folder/objects/stamp.new" "$folder/objects/stamp"
fi
# shellcheck disable=SC2046,SC2086 # lists of words
clang $flags $(pkg-config --cflags $libraries) -fsanitize=fuzzer -I"$here" -o "$folder/$target" \
	"$here/$target.c" "$folder/objects"/*.o $(pkg-config --libs $libraries) -lm

# shellcheck disable=SC2086 # the drawings of the corpus are more seeds for one target
case $target in
drawing) seeds="$root/corpus/demo $root/corpus/rules/*" ;;
*) seeds= ;;
esac
dictionary=
[ ! -f "$here/$target.dict" ] || dictionary="-dict=$here/$target.dict"
# shellcheck disable=SC2086
exec "$folder/$target" "$folder/new-$target" "$here/seeds/$target" $seeds $dictionary \
	-max_total_time="$seconds" -artifact_prefix="$folder/crash-$target/" -timeout=10 \
	-rss_limit_mb=2048 -print_final_stats=1 "$@"
