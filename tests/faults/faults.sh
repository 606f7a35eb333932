#!/bin/bash
# faults.sh PROGRAM: disks that are full, refuse, lie, and a program killed at every step of a save. Whatever happens,
# the old file or the new one is there, whole.
set -u
cd "$(dirname "$0")/../.."
. tests/lib.sh
program=$(realpath "$1")
lid=$PWD/projects/cedar-lid.yaml
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export HOME=$work XDG_STATE_HOME=$work/state LC_ALL=C.UTF-8
unset XDG_DATA_HOME
change=outline.diameter=150

# fresh KIND: the file lid.yaml anew: plain, a symbolic link, one of two names, or none yet
fresh() {
    rm -rf "$work/shop"
    mkdir -p "$work/shop/other"
    cd "$work/shop" || exit 1
    case $1 in
    plain) cp "$lid" lid.yaml ;;
    link) cp "$lid" other/real.yaml && ln -s other/real.yaml lid.yaml ;;
    names) cp "$lid" lid.yaml && ln lid.yaml other/name.yaml ;;
    esac
    [ "$1" = none ] || chmod 640 lid.yaml
}
verb() { if [ "$1" = none ]; then echo new; else echo set; fi; }
# save KIND STRACE-OPTIONS...: saves under these faults; leaves status, and err in a file
save() {
    local kind=$1
    shift
    fresh "$kind"
    # In a shell of its own, whose word of a killed program goes nowhere.
    (
        strace -o "$work/trace" "$@" "$program" "$(verb "$kind")" lid.yaml $change >"$work/out" 2>"$work/err"
        exit $?
    ) 2>/dev/null
    status=$?
}
said() { grep -q '^lid.yaml: error: \|^bandwright: ' "$work/err"; }
is_old() { if [ "$1" = none ]; then [ ! -e lid.yaml ]; else cmp -s "$lid" lid.yaml; fi; }
is_new() { cmp -s "$work/new.$1" lid.yaml; }
# A file with several names is written over; until that is done its new text stands beside it.
is_beside() { [ "$1" = names ] && cmp -s "$work/new.$1" .bandwright-*.new; }
is_kept() {
    case $1 in
    link) [ -L lid.yaml ] && [ "$(stat -c %a other/real.yaml)" = 640 ] ;;
    names) [ lid.yaml -ef other/name.yaml ] && [ "$(stat -c %a lid.yaml)" = 640 ] ;;
    plain) [ "$(stat -c %a lid.yaml)" = 640 ] ;;
    esac
}
left_over() { find . -name '.bandwright-*' | grep -q .; }
# fault KIND STRACE-OPTIONS: what must hold after a call that failed
fault() {
    local kind=$1 what="$1: $2" why=
    save "$kind" -e "$2"
    grep -q INJECTED "$work/trace" || why="nothing was injected"
    case $status in
    0) is_new "$kind" || why="said to be saved, and is not" ;;
    73 | 74)
        is_old "$kind" || is_new "$kind" || is_beside "$kind" || why="a mixture is left"
        said || why="no word of it"
        ! left_over || is_beside "$kind" || why="the new file is left over"
        ;;
    *) why="status $status" ;;
    esac
    is_kept "$kind" || why="link, names or mode are lost"
    if [ -z "$why" ]; then ok "$what"; else bad "$what: $why; $(head -n 1 "$work/err")"; fi
}
killed() {
    local kind=$1 what="$1: killed at $2 number $3" why=
    save "$kind" -e "inject=$2:signal=KILL:when=$3"
    [ $status -eq 137 ] || why="status $status"
    is_old "$kind" || is_new "$kind" || is_beside "$kind" || why="a mixture is left"
    is_kept "$kind" || [ "$kind$(is_old none && echo yes)" = noneyes ] || why="link, names or mode are lost"
    if [ -z "$why" ]; then ok "$what"; else bad "$what: $why"; fi
}
# steps: every call of a good save from its first look at the file on, as "name number"
steps() {
    awk -F'(' '
        { name = $1; count[name]++ }
        /^readlink\("lid.yaml"/ { on = 1 }
        /^close\(1\)/ { on = 0 }
        on && name !~ /^(brk|mmap|munmap|getpid|exit_group|[+-].*)$/ { print name, count[name] }' "$work/trace"
}

for kind in plain link names none; do
    save $kind
    expect "$kind: saves" [ $status -eq 0 ]
    expect "$kind: link, names and mode are kept" is_kept $kind
    expect "$kind: nothing is left over" eval '! left_over'
    cp lid.yaml "$work/new.$kind"
    steps >"$work/steps"
    expect "$kind: its steps are known" grep -q '^fsync ' "$work/steps"
    while read -r name number; do
        killed $kind "$name" "$number"
        fault $kind "inject=$name:error=EIO:when=$number"
    done <"$work/steps"
    write=$(grep -m 1 '^write ' "$work/steps" | cut -d' ' -f2)
    fault $kind "inject=write:error=ENOSPC:when=$write"
    expect "$kind: a full disk: status 74, the old file" eval '[ $status -eq 74 ] && is_old $kind'
    fault $kind "inject=write:error=EINTR:when=$write"
    # Disks that say more is written than is.
    fault $kind "inject=write:retval=$(stat -c %s "$work/new.$kind"):when=$write"
    fault $kind "inject=write:retval=7:when=$write"
done
expect "set: only the diameter is another" [ "$(diff "$lid" "$work/new.plain" | grep -c '^[<>]')" = 2 ]

fault plain inject=rename:error=EACCES
expect "a refused rename: status 74" [ $status -eq 74 ]
fault plain inject=fsync:error=ENOSPC:when=1
expect "a full disk at fsync: status 74, the old file" eval '[ $status -eq 74 ] && is_old plain'
fresh none
"$program" new missing/lid.yaml $change 2>"$work/err"
expect "no such folder: status 73" [ $? -eq 73 ]

# ---- reading ----
fresh plain
number=$(strace "$program" plan lid.yaml 2>&1 >"$work/out" | awk '
    /^read\(/ { count++ }
    /^openat.*"lid.yaml"/ { print count + 1; exit }')
strace -o "$work/trace" -e "inject=read:error=EIO:when=$number" "$program" plan lid.yaml >"$work/out" 2>"$work/err"
status=$?
expect "a file that cannot be read: refused" eval '[ $status -gt 1 ] && [ $status -lt 100 ]'
expect "a file that cannot be read: a message, no plan" eval 'said && [ ! -s "$work/out" ]'
strace -o "$work/trace" -e "inject=read:error=EINTR:when=$number" "$program" plan lid.yaml >"$work/out" 2>"$work/err"
expect "a read that was interrupted is read again" [ $? -eq 0 ]

# ---- the workbench ----
fresh plain
echo 'Right s' >keys
strace -o "$work/trace" -e inject=rename:error=ENOSPC "$program" --keys keys --screen - lid.yaml >"$work/out" 2>"$work/err"
expect "workbench: a save that failed leaves the old file" is_old plain
expect "workbench: it is said to be unsaved" grep -q 'not saved$' "$work/out"
expect "workbench: and why" grep -qi 'no space left' "$work/out"

# The journal: a full disk makes no change fail; it goes beside the file, or it is said that there is none, once.
fresh plain
journal=$work/state/bandwright/lid.yaml-1.journal beside=$work/shop/.lid.yaml-1.journal
echo 'Right screen Right' >keys
strace -o "$work/trace" -P "$journal" -e inject=write:error=ENOSPC "$program" --keys keys --screen - lid.yaml >"$work/out" 2>"$work/err"
expect "journal: a full disk is met" grep -q INJECTED "$work/trace"
expect "journal: it goes beside the file, and all is well" eval '! grep -q "not kept" "$work/out"'
strace -o "$work/trace" -P "$journal" -P "$beside" -e inject=write:error=ENOSPC "$program" --keys keys --screen - lid.yaml >"$work/out" 2>"$work/err"
expect "journal: where it can lie nowhere, that is said, once" [ "$(grep -c "not kept" "$work/out")" = 1 ]
expect "journal: and why" grep -qi 'no space left' "$work/out"
expect "journal: the change is made all the same" grep -q 'width  *21.5 mm' "$work/out"
expect "journal: nothing is left over" eval '[ ! -e "$journal" ] && [ ! -e "$beside" ]'
for call in write openat flock ftruncate unlink close; do
    fresh plain
    rm -rf "$work/state"
    echo 'Right Right u s Right q n' >keys
    strace -o "$work/trace" -P "$journal" -e inject=$call:error=EIO "$program" --keys keys --screen - lid.yaml >"$work/out" 2>"$work/err"
    expect "journal: failing $call: the program goes on" [ $? -eq 0 ]
    expect "journal: failing $call: the layout is saved" grep -q 'width: 21.25' lid.yaml
done
fresh plain
echo 'Right' >keys

# ---- output ----
for arguments in "plan lid.yaml" "plan lid.yaml --format yaml" "plan lid.yaml --format csv" "fit lid.yaml" "get lid.yaml" \
    --help --version --completions "--keys keys --screen -"; do
    "$program" $arguments >/dev/full 2>"$work/err"
    expect "$arguments > /dev/full: status 74" [ $? -eq 74 ]
    expect "$arguments > /dev/full: a message" grep -q '^bandwright: .*written' "$work/err"
    "$program" $arguments >&- 2>"$work/err"
    expect "$arguments with no output at all: status 74" [ $? -eq 74 ]
done
report
