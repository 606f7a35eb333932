#!/bin/bash
# What takes longer than `make check` may: parallels of 50,000 random outlines against GEOS (SOAK_OUTLINES=N for another
# number, about 20 ms each), the program killed 200 times at a job (SOAK_KILLS=N), 10,000 rows of 1,000 keys at random under
# the sanitizers, the plan shown held against the text after each key (SOAK_ROWS=N of each of two kinds, from row
# SOAK_FIRST=N on), then an hour of fuzzing (SOAK_SECONDS=N for another time).
set -u
cd "$(dirname "$0")/.."
rows=${SOAK_ROWS:-5000}
outlines=${SOAK_OUTLINES:-50000}
seconds=${SOAK_SECONDS:-3600}
sanitize="-fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer"
export ASAN_OPTIONS=exitcode=99:detect_leaks=1:allocator_may_return_null=1
export UBSAN_OPTIONS=exitcode=99:print_stacktrace=1
make -j2 --no-print-directory BUILD=build/gcc-O2 CC=gcc "CFLAGS=-O2 -g" all tests outside || exit 1
BW_KILLS=${SOAK_KILLS:-200} BW_PROGRAM=build/gcc-O2/bandwright build/gcc-O2/runner bench/check_killed || exit 1
BW_OUTLINES=$outlines build/gcc-O2/runner_outside outside/check_offset || exit 1
make -j2 --no-print-directory BUILD=build/clang-asan CC=clang "CFLAGS=-O1 -g $sanitize" all tests || exit 1
BW_ROWS=$rows BW_FIRST=${SOAK_FIRST:-0} BW_PROGRAM=build/clang-asan/bandwright BW_BUILD=build/clang-asan \
    build/clang-asan/runner bench/check_random || exit 1
make -j2 --no-print-directory BUILD=build/clang-fuzz CC=clang \
    "CFLAGS=-O1 -g $sanitize -fsanitize=fuzzer-no-link" fuzzers || exit 1
exec tests/fuzz/fuzz.sh build/clang-fuzz "$seconds"
