#!/usr/bin/env python3
"""Runs the built program as its users and its enemies would: HTTP over sockets, signals, the command line.

    test_service.py [PROGRAM] [--case NAME]...

Ends with "N passed, N failed"; exit status 1 if any failed.
"""

import argparse
import concurrent.futures
import os
import sys
import traceback

import cases_answers
import cases_framing
import cases_life
import cases_program
from service import Failed, Service

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

    def chosen(module):
        return [case for case in module.CASES if not asked.case or case.__name__ in asked.case]

    outcomes = []
    with concurrent.futures.ThreadPoolExecutor(AT_ONCE) as pool:
        # Short ones on one service, so that what one leaves behind shows in the next; the waiting ones beside it.
        waiting = [(case, pool.submit(outcome_of, case, program)) for case in chosen(cases_life) + chosen(cases_program)]
        shared = chosen(cases_answers) + chosen(cases_framing)
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
