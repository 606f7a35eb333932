#!/bin/bash
# What `make check` runs. Every stage ends with `N passed, N failed`; one that does not is itself a failure.
set -u
cd "$(dirname "$0")/.."
logs=build/check
rm -rf "$logs"
mkdir -p "$logs"
total_passed=0
total_failed=0
started=$SECONDS

note() { printf '%4d s  %s\n' $((SECONDS - started)) "$*"; }

# finish NAME STATUS: reads the stage's last line and adds it up
finish() {
    local log=$logs/$1.log last passed failed
    last=$(tail -n 1 "$log")
    if [[ $last =~ ^([0-9]+)\ passed,\ ([0-9]+)\ failed$ ]]; then
        passed=${BASH_REMATCH[1]} failed=${BASH_REMATCH[2]}
        [ "$2" -eq 0 ] || [ "$failed" -gt 0 ] || failed=1
    else
        passed=0 failed=1
    fi
    if [ "$failed" -gt 0 ] || [ "$passed" -eq 0 ]; then
        [ "$failed" -gt 0 ] || failed=1
        echo "---- $1"
        grep -v '^ok ' "$log" | tail -n 60
        echo "---- $1: exit $2, all of it in $log"
    fi
    note "$1: $passed passed, $failed failed"
    total_passed=$((total_passed + passed))
    total_failed=$((total_failed + failed))
}

# stage NAME COMMAND...
stage() {
    local name=$1
    shift
    "$@" >"$logs/$name.log" 2>&1
    finish "$name" $?
}

# beside NAME COMMAND...: a stage in the background, until joined; one at a time, as there are two cores.
beside() {
    beside_name=$1
    shift
    "$@" >"$logs/$beside_name.log" 2>&1 &
    beside_id=$!
}

joined() {
    wait "$beside_id"
    finish "$beside_name" $?
}

# build BUILD CC CFLAGS TARGET...: a failed build is a failed stage
build() {
    local folder=$1 cc=$2 flags=$3 log=$logs/build-${1##*/}.log
    shift 3
    if make -j2 --no-print-directory "BUILD=$folder" "CC=$cc" "CFLAGS=$flags" "$@" >>"$log" 2>&1; then
        return 0
    fi
    echo "---- building $folder failed"
    grep -E ': (fatal )?error: |undefined reference|\*\*\* ' "$log" | head -n 40
    total_failed=$((total_failed + 1))
    return 1
}

sanitize="-fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer"
# What is freed is kept back as far as 32 MB, more than any test frees: each process of a test would touch new memory.
export ASAN_OPTIONS=quarantine_size_mb=32:exitcode=99:detect_leaks=1:abort_on_error=0:allocator_may_return_null=1
export UBSAN_OPTIONS=exitcode=99:print_stacktrace=1
export LSAN_OPTIONS=suppressions=$PWD/tests/leaks.txt:print_suppressions=0
export LC_ALL=C.UTF-8
unset XDG_DATA_HOME XDG_CONFIG_HOME XDG_STATE_HOME XDG_CACHE_HOME NO_COLOR POSIXLY_CORRECT
# Nothing that the tests run may read or write the maker's own files.
export HOME=$PWD/$logs/home
mkdir -p "$HOME"

runner() {
    local folder=${1%/*}
    BW_PROGRAM=$folder/bandwright BW_BUILD=$folder "$@"
}
quick="published/ shop/ desk/ show/"
# The folders of suites in two halves that take about as long: these, and every other one.
half="maths/ verbs/ published/ paper/ show/"
others=
for folder in tests/*/; do
    case $folder in
    tests/maths/ | tests/verbs/ | tests/published/ | tests/paper/ | tests/show/ | tests/outside/ | tests/fuzz/ | tests/speed/ | tests/faults/) ;;
    *) if ls "$folder"check_*.c >/dev/null 2>&1; then others="$others ${folder#tests/}"; fi ;;
    esac
done

# suites NAME RUNNER HALF FOLDER...: two stages side by side, one half and the suites of these folders, each with a home
# of its own. No test asserts a time; the multiplier only says when one counts as hung.
suites() {
    local name=$1 program=$2 words
    read -ra words <<<"$3"
    shift 3
    mkdir -p "$HOME-half"
    HOME=$HOME-half beside "$name-half" runner "$program" "${words[@]}"
    stage "$name" runner "$program" "$@"
    joined
}

if build build/gcc-O2 gcc "-O2 -g" all tests outside speed; then
    note "built build/gcc-O2"
    CK_TIMEOUT_MULTIPLIER=4 suites suite-gcc-O2 build/gcc-O2/runner "$half" $others
    beside outside env BW_PROGRAM=build/gcc-O2/bandwright build/gcc-O2/runner_outside
    stage terminal tests/terminal/smoke.sh build/gcc-O2/bandwright
    joined
    beside faults tests/faults/faults.sh build/gcc-O2/bandwright
    stage install tests/install.sh
    joined
fi
if build build/clang-asan clang "-O1 -g $sanitize" all tests; then
    note "built build/clang-asan"
    CK_TIMEOUT_MULTIPLIER=20 suites suite-clang-asan build/clang-asan/runner "$half" $others
fi
if build build/gcc-debug gcc "-O0 -g" all quick; then
    note "built build/gcc-debug"
    CK_TIMEOUT_MULTIPLIER=10 suites quick-gcc-debug build/gcc-debug/runner_quick maths/ $quick
fi
if build build/clang-O2 clang "-O2 -g" all quick; then
    note "built build/clang-O2"
    CK_TIMEOUT_MULTIPLIER=4 suites quick-clang-O2 build/clang-O2/runner_quick maths/ $quick
fi
if build build/clang-fuzz clang "-O1 -g $sanitize -fsanitize=fuzzer-no-link" fuzzers; then
    note "built build/clang-fuzz"
    stage fuzz tests/fuzz/fuzz.sh build/clang-fuzz 60
fi

note "logs in $logs"
echo "$total_passed passed, $total_failed failed"
[ "$total_failed" -eq 0 ]
