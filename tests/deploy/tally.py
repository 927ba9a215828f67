"""Cases that count for themselves: functions named as statements, which raise Failed where they do not hold."""

import pathlib
import sys
import traceback

PROJECT = pathlib.Path(__file__).resolve().parents[2]
DEPLOY = PROJECT / "deploy"
MOST_TOLD = 4000  # of one failure
sys.path.insert(0, str(PROJECT / "tests" / "e2e"))

from service import Failed, want, want_equal  # noqa: E402, F401 (the other tests here take them from this module)


def case(function):
    """Marks a case."""
    function.is_case = True
    return function


def failure_of(function, *subject):
    """None if the case holds, else what to say of it."""
    try:
        function(*subject)
        return None
    except Failed as failure:
        return str(failure)
    except Exception:  # a fault of the test, or an answer that is none
        return traceback.format_exc()


class Tally:
    """Counts, and says what failed as soon as it does."""

    def __init__(self, only=None):
        self.passed = self.failed = 0
        self.only = only  # names of the cases to run, if not all

    def run(self, function, *subject):
        if self.only and function.__name__ not in self.only:
            return
        self.take(function.__name__, failure_of(function, *subject))

    def run_all(self, module, *subject):
        """The marked cases of a module, in order."""
        for function in [value for value in vars(module).values() if getattr(value, "is_case", False)]:
            self.run(function, *subject)

    def take(self, name, failure):
        if failure is None:
            self.passed += 1
        else:
            self.failed += 1
            print(f"FAILED {name}\n    " + failure.strip().replace("\n", "\n    ")[:MOST_TOLD], flush=True)

    def finish(self):
        """The exit status."""
        print(f"{self.passed} passed, {self.failed} failed")
        return 0 if self.failed == 0 and self.passed > 0 else 1
