#!/bin/bash
# smoke.sh PROGRAM: the workbench on a real terminal (tmux, a server of its own): what it draws, and how it ends.
set -u
cd "$(dirname "$0")/../.."
. tests/lib.sh
program=$(realpath "$1")
work=$(mktemp -d)
export TMUX_TMPDIR=$work HOME=$work XDG_STATE_HOME=$work/state LC_ALL=C.UTF-8
pid=
lid=projects/cedar-lid.yaml
unset TMUX NO_COLOR LINES COLUMNS ASAN_OPTIONS XDG_DATA_HOME
mux() { tmux -u -L smoke -f "$work/tmux.conf" "$@"; }
finish() {
    [ -z "$pid" ] || kill -KILL "$pid" 2>/dev/null
    mux kill-server 2>/dev/null
    rm -rf "$work"
}
trap finish EXIT
# The server outlives its last window: the next one would else meet it on its way out.
printf 'set -s exit-empty off\nset -g default-terminal screen-256color\n' >"$work/tmux.conf"
# bash asks for marks around pasted text itself, which would hide who left them on.
printf 'PS1="ready> "\nunset HISTFILE\nbind "set enable-bracketed-paste off"\n' >"$work/rc"
# What a shell would mend behind the program's back is looked at before the shell is back.
cat >"$work/run" <<SH
#!/bin/bash
stty -g >before
( echo \$BASHPID >pid; exec "$program" "\$@" )
status=\$?
stty -g >after
echo "status=\$status"
SH
chmod +x "$work/run"

# until_true COMMAND...: asks until it holds, for ten seconds at most
until_true() {
    local end=$((SECONDS + 10))
    until "$@"; do
        [ $SECONDS -lt $end ] || return 1
        sleep 0.02
    done
}
screen() { mux capture-pane -p -t work | sed 's/ *$//'; }
shows() { screen | grep -qE -- "$1"; }
wait_for() { until_true shows "$1"; }
flags() { mux display-message -p -t work '#{alternate_on} #{cursor_flag} #{keypad_flag}'; }
is_gone() { ! kill -0 "$1" 2>/dev/null; }
same_modes() { [ -s "$work/after" ] && cmp -s "$work/before" "$work/after"; }

# window SIZE: a shell in a window of this size, a fresh lid beside it
window() {
    mux kill-session -t work 2>/dev/null
    [ -z "$pid" ] || until_true is_gone "$pid"
    pid=
    rm -rf "$work/state" "$work/pid" "$work/before" "$work/after"
    cp "$lid" "$work/lid.yaml"
    mkdir -p "$work/state/bandwright" && : >"$work/state/bandwright/greeted" # said already: replays say it never
    mux new-session -d -s work -x "${1%x*}" -y "${1#*x}" -c "$work" "bash --rcfile '$work/rc' -i"
    wait_for '^ready>'
}
command_line() { mux send-keys -t work -l "$1" && mux send-keys -t work Enter; }
press() {
    local key
    for key; do
        case $key in Esc) key=Escape ;; Backspace) key=BSpace ;; esac
        mux send-keys -t work "$key"
    done
}
# expected SIZE KEYS [LOCALE]: the same keys without a terminal
expected() {
    local home
    home=$(mktemp -d -p "$work")
    cp "$lid" "$home/lid.yaml"
    printf '%s\n' "$2" >"$home/keys"
    (cd "$home" && LC_ALL=${3:-C.UTF-8} XDG_STATE_HOME=$home/state "$program" --keys keys --screen - --size "$1" lid.yaml |
        sed 's/ *$//')
}
is_screen() { [ "$(screen)" = "$wanted" ]; }
# looks NAME SIZE KEYS [LOCALE]: the terminal comes to look as the replay does
looks() {
    wanted=$(expected "$2" "$3" "${4:-}")
    if [ -n "$wanted" ] && until_true is_screen; then
        ok "$1"
    else
        bad "$1"
        diff <(screen) <(echo "$wanted") | head -n 20
    fi
}
know_pid() {
    until_true test -s "$work/pid" && pid=$(<"$work/pid")
}
open_lid() {
    window "${1:-80x24}"
    command_line "./run lid.yaml"
    know_pid
    wait_for '^Cedar box lid'
}
is_back() { [ "$(flags)" = "0 1 0" ]; }
# ended NAME STATUS: the program is gone with this status, and the terminal is as it was
ended() {
    expect "$1: ends with $2" wait_for "^status=$2\$"
    expect "$1: the screen, the cursor and the keys are back" until_true is_back
    expect "$1: the modes of the terminal are back" same_modes
}
kept() { grep -qs '^edit "weave width 21 mm -> 21.25 mm"' "$work"/state/bandwright/lid.yaml-1.journal; }
no_journal() { [ -z "$(ls "$work"/state/bandwright/*.journal 2>/dev/null)" ]; }

