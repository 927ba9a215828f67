#!/usr/bin/env python3
"""Alerts, their tests, and the dashboard: that they are well formed and name nothing that the program does not tell.

    test_monitoring.py [PROGRAM]

The metrics are read from /metrics of the running program. Needs promtool (Debian package prometheus).
"""

import argparse
import itertools
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile

from proxy import make_certificate
from tally import DEPLOY, Tally, case, failure_of, want, want_equal

from service import Service

ALERTS = DEPLOY / "prometheus" / "alerts.yaml"
TESTS = DEPLOY / "prometheus" / "alerts.test.yaml"
DASHBOARD = DEPLOY / "grafana" / "smallend.json"

OF_PROMETHEUS = {"up"}
GRAFANA = {"$__rate_interval": "5m", "$job": "smallend", "$instance": ".*"}


def told_by(program, folder):
    """What /metrics tells, of a service that has a certificate, so that nothing is left out."""
    _, certificate = make_certificate(folder)
    tls = {"listen": "127.0.0.1:0,127.0.0.1:0s", "tls_cert": certificate, "tls_key": folder / "key.pem"}
    with Service(program, threads=8, **tls) as service:
        service.ask("POST", "/v1/check", b"{}")
        reply = service.ask("GET", "/metrics")
    want_equal(reply.status, 200, "status of /metrics")
    return reply.body.decode()


def names_in(told):
    """Every name of a series, those of a histogram with their endings."""
    names = set()
    for name, kind in re.findall(r"^# TYPE (\S+) (\S+)$", told, re.MULTILINE):
        endings = ("_bucket", "_sum", "_count") if kind == "histogram" else ("",)
        names.update(name + ending for ending in endings)
    return names


class Subject:
    def __init__(self, program, folder):
        self.alerts = ALERTS.read_text()
        self.names = re.findall(r"^ +- alert: (\w+)$", self.alerts, re.MULTILINE)
        self.records = set(re.findall(r"^ +- record: (\S+)$", self.alerts, re.MULTILINE))
        self.dashboard = json.loads(DASHBOARD.read_text())
        self.told = told_by(program, folder)

    def check_names(self, text, where):
        known = names_in(self.told) | self.records | OF_PROMETHEUS
        used = set(re.findall(r"\b(?:smallend|process)_\w+|\bsmallend:[\w:]+|\bup\b", text))
        want(used, f"no metric in {where}")
        want(used <= known, f"{where}: not told by the program: {sorted(used - known)}")


def promtool(*arguments):
    done = subprocess.run(["promtool", *map(str, arguments)], capture_output=True, text=True, check=False)
    want(done.returncode == 0, done.stdout + done.stderr)
    return done.stdout


def expressions(dashboard):
    """Title and expression of each query."""
    for panel in dashboard["panels"]:
        for target in panel.get("targets", []):
            yield panel["title"], target["expr"]
    for annotation in dashboard["annotations"]["list"]:
        yield annotation["name"], annotation["expr"]


@case
def the_rules_are_well_formed(subject):
    want_equal(
        f"{len(subject.names) + len(subject.records)} rules found" in promtool("check", "rules", ALERTS),
        True,
        "rules found, of those in the text",
    )


@case
def alerts_come_when_they_should_and_not_before(_):
    promtool("test", "rules", TESTS)


@case
def every_alert_is_tested_both_ways(subject):
    tested = re.findall(r"alertname: (\w+)\n +exp_alerts:( \[\])?", TESTS.read_text())
    for name in subject.names:
        want_equal(
            sorted(quiet for tested_name, quiet in tested if tested_name == name), ["", " []"], f"tests of {name}"
        )


@case
def the_runbook_explains_every_alert(subject):
    runbook = (DEPLOY / "README.md").read_text()
    told = re.findall(r"^\| `(Smallend\w+)`", runbook, re.MULTILINE)
    want_equal(sorted(told), sorted(subject.names), "alerts in deploy/README.md")


@case
def alerts_name_what_the_program_tells(subject):
    text = "\n".join(line for line in subject.alerts.splitlines() if not line.lstrip().startswith("#"))
    subject.check_names(text, "alerts.yaml")


@case
def alerts_pick_series_by_labels_that_exist(subject):
    """Of the metrics that tell all their series from the start."""
    picked = re.findall(r"(smallend_(?:problems|reloads)_total)\{(\w+=\"[^\"]+\")\}", subject.alerts)
    want(picked, "none is picked by a label")
    for name, label in picked:
        want(f"\n{name}{{{label}}} " in subject.told, f"there is no {name}{{{label}}}")


@case
def the_dashboard_names_what_the_program_tells(subject):
    for title, expression in expressions(subject.dashboard):
        subject.check_names(expression, f"panel {title}")
    for variable in subject.dashboard["templating"]["list"]:
        if variable["type"] == "query":
            subject.check_names(variable["query"]["query"], f"variable {variable['name']}")


@case
def the_dashboard_shows_every_metric(subject):
    """Of a histogram the buckets are enough."""
    text = json.dumps(subject.dashboard)
    for name in names_in(subject.told):
        want(name in text or name.endswith(("_sum", "_count")), f"{name} is shown nowhere")


@case
def the_dashboard_s_expressions_can_be_read(subject):
    with tempfile.NamedTemporaryFile("w", suffix=".yaml") as file:
        file.write("groups:\n- name: dashboard\n  rules:\n")
        for number, (_, expression) in enumerate(expressions(subject.dashboard)):
            for variable, value in GRAFANA.items():
                expression = expression.replace(variable, value)
            want("$" not in expression, f"an unknown variable in {expression}")
            file.write(f"  - record: panel{number}\n    expr: {json.dumps(expression)}\n")
        file.flush()
        promtool("check", "rules", file.name)


@case
def the_dashboard_has_its_panels_side_by_side(subject):
    panels = subject.dashboard["panels"]
    want_equal(len({panel["id"] for panel in panels}), len(panels), "ids that differ")
    taken = {}
    for panel in panels:
        place = panel["gridPos"]
        want(place["x"] + place["w"] <= 24, f"{panel['title']} is out of the page")
        for cell in itertools.product(
            range(place["x"], place["x"] + place["w"]), range(place["y"], place["y"] + place["h"])
        ):
            want(cell not in taken, f"{panel['title']} covers {taken.get(cell)}")
            taken[cell] = panel["title"]
        if panel["type"] != "row":
            want(
                all(target["datasource"]["uid"] == "${datasource}" for target in panel["targets"]),
                "a data source of one site",
            )


@case
def a_name_that_nobody_tells_is_noticed(subject):
    told = failure_of(subject.check_names, "rate(smallend_no_such_total[5m])", "a test")
    want(told and "smallend_no_such_total" in told, f"{told}")


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("program", nargs="?", default="build/smallend")
    program = os.path.abspath(parser.parse_args().program)
    tally = Tally()
    with tempfile.TemporaryDirectory(prefix="smallend-") as folder:
        tally.run_all(sys.modules[__name__], Subject(program, pathlib.Path(folder)))
    return tally.finish()


if __name__ == "__main__":
    sys.exit(main())
