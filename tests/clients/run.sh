#!/usr/bin/env bash
# Real clients against the real service: a TypeScript client generated from the contract, a page in a browser, the bots,
# the parts order and the form of api/examples, every command of api/README.md. Ends with one line "N passed, N failed".
#
#   tests/clients/run.sh [PROGRAM]         default build/smallend
#
# SMALLEND_CACHE says where the tools of npm are kept (default .cache); once they are there, nothing is fetched.
# SMALLEND_SHOTS names a folder for pictures of the pages.
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.." || exit 70
source tests/support/npm.sh

program=$(realpath "${1:-build/smallend}")
passed=0 failed=0
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export PYTHONDONTWRITEBYTECODE=1

# add WHAT LOG STATUS: the counts of a command that counts for itself
add() {
  local what=$1 log=$2 status=$3 counts
  counts=$(sed -nE 's/^([0-9]+) passed, ([0-9]+) failed.*/\1 \2/p' "$log" | tail -n 1)
  [ -n "$counts" ] || counts="0 1"
  if [ "$status" != 0 ] && [ "${counts#* }" = 0 ]; then counts="${counts% *} 1"; fi
  passed=$((passed + ${counts% *})) failed=$((failed + ${counts#* }))
  grep -E '^note ' "$log"
  if [ "${counts#* }" != 0 ]; then
    echo "FAILED $what (exit status $status)"
    grep -vE '^note ' "$log" | tail -n 60
  fi
}

# many WHAT COMMAND...
many() {
  local what=$1
  shift
  "$@" >"$work/many" 2>&1
  add "$what" "$work/many" $?
}

# Generates the client's types from the contract and compiles it, and what api/README.md shows of one; the compiler's word
# is one test.
compile_client() {
  local folder=$work/typescript
  mkdir -p "$folder"
  cp tests/clients/typescript/* "$folder"
  sed -n '/^```ts$/,/^```$/{/^```/d;p}' api/README.md >"$folder/readme.ts"
  [ -s "$folder/readme.ts" ] || return 1
  echo '{"type": "module"}' >"$folder/package.json"
  ln -s "$tools/node_modules" "$folder/node_modules"
  "$tools/node_modules/.bin/openapi-typescript" api/openapi.json -o "$folder/api.d.ts" &&
    "$tools/node_modules/.bin/tsc" -p "$folder" && echo "1 passed, 0 failed"
}

finish() {
  echo "$passed passed, $failed failed"
  [ "$failed" = 0 ]
  exit
}

cache=${SMALLEND_CACHE:-.cache}
if ! npm_node "$cache" || ! npm_install tests/clients/npm "$cache/clients/tools"; then
  echo "FAILED the tools of the client tests cannot be installed"
  failed=1
  finish
fi
tools=$npm_installed

many "the client in TypeScript compiles" compile_client
many "the client in TypeScript" node tests/clients/test_typescript.mjs --program "$program" --work "$work"
many "bots and parts order" node tests/clients/test_programs.mjs --program "$program" --work "$work"
many "pages in a browser" node tests/clients/test_browser.mjs --program "$program" --work "$work" --tools "$tools" \
  ${SMALLEND_SHOTS:+--shots "$SMALLEND_SHOTS"}
many "the commands of api/README.md" python3 tests/clients/check_readme.py --program "$program"
finish
