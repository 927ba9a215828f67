#!/usr/bin/env python3
"""Settings named anywhere in deploy/ are settings of the program, with values that it takes.

    test_settings.py [PROGRAM]

Ends with "N passed, N failed".
"""

import os
import re
import subprocess
import sys

from tally import DEPLOY, Tally, case, want, want_equal

# Not the program's: those of the proxy, of the set-up and of the build.
OTHERS = re.compile(r"SMALLEND_(PROXY(_\w+)?|[ABC](_ADMIN)?|CACHE|IMAGE|TESTS|CORES)$")
FOLDERS = ("kubernetes", "systemd", "prometheus", "container")
FILES = ("Containerfile", "compose.yaml", "README.md")


class Deployment:
    def __init__(self, program):
        self.program = program
        printed = subprocess.run([program, "--print", "settings"], capture_output=True, text=True, check=True).stdout
        self.known = set(re.findall(r"^(SMALLEND_\w+) ", printed, re.MULTILINE))
        self.files = [DEPLOY / name for name in FILES]
        self.files += [file for folder in FOLDERS for file in (DEPLOY / folder).rglob("*") if file.is_file()]

    def values(self):
        """Each setting that is given a value somewhere: file, name, value."""
        for file in self.files:
            for name, value in re.findall(r"\b(SMALLEND_\w+)(?:=|: )\"?([^\s\"\\`|]+)", file.read_text()):
                if not OTHERS.match(name) and "$" not in value:
                    yield file, name, value


@case
def every_setting_is_one_of_the_program(deployment):
    for file in deployment.files:
        used = {
            name for name in re.findall(r"\bSMALLEND_[A-Z][A-Z_]*[A-Z]\b", file.read_text()) if not OTHERS.match(name)
        }
        want(used <= deployment.known, f"{file.name}: {sorted(used - deployment.known)}")


@case
def every_value_is_taken(deployment):
    """By itself, with the program's own check; --version only reads the settings."""
    tried = 0
    kept = {name: value for name, value in os.environ.items() if not name.startswith("SMALLEND_")}
    for file, name, value in deployment.values():
        done = subprocess.run(
            [deployment.program, "--version"], env={**kept, name: value}, capture_output=True, text=True, check=False
        )
        want_equal((done.returncode, done.stderr), (0, ""), f"{file.name}: {name}={value}")
        tried += 1
    want(tried >= 8, f"only {tried} values were found")


@case
def the_runbook_names_every_setting(deployment):
    """Those that the program has; what each means is printed by the program."""
    runbook = (DEPLOY / "README.md").read_text()
    missing = [name for name in sorted(deployment.known) if name not in runbook]
    want(not missing, f"not in deploy/README.md: {missing}")


def main():
    program = os.path.abspath(sys.argv[1] if len(sys.argv) > 1 else "build/smallend")
    tally = Tally()
    tally.run_all(sys.modules[__name__], Deployment(program))
    return tally.finish()


if __name__ == "__main__":
    sys.exit(main())
