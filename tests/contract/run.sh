#!/usr/bin/env bash
# The contract, api/openapi.json, as a product: is it what the program says, is it good OpenAPI, does the program keep
# to it, does it keep to what was released? Ends with one line "N passed, N failed".
#
#   tests/contract/run.sh [PROGRAM]        default build/smallend
#
# SMALLEND_CACHE says where the tools of npm are kept (default .cache).
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.." || exit 70
source tests/support/npm.sh

program=${1:-build/smallend}
least_score=90        # of 100, as `redocly score` gives it
passed=0 failed=0
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export REDOCLY_TELEMETRY=off REDOCLY_SUPPRESS_UPDATE_NOTICE=true PYTHONDONTWRITEBYTECODE=1

# one WHAT COMMAND...: one test, which passes or fails as a whole
one() {
  local what=$1
  shift
  if "$@" >"$work/one" 2>&1; then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    echo "FAILED $what"
    grep -v '║' "$work/one" | tail -n 40
  fi
}

# many WHAT COMMAND...: a command that counts for itself
many() {
  local what=$1 status counts
  shift
  "$@" >"$work/many" 2>&1
  status=$?
  counts=$(sed -nE 's/^([0-9]+) passed, ([0-9]+) failed.*/\1 \2/p' "$work/many" | tail -n 1)
  [ -n "$counts" ] || counts="0 1"
  if [ "$status" != 0 ] && [ "${counts#* }" = 0 ]; then counts="${counts% *} 1"; fi
  passed=$((passed + ${counts% *})) failed=$((failed + ${counts#* }))
  grep -E '^note ' "$work/many"
  if [ "${counts#* }" != 0 ]; then
    echo "FAILED $what (exit status $status)"
    grep -vE '^note ' "$work/many" | tail -n 80
  fi
}

score() {
  local found
  found=$(redocly score api/openapi.json --format json 2>/dev/null | node -e '
    const text = require("fs").readFileSync(0, "utf8");
    console.log(JSON.parse(text.slice(text.indexOf("{"))).agentReadiness)') || return 1
  echo "note redocly score: $found of 100" | tee "$work/score"
  node -e 'process.exit(Number(process.argv[1]) >= Number(process.argv[2]) ? 0 : 1)' "$found" "$least_score"
}

# The last contract that was released, by version.
released() { ls api/released/openapi-*.json | sort -V | tail -n 1; }

many "the contract and the program's tables" python3 tests/contract/test_document.py --program "$program"
cache=${SMALLEND_CACHE:-.cache}/contract
if ! npm_node "$cache" || ! npm_install tests/contract/npm "$cache/tools"; then
  echo "FAILED the tools of the contract tests cannot be installed"
  echo "$passed passed, $((failed + 1)) failed"
  exit 1
fi
export CONTRACT_TOOLS=$npm_installed PATH=$npm_installed/node_modules/.bin:$PATH
one "redocly lint, recommended-strict" redocly lint api/openapi.json --config tests/contract/redocly.yaml
one "spectral lint, spectral:oas" spectral lint -F warn -r tests/contract/spectral.yaml api/openapi.json
one "the schema of OpenAPI 3.1 itself" validate-api api/openapi.json
one "redocly score" score
cat "$work/score" 2>/dev/null
one "changes since $(released)" redocly diff "$(released)" api/openapi.json --config tests/contract/redocly-diff.yaml \
  --check-version
one "a breaking change is noticed" python3 tests/contract/break_contract.py "$work"
many "the service keeps to the contract" node tests/contract/run_contract.mjs --program "$program"

echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
