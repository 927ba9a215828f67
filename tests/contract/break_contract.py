#!/usr/bin/env python3
"""Is the comparison with the released contract awake? Breaks it in one way after the other; each must be told.

    break_contract.py WORK-FOLDER       redocly must be on the PATH
"""

import copy
import json
import pathlib
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
CONTRACT = ROOT / "api" / "openapi.json"


def schemas(document):
    return document["components"]["schemas"]


def member_of_a_job_removed(document):
    del schemas(document)["JobEngine"]["properties"]["bore"]


def figure_of_an_answer_removed(document):
    del schemas(document)["LoadResults"]["properties"]["piston_area"]


def call_removed(document):
    del document["paths"]["/v1/load"]


def verdict_added(document):
    schemas(document)["Verdict"]["enum"].append("perhaps")


def member_no_longer_promised(document):
    schemas(document)["Answer"]["required"].remove("summary")


def is_told(change, folder):
    document = copy.deepcopy(json.loads(CONTRACT.read_text(encoding="utf-8")))
    change(document)
    broken = folder / "broken.json"
    broken.write_text(json.dumps(document), encoding="utf-8")
    rules = ROOT / "tests" / "contract" / "redocly-diff.yaml"
    command = ["redocly", "diff", str(CONTRACT), str(broken), "--config", str(rules)]
    return subprocess.run(command, capture_output=True, check=False).returncode == 1


def main():
    folder = pathlib.Path(sys.argv[1])
    changes = [member_of_a_job_removed, figure_of_an_answer_removed, call_removed, verdict_added,
               member_no_longer_promised]
    missed = [change.__name__ for change in changes if not is_told(change, folder)]
    for name in missed:
        print(f"not told: {name}")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
