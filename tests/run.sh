#!/usr/bin/env bash
# Installs what the tests need, builds with sanitizers, runs every test and ends with one line "N passed, N failed".
#
#   tests/run.sh [--quick] [--valgrind] [--testssl]
#
#   --quick      fewer random joints, no static analysis, no second compiler
#   --valgrind   the unit tests once more, under valgrind, from a plain build
#   --testssl    the TLS listener before testssl.sh as well, two minutes
#
# Builds in build-tests (gcc, sanitizers), build-gcc and build-clang (plain, warnings are errors) of the project; what
# each stage wrote is kept in build-tests/log. Exit status 0 only if nothing failed.
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.." || exit 70

quick="" valgrind="" testssl=""
for argument in "$@"; do
  case $argument in
    --quick) quick=yes ;;
    --valgrind) valgrind=yes ;;
    --testssl) testssl=yes ;;
    -h | --help) sed -n '2,12s/^# \{0,1\}//p' "$0"; exit 0 ;;
    *) echo "unknown argument: $argument" >&2; exit 64 ;;
  esac
done

jobs=$(nproc)
[ "$jobs" -le 4 ] || jobs=4
logs=build-tests/log
passed_in_all=0 failed_in_all=0 started=$SECONDS
export UBSAN_OPTIONS=print_stacktrace=1:halt_on_error=1 ASAN_OPTIONS=detect_stack_use_after_return=1
export PYTHONDONTWRITEBYTECODE=1

mkdir -p "$logs"
rm -f "$logs"/*

# ---- counting --------------------------------------------------------------------------------------------------------

# Adds to the sums and says how a stage went: summary PASSED FAILED
summary() {
  passed_in_all=$((passed_in_all + $1)) failed_in_all=$((failed_in_all + $2))
  echo "$1 passed, $2 failed ($((SECONDS - stage_started)) s)"
}

heading() {
  stage_started=$SECONDS
  printf '\n== %s\n' "$1"
}

finish() {
  printf '\nall stages took %d s\n' $((SECONDS - started))
  [ "$failed_in_all" -gt 0 ] || [ "$passed_in_all" -gt 0 ] || failed_in_all=1
  echo "$passed_in_all passed, $failed_in_all failed"
  [ "$failed_in_all" = 0 ]
  exit
}

# Lines of cmake, ctest and cmocka that say nothing of a failure.
dull='^(--|\[ *[0-9]+%\]) |^ +Start +[0-9]+: | Passed +[0-9.]+ sec$|^\[ +(RUN|OK) +\]'
dull=$dull'|^Looked in |^/?[^ ]*/unit_[^ ]*$|^Could not find exec'

# The last "N passed, N failed" of a log, as two numbers; nothing if there is none.
counted() {
  sed -nE 's/^([0-9]+) passed, ([0-9]+) failed.*/\1 \2/p' "$1" | tail -n 1
}

