#!/usr/bin/env python3
"""Properties that must hold for any joint, tried on invented ones through the program.

    run_properties.py --program build/smallend [--count 60] [--seed 1] [--command-line] [property ...]
"""

import argparse
import json
import pathlib
import random
import sys

HERE = pathlib.Path(__file__).resolve()
sys.path[:0] = [str(HERE.parent), str(HERE.parents[1] / "support")]
import joints  # noqa: E402
import orders  # noqa: E402
import program as under_test  # noqa: E402
import properties  # noqa: E402
from answers import Broken  # noqa: E402


def holds(holding, asked, count, seed):
    """Try one property on `count` joints; tell of the first three that break it."""
    broken = 0
    for number in range(count):
        case = f"{seed}-{number}"
        try:
            holding(asked, joints.joint(case), random.Random(case))
        except Broken as fault:
            broken += 1
            if broken <= 3:
                print(f"FAILED {holding.__name__}, joint {case}\n       " + str(fault).replace("\n", "\n       "))
                print("       " + json.dumps(joints.as_job(joints.joint(case))))
    if broken:
        print(f"FAILED {holding.__name__}: {broken} of {count} joints")
    return not broken


def main():
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--program", required=True, help="path of the built smallend")
    options.add_argument("--count", type=int, default=60, help="joints to try on each property")
    options.add_argument("--seed", default="1")
    options.add_argument("--command-line", action="store_true", help="one process a job in place of the service")
    options.add_argument("properties", nargs="*", help="only these")
    chosen = options.parse_args()
    asked = under_test.CommandLine(chosen.program) if chosen.command_line else under_test.Service(chosen.program)
    passed = failed = 0
    for holding in properties.PROPERTIES + orders.PROPERTIES:
        if chosen.properties and holding.__name__ not in chosen.properties:
            continue
        if holds(holding, asked, chosen.count, chosen.seed):
            passed += 1
        else:
            failed += 1
    complaint = asked.close()
    if complaint:
        failed += 1
        print("FAILED " + complaint)
    print(f"{passed} passed, {failed} failed")
    return 1 if failed or not passed else 0


if __name__ == "__main__":
    sys.exit(main())