# ---- what it draws ----
sizes='20x5 60x18 80x24 120x40 500x200'
for size in $sizes; do
    window $size
    command_line "./run lid.yaml"
    know_pid
    looks "opens at $size" $size ''
    press Down Right Right Tab Right
    looks "keys at $size as in a replay" $size 'Down Right*2 Tab Right'
    press '?'
    looks "the figures at $size" $size 'Down Right*2 Tab Right ?'
    press Esc z j
    looks "from mark to mark at $size" $size 'Down Right*2 Tab Right ? Esc z j'
    press B B
    looks "braille at $size" $size 'Down Right*2 Tab Right ? Esc z j B*2'
    window $size
    command_line "LC_ALL=C ./run lid.yaml"
    know_pid
    looks "opens at $size without UTF-8" $size '' C
    press Down Right z v
    looks "laid straight at $size without UTF-8" $size 'Down Right z v' C
    expect "nothing but ASCII at $size without UTF-8" [ -z "$(screen | LC_ALL=C grep '[^ -~]')" ]
done

# The piece in letters that not every terminal has: narrow, wide, and one that is two characters.
lid=$work/letters.yaml
sed 's/^piece: .*/& žé 革 e\xcc\x81/' projects/cedar-lid.yaml >"$lid"
open_lid
looks "letters of other scripts" 80x24 ''
expect "letters of other scripts are there" shows 'lid žé 革 e'
window 80x24
command_line "LC_ALL=C ./run lid.yaml"
know_pid
looks "without UTF-8" 80x24 '' C
expect "without UTF-8: nothing but ASCII" [ -z "$(screen | LC_ALL=C grep '[^ -~]')" ]
lid=projects/cedar-lid.yaml

window 80x24
command_line "TERM=vt100 ./run lid.yaml"
looks "TERM=vt100" 80x24 ''
press Down Right
looks "TERM=vt100: arrows" 80x24 'Down Right'
press q y
ended "TERM=vt100" 0
# It has no second screen to leave: the only one is left empty.
leftovers() { screen | grep -cvE '^(ready>.*|status=0)?$'; }
expect "TERM=vt100: nothing of ours is left" [ "$(leftovers)" = 0 ]

for kind in linux screen tmux xterm-256color; do
    window 80x24
    command_line "TERM=$kind ./run lid.yaml"
    looks "TERM=$kind" 80x24 ''
    press Down Right F1
    looks "TERM=$kind: keys" 80x24 'Down Right F1'
done

# Names as nobody types them: escape bytes, letters on letters, wide letters, and a folder that has them too.
odd=$'a\e[31mb\xCC\x81\xE9\x9D\xA9 \xE2\x80\xAEc'
mkdir -p "$work/$odd"
sed 's/^piece: .*/piece: "A\\e[2Jb\\u0301\\u9769\\u202ec"/' projects/cedar-lid.yaml >"$work/$odd/$odd.yaml"
window 80x24
printf '%s\n' "./run '$odd/$odd.yaml'" >"$work/odd"
command_line ". ./odd"
expect "odd names: they show as escapes" wait_for 'A.x1B\[2J.*202[eE]c'
press S
expect "odd names: the file's too" wait_for 'save as: .*x1B\[31m'
press Esc q
ended "odd names" 0

