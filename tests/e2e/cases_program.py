"""The program on the command line."""

import json
import os
import re
import subprocess

from cases_answers import CALLS, FIXTURES, JOB, TABLES
from service import Service, want, want_equal


def run(program, *arguments, job=b"", environment=()):
    settings = {name: value for name, value in os.environ.items() if not name.startswith("SMALLEND_")}
    settings.update(environment)
    return subprocess.run([program, *arguments], input=job, env=settings, capture_output=True, timeout=60, check=False)


def it_answers_a_job_from_standard_input(program):
    for call in CALLS:
        done = run(program, "--" + call, job=JOB)
        verdict = json.loads(done.stdout)["verdict"]
        want_equal(done.returncode, {"ok": 0, "marginal": 1, "fails": 2, "incomplete": 3}[verdict], f"status of {call}")


def its_answer_is_the_service_s(program):
    with Service(program) as service:
        want_equal(run(program, "--check", job=JOB).stdout, service.ask("POST", "/v1/check", JOB).body, "JSON")
        # the service alone has an address, so its text has a link
        text = re.sub(rb": </v1/check[^>]*>", b"", service.ask("POST", "/v1/check?format=md", JOB).body)
        want_equal(run(program, "--check", "--format=md", job=JOB).stdout, text, "Markdown")


def its_status_tells_the_verdict(program):
    deep = (FIXTURES / "jobs" / "deep-slot.json").read_bytes()
    want_equal(run(program, "--check", job=deep).returncode, 2, "a slot too deep")
    want_equal(run(program, "--check", job=b"{}").returncode, 3, "an empty job")


def bad_input_ends_with_64(program):
    for job in (b"", b"{", b'{"boer": 1}', b"{" + b" " * 70000 + b"}"):
        done = run(program, "--check", job=job)
        want_equal(done.returncode, 64, f"{job[:20]}")
        want(done.stdout or done.stderr, "no word about it")
    want("errors" in json.loads(run(program, "--check", job=b'{"boer": 1}').stdout), "no errors listed")


def wrong_options_end_with_64_and_a_sentence(program):
    for arguments in (["--chekc"], ["check"], ["--"], ["--threads"], ["--threads=0"], ["--threads", "many"],
                      ["--format", "pdf"],
                      ["--print", "nothing"], ["--listen", "127.0.0.1:8080r"], ["--log=xml"]):
        done = run(program, *arguments)
        want_equal(done.returncode, 64, f"{arguments}")
        want(done.stderr.startswith(b"smallend: ") and not done.stdout, f"{arguments}: {done}")
    done = run(program, "--version", environment={"SMALLEND_THREADS": "no"})
    want(done.returncode == 64 and b"SMALLEND_THREADS" in done.stderr, f"{done}")


def it_prints_its_tables(program):
    for table in TABLES:
        want(json.loads(run(program, "--print", table).stdout)[table.replace("-", "_")], table)


def it_prints_its_settings(program):
    done = run(program, "--threads", "32", "--print", "settings", environment={"SMALLEND_MAX_BODY": "4096"})
    text = done.stdout.decode()
    for name in ("LISTEN", "ADMIN_LISTEN", "THREADS", "MAX_BODY", "MAX_BATCH", "MAX_BATCHES", "BATCH_LIMIT_MS",
                 "DRAIN_DELAY_MS", "DRAIN_LIMIT_MS", "LOG", "CORS_ORIGINS", "TLS_CERT", "TLS_KEY", "TLS_CLIENT_CA", "TLS_CLIENT",
                 "TLS_HSTS_S"):
        option = "--" + name.lower().replace("_", "-")
        want(f"SMALLEND_{name}  {option}\n" in text, name)
    want("value: 32" in text and "value: 4096" in text, text)


def it_says_what_it_is(program):
    want(run(program, "--version").stdout.startswith(b"smallend "), "version")
    help_text = run(program, "--help").stdout.decode()
    for call in CALLS:
        want(f"--{call}" in help_text, call)


def it_asks_a_service_whether_it_is_ready(program):
    """By the settings of that service: on the port of the probes where there is one, and never by TLS."""
    with Service(program, admin_listen="127.0.0.1:0", drain_delay_ms=3000) as service:
        own, admin = f"0.0.0.0:{service.port}", f"[::1]:1s,127.0.0.1:{service.admin_port}"
        for settings in (("--listen", own), ("--listen", "1", "--admin-listen", admin)):
            done = run(program, "--probe", *settings)
            want_equal((done.returncode, done.stdout, done.stderr), (0, b"", b""), f"ready, {settings}")
        service.signal()
        service.logged(lambda line: line["msg"] == "draining")
        done = run(program, "--probe", "--listen", own)
        want_equal(done.returncode, 1, "status while it drains")
        want(b"answers with status 503" in done.stderr, done.stderr)
    done = run(program, "--probe", "--listen", own)
    want_equal(done.returncode, 1, "status where nobody listens")
    want(b"nothing that answers on 127.0.0.1" in done.stderr, done.stderr)
    want_equal(run(program, "--probe", "--listen", "127.0.0.1:0,8443s").returncode, 1, "status where there is nothing to ask")


def it_notices_that_nobody_takes_its_answer(program):
    done = subprocess.run(["bash", "-c", '"$0" --print units > /dev/full', program], capture_output=True,
                          timeout=30, check=False)
    want_equal(done.returncode, 70, "status")


CASES = [value for value in list(globals().values())
         if callable(value) and value.__module__ == __name__ and value is not run]
