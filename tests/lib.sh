# lib.sh - for test scripts: counts what passed and failed. Source it, call `ok` or `bad`, end with `report`.
passed=0
failed=0
ok() {
    passed=$((passed + 1))
    echo "ok   $*"
}
bad() {
    failed=$((failed + 1))
    echo "FAIL $*"
}
# expect NAME COMMAND...: the command must succeed
expect() {
    local name=$1
    shift
    if "$@"; then ok "$name"; else bad "$name"; fi
}
report() {
    echo "$passed passed, $failed failed"
    [ "$failed" -eq 0 ]
}
