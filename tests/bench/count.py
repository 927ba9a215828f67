#!/usr/bin/env python3
"""Counts the instructions of one call in process and holds them against baseline.json.

    count.py --build FOLDER [--write WHY]

FOLDER holds bench_calls, built as the service is. Only the instructions of our own objects and of jansson are counted: the
C library picks its functions by the processor. They repeat to the last few, so that a growth of more than 5 % is one of
the code. Who means it says why: --write "WHY" keeps the new counts together with the explanation. Figures of another
compiler or another jansson are not held against these, which is said. Ends with "N passed, N failed".
"""

import argparse
import json
import pathlib
import re
import subprocess
import sys
import tempfile

from cases import CASES, Case, batch

HERE = pathlib.Path(__file__).resolve().parent
BASELINE = HERE / "baseline.json"
GROWTH = 1.05
TIMES = (2, 6)  # the difference leaves out what is done once
BATCH = Case("batch of 20", "batch", batch("fit", 20), "batch")
OWN = re.compile(r"bench_calls$|libjansson")


def counted(build, case, stage, times):
    """Instructions by object of a run of `times` calls."""
    with tempfile.TemporaryDirectory() as folder:
        out = pathlib.Path(folder) / "out"
        subprocess.run(["valgrind", "--tool=callgrind", f"--callgrind-out-file={out}", build / "tests/bench/bench_calls", stage,
                        case.call, case.form, str(case.trace), str(times)], input=case.body, capture_output=True, check=True)
        return self_cost(out.read_text())


def self_cost(text):
    """Callgrind's format: a line of costs belongs to the object named last, but one behind calls= is of what was called."""
    names, costs, current, called = {}, {}, "?", False
    for line in text.splitlines():
        found = re.match(r"ob=\((\d+)\)(?: (.*))?$", line)
        if found:
            names.setdefault(found.group(1), found.group(2) or "?")
            current = names[found.group(1)]
        elif line.startswith("cob="):
            inner = re.match(r"cob=\((\d+)\)(?: (.*))?$", line)
            names.setdefault(inner.group(1), inner.group(2) or "?")
        elif line.startswith("calls="):
            called = True
        elif re.match(r"[+*-]?\d*\*? ?\S* \d+$", line) and not line.startswith(("summary", "totals")):
            if not called:
                costs[current] = costs.get(current, 0) + int(line.rsplit(" ", 1)[1])
            called = False
    return costs


def per_call(build, case, stage="write"):
    """Instructions of one call: {"own": ours and jansson's, "other": the C library's and the like}."""
    few, many = (counted(build, case, stage, times) for times in TIMES)
    sums = {"own": 0, "other": 0}
    for name in many:
        sums["own" if OWN.search(name) else "other"] += (many[name] - few.get(name, 0)) / (TIMES[1] - TIMES[0])
    return sums


def fingerprint(build):
    cache = (build / "CMakeCache.txt").read_text()
    compiler = re.search(r"CMAKE_C_COMPILER:\w+=(.*)", cache).group(1)
    told = subprocess.run([compiler, "--version"], capture_output=True, text=True, check=True).stdout
    version = told.splitlines()[0].split(" ", 1)[1]  # behind the name by which it was called
    kind = re.search(r"CMAKE_BUILD_TYPE:\w+=(.*)", cache).group(1) or "RelWithDebInfo"
    jansson = subprocess.run(["pkg-config", "--modversion", "jansson"], capture_output=True, text=True, check=True)
    return f"compiler {version}, {kind}, jansson {jansson.stdout.strip()}"


def compare(now, kept):
    passed = failed = 0
    for name, count in now.items():
        before = kept["counts"].get(name)
        if before is not None and count <= before * GROWTH:
            passed += 1
            continue
        failed += 1
        print(f"FAILED {name}: {count:,} instructions, {before or 0:,} before; if that is meant, count.py --write WHY")
    for name in kept["counts"].keys() - now.keys():
        failed += 1
        print(f"FAILED {name}: no longer counted")
    return passed, failed


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--build", type=pathlib.Path, required=True)
    parser.add_argument("--write", metavar="WHY")
    arguments = parser.parse_args()
    now = {case.name: round(per_call(arguments.build, case)["own"]) for case in [*CASES, BATCH]}
    mark = fingerprint(arguments.build)
    for name, count in now.items():
        print(f"{name}: {count:,}")
    if arguments.write:
        kept = {"explanation": arguments.write, "built": mark, "counts": now}
        BASELINE.write_text(json.dumps(kept, indent=2) + "\n")
        return 0
    kept = json.loads(BASELINE.read_text())
    if mark != kept["built"]:
        print(f"note not compared: these are of {mark}, the baseline of {kept['built']}")
        print("0 passed, 0 failed")
        return 0
    passed, failed = compare(now, kept)
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
