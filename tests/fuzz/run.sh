#!/usr/bin/env bash
# Builds the fuzzers with clang and runs them from their corpus, two at a time.
#
#   tests/fuzz/run.sh [--seconds N] [--keep] [HARNESS...]
#
#   --seconds N   for each harness (60); the long run is --seconds 600
#   --keep        afterwards add what was found to tests/fuzz/corpus, minimised
#
# Without a harness all of them. What breaks something is left in build-fuzz/found; build-fuzz/fuzz/fuzz_HARNESS FILE shows
# it again. Ends with "N passed, N failed", counting harnesses.
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.." || exit 70

seconds=60 keep="" chosen=()
while [ $# -gt 0 ]; do
  case $1 in
    --seconds) seconds=${2:?--seconds needs a number}; shift ;;
    --keep) keep=yes ;;
    -h | --help) sed -n '2,10s/^# \{0,1\}//p' "$0"; exit 0 ;;
    -*) echo "unknown argument: $1" >&2; exit 64 ;;
    *) chosen+=("$1") ;;
  esac
  shift
done

found=build-fuzz/found work=build-fuzz/work log=build-fuzz/log
mkdir -p "$found" "$work" "$log"
cmake -S . -B build-fuzz -DCMAKE_C_COMPILER=clang -DSMALLEND_FUZZ=ON >"$log/configure" 2>&1 || { cat "$log/configure"; exit 70; }
cmake --build build-fuzz -j 2 >"$log/build" 2>&1 || { tail -n 60 "$log/build"; exit 70; }
# Words from the program's own tables; the program under the fuzzer's coverage answers as any does.
python3 tests/fuzz/make_dictionary.py build-fuzz/smallend >"$work/dictionary" || exit 70
[ ${#chosen[@]} -gt 0 ] || mapfile -t chosen < <(sed -nE 's/^add_smallend_harness\((\w+) .*/\1/p' tests/fuzz/CMakeLists.txt)

export UBSAN_OPTIONS=print_stacktrace=1:halt_on_error=1

# Longest input worth trying.
longest() {
  case $1 in
    joint) echo 700 ;;
    job_text | link | batch) echo 6144 ;;
    setting | header | seal) echo 512 ;;
    *) echo 96 ;;
  esac
}

fuzz_one() {
  local name=$1 words=()
  mkdir -p "$work/$name"
  [ "$name" = joint ] || words=("-dict=$work/dictionary")
  "build-fuzz/fuzz/fuzz_$name" -max_total_time="$seconds" -max_len="$(longest "$name")" -timeout=25 -rss_limit_mb=2048 \
    -artifact_prefix="$found/$name-" -print_final_stats=1 "${words[@]}" "$work/$name" "tests/fuzz/corpus/$name" >"$log/$name" 2>&1
  echo $? >"$log/$name.status"
}

running=0
for name in "${chosen[@]}"; do
  [ -x "build-fuzz/fuzz/fuzz_$name" ] || { echo "no harness $name" >&2; exit 64; }
  fuzz_one "$name" &
  running=$((running + 1))
  if [ "$running" = 2 ]; then wait; running=0; fi
done
wait

passed=0 failed=0
for name in "${chosen[@]}"; do
  runs=$(sed -nE 's/^stat::number_of_executed_units: //p' "$log/$name")
  reached=$(grep -aoE 'cov: [0-9]+ ft: [0-9]+' "$log/$name" | tail -n 1)
  if [ "$(cat "$log/$name.status")" = 0 ] && [ "${runs:-0}" -gt 0 ]; then
    passed=$((passed + 1))
    echo "note $name: $runs runs, $reached"
  else
    failed=$((failed + 1))
    echo "FAILED $name after ${runs:-?} runs; all of it in $log/$name"
    grep -aE 'must hold|ERROR|runtime error' -A 12 "$log/$name" | cut -c 1-400 | head -n 30
  fi
  if [ -n "$keep" ]; then
    "build-fuzz/fuzz/fuzz_$name" -set_cover_merge=1 "tests/fuzz/corpus/$name" "$work/$name" >"$log/$name.merge" 2>&1
  fi
done
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
