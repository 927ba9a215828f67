"""Answers of the program compared: in SI, member by member, as far as their rounding lets them be told apart."""

import json

import joints

# Answers are rounded to seven significant digits: two figures that were equal before may differ by one in the seventh.
ROUNDING = 1.05e-6


class Broken(Exception):
    """A property that did not hold, with what shows it."""


def answer_to(asked, job, call="check"):
    answer = asked.ask(call, job)
    if answer.status != 200 or answer.document is None:
        raise Broken(f"{call} {json.dumps(job)}\n{answer.complaint()}")
    return answer.document


def in_si(value):
    """The same document part with every quantity replaced by its size in SI."""
    if isinstance(value, dict):
        scale = joints.ANSWER_UNITS.get(value.get("unit"), 1.0)
        if "unit" in value and isinstance(value.get("value"), (int, float)):
            return value["value"] * scale
        return {
            name: member * scale if isinstance(member, float) else in_si(member)
            for name, member in value.items()
            if name != "unit"
        }
    if isinstance(value, list):
        return [in_si(member) for member in value]
    return value


def results_of(document):
    """All numbers of `results` in SI, by "section.name"; flags and limits flattened."""
    flat = {}
    for section, members in document["results"].items():
        flatten(section, in_si(members), flat)
    return flat


def flatten(name, value, flat):
    if isinstance(value, dict):
        for member, inner in value.items():
            flatten(f"{name}.{member}", inner, flat)
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            flatten(f"{name}.{index}", inner, flat)
    else:
        flat[name] = value


def checks_of(document):
    return {check["id"]: check for check in document["checks"]}


def same(a, b, relative=ROUNDING, absolute=1e-12):
    if isinstance(a, bool) or isinstance(b, bool) or not isinstance(a, (int, float)) or not isinstance(b, (int, float)):
        return a == b
    return abs(a - b) <= absolute + relative * max(abs(a), abs(b))


def must_be_same(first, second, names=None, factor=lambda name: 1.0, relative=ROUNDING):
    """Both maps hold the same values for these names (default: for all of either)."""
    wrong = []
    for name in sorted(set(first) | set(second) if names is None else names):
        a, b = first.get(name), second.get(name)
        if isinstance(a, (int, float)) and not isinstance(a, bool):
            a *= factor(name)
        if not same(a, b, relative):
            wrong.append(f"{name}: {a} and {b}")
    if wrong:
        raise Broken("\n".join(wrong[:12]))


# Prose speaks in the asker's units and may name a round figure of them.
PROSE = ("advice", "basis", "source", "to")


def must_answer_alike(first, second):
    """Same verdicts, results and findings, whatever the units."""
    must_be_same({"verdict": first["verdict"]}, {"verdict": second["verdict"]})
    must_be_same(results_of(first), results_of(second))
    flat = [{}, {}]
    for document, into in ((first, flat[0]), (second, flat[1])):
        for name, check in checks_of(document).items():
            flatten(name, {k: v for k, v in in_si(check).items() if k not in PROSE}, into)
        flatten("not_checked", sorted(item["id"] for item in document["not_checked"]), into)
    must_be_same(*flat)
