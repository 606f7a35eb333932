#!/bin/bash
# `make bench`: ratios side by side in one run. Nothing here can fail for being slow.
set -eu
cd "$(dirname "$0")/../.."
build=${1:?build folder}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export HOME=$work XDG_DATA_HOME=$work/data XDG_STATE_HOME=$work/state LC_ALL=C.UTF-8

# microseconds of processor for so many runs of a command: what else the machine does changes little of it
runs=200
timed() {
    local TIMEFORMAT='%U %S' i
    { time for ((i = 0; i < runs; i++)); do "$@" >/dev/null 2>&1 || true; done; } 2>&1 |
        awk '{ printf "%.0f\n", ($1 + $2) * 1e6 }'
}

echo "The whole plan process against one that only loads the same libraries ($runs runs each):"
nothing=$(timed "$build/speed_nothing")
for file in projects/*.yaml; do
    cp "$file" "$work/"
    spent=$(timed "$build/bandwright" plan "$file")
    awk -v f="$file" -v s="$spent" -v n="$nothing" -v r="$runs" \
        'BEGIN { printf "  %-34s %.2f ms against %.2f ms: %.2f times\n", f, s / r / 1000, n / r / 1000, s / n }'
done

echo "A sweep of 20,001 values of a lid against a plan process for each of them:"
all=$runs
runs=1
spent=$(timed "$build/bandwright" plan projects/cedar-lid.yaml --sweep bands.weave.width=5:25:0.001)
runs=$all
single=$(timed "$build/bandwright" plan -fyaml projects/cedar-lid.yaml)
awk -v s="$spent" -v o="$single" -v r="$runs" 'BEGIN { n = 20001
    printf "  %.3f ms a value, %.0f values a second; a process each %.2f ms: %.1f times faster\n",
        s / n / 1000, n / s * 1e6, o / r / 1000, (o / r) / (s / n) }'

echo "Loading against libyaml's own parse of the same bytes, and planning:"
"$build/speed_load" projects/*.yaml

echo "One step of a value in the workbench against a full repaint, at 80x24:"
for file in cedar-lid walnut-cover; do
    "$build/speed_step" "$build/bandwright" "$work/$file.yaml"
done

echo "Whole redraws of the workbench, from the key to the last cell, against a 60 Hz frame:"
"$build/speed_redraw" "$work"

"$build/speed_even"

"$build/speed_offset"
