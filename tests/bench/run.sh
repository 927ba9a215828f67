#!/usr/bin/env bash
# Measures the service beside a bare CivetWeb handler and a Fastify service, side by side in one run.
#
#   tests/bench/run.sh [--quick]
#
#   --quick   8 connections, http only, three minutes; without it the full table, about a quarter of an hour
#
# Builds in build-bench; there too are the table (bench.md) and its picture (bench.svg). Let nothing else run meanwhile.
set -Eeuo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.." || exit 70
source tests/support/npm.sh

quick=""
for argument in "$@"; do
  case $argument in
    --quick) quick=--quick ;;
    -h | --help) sed -n '2,9s/^# \{0,1\}//p' "$0"; exit 0 ;;
    *) echo "unknown argument: $argument" >&2; exit 64 ;;
  esac
done
for tool in wrk valgrind openssl; do
  command -v "$tool" >/dev/null || { echo "there is no $tool here; deploy/setup.sh --tests installs it" >&2; exit 69; }
done

cache=${SMALLEND_CACHE:-.cache}
npm_node "$cache"
npm_install tests/bench/peer "$cache/bench/peer"
mkdir -p build-bench
cmake -S . -B build-bench -DSMALLEND_BENCH=ON >build-bench/configure.log
cmake --build build-bench -j "$(nproc)" --target smallend bench_bare bench_calls >build-bench/build.log
PYTHONDONTWRITEBYTECODE=1 python3 tests/bench/bench.py --build build-bench --node-modules "$npm_installed" $quick
