#!/usr/bin/env python3
"""Runs every curl command of api/README.md against the service and holds what it shows against the answer.

    check_readme.py --program build/smallend

A block ```sh holds commands that answer 200, ```sh 422 ones that answer 422. The block ```json that follows shows part of
the answer: every member in it must be there, every entry of a list must be among the real ones. Of a block ```text every
line must begin a line of the answer, in this order, save "...". Ends with one line "N passed, N failed".
"""

import argparse
import http.client
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile

PROJECT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(PROJECT / "tests/support"))
from program import Service  # noqa: E402

FENCE = re.compile(r"^```(\w+)(?: (\d{3}))?\n(.*?)^```$", re.MULTILINE | re.DOTALL)
# curl as the page has it, with the status written behind the answer
CURL = "curl() { command curl -S --max-time 30 -w '\\n%{http_code}\\n' \"$@\"; }\n"


def blocks_of(text):
    """(language, status, content) of each fenced block; commands are split, so that each answer is looked at."""
    for language, status, content in FENCE.findall(text):
        if language == "sh":
            commands = re.split(r"^(?=curl )", content, flags=re.MULTILINE)
            for command in filter(str.strip, commands):
                yield "sh", int(status or 200), command
        else:
            yield language, 0, content


def is_part(shown, real):
    if isinstance(shown, dict):
        return isinstance(real, dict) and all(name in real and is_part(one, real[name]) for name, one in shown.items())
    if isinstance(shown, list):
        if not shown:
            return real == []
        return isinstance(real, list) and all(any(is_part(one, other) for other in real) for one in shown)
    return type(shown) is type(real) and shown == real


def lines_follow(shown, real):
    rest = iter(real.splitlines())
    return all(any(line.startswith(wanted) for line in rest) for wanted in shown.splitlines() if wanted != "...")


def ask(service, path):
    connection = http.client.HTTPConnection(service.host, service.port, timeout=30)
    connection.request("GET", path, headers={"Accept": "application/json"})
    found = json.loads(connection.getresponse().read())
    connection.close()
    return found


def check_lists(page, service, text):
    """Every problem and every call of the service stands on the page."""
    for problem in ask(service, "/v1/problems")["problems"]:
        row = re.search(rf"^\| [^|]*\b{problem['status']}\b[^|]*\|[^|]*`{problem['id']}`", text, re.MULTILINE)
        page.count(row is not None, f"problem {problem['id']} is not in the table, or not with its status")
    for call in ask(service, "/")["calls"]:
        word = call["href"].removeprefix("/v1/")
        page.count(f"`{word}`" in text, f"call {word} is not on the page")


class Page:
    def __init__(self, service, folder):
        self.service = service
        self.folder = folder
        self.passed = self.failed = 0
        self.answer = ""  # to the last command

    def count(self, good, complaint):
        if good:
            self.passed += 1
        else:
            self.failed += 1
            print("FAILED", complaint)

    def run(self, wanted, command):
        url = f"http://{self.service.host}:{self.service.port}"
        script = f"S={url}\n{CURL}{command}"
        done = subprocess.run(["bash", "-c", script], cwd=self.folder, capture_output=True, text=True, timeout=60, check=False)
        self.answer, _, status = done.stdout.rstrip("\n").rpartition("\n")
        self.count(done.returncode == 0 and status == str(wanted),
                   f"{command}answers {status}, not {wanted}: {self.answer[:600]}{done.stderr}")

    def show(self, language, content):
        if language == "json":
            try:
                good = is_part(json.loads(content), json.loads(self.answer))
            except ValueError as fault:
                good = False
                content += f"({fault})\n"
        else:
            good = lines_follow(content, self.answer)
        self.count(good, f"the page shows\n{content}but the answer is\n{self.answer[:2000]}")


def selftest(page):
    """The comparison itself must be able to fail."""
    real = {"a": 1, "list": [{"b": 2, "c": 3}], "none": []}
    page.count(is_part({"list": [{"b": 2}], "none": []}, real), "is_part finds a part")
    wrong = [{"a": 2}, {"d": 1}, {"list": [{"b": 3}]}, {"list": []}, {"a": True}]
    page.count(not any(is_part(one, real) for one in wrong), "is_part refuses what is not there")
    page.count(lines_follow("a\n...\nc\n", "ab\nb\ncd") and not lines_follow("c\na\n", "ab\nb\ncd"), "lines_follow")


def main():
    reader = argparse.ArgumentParser()
    reader.add_argument("--program", required=True)
    program = os.path.abspath(reader.parse_args().program)
    text = (PROJECT / "api/README.md").read_text(encoding="utf-8")
    with tempfile.TemporaryDirectory() as folder:
        os.symlink(PROJECT / "fixtures", os.path.join(folder, "fixtures"))
        key = os.path.join(folder, "key.pem")
        subprocess.run(["openssl", "genpkey", "-algorithm", "ed25519", "-out", key], check=True, capture_output=True)
        service = Service(program, SMALLEND_SIGNING_KEYS=key)
        page = Page(service, folder)
        selftest(page)
        check_lists(page, service, text)
        commands = 0
        for language, status, content in blocks_of(text):
            if language == "sh" and content.startswith("curl "):
                commands += 1
                page.run(status, content)
            elif language in ("json", "text"):
                page.show(language, content)
        written = len(re.findall(r"^\s*curl ", text, re.MULTILINE))
        page.count(commands == written, "a command stands outside the blocks that are run")
        page.count(commands > 20, f"only {commands} commands were found")
        complaint = service.close()
        page.count(complaint is None, complaint)
    print(f"{page.passed} passed, {page.failed} failed")
    return 1 if page.failed else 0


if __name__ == "__main__":
    sys.exit(main())
