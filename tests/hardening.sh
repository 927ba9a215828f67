#!/usr/bin/env bash
# Is the plain program built the way distributions harden theirs? Read off the file by readelf.
#
#   tests/hardening.sh [PROGRAM]
#
# Ends with "N passed, N failed".
set -uo pipefail
program=${1:-build-gcc/smallend}
passed=0 failed=0

# holds WHAT COMMAND...: the command tells
holds() {
  local what=$1
  shift
  if "$@" >/dev/null; then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    echo "FAILED $what"
  fi
}

[ -x "$program" ] || { echo "there is no program $program: build it first" >&2; exit 64; }
header=$(LC_ALL=C readelf -hW "$program")
segments=$(LC_ALL=C readelf -lW "$program")
dynamic=$(LC_ALL=C readelf -dW "$program")
symbols=$(LC_ALL=C readelf --dyn-syms -W "$program")

has() { grep -qE "$2" <<<"$1"; }
has_not() { ! grep -qE "$2" <<<"$1"; }

holds "position independent: type DYN" has "$header" '^ +Type: +DYN'
holds "position independent: flag PIE" has "$dynamic" 'FLAGS_1.*PIE'
holds "relocations are read-only after start: GNU_RELRO" has "$segments" 'GNU_RELRO'
holds "all of them: BIND_NOW" has "$dynamic" 'BIND_NOW|FLAGS.*NOW'
holds "there is a GNU_STACK segment" has "$segments" 'GNU_STACK'
holds "the stack is not executable" has_not "$segments" 'GNU_STACK.*RWE'
holds "no segment is both writable and executable" has_not "$segments" '^ +LOAD.* RWE '
holds "no relocation in read-only text" has_not "$dynamic" 'TEXTREL'
holds "stack protector" has "$symbols" '__stack_chk_fail'
holds "checked copies and prints: _FORTIFY_SOURCE" has "$symbols" '__(v?snprintf|memcpy|printf|fprintf|vsnprintf)_chk'
holds "no search path for libraries" has_not "$dynamic" 'RPATH|RUNPATH'
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
