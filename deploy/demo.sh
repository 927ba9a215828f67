#!/usr/bin/env bash
# Shows what smallend does: installs what is missing (Debian 12), builds, starts the service on a free loopback port, sends
# it fixtures/jobs/pump-engine.json, prints the answer and the address, and keeps serving until Ctrl-C.
#
#   deploy/demo.sh [--once]
#
#   --once    stop after the answer
#
# Exit status 0 if the job was answered and the service stopped well.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

once=""
for argument in "$@"; do
  case $argument in
    --once) once=yes ;;
    -h | --help) sed -n '2,9s/^# \{0,1\}//p' "$0"; exit 0 ;;
    *) echo "demo: unknown argument: $argument" >&2; exit 64 ;;
  esac
done

say() { printf 'demo: %s\n' "$*" >&2; }
fail() {
  say "FAILED: $1"
  if [ -s "${2:-}" ]; then tail -n 20 "$2" >&2; fi
  exit 1
}

work=$(mktemp -d)
service=""
# The service is in a session of its own, so that Ctrl-C reaches it through here alone: a second signal would cut it short.
stop() {
  local status=0
  if [ -n "$service" ]; then
    kill -TERM "$service" 2>/dev/null || true
    wait "$service" || status=$?
    service=""
  fi
  return "$status"
}
trap 'stop || true; rm -rf "$work"' EXIT

deploy/setup.sh
say "building (build/smallend)"
{ cmake -S . -B build && cmake --build build -j "$(nproc)" --target smallend; } >"$work/build.log" 2>&1 ||
  fail "the build" "$work/build.log"

SMALLEND_LISTEN=127.0.0.1:0 SMALLEND_ADMIN_LISTEN="" SMALLEND_LOG=json SMALLEND_DRAIN_DELAY_MS=0 \
  setsid build/smallend </dev/null 2>"$work/service.log" &
service=$!
address=""
for _ in $(seq 100); do
  address=$(sed -n 's/.*"msg":"ready".*"listen":"\(http:[^",]*\).*/\1/p' "$work/service.log")
  if [ -n "$address" ]; then break; fi
  kill -0 "$service" 2>/dev/null || fail "the service did not start" "$work/service.log"
  sleep 0.1
done
[ -n "$address" ] || fail "the service did not get ready within 10 s" "$work/service.log"

job=fixtures/jobs/pump-engine.json
ask="curl --data-binary @$job -H 'Content-Type: application/json' '$address/v1/check?format=md'"
status=$(curl --silent --show-error --noproxy '*' --max-time 20 --output "$work/answer.md" --write-out '%{http_code}' \
  --header 'Content-Type: application/json' --data-binary "@$job" "$address/v1/check?format=md") ||
  fail "no answer" "$work/service.log"
[ "$status" = 200 ] || fail "the answer has status $status" "$work/answer.md"

printf '\n$ %s\n\n' "$ask"
cat "$work/answer.md"
printf '\nThe service is at %s\n' "$address"

if [ -z "$once" ]; then
  echo "It goes on until Ctrl-C."
  asked=""
  trap 'asked=yes' INT TERM HUP
  while [ -z "$asked" ] && kill -0 "$service" 2>/dev/null; do wait "$service" || true; done
  [ -n "$asked" ] || fail "the service ended by itself" "$work/service.log"
  trap '' INT TERM HUP
  echo
fi
stop || fail "the service did not stop well" "$work/service.log"
say "stopped"
