#!/usr/bin/env bash
# Signed records against other implementations of JWS: installs the npm package jose (with --ignore-scripts, of the exact
# version in npm/package-lock.json, offline once it is there) and runs test_order.py.
#
#   tests/order/run.sh PROGRAM
#
# SMALLEND_CACHE says where the package is kept (default .cache). Ends with "N passed, N failed".
set -uo pipefail
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd -P)
cache=${SMALLEND_CACHE:-$here/../../.cache}
sum=$(sha256sum <"$here/npm/package-lock.json" | cut -c1-12)
export ORDER_TOOLS=$cache/order/tools-$sum

install() {
  local pause
  [ ! -e "$ORDER_TOOLS/complete" ] || return 0
  for pause in 3 10 20 0; do
    rm -rf "$ORDER_TOOLS"
    mkdir -p "$ORDER_TOOLS"
    cp "$here/npm/package.json" "$here/npm/package-lock.json" "$ORDER_TOOLS"
    if (cd "$ORDER_TOOLS" && npm ci --ignore-scripts --no-audit --no-fund --loglevel=error); then
      touch "$ORDER_TOOLS/complete"
      return 0
    fi
    [ "$pause" = 0 ] || { echo "npm ci failed: trying again in $pause s" >&2; sleep "$pause"; }
  done
  return 1
}

if ! install; then
  echo "FAILED: npm could not install what $here/npm/package-lock.json lists"
  echo "0 passed, 1 failed"
  exit 1
fi
exec python3 "$here/test_order.py" "$1"
