#!/usr/bin/env bash
# What the tests run of service/: lines and branches by gcov, folder by folder.
#
#   tests/coverage.sh [--no-run]
#
#   --no-run   only count what an earlier run left in build-coverage
#
# Unit tests, replay of the fuzzers' corpus, the whole service, signed records and refused allocations, from a build with
# SMALLEND_COVERAGE. Lines that nothing ran are listed in build-coverage/uncovered.txt. Asserts nothing: it is a map, not a
# gate.
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.." || exit 70

if [ "${1:-}" != --no-run ]; then
  cmake -S . -B build-coverage -DCMAKE_C_COMPILER=gcc -DCMAKE_BUILD_TYPE=Debug -DSMALLEND_COVERAGE=ON -DSMALLEND_TESTS=ON \
    >/dev/null || exit 70
  cmake --build build-coverage -j 2 >build-coverage/build.log 2>&1 || { tail -n 40 build-coverage/build.log; exit 70; }
  find build-coverage -name '*.gcda' -delete
  ctest --test-dir build-coverage -j 2 --timeout 240 >build-coverage/ctest.log 2>&1 || echo "note: some unit tests failed"
  python3 tests/e2e/test_service.py build-coverage/smallend >build-coverage/e2e.log 2>&1 || echo "note: some scenarios failed"
  python3 tests/reference/run_reference.py --program build-coverage/smallend >build-coverage/reference.log 2>&1 ||
    echo "note: some reference rows failed"
  bash tests/order/run.sh build-coverage/smallend >build-coverage/order.log 2>&1 || echo "note: some order tests failed"
  python3 tests/e2e/no_memory.py build-coverage/smallend --most 60 >build-coverage/no-memory.log 2>&1 ||
    echo "note: some tests without memory failed"
fi

# gcov's JSON of each object of service/, summed by file; a line or branch counts as run if any program ran it.
find build-coverage/service build-coverage -maxdepth 6 -path '*service*' -name '*.gcno' | sort -u >build-coverage/objects
exec python3 - build-coverage <<'PYTHON'
import collections, gzip, json, os, pathlib, subprocess, sys, tempfile

build, root = pathlib.Path(sys.argv[1]).resolve(), pathlib.Path.cwd()
lines, branches = collections.defaultdict(collections.Counter), collections.defaultdict(dict)
with tempfile.TemporaryDirectory() as folder:
    for note in (build / "objects").read_text().split():
        done = subprocess.run(["gcov", "--branch-probabilities", "--json-format", "--stdout", str(root / note)], cwd=folder,
                              capture_output=True, check=False)
        for text in done.stdout.decode().splitlines():
            document = json.loads(text)
            for file in document["files"]:
                path = pathlib.Path(os.path.normpath(os.path.join(document["current_working_directory"], file["file"])))
                if not path.is_relative_to(root / "service") or path.suffix == ".def":
                    continue
                name = str(path.relative_to(root))
                for line in file["lines"]:
                    number = line["line_number"]
                    lines[name][number] += line["count"]
                    for place, branch in enumerate(line["branches"]):
                        key = (number, place)
                        branches[name][key] = branches[name].get(key, 0) + branch["count"]

def share(counts):
    counts = list(counts)
    return len([count for count in counts if count]), len(counts)

folders = collections.defaultdict(lambda: [0, 0, 0, 0])
with open(build / "uncovered.txt", "w", encoding="utf-8") as out:
    for name in sorted(lines):
        figures = [*share(lines[name].values()), *share(branches[name].values())]
        for key in (name.split("/")[1], "all of service/"):
            folders[key] = [a + b for a, b in zip(folders[key], figures)]
        for number, count in sorted(lines[name].items()):
            if not count:
                print(f"{name}:{number}: {(root / name).read_text().splitlines()[number - 1].strip()}", file=out)
print(f"{'folder':18}{'lines':>16}{'branches':>18}")
for key, (run, there, taken, ways) in sorted(folders.items(), key=lambda item: item[0] == "all of service/"):
    print(f"{key:18}{run:7} of {there:5} {100 * run / max(there, 1):5.1f} %{taken:7} of {ways:5} {100 * taken / max(ways, 1):5.1f} %")
print(f"what no test ran: {os.path.relpath(build / 'uncovered.txt')}")
PYTHON
