#!/usr/bin/env python3
"""Does api/openapi.json say what the program's tables say?

    test_document.py [--program build/smallend]

Ends with "N passed, N failed".
"""

import argparse
import json
import os
import pathlib
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
HERE = pathlib.Path(__file__).resolve().parent
METHODS = ("get", "post", "put", "delete", "patch", "head", "options", "trace")


def read_json(path):
    return json.loads(path.read_text(encoding="utf-8"))


class Subject:
    """The contract, and the program it is of."""

    def __init__(self, program):
        self.program = program
        self.contract = read_json(ROOT / "api" / "openapi.json")
        self.announced = read_json(HERE / "announced.json")

    def print(self, name):
        return subprocess.run([self.program, "--print", name], capture_output=True, check=True).stdout

    def print_json(self, name):
        return json.loads(self.print(name))

    def operations(self):
        """Every "GET /path" of the contract, with its operation."""
        return {f"{method.upper()} {path}": operation for path, item in self.contract["paths"].items()
                for method, operation in item.items() if method in METHODS}

    def schemas(self):
        return self.contract["components"]["schemas"]


# ---- each test gives the list of what is wrong ----


def the_committed_files_are_what_the_program_says(subject):
    done = subprocess.run([sys.executable, str(ROOT / "api" / "assemble.py"), "--program", subject.program, "--check"],
                          capture_output=True, text=True, check=False)
    return [] if done.returncode == 0 else (done.stdout + done.stderr).splitlines() or ["no reason told"]


def the_program_serves_this_very_file(subject):
    same = subject.print("openapi") == (ROOT / "api" / "openapi.json").read_bytes()
    return [] if same else ["--print openapi differs from api/openapi.json: build again"]


def the_version_is_the_programs(subject):
    done = subprocess.run([subject.program, "--version"], capture_output=True, text=True, check=True)
    project = re.search(r"project\(smallend VERSION ([0-9.]+)", (ROOT / "CMakeLists.txt").read_text(encoding="utf-8"))
    version = subject.contract["info"]["version"]
    found = []
    if f" {version}," not in done.stdout:
        found.append(f"the contract is of {version}, the program says {done.stdout.strip()}")
    if project is None or project.group(1) != version:
        found.append(f"the contract is of {version}, CMakeLists.txt names another version")
    return found


def the_change_log_names_the_version(subject):
    version = subject.contract["info"]["version"]
    log = (ROOT / "api" / "CHANGELOG.md").read_text(encoding="utf-8")
    found = re.search(rf"^## {re.escape(version)}\b", log, re.M)
    return [] if found else [f"api/CHANGELOG.md has no section {version}"]


def a_released_contract_is_kept(subject):
    names = sorted((ROOT / "api" / "released").glob("openapi-*.json"))
    return [f"{path.name} is of version {read_json(path)['info']['version']}" for path in names
            if path.name != f"openapi-{read_json(path)['info']['version']}.json"] if names else ["none in api/released"]


def every_route_is_in_the_contract(subject):
    described = subject.operations()
    routes = [f"{route['method']} {route['path']}" for route in subject.print_json("routes")["routes"]]
    return [f"{route} is not in the contract" for route in routes if route not in described]


def every_operation_has_its_route(subject):
    routes = {f"{route['method']} {route['path']}" for route in subject.print_json("routes")["routes"]}
    return [f"{name} is in the contract, but the program has no such route" for name in subject.operations()
            if name not in routes and name not in subject.announced["routes"]]


def what_is_announced_is_in_the_contract(subject):
    described = subject.operations()
    found = [f"{name} is announced, but not in the contract" for name in subject.announced["routes"]
             if name not in described]
    for media_type, paths in subject.announced["forms"].items():
        for path in paths:
            operations = [operation for name, operation in described.items() if name.endswith(" " + path)]
            if not any(media_type in operation["responses"]["200"]["content"] for operation in operations):
                found.append(f"{media_type} of {path} is announced, but not in the contract")
    return found


def every_problem_has_its_status_documented(subject):
    """Each kind of problem is named at the responses of its status, and nowhere else."""
    responses, found = subject.contract["components"]["responses"], []
    statuses = {}
    for operation in subject.operations().values():
        for status, response in operation["responses"].items():
            if "$ref" in response:
                statuses.setdefault(int(status), set()).add(response["$ref"].rsplit("/", 1)[1])
    for problem in subject.print_json("problems")["problems"]:
        names = statuses.get(problem["status"])
        if not names:
            found.append(f"no operation documents {problem['status']} ({problem['id']})")
        for name in names or ():
            if f"`{problem['id']}`" not in responses[name]["description"]:
                found.append(f"response {name} does not name the problem {problem['id']}")
    return found