# stage NAME HEADING COMMAND...: a command that counts for itself, or passes and fails as a whole. Its output is shown
# where something failed, else only its notes.
stage() {
  local name=$1 log=$logs/$1.log status counts pass=1 fail=0
  heading "$2"
  shift 2
  "$@" >"$log" 2>&1
  status=$?
  counts=$(counted "$log")
  if [ -n "$counts" ]; then
    pass=${counts% *} fail=${counts#* }
    # a script that says all is well and ends otherwise has not told everything
    if [ "$status" != 0 ] && [ "$fail" = 0 ]; then fail=1; fi
  elif [ "$status" != 0 ]; then
    pass=0 fail=1
  fi
  if [ "$fail" -gt 0 ]; then
    grep -vE "$dull" "$log" | head -c 60000
    echo "(exit status $status; all of it in $log)"
  else
    grep -E '^note ' "$log"
  fi
  summary "$pass" "$fail"
  return "$fail"
}

# ---- builds ----------------------------------------------------------------------------------------------------------

# build FOLDER COMPILER OPTION...
build() {
  local folder=$1 compiler=$2
  shift 2
  cmake -S . -B "$folder" -DCMAKE_C_COMPILER="$compiler" -DSMALLEND_WERROR=ON "$@" || return
  cmake --build "$folder" -j "$jobs" -- --keep-going
}

# ---- unit tests ------------------------------------------------------------------------------------------------------

# Sums the cases of cmocka over the log that ctest keeps. A program that ends badly without naming a case counts as one,
# and so does one that is not there, of which that log says it passed.
count_cases() {
  awk '
    / Testing: / { good = bad = absent = well = 0 }
    /^Command: ""/ { absent = 1 }
    /^\[  PASSED  \] [0-9]+ test/ { split($0, part, /\] /); good += part[2] + 0 }
    /^\[  FAILED  \] [0-9]+ test/ { split($0, part, /\] /); bad += part[2] + 0 }
    /^Test Passed\./ { well = 1 }
    / end time: / {
      if (well && !absent) { if (good + bad == 0) good = 1 } else if (bad == 0) bad = 1
      passed += good; failed += bad
    }
    END { print passed + 0 " passed, " failed + 0 " failed" }' "$1"
}

unit_tests() {
  local status
  ctest --test-dir build-tests -j "$jobs" --output-on-failure --timeout 240 --no-tests=error
  status=$?
  count_cases build-tests/Testing/Temporary/LastTest.log
  return "$status"
}

valgrind_tests() {
  local program good=0 bad=0 log=$logs/valgrind-one.log
  local checked=(valgrind -q --error-exitcode=99 --leak-check=full --errors-for-leak-kinds=definite,indirect)
  for program in build-gcc/tests/unit_* build-gcc/tests/reference/reference_*; do
    [ -f "$program" ] && [ -x "$program" ] || continue
    if "${checked[@]}" "$program" >"$log" 2>&1; then
      good=$((good + 1))
    else
      bad=$((bad + 1))
      echo "FAILED $program under valgrind"
      tail -n 60 "$log"
    fi
  done
  echo "$good passed, $bad failed"
  [ "$bad" = 0 ] && [ "$good" -gt 0 ]
}

# ---- static analysis -------------------------------------------------------------------------------------------------

# One source file; says so where something was found.
analyse_one() {
  local found
  found=$(clang-tidy --quiet -p build-clang "$1" 2>/dev/null) || printf 'FAILED %s\n%s\n' "$1" "$found"
}
export -f analyse_one

# Each source file counts as one.
analyse() {
  local files bad
  mapfile -t files < <(find service -name '*.c' | sort)
  printf '%s\n' "${files[@]}" | xargs -P 2 -I '{}' bash -c 'analyse_one "$1"' bash '{}' >"$logs/tidy-found"
  cat "$logs/tidy-found"
  bad=$(grep -c '^FAILED ' "$logs/tidy-found")
  echo "$((${#files[@]} - bad)) passed, $bad failed"
  [ "$bad" = 0 ]
}

# Another analyser, which sees the tables' macros expanded; it passes or fails as a whole. The rule left out takes
# {.text = {.text = text}} for two writes to one object (2.10); gcc's -Wsequence-point watches the true cases.
second_analysis() {
  cppcheck --enable=warning,performance,portability --std=c11 --inline-suppr --error-exitcode=1 --quiet -j 2 \
    --suppress=unknownEvaluationOrder -I service -I build-gcc/service -D_POSIX_C_SOURCE=200809L \
    --template='FAILED {file}:{line}: {severity} ({id}): {message}' service
}

# ---- whole service ---------------------------------------------------------------------------------------------------

