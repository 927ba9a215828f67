"""What is measured: the calls, their jobs, and what each of them is held against."""

import json
import pathlib

PROJECT = pathlib.Path(__file__).resolve().parents[2]
JOB = json.loads((PROJECT / "fixtures/jobs/pump-engine.json").read_bytes())


def job(**members):
    return {**JOB, **members}


class Case:
    """`path` behind /v1/, `document` to post, `counted` the stage, call, form and curve points of bench_calls."""

    def __init__(self, name, path, document, call, form="json", trace=0, status=200, goal=None):
        self.name, self.path, self.call, self.form, self.trace = name, path, call, form, trace
        self.status, self.goal = status, goal
        self.body = json.dumps(document, separators=(",", ":")).encode()


def batch(call, count, document=None):
    return {"jobs": [{"call": call, "job": document or JOB}] * count}


# `goal` is the share of the bare handler's throughput that was aimed at.
CASES = [
    Case("check", "check", JOB, "check", goal=0.70),
    Case("load", "load", JOB, "load", goal=0.80),
    Case("fit", "fit", JOB, "fit", goal=0.80),
    Case("load with 720 points", "load?trace=720", JOB, "load", trace=720),
    Case("size of a number", "size", job(find={"what": "pin.diameter"}), "size"),
    Case("size among the steels", "size", job(find={"what": "pin.steel"}), "size"),
    Case("check as Markdown", "check?format=md", JOB, "check", form="md"),
    Case("check as a sketch", "check?format=svg", JOB, "check", form="svg"),
    Case("refusal", "check", job(engine={**JOB["engine"], "boar": 1}), "check", status=422),
]
MOST_JOBS = 1000
WHOLE_BATCH = Case(f"batch of {MOST_JOBS} fit", "batch", batch("fit", MOST_JOBS), "batch")
