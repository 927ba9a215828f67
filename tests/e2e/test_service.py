#!/usr/bin/env python3
"""Runs the built program as its users and its enemies would: HTTP over sockets, signals, the command line.

    test_service.py [PROGRAM] [--case NAME]...

Ends with "N passed, N failed"; exit status 1 if any failed.
"""

import argparse
import concurrent.futures
import importlib
import os
import pathlib
import sys
import traceback

from service import Failed, Service

# Each module lists its cases: SHARED_CASES take a service that all of them use, CASES take the program and start what
# they need.
MODULES = [importlib.import_module(path.stem) for path in sorted(pathlib.Path(__file__).parent.glob("cases_*.py"))]

AT_ONCE = 4  # cases that mostly wait


def outcome_of(case, subject):
    """None if the case holds, else what to say of it."""
    try:
        case(subject)
        return None
    except Failed as failure:
        return str(failure)
    except Exception:  # a fault of the test, or an answer that is none
        return traceback.format_exc()


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("program", nargs="?", default="build/smallend")
    parser.add_argument("--case", action="append", help="this one alone; may be given several times")
    asked = parser.parse_args()
    program = os.path.abspath(asked.program)
    if not os.access(program, os.X_OK):
        print(f"there is no program {program}: build it first", file=sys.stderr)
        return 64

    def chosen(name):
        return [case for module in MODULES for case in getattr(module, name, [])
                if not asked.case or case.__name__ in asked.case]

    outcomes = []
    with concurrent.futures.ThreadPoolExecutor(AT_ONCE) as pool:
        # Short ones on one service, so that what one leaves behind shows in the next; the waiting ones beside it.
        waiting = [(case, pool.submit(outcome_of, case, program)) for case in chosen("CASES")]
        shared = chosen("SHARED_CASES")
        if shared:
            service = Service(program, threads=32)
            outcomes += [(case, outcome_of(case, service)) for case in shared]
            outcomes.append((the_service_ends_well, outcome_of(the_service_ends_well, service)))
        outcomes += [(case, future.result()) for case, future in waiting]

    failures = [(case, failure) for case, failure in outcomes if failure]
    for case, failure in failures:
        print(f"FAILED {case.__module__}.{case.__name__}\n    " + failure.strip().replace("\n", "\n    "))
    print(f"{len(outcomes) - len(failures)} passed, {len(failures)} failed")
    return 1 if failures else 0


def the_service_ends_well(service):
    """After all that it is still alive, stops when told, and logged no error and nothing but JSON."""
    if service.ask("GET", "/livez").status != 200:
        raise Failed("the service is no longer alive")
    service.close()


if __name__ == "__main__":
    sys.exit(main())
