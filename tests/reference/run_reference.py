#!/usr/bin/env python3
"""Runs every row of fixtures/reference that names a call through the program and compares the answer with the source.

    run_reference.py --program build/smallend [row or file ...]
    run_reference.py --url http://127.0.0.1:8080 [row or file ...]

A row: {"id", "call", "job", "expect": [...], "source", "provenance", "note"?}. What is expected is one of
    {"at": pointer, "value": number, "unit": text, "rel_tol": number, "abs_tol"?: number}
    {"at": pointer, "at_least": number, "unit": text}        and at_most likewise
    {"at": pointer, "is": value}
    {"compute": expression, "with": {name: pointer}, "let"?: {name: expression}, "value", "rel_tol", "abs_tol"?}
"""

import argparse
import json
import pathlib
import sys

HERE = pathlib.Path(__file__).resolve()
sys.path.insert(0, str(HERE.parents[1] / "support"))
import program as under_test  # noqa: E402

FOLDER = HERE.parents[2] / "fixtures" / "reference"
PROVENANCES = {"read", "from memory", "derived", "judgement"}


def value_at(document, pointer):
    """(number, unit) of a quantity or a bare number, (None, None) where there is none."""
    found = under_test.look_up(document, pointer)
    if isinstance(found, dict):
        return found.get("value"), found.get("unit")
    return found, None


def compute(document, expect):
    names = {}
    for name, pointer in expect["with"].items():
        names[name], _ = value_at(document, pointer)
        if names[name] is None:
            raise ValueError(f"the answer has no {pointer}")
    for name, expression in expect.get("let", {}).items():
        names[name] = eval(expression, {"__builtins__": {}}, names)
    return eval(expect["compute"], {"__builtins__": {}}, names)


def fault_of(document, expect):
    """What is wrong with one expectation, or None."""
    if "is" in expect:
        found = under_test.look_up(document, expect["at"])
        return None if found == expect["is"] else f"{expect['at']} is {found}, wanted {expect['is']}"
    if "compute" in expect:
        place = expect["compute"]
        try:
            actual = compute(document, expect)
        except (ValueError, ZeroDivisionError) as error:
            return f"{place}: {error}"
    else:
        place = expect["at"]
        actual, unit = value_at(document, place)
        if isinstance(actual, bool) or not isinstance(actual, (int, float)):
            return f"{place} is absent or no number: {actual}"
        if unit is not None and unit != expect.get("unit"):
            return f"{place} is in {unit}, wanted {expect.get('unit')}"
    if "at_least" in expect or "at_most" in expect:
        if not expect.get("at_least", actual) <= actual <= expect.get("at_most", actual):
            return f"{place} is {actual}, wanted {bounds_of(expect)}"
        return None
    wanted, relative, absolute = expect["value"], expect["rel_tol"], expect.get("abs_tol", 0.0)
    if not relative > 0 and not absolute > 0:
        return f"{place}: the row has no tolerance"
    if not abs(actual - wanted) <= absolute + relative * abs(wanted):
        return f"{place} is {actual!r}, wanted {wanted!r} within {relative:g} relative, {absolute:g} absolute"
    return None


def bounds_of(expect):
    return " and ".join(
        f"{word.replace('_', ' ')} {expect[word]}" for word in ("at_least", "at_most") if word in expect
    )


def faults_of(row, asked):
    if row.get("provenance") not in PROVENANCES or not row.get("source") or not row.get("expect"):
        return ["the row lacks source, provenance or expectations"]
    answer = asked.ask(row["call"], row["job"])
    if answer.status != 200 or answer.document is None:
        return [answer.complaint()]
    return [fault for fault in (fault_of(answer.document, expect) for expect in row["expect"]) if fault]


def rows_of(wanted):
    for path in sorted(FOLDER.glob("*.json")):
        for row in json.loads(path.read_text(encoding="utf-8")):
            if "call" in row and (not wanted or row["id"] in wanted or path.name in wanted or path.stem in wanted):
                yield path.name, row


def main():
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    where = options.add_mutually_exclusive_group(required=True)
    where.add_argument("--program", help="path of the built smallend")
    where.add_argument("--url", help="address of a running service")
    options.add_argument("rows", nargs="*", help="only these rows or files")
    chosen = options.parse_args()
    asked = under_test.CommandLine(chosen.program) if chosen.program else under_test.Remote(chosen.url)
    passed = failed = 0
    for name, row in rows_of(set(chosen.rows)):
        faults = faults_of(row, asked)
        if faults:
            failed += 1
            print(f"FAILED {name} {row['id']} [{row.get('source', '')}]")
            for fault in faults:
                print(f"       {fault}")
        else:
            passed += 1
    asked.close()
    print(f"{passed} passed, {failed} failed")
    return 1 if failed or not passed else 0


if __name__ == "__main__":
    sys.exit(main())
