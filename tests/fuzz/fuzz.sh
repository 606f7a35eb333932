#!/bin/bash
# Runs every fuzzer of a build folder, so many seconds in all, two at a time, from the examples as seeds.
set -u
cd "$(dirname "$0")/../.."
. tests/lib.sh
folder=${1:?build folder}
seconds=${2:?seconds in all}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export HOME=$work/home
mkdir -p "$HOME"

fuzzers=()
for source in tests/fuzz/fuzz_*.c; do
    name=${source##*/}
    fuzzers+=("$folder/${name%.c}")
done
each=$((seconds / ${#fuzzers[@]}))
[ "$each" -ge 1 ] || each=1

run() {
    local name=${1##*/}
    mkdir -p "$work/$name/corpus" "$work/$name/found"
    if [ -d "tests/fuzz/seeds/$name" ]; then cp "tests/fuzz/seeds/$name/"* "$work/$name/corpus/"; fi
    case $name in
    fuzz_project) cp projects/*.yaml "$work/$name/corpus/" ;;
    fuzz_edit)
        for file in projects/*.yaml; do
            printf 'outline.diameter\0%s\0' 121.5 | cat - "$file" >"$work/$name/corpus/${file##*/}"
            printf 'bands[1].outer.line\0%s\0' scribe | cat - "$file" >"$work/$name/corpus/line-${file##*/}"
        done
        ;;
    fuzz_outline | fuzz_offset) cp tests/fuzz/seeds/"${name#fuzz_}"-* "$work/$name/corpus/" ;;
    esac
    "$1" -max_total_time="$each" -max_len=4096 -timeout=20 -rss_limit_mb=2048 -print_final_stats=1 -verbosity=0 \
        -artifact_prefix="$work/$name/found/" "$work/$name/corpus" >"$work/$name/log" 2>&1
    echo $? >"$work/$name/status"
}

for fuzzer in "${fuzzers[@]}"; do
    run "$fuzzer" &
    while [ "$(jobs -rp | wc -l)" -ge 2 ]; do wait -n; done
done
wait

for fuzzer in "${fuzzers[@]}"; do
    name=${fuzzer##*/}
    runs=$(sed -n 's/^stat::number_of_executed_units: *//p' "$work/$name/log")
    if [ "$(cat "$work/$name/status")" -eq 0 ] && [ "${runs:-0}" -gt 100 ]; then
        ok "$name: $runs runs in $each s, nothing found"
    else
        bad "$name: status $(cat "$work/$name/status"), ${runs:-no} runs"
        tail -n 40 "$work/$name/log"
        for found in "$work/$name"/found/*; do
            [ -e "$found" ] && echo "input ${found##*/}:" && base64 <"$found"
        done
    fi
done
report