coloured() { mux capture-pane -e -p -t work | grep -qE $'\e\\[([0-9;]*;)?3[0-7]m'; }
open_lid
press Right
expect "colours where there are some" until_true coloured
window 80x24
command_line "NO_COLOR=1 ./run lid.yaml"
know_pid
press Right
looks "NO_COLOR draws the same" 80x24 Right
expect "NO_COLOR: no colours" [ -z "$(mux capture-pane -e -p -t work | grep -E $'\e\\[[0-9;]*[34][0-7]m')" ]

# ---- where it cannot draw ----
window 80x24
command_line "TERM=dumb ./run lid.yaml"
wait_for '^status='
expect "TERM=dumb is refused" shows '^status=2$'
expect "TERM=dumb: a sentence why" shows '^bandwright: .*cannot move its cursor'
"$program" "$work/lid.yaml" </dev/null >"$work/out" 2>"$work/err"
expect "no terminal is refused" [ $? -eq 2 ]
expect "no terminal: a sentence why, on standard error alone" [ "$(wc -l <"$work/err") $(wc -c <"$work/out")" = "1 0" ]

# ---- windows that change ----
open_lid
for size in 20x5 200x50 60x18 119x33 80x24; do
    mux resize-window -t work -x "${size%x*}" -y "${size#*x}"
    looks "resized to $size" $size ''
done
for size in 20x5 200x50 1x1 61x19 30x8 90x30 80x24; do
    mux resize-window -t work -x "${size%x*}" -y "${size#*x}"
done
looks "resized many times at once" 80x24 ''
for turn in {1..50}; do
    for size in 20x5 500x200 $((20 + turn * 7))x$((5 + turn * 3)) 80x24; do
        mux resize-window -t work -x "${size%x*}" -y "${size#*x}"
    done
done
looks "a storm of 200 sizes" 80x24 ''
press Right
looks "still at work afterwards" 80x24 Right

# ---- stopped, and going on ----
window 80x24
command_line "$program lid.yaml"
looks "before Ctrl-Z" 80x24 ''
pid=$(pgrep -P "$(mux display-message -p -t work '#{pane_pid}')")
press Right
looks "still before Ctrl-Z" 80x24 Right
press C-z
expect "Ctrl-Z: the shell is back" wait_for '^\[1\]\+ +Stopped'
expect "Ctrl-Z: the terminal is back" until_true is_back
command_line fg
looks "fg: as it was" 80x24 Right
press Left
looks "fg: at work again" 80x24 'Right Left'
mux send-keys -t work C-z
wait_for '^\[1\]\+ +Stopped'
mux resize-window -t work -x 100 -y 30
command_line fg
looks "fg in another window size" 100x30 'Right Left'
# asked ON OFF: what the terminal was asked for last, of two sequences in the bytes sent
asked() { LC_ALL=C grep -aoE $'\e\\[\\?('"$1|$2)" "$work/sent" | tail -n 1; }
pastes_marked() { [ "$(asked 2004h 2004l)" = $'\e[?2004h' ]; }
pastes_plain() { [ "$(asked 2004h 2004l)" = $'\e[?2004l' ]; }
mux pipe-pane -t work "cat >'$work/sent'"
press C-z
expect "Ctrl-Z: no more marks around pasted text" until_true pastes_plain
command_line fg
expect "fg: marks around pasted text again" until_true pastes_marked
# Stopped by somebody else, who leaves the terminal as it is; the shell changes it.
kill -STOP "$pid"
wait_for '^\[1\]\+ +Stopped'
command_line fg
looks "stopped from outside, and fg" 100x30 'Right Left'
press Right
looks "stopped from outside: keys work one by one" 100x30 'Right Left Right'
# Ctrl-S is what hands save with elsewhere: it must not stop the screen.
press C-s Left
looks "Ctrl-S stops nothing" 100x30 'Right Left Right Left'
mux pipe-pane -t work

