#!/bin/bash
# Installing into a folder of its own: what is there, whether others can build with it, and that it goes away again.
set -u
cd "$(dirname "$0")/.."
. tests/lib.sh
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
root=$work/root
export HOME=$work/home
mkdir -p "$HOME"

make --no-print-directory BUILD=build/gcc-O2 CC=gcc install DESTDIR="$root" PREFIX=/usr >"$work/log" 2>&1
expect "make install" [ $? -eq 0 ]

for file in bin/bandwright lib/libbandwright.a lib/libbandwright.so lib/libbandwright.so.1 \
    lib/pkgconfig/libbandwright.pc include/bandwright/bandwright.h share/man/man1/bandwright.1 \
    share/man/man3/libbandwright.3 share/man/man5/bandwright-files.5 share/bash-completion/completions/bandwright \
    share/bandwright/projects/cedar-lid.yaml share/bandwright/inventory.yaml share/bandwright/keys; do
    expect "/usr/$file is there" [ -s "$root/usr/$file" ]
done
expect "the program can be run" [ -x "$root/usr/bin/bandwright" ]
expect "nobody else may write what is installed" [ -z "$(find "$root/usr" -type f -perm /022)" ]

cat >"$work/user.c" <<'C'
#include <bandwright/bandwright.h>
#include <stdio.h>

int main(void) {
    bw_layout layout;
    bw_plan *plan;
    bw_layout_init(&layout);
    layout.outline.diameter = 100;
    if (bw_plan_create(&layout, NULL, &plan) != BW_OK)
        return 1;
    printf("%.3f\n", plan->length);
    bw_plan_destroy(plan);
    return 0;
}
C
export PKG_CONFIG_PATH=$root/usr/lib/pkgconfig PKG_CONFIG_SYSROOT_DIR=$root
flags=$(pkg-config --cflags --libs libbandwright)
expect "pkg-config knows the library" [ -n "$flags" ]
gcc -std=c11 "$work/user.c" -o "$work/shared" $flags 2>>"$work/log"
expect "a program links with the shared library" [ "$(LD_LIBRARY_PATH=$root/usr/lib "$work/shared")" = 314.159 ]
gcc -std=c11 $(pkg-config --cflags libbandwright) "$work/user.c" -o "$work/static" "$root/usr/lib/libbandwright.a" -lm
expect "a program links with the archive" [ "$("$work/static")" = 314.159 ]
g++ -std=c++17 -fsyntax-only $(pkg-config --cflags libbandwright) -x c++ "$work/user.c" 2>>"$work/log"
expect "the headers are C++, too" [ $? -eq 0 ]

expect "the completion script is shell" bash -n "$root/usr/share/bash-completion/completions/bandwright"
expect "and is what the program writes" cmp -s "$root/usr/share/bash-completion/completions/bandwright" \
    <("$root/usr/bin/bandwright" --completions)
for page in man/*.[135]; do
    expect "$page is clean" [ -z "$(groff -man -ww -z -Tutf8 "$page" 2>&1)" ]
done
: >"$work/none.keys"
expect "the installed program finds its examples" grep -q cedar-lid \
    <("$root/usr/bin/bandwright" --keys "$work/none.keys" --screen -)

make --no-print-directory uninstall DESTDIR="$root" PREFIX=/usr >>"$work/log" 2>&1
expect "make uninstall leaves nothing" [ -z "$(find "$root" -type f -o -type l)" ]
[ "$failed" -eq 0 ] || cat "$work/log"
report
