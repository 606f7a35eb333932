#!/bin/bash
# faults.sh PROGRAM: disks that are full, refuse, lie, and a program killed at every step of a save. Whatever happens,
# the old file or the new one is there, whole.
set -u
cd "$(dirname "$0")/../.."
. tests/lib.sh
program=$(realpath "$1")
lid=$PWD/projects/cedar-lid.yaml
tools=$PWD/share/inventory.yaml
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

# bench STRACE-OPTIONS... FILE: replays the keys there under these faults; leaves status
bench() {
    local options=() program_options=()
    while [ $# -gt 1 ]; do
        if [ "$1" = --inventory ]; then program_options+=("$1" "$2"); else options+=("$1" "$2"); fi
        shift 2
    done
    timeout 60 strace -o "$work/trace" "${options[@]}" "$program" "${program_options[@]}" --keys keys --screen - "$1" \
        >"$work/out" 2>"$work/err"
    status=$?
}
reason() {
    case $1 in
    ENOSPC) echo "No space left" ;;
    EIO) echo "Input/output error" ;;
    EINTR) echo "Interrupted" ;;
    EACCES) echo "Permission denied" ;;
    esac
}

# The journal: a full disk makes no change fail; it goes beside the file, or it is said that there is none, once.
fresh plain
journal=$work/state/bandwright/lid.yaml-1.journal beside=$work/shop/.lid.yaml-1.journal
echo 'Right screen Right' >keys
strace -o "$work/trace" -P "$journal" -e inject=write:error=ENOSPC "$program" --keys keys --screen - lid.yaml >"$work/out" 2>"$work/err"
expect "journal: a full disk is met" grep -q INJECTED "$work/trace"
expect "journal: it goes beside the file, and all is well" eval '! grep -q "not kept" "$work/out"'
strace -o "$work/trace" -P "$journal" -P "$beside" -e inject=write:error=ENOSPC "$program" --keys keys --screen - lid.yaml >"$work/out" 2>"$work/err"
expect "journal: where it can lie nowhere, that is said, once" [ "$(grep -c "is not kept" "$work/out")" = 1 ]
expect "journal: and the first line goes on saying it" [ "$(grep -c "not saved, not kept$" "$work/out")" = 2 ]
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
for call in write openat; do
    for error in ENOSPC EINTR EACCES; do
        fresh plain
        rm -rf "$work/state"
        echo 'Right Right u s Right q n' >keys
        once= # what is interrupted is done again, for as long as it is
        [ $error != EINTR ] || once=:when=1
        bench -P "$journal" -e inject=$call:error=$error$once lid.yaml
        expect "journal: $error at $call: the program goes on, the layout is saved" \
            eval '[ $status -eq 0 ] && grep -q INJECTED "$work/trace" && grep -q "width: 21.25" lid.yaml'
        # Where it can lie nowhere, that is said once, with the reason, and work goes on.
        [ $error != EINTR ] || continue
        fresh plain
        rm -rf "$work/state"
        echo 'g screen Right screen Right' >keys
        bench -P "$journal" -P "$beside" -e inject=$call:error=$error lid.yaml
        expect "journal: $error at each $call: said once, and why" \
            eval '[ "$(grep -c "is not kept" "$work/out")" = 1 ] && tr "\n" " " <"$work/out" | grep -q "$(reason $error)"'
        expect "journal: $error at each $call: the first line goes on saying it" \
            eval 'grep "not saved" "$work/out" | tail -n 1 | grep -q "not kept$"'
        expect "journal: $error at each $call: the changes are made" grep -q 'width  *21.5 mm' "$work/out"
    done
done

# ---- the inventory ----
# stock STRACE-OPTIONS...: a size of the inventory's is changed and saved under these faults
stock() {
    fresh plain
    rm -rf "$work/state"
    cp "$tools" tools.yaml
    echo 'i Enter Right s' >keys
    bench "$@" --inventory tools.yaml lid.yaml
}
# stock_fault CALL NUMBER ERROR: what must hold after a call that failed
stock_fault() {
    local what="inventory: $3 at $1 number $2" why= said
    stock -e "inject=$1:error=$3:when=$2"
    said=$(tr '\n' ' ' <"$work/out")
    grep -q INJECTED "$work/trace" || why="nothing was injected"
    [ $status -eq 0 ] || why="status $status"
    if [[ $said == *"inventory is saved as tools.yaml"* ]]; then
        cmp -s tools.yaml "$work/tools.new" || why="said to be saved, and is not"
    else
        [[ $said == *"nothing is lost"* && $said == *"inventory not saved"* ]] || why="no word of it"
        [[ $said == *$(reason "$3")* ]] || why="and not why"
        [[ $said == *"9.6 mm"* ]] || why="the change is lost"
        cmp -s tools.yaml "$tools" || cmp -s tools.yaml "$work/tools.new" || why="a mixture is left"
    fi
    ! left_over || why="the new file is left over"
    if [ -z "$why" ]; then ok "$what"; else bad "$what: $why; $(tail -n 3 "$work/out")"; fi
}
stock
cp tools.yaml "$work/tools.new"
expect "inventory: saves" eval '! cmp -s tools.yaml "$tools" && [ "$(diff tools.yaml "$tools" | grep -c "^[<>]")" = 2 ]'
awk -F'(' '
    { name = $1; count[name]++ }
    /^readlink\("tools.yaml"/ { on = 1 }
    /^unlink\(/ { on = 0 }
    on && name ~ /^(openat|write|fsync|rename)$/ { print name, count[name] }' "$work/trace" >"$work/steps"
for call in openat write fsync rename; do
    expect "inventory: $call is a step of saving" grep -q "^$call " "$work/steps"
done
while read -r name number; do
    for error in ENOSPC EIO EINTR EACCES; do
        stock_fault "$name" "$number" $error
    done
done <"$work/steps"
for call in write openat; do
    for error in ENOSPC EIO EACCES; do
        stock -P "$work/state/bandwright/tools.yaml-1.journal" -e inject=$call:error=$error
        expect "inventory's journal: $error at $call: it is saved all the same" \
            eval 'grep -q INJECTED "$work/trace" && cmp -s tools.yaml "$work/tools.new"'
    done
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