# Ctrl-Z where no shell waits: nobody could let the program go on.
mux kill-session -t work
cp "$lid" "$work/lid.yaml"
mux new-session -d -s work -x 80 -y 24 -c "$work" "exec '$program' lid.yaml"
looks "without a shell" 80x24 ''
press C-z Right
looks "without a shell Ctrl-Z does not stop it" 80x24 Right
pid=

# ---- keys ----
open_lid
press Enter
looks "Enter opens a value" 80x24 Enter
wanted=$(expected 80x24 'Enter Esc')
from=$(date +%s%N)
press Esc
until_true is_screen
took=$((($(date +%s%N) - from) / 1000000))
expect "Esc answers at once ($took ms)" [ $took -lt 400 ]
press Right q
looks "quit asks when something is not saved" 80x24 'Enter Esc Right q'
press Esc
looks "and Esc goes back" 80x24 'Enter Esc Right q Esc'
expect "the file is as it was" cmp -s projects/cedar-lid.yaml "$work/lid.yaml"
press s q
ended "quit after saving" 0
expect "what was saved is in the file" [ "$(diff projects/cedar-lid.yaml "$work/lid.yaml" | grep -c '^>')" = 1 ]

# Everything typed before the first screen is there is done, in its order.
window 80x24
mux send-keys -t work -l './run lid.yaml'
mux send-keys -t work Enter
many=$(printf 'Right %.0s' {1..60})
# shellcheck disable=SC2086
mux send-keys -t work $many Down Left Left
looks "typing ahead is done whole" 80x24 'Right*60 Down Left Left'
know_pid
press u q n
expect "typing ahead: and it ends" until_true is_gone "$pid"

# ---- pasted text ----
open_lid
printf 'xquy\nUat\n' | mux load-buffer -
mux paste-buffer -p -t work
looks "what is pasted is no command" 80x24 'Paste "xquy" Enter "Uat" Enter Pasted'
press Enter
printf '22\nmm' | mux load-buffer -
mux paste-buffer -p -t work
looks "pasted into a line it is text" 80x24 'Enter Paste "22" Enter "mm" Pasted'
press Esc q
ended "after pasting" 0
# The mark at the end is lost: what follows is keys again. The bytes of a mark come one by one, as over a slow line.
open_lid
mux send-keys -t work -l $'\e['
for byte in 2 0 0 '~' x; do mux send-keys -t work -l "$byte"; done
looks "a paste whose end is lost ends by itself" 80x24 'Paste "x" Pasted'
press Right
looks "and keys are keys again" 80x24 'Paste "x" Pasted Right'
press q n
ended "after such a paste" 0
printf 'q' | TERM=xterm-256color script -qec "$program '$work/lid.yaml'" "$work/sent" >"$work/out" 2>&1
expect "marks around pasted text are asked for" grep -qaF $'\e[?2004h' "$work/sent"
expect "and no more in the end" [ "$(asked 2004h 2004l)" = $'\e[?2004l' ]
expect "nor is the mouse" [ "$(asked '1006;1000h' '1006;1000l')" = $'\e[?1006;1000l' ]
printf 'q' | TERM=vt100 script -qec "$program '$work/lid.yaml'" "$work/sent" >"$work/out" 2>&1
expect "TERM=vt100 is asked for neither" [ "$(grep -acF $'\e[?' "$work/sent")" -le 2 ]

