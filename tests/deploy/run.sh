#!/usr/bin/env bash
# Tests of everything under deploy/: image, replicas behind the proxy, manifests, unit, alerts, dashboard, settings.
#
#   tests/deploy/run.sh [PROGRAM] [--long]
#
#   PROGRAM    the program built without sanitizers (default: build/smallend)
#   --long     more rounds and longer attacks; also measures (needs wrk)
#
# Needs what deploy/setup.sh --tests installs, and root for the image; SMALLEND_TEST_IMAGE=no leaves the image out.
# Keeps what it downloads in $SMALLEND_CACHE (default: .cache in the project). Ends with "N passed, N failed".
set -uo pipefail
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd -P)
cd "$here/../.." || exit 70
cache=$(realpath -m "${SMALLEND_CACHE:-.cache}")
export SMALLEND_CACHE=$cache PYTHONDONTWRITEBYTECODE=1 PATH=$PATH:$cache/tools:/usr/sbin:/sbin

program=build/smallend long=""
for argument in "$@"; do
  case $argument in
    --long) long=--long ;;
    -h | --help) sed -n '2,10s/^# \{0,1\}//p' "$0"; exit 0 ;;
    -*) echo "unknown argument: $argument" >&2; exit 64 ;;
    *) program=$argument ;;
  esac
done
[ -x "$program" ] || { echo "there is no program $program: build it first" >&2; exit 64; }

log=$(mktemp) passed=0 failed=0
trap 'rm -f "$log"' EXIT

# part NAME COMMAND...: a script that counts for itself.
part() {
  local name=$1 status counts
  shift
  "$@" >"$log" 2>&1
  status=$?
  counts=$(sed -nE 's/^([0-9]+) passed, ([0-9]+) failed.*/\1 \2/p' "$log" | tail -n 1)
  [ -n "$counts" ] || counts="0 1"
  if [ "$status" != 0 ] && [ "${counts#* }" = 0 ]; then counts="${counts% *} 1"; fi
  passed=$((passed + ${counts% *})) failed=$((failed + ${counts#* }))
  grep -E '^note ' "$log"
  if [ "${counts#* }" != 0 ]; then
    echo "FAILED $name (exit status $status)"
    grep -vE '^note ' "$log" | tail -n 100
  fi
}

# The packages of the checks in node/, once for each state of their lock file; up to four tries.
node_packages() {
  local folder pause
  folder=$cache/deploy/node-$(sha256sum <"$here/node/package-lock.json" | cut -c 1-12)
  for pause in 3 10 20 0; do
    if [ ! -e "$folder/complete" ]; then
      rm -rf "$folder"
      mkdir -p "$folder"
      cp "$here/node/package.json" "$here/node/package-lock.json" "$folder"
      (cd "$folder" && npm ci --ignore-scripts --no-audit --no-fund --loglevel=error) && touch "$folder/complete"
    fi
    if [ -e "$folder/complete" ]; then ln -sfnT "$folder/node_modules" "$here/node/node_modules" && return; fi
    sleep "$pause"
  done
  echo "npm could not install what node/package-lock.json lists"
  return 1
}

part "image" python3 "$here/test_image.py"
if node_packages; then
  part "manifests" node "$here/node/check_manifests.mjs"
  part "compose" node "$here/node/check_compose.mjs"
  bill=build-image-test/first/sbom.cdx.json
  [ "${SMALLEND_TEST_IMAGE:-}" = no ] || part "bill of materials" node "$here/node/check_sbom.mjs" "$bill"
else
  failed=$((failed + 1))
fi
part "unit" python3 "$here/test_systemd.py" "$program"
part "settings" python3 "$here/test_settings.py" "$program"
part "monitoring" python3 "$here/test_monitoring.py" "$program"
part "replicas" python3 "$here/replicas.py" "$program" ${long:+"$long"}
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
