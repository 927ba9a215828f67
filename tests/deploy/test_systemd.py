#!/usr/bin/env python3
"""The unit of systemd: how far it confines the service, by systemd's own judgement, and that its limits fit.

    test_systemd.py [PROGRAM]

Looks at files only; nothing is started. Ends with "N passed, N failed".
"""

import os
import pathlib
import re
import subprocess
import sys
import tempfile

from tally import DEPLOY, Tally, case, want, want_equal

UNIT = DEPLOY / "systemd" / "smallend.service"
USERS = DEPLOY / "systemd" / "smallend.sysusers"
MOST_EXPOSURE = 1.0  # systemd's scale goes to 10
END_S = 3


class Unit:
    def __init__(self, program):
        self.program = program
        self.text = UNIT.read_text()
        printed = subprocess.run([program, "--print", "settings"], capture_output=True, text=True, check=True).stdout
        self.defaults = dict(re.findall(r"^(SMALLEND_\w+) .*\n.*\n +default: (\S+)", printed, re.MULTILINE))

    def value(self, name):
        (found,) = re.findall(rf"^{name}=(.*)$", self.text, re.MULTILINE)
        return found

    def exposure(self, text):
        """The grade, and whether it is within the limit."""
        with tempfile.TemporaryDirectory() as folder:
            file = pathlib.Path(folder) / "smallend.service"
            file.write_text(text)
            done = subprocess.run(
                [
                    "systemd-analyze",
                    "security",
                    "--offline=true",
                    "--no-pager",
                    f"--threshold={round(MOST_EXPOSURE * 10)}",
                    str(file),
                ],
                capture_output=True,
                text=True,
                check=False,
                env={**os.environ, "LC_ALL": "C"},
            )
        found = re.search(r"Overall exposure level for \S+: ([0-9.]+)", done.stdout)
        want(found, done.stdout[-500:] + done.stderr)
        return float(found.group(1)), done.returncode == 0


@case
def it_is_confined(unit):
    grade, within = unit.exposure(unit.text)
    print(f"note exposure of smallend.service by systemd-analyze: {grade}")
    want(within and grade <= MOST_EXPOSURE, f"exposure {grade}")


@case
def a_unit_less_confined_is_noticed(unit):
    _, within = unit.exposure(unit.text.replace("CapabilityBoundingSet=\n", "").replace("NoNewPrivileges=yes\n", ""))
    want(not within, "it was not")


@case
def systemd_can_read_it(unit):
    """With the program where it is here, as systemd wants to see it; as a template, by way of an instance, too."""
    with tempfile.TemporaryDirectory() as folder:
        for name in ("smallend.service", "smallend@.service"):
            file = pathlib.Path(folder) / name
            file.write_text(unit.text.replace("/usr/local/bin/smallend", unit.program))
            asked = str(file).replace("@.", "@b.")
            done = subprocess.run(
                ["systemd-analyze", "verify", "--man=no", asked], capture_output=True, text=True, check=False
            )
            own = [line for line in done.stderr.splitlines() if "smallend" in line]
            want_equal((done.returncode, own), (0, []), f"systemd-analyze verify {name}")


@case
def the_program_is_told_to_reload_by_a_signal(unit):
    want_equal(unit.value("ExecReload"), "/bin/kill -HUP $MAINPID", "ExecReload")
    want("/usr/bin/kill" in unit.value("ExecPaths").split(), "kill itself may not be run")


@case
def it_has_the_time_to_stop(unit):
    needed = sum(int(unit.defaults[f"SMALLEND_DRAIN_{name}_MS"]) for name in ("DELAY", "LIMIT")) / 1000 + END_S
    want(int(unit.value("TimeoutStopSec")) > needed, f"it may take {needed} s")


@case
def it_may_have_its_threads_and_files(unit):
    threads = int(unit.defaults["SMALLEND_THREADS"])
    want(int(unit.value("TasksMax")) > threads + 16, "TasksMax")
    want(int(unit.value("LimitNOFILE")) > 2 * threads + 512, "LimitNOFILE")


@case
def its_user_is_made_by_the_file_beside_it(unit):
    (made,) = re.findall(r"^u (\S+) - ", USERS.read_text(), re.MULTILINE)
    want_equal((unit.value("User"), unit.value("Group")), (made, made), "user and group")


def main():
    program = os.path.abspath(sys.argv[1] if len(sys.argv) > 1 else "build/smallend")
    tally = Tally()
    tally.run_all(sys.modules[__name__], Unit(program))
    return tally.finish()


if __name__ == "__main__":
    sys.exit(main())