# ---- the mouse ----
# click COLUMN LINE: as a terminal tells it that counts from 1
mouse() { printf '\033[<%d;%d;%dM\033[<%d;%d;%dm' "$1" "$2" "$3" "$1" "$2" "$3"; }
mouse_keys() { mux send-keys -t work -l "$(mouse "$@")"; }
window 80x24
command_line "TERM=xterm-256color ./run lid.yaml"
know_pid
wait_for '^Cedar box lid'
expect "the mouse is asked for" [ "$(mux display-message -p -t work '#{mouse_standard_flag}')" = 1 ]
mouse_keys 0 5 7
looks "a click takes a value in hand" 80x24 'click=5,7'
mouse_keys 65 5 7
looks "the wheel goes on" 80x24 'click=5,7 wheel-down=5,7'
press M
looks "M leaves the mouse to the terminal" 80x24 'click=5,7 wheel-down=5,7 M'
no_mouse() { [ "$(mux display-message -p -t work '#{mouse_any_flag}')" = 0 ]; }
expect "and then it is not asked for" until_true no_mouse
press M q
ended "with the mouse" 0
expect "the mouse is given back" until_true no_mouse

# ---- the first time ----
window 80x24
rm -rf "$work/state"
command_line "./run lid.yaml"
expect "who is new is told where to begin" wait_for 'New here\? h shows the keys'
press q
ended "the first time" 0
command_line "./run lid.yaml"
expect "and only once" until_true shows '^Cedar box lid'
expect "and only once: no more" [ "$(screen | grep -c 'New here')" = 0 ]

# ---- ended from outside ----
for signal in TERM HUP; do
    open_lid
    press Right
    looks "SIG$signal: before" 80x24 Right
    kill -$signal "$pid"
    ended "SIG$signal" 129
    expect "SIG$signal: the change is kept" kept
    expect "SIG$signal: and it says where" grep -q 'kept in .*/lid.yaml-1.journal' <(mux capture-pane -pJ -t work)
done
open_lid
kill -TERM "$pid"
ended "SIGTERM with nothing unsaved" 129
expect "SIGTERM with nothing unsaved: no journal" no_journal
for signal in SEGV:139 ABRT:134; do
    open_lid
    press Right
    looks "SIG${signal%:*}: before" 80x24 Right
    kill -"${signal%:*}" "$pid"
    ended "SIG${signal%:*}" "${signal#*:}"
    expect "SIG${signal%:*}: the change is kept" kept
done
# A crash gives the terminal back without curses: the mouse and the marks around pasted text, too.
open_lid
mux pipe-pane -t work "cat >'$work/sent'"
press M M
looks "before a crash, with the mouse" 80x24 'M*2'
kill -SEGV "$pid"
wait_for '^status='
gone_plain() { pastes_plain && [ "$(asked '1006;1000h' '1006;1000l')" = $'\e[?1006;1000l' ]; }
expect "SIGSEGV: neither the mouse nor marks around pasted text stay" until_true gone_plain
mux pipe-pane -t work
open_lid
press Right
looks "SIGKILL: before" 80x24 Right
kill -KILL "$pid"
expect "SIGKILL: the change is kept" until_true kept
until_true is_gone "$pid"
mux send-keys -t work C-l
command_line "stty sane; tput rmcup; ./run lid.yaml"
know_pid
expect "SIGKILL: the change is offered when it is opened again" wait_for 'weave width 21 mm -> 21.25 mm'
press y
expect "SIGKILL: and taken" wait_for 'width +21.25 mm'
press s q
ended "SIGKILL: saved after all" 0
expect "SIGKILL: the file has it" grep -q 'width: 21.25' "$work/lid.yaml"
expect "SIGKILL: and the journal is gone" no_journal

# The window is closed: told by a signal, or only by a terminal that reads nothing any more.
for by in '' 'setsid -w '; do
    window 80x24
    command_line "$by./run lid.yaml"
    know_pid
    press Right
    looks "${by}before its window is closed" 80x24 Right
    mux kill-session -t work
    expect "${by}ends when its window is closed" until_true is_gone "$pid"
    expect "${by}and the change is kept" until_true kept
done
report