# Scenarios of one script each, the program's path as their only argument; those that count for themselves are summed.
end_to_end() {
  local script log good=0 bad=0 counts status
  for script in tests/e2e/[0-9]*.py tests/e2e/test_*.py; do
    [ -f "$script" ] || continue
    log=$logs/e2e-$(basename "$script" .py).log
    timeout 300 python3 "$script" build-tests/smallend >"$log" 2>&1
    status=$?
    counts=$(counted "$log")
    [ -n "$counts" ] || counts=$([ "$status" = 0 ] && echo "1 0" || echo "0 1")
    if [ "$status" != 0 ] && [ "${counts#* }" = 0 ]; then counts="${counts% *} 1"; fi
    good=$((good + ${counts% *})) bad=$((bad + ${counts#* }))
    if [ "${counts#* }" != 0 ]; then
      echo "FAILED $script (exit status $status)"
      tail -n 60 "$log"
    fi
  done
  [ $((good + bad)) -gt 0 ] || { bad=1; echo "FAILED: no scenario in tests/e2e"; }
  echo "$good passed, $bad failed"
  [ "$bad" = 0 ]
}

# ---- the run ---------------------------------------------------------------------------------------------------------

random_joints=80 derived_joints=800 http_seconds=10
if [ -n "$quick" ]; then random_joints=30 derived_joints=200 http_seconds=3; fi

heading "what the tests need"
if ! bash deploy/setup.sh --tests ${testssl:+--testssl} --variant=normal --variant=asan; then
  echo "deploy/setup.sh failed"
  summary 0 1
  finish
fi
echo "ready ($((SECONDS - stage_started)) s)"

stage build-tests "build with gcc and sanitizers" build build-tests gcc -DSMALLEND_SANITIZE=ON -DSMALLEND_TESTS=ON
stage build-gcc "build with gcc, plain" build build-gcc gcc -DSMALLEND_TESTS="${valgrind:+ON}" -DSMALLEND_BENCH=ON
[ -n "$quick" ] || stage build-clang "build with clang, plain, tests too" build build-clang clang -DSMALLEND_TESTS=ON
stage unit "unit tests and formula rows, sanitized" unit_tests
[ -z "$valgrind" ] || stage valgrind "unit tests under valgrind" valgrind_tests
stage layers "layers and rules of the house" python3 tests/layers/test_layers.py --build build-gcc
stage reference "reference rows through the program" \
  python3 tests/reference/run_reference.py --program build-tests/smallend
stage property "properties of invented joints" \
  python3 tests/property/run_properties.py --program build-tests/smallend --count "$random_joints"
stage derivation-self "independent derivation against published cases" python3 tests/derivation/selftest.py
stage derivation "the service against the independent derivation" \
  python3 tests/support/program.py build-tests/smallend \
  python3 tests/derivation/compare.py --url '{url}' --count "$derived_joints"
stage e2e "the whole service" end_to_end
stage order "signed records against other implementations" bash tests/order/run.sh build-tests/smallend
[ -z "$testssl" ] || stage testssl "the TLS listener before testssl.sh" python3 tests/e2e/run_testssl.py build-gcc/smallend
stage deploy "image, replicas behind the proxy, manifests, alerts" tests/deploy/run.sh build-gcc/smallend
stage clients "real clients: TypeScript, browser, bots, the tour" tests/clients/run.sh build-gcc/smallend
stage contract "the contract and the service's keeping to it" bash tests/contract/run.sh build-tests/smallend
stage hardening "hardening of the plain program" bash tests/hardening.sh build-gcc/smallend
stage no-memory "the service refused its allocations" python3 tests/e2e/no_memory.py build-gcc/smallend --most 60
stage count "instructions of a call against the baseline" python3 tests/bench/count.py --build build-gcc
stage http-bytes "bytes that are almost HTTP" \
  python3 tests/fuzz/http_bytes.py build-tests/smallend --seconds "$http_seconds"
if [ -z "$quick" ]; then
  stage fuzz "fuzzers, a few seconds each" bash tests/fuzz/run.sh --seconds 3
  stage cppcheck "static analysis by cppcheck" second_analysis
fi
if [ -n "$quick" ]; then
  :
elif command -v clang-tidy >/dev/null; then
  stage tidy "static analysis" analyse
else
  printf '\n== static analysis\nnot run: clang-tidy is not installed\n'
fi
finish