def problem_types_and_codes_are_listed(subject):
    types = [problem["type"] for problem in subject.print_json("problems")["problems"]]
    listed = subject.schemas()["Problem"]["properties"]["type"]["examples"]
    return [] if listed == types else [f"types {listed} of the contract, {types} of the program"]


def every_check_is_listed(subject):
    checks = [check["id"] for check in subject.print_json("checks")["checks"]]
    listed = subject.schemas()["CheckId"]["examples"]
    return [] if listed == checks else ["CheckId does not list the checks of the program"]


def every_setting_named_exists(subject):
    settings = subject.print("settings").decode()
    named = sorted(set(re.findall(r"\bSMALLEND_[A-Z_]+", json.dumps(subject.contract))))
    return [f"the contract names {name}, which is no setting" for name in named if name not in settings]


def objects_of(schema, place):
    """Every object schema within this one, with its place."""
    if isinstance(schema, dict):
        kinds = schema.get("type")
        if kinds == "object" or (isinstance(kinds, list) and "object" in kinds):
            yield place, schema
        for key, value in schema.items():
            yield from objects_of(value, f"{place}/{key}")
    elif isinstance(schema, list):
        for index, value in enumerate(schema):
            yield from objects_of(value, f"{place}/{index}")


def requests_are_closed(subject):
    """Every object that a client sends is closed."""
    names = [name for name in subject.schemas() if re.match(r"Job[A-Z]", name) and name != "JobQuery"]
    names += ["Job", "SizeJob", "SizeFind", "SteelChoice", "MetalChoice", "Reading", "ShaftLimits", "HoleLimits", "PlainLimits", "Batch",
              "BatchEntry", "VerifyRequest"]
    return [f"{place} takes any member" for name in names
            for place, schema in objects_of(subject.schemas()[name], name)
            if schema.get("additionalProperties") is not False]


def answers_are_open(subject):
    reached, pending = set(), ["Problem", "SteelTable", "Index"]
    pending += [name for name in subject.schemas() if name.endswith("Answer")]
    found = []
    while pending:
        name = pending.pop()
        if name in reached:
            continue
        reached.add(name)
        schema = subject.schemas()[name]
        found += [f"{place} is closed" for place, of in objects_of(schema, name) if "additionalProperties" in of]
        pending += re.findall(r"#/components/schemas/(\w+)", json.dumps(schema))
    return found


def every_member_is_described(subject):
    """Somebody who has never seen the service reads these."""
    found = []
    for name, schema in subject.schemas().items():
        for place, of in objects_of(schema, name):
            for key, member in of.get("properties", {}).items():
                told = member.get("description") or ("$ref" in member and subject.schemas()[
                    member["$ref"].rsplit("/", 1)[1]].get("description"))
                if not told:
                    found.append(f"{place}/{key} has no description")
    return found


def nothing_shows_where_it_was_made(subject):
    text = (ROOT / "api" / "openapi.json").read_text(encoding="utf-8")
    return [f"the contract holds {word}" for word in ("/tmp/", "/home/", "/root/", "localhost") if word in text]


TESTS = [
    the_committed_files_are_what_the_program_says,
    the_program_serves_this_very_file,
    the_version_is_the_programs,
    the_change_log_names_the_version,
    a_released_contract_is_kept,
    every_route_is_in_the_contract,
    every_operation_has_its_route,
    what_is_announced_is_in_the_contract,
    every_problem_has_its_status_documented,
    problem_types_and_codes_are_listed,
    every_check_is_listed,
    every_setting_named_exists,
    requests_are_closed,
    answers_are_open,
    every_member_is_described,
    nothing_shows_where_it_was_made,
]


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--program", default=str(ROOT / "build" / "smallend"))
    subject = Subject(os.path.abspath(parser.parse_args().program))
    failed = 0
    for test in TESTS:
        faults = test(subject)
        failed += bool(faults)
        if faults:
            print(f"FAILED {test.__name__}")
            for fault in faults[:20]:
                print(f"       {fault}")
    print(f"{len(TESTS) - failed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
