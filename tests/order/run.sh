#!/usr/bin/env bash
# Signed records against other implementations of JWS: installs the npm package jose (with --ignore-scripts, of the exact
# version in npm/package-lock.json, offline once it is there) and runs test_order.py.
#
#   tests/order/run.sh PROGRAM
#
# SMALLEND_CACHE says where the package is kept (default .cache). Ends with "N passed, N failed".
set -uo pipefail
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd -P)
source "$here/../support/npm.sh"

if ! npm_install "$here/npm" "${SMALLEND_CACHE:-$here/../../.cache}/order/tools"; then
  echo "FAILED: npm could not install what $here/npm/package-lock.json lists"
  echo "0 passed, 1 failed"
  exit 1
fi
export ORDER_TOOLS=$npm_installed
exec python3 "$here/test_order.py" "$1"
