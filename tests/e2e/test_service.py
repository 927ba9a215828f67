#!/usr/bin/env python3
"""Runs the built program as its users and its enemies would: HTTP over sockets, signals, the command line.

    test_service.py [PROGRAM] [--case NAME]... [--at-once N]

Ends with "N passed, N failed"; exit status 1 if any failed.
"""

import argparse
import concurrent.futures
import importlib
import os
import pathlib
import sys
import traceback

from certificates import Authority
from service import Failed, Service

# Each module lists its cases: SHARED_CASES take a service that all of them use, and are asked by TLS once more (or those
# in CASES_BY_TLS); CASES take the program and start what they need.
MODULES = [importlib.import_module(path.stem) for path in sorted(pathlib.Path(__file__).parent.glob("cases_*.py"))]


def name_of(case):
    return f"{case.__module__}.{case.__name__}"


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
    parser.add_argument("--at-once", type=int, default=6, help="cases that mostly wait; fewer where the program is slow")
    asked = parser.parse_args()
    program = os.path.abspath(asked.program)
    if not os.access(program, os.X_OK):
        print(f"there is no program {program}: build it first", file=sys.stderr)
        return 64

    def chosen(*names):
        """Of each module the cases listed under the first of the names that it has."""
        lists = [next((getattr(module, name) for name in names if hasattr(module, name)), []) for module in MODULES]
        return [case for cases in lists for case in cases if not asked.case or case.__name__ in asked.case]

    def on_one_service(cases, how="", **settings):
        """Short ones on one service, so that what one leaves behind shows in the next."""
        if not cases:
            return []
        service = Service(program, threads=32, **settings)
        return [(name_of(case) + how, outcome_of(case, service)) for case in [*cases, the_service_ends_well]]

    def on_one_service_by_tls(cases):
        with Authority() as authority:
            identity = authority.issue("shared")
            return on_one_service(cases, " by TLS", tls=authority.context(), listen="127.0.0.1:0s", **identity.settings)

    outcomes = []
    with concurrent.futures.ThreadPoolExecutor(asked.at_once) as pool:
        by_tls = pool.submit(on_one_service_by_tls, chosen("CASES_BY_TLS", "SHARED_CASES"))
        waiting = [(case, pool.submit(outcome_of, case, program)) for case in chosen("CASES")]
        outcomes += on_one_service(chosen("SHARED_CASES"))
        outcomes += by_tls.result()
        outcomes += [(name_of(case), future.result()) for case, future in waiting]

    failures = [(name, failure) for name, failure in outcomes if failure]
    for name, failure in failures:
        print(f"FAILED {name}\n    " + failure.strip().replace("\n", "\n    "))
    print(f"{len(outcomes) - len(failures)} passed, {len(failures)} failed")
    return 1 if failures else 0


def the_service_ends_well(service):
    """After all that it is still alive, stops when told, and logged no error and nothing but JSON."""
    if service.ask("GET", "/livez").status != 200:
        raise Failed("the service is no longer alive")
    service.close()


if __name__ == "__main__":
    sys.exit(main())
