"""What the service counts, as Prometheus reads it."""

import os
import pathlib
import re
import shutil
import signal
import subprocess
import time

from cases_answers import JOB
from certificates import Authority
from service import Service, want, want_equal

LINE = re.compile(r'([a-z_]+)(?:\{((?:[a-z]+="[^"\\]*",?)+)\})? (\S+)')


def scrape(service, port=None):
    """{(name, {label, ...}): value}; each series once."""
    reply = service.ask("GET", "/metrics", port=port)
    want_equal(reply.status, 200, "status")
    want_equal(reply.get("Content-Type"), "text/plain; version=0.0.4; charset=utf-8", "type")
    want_equal(reply.get("Access-Control-Allow-Origin"), None, "Access-Control-Allow-Origin")
    series = {}
    for line in reply.body.decode().splitlines():
        if not line.startswith("#"):
            found = LINE.fullmatch(line)
            want(found, f"no sample: {line}")
            key = found.group(1), frozenset(re.findall(r'([a-z]+)="([^"]*)"', found.group(2) or ""))
            want(key not in series, f"twice: {line}")
            series[key] = float(found.group(3))
    return series


def value(series, name, **labels):
    return series.get((name, frozenset(labels.items())), 0)


def eventually(service, rule, what):
    """A request is counted once its answer is out, so a client may be quicker."""
    end = time.monotonic() + 5
    while True:
        series = scrape(service)
        if rule(series):
            return series
        want(time.monotonic() < end, f"{what}: {series}")
        time.sleep(0.05)


def promtool():
    cache = os.environ.get("SMALLEND_CACHE") or pathlib.Path(__file__).resolve().parents[2] / ".cache"
    found = shutil.which("promtool") or shutil.which("promtool", path=str(pathlib.Path(cache) / "tools"))
    want(found, "there is no promtool: deploy/setup.sh --tests fetches it")
    return found


def prometheus_takes_the_text(program):
    """Checked by Prometheus's own tool, which also knows its naming rules, with as many series as can be had."""
    with Authority() as authority, Service(program, listen="127.0.0.1:0,127.0.0.1:0s", admin_listen="127.0.0.1:0",
                                           **authority.issue("one").settings) as service:
        for method, path, body in (("GET", "/", None), ("POST", "/v1/check", JOB), ("POST", "/v1/check", b"{"),
                                   ("OPTIONS", "/v1/load", None), ("HEAD", "/v1/units", None), ("GET", "/nowhere", None),
                                   ("DELETE", "/v1/check", None), ("GET", "/v1/steels/1045-hr", None)):
            service.ask(method, path, body)
        text = service.ask("GET", "/metrics").body
        done = subprocess.run([promtool(), "check", "metrics"], input=text, capture_output=True, timeout=60, check=False)
        want_equal((done.returncode, done.stdout + done.stderr), (0, b""), "promtool check metrics")


def requests_are_counted_by_route_method_and_status(program):
    name = "smallend_http_requests_total"
    with Service(program) as service:
        for _ in range(3):
            service.ask("POST", "/v1/check", JOB)
        service.ask("POST", "/v1/check", b"{")
        service.ask("GET", "/v1/steels/1045-hr")
        service.ask("GET", "/v1/steels/4140-ann")
        service.ask("HEAD", "/v1/units")
        service.ask("DELETE", "/v1/check")
        for path in ("/a", "/b?c=d", "/v1/steels/a/b"):
            service.ask("GET", path)
        service.raw(b"no HTTP\r\n\r\n")
        series = eventually(service, lambda now: value(now, name, route="other", method="other", code="400") == 1, "requests")
        for wanted, route, method, code in (
            (3, "/v1/check", "POST", "200"),
            (1, "/v1/check", "POST", "400"),
            (1, "/v1/check", "other", "405"),
            (2, "/v1/steels/{id}", "GET", "200"),
            (1, "/v1/units", "HEAD", "200"),
            (3, "other", "GET", "404"),
        ):
            want_equal(value(series, name, route=route, method=method, code=code), wanted, f"{method} {route} {code}")
        routes = {dict(labels)["route"] for key, labels in series if key == name}
        want(routes <= {"/", "/livez", "/readyz", "/metrics", "/v1/check", "/v1/steels/{id}", "/v1/units", "other"}, f"{routes}")


def durations_make_a_histogram(program):
    name = "smallend_http_request_duration_seconds"
    with Service(program) as service:
        for _ in range(5):
            service.ask("POST", "/v1/check", JOB)
        with service.client() as client:  # one that takes its time
            client.send("POST /v1/check HTTP/1.1\r\nHost: x\r\nConnection: close\r\nContent-Length: 2\r\n\r\n{")
            time.sleep(0.3)
            client.send("}")
            client.reply()
        series = eventually(service, lambda now: value(now, name + "_count", route="/v1/check") == 6, "count")
        bounds = ["0.00025", "0.0005", "0.001", "0.0025", "0.005", "0.01", "0.025", "0.05", "0.1", "0.25", "1", "+Inf"]
        counts = [value(series, name + "_bucket", route="/v1/check", le=bound) for bound in bounds]
        want_equal(counts, sorted(counts), "buckets that only grow")
        want_equal(counts[-1], 6, "the last bucket")
        want(counts[bounds.index("0.25")] <= 5 and value(series, name + "_sum", route="/v1/check") >= 0.3, f"{counts}")


def verdicts_and_problems_are_counted(program):
    with Service(program) as service:
        verdict = service.ask("POST", "/v1/check", JOB).document["verdict"]
        service.ask("POST", "/v1/load", b"{}")
        service.ask("POST", "/v1/check", b"{")
        service.ask("POST", "/v1/check", b'{"boer": 1}')
        service.ask("GET", "/v1/steels/nickel")
        service.ask("GET", "/nowhere")
        series = eventually(service, lambda now: value(now, "smallend_problems_total", type="not-found") == 2, "problems")
        want_equal(value(series, "smallend_verdicts_total", call="check", verdict=verdict), 1, verdict)
        want_equal(value(series, "smallend_verdicts_total", call="load", verdict="incomplete"), 1, "incomplete")
        want_equal(sum(count for (name, _), count in series.items() if name == "smallend_verdicts_total"), 2, "all verdicts")
        for problem in ("not-json", "invalid-job"):
            want_equal(value(series, "smallend_problems_total", type=problem), 1, problem)
        want_equal(sum(count for (name, _), count in series.items() if name == "smallend_problems_total"), 4, "all problems")


def entries_of_a_batch_are_counted(program):
    batch = b'{"jobs": [{"call": "load"}, {"call": "load"}, {"call": "fit", "job": {"boer": 1}}, {"call": "nothing"}]}'
    with Service(program) as service:
        statuses = [entry["status"] for entry in service.ask("POST", "/v1/batch", batch).document["answers"]]
        series = eventually(service, lambda now: value(now, "smallend_http_requests_total", route="/v1/batch",
                                                       method="POST", code="200") == 1, "the batch")
        want_equal(value(series, "smallend_verdicts_total", call="load", verdict="incomplete"), 2, "verdicts")
        count = sum(number for (name, _), number in series.items() if name == "smallend_problems_total")
        want_equal((statuses[:2], count), ([200, 200], 2), f"problems, of {statuses}")


def connections_and_requests_under_way_are_shown(program):
    with Service(program, threads=16, admin_listen="127.0.0.1:0") as service:
        clients = [service.client() for _ in range(3)]
        for client in clients[:2]:
            client.send("POST /v1/check HTTP/1.1\r\nHost: x\r\nContent-Length: 2\r\n\r\n{")
        time.sleep(0.3)
        series = scrape(service, service.admin_port)
        want_equal(value(series, "smallend_connections_open", listener="public"), 3, "open")
        want_equal(value(series, "smallend_connections_open", listener="admin"), 1, "open, its own")
        want_equal(value(series, "smallend_connections_limit", listener="public"), 16, "limit")
        want_equal(value(series, "smallend_http_requests_in_flight"), 3, "in flight, this one too")
        for client in clients[:2]:
            client.send("}")
            client.reply()
        for client in clients:
            client.socket.close()
        eventually(service, lambda now: value(now, "smallend_connections_open", listener="public") == 1, "once they are gone")


def an_answer_to_what_is_no_request_is_under_way_too(program):
    """So that a stop waits for it. It is for half a second: what the client may yet send is read, lest the answer be
    lost."""
    with Service(program) as service:
        for _ in range(10):
            with service.client() as client:
                client.send("this is no request\r\n\r\n")
                want_equal(client.reply().status, 400, "status")
                if value(scrape(service), "smallend_http_requests_in_flight") == 2:
                    break
        else:
            want(False, "never in flight")
        eventually(service, lambda now: value(now, "smallend_http_requests_in_flight") == 1, "once it is read")


def bytes_are_counted(program):
    with Service(program) as service:
        before = scrape(service)
        service.ask("POST", "/v1/check", JOB)
        grown = eventually(service, lambda now: value(now, "smallend_request_body_bytes_total") > 0, "bodies")
        want_equal(value(grown, "smallend_request_body_bytes_total"), len(JOB), "bodies")
        name = "smallend_answer_bytes_total"
        want(value(grown, name) - value(before, name) > 5000, f"answers {value(before, name)} to {value(grown, name)}")


def handshakes_reloads_and_expiry_are_shown(program):
    with Authority() as authority:
        identity = authority.issue("one", ends_in_s=86400)
        ends = time.time() + 86400
        with Service(program, listen="127.0.0.1:0,127.0.0.1:0s", **identity.settings) as service:
            series = scrape(service)
            want_equal(value(series, "smallend_tls_handshake_failures_total"), 0, "failures at first")
            want(abs(value(series, "smallend_tls_certificate_expiry_timestamp_seconds") - ends) < 60, "expiry")
            for _ in range(3):
                with service.client(service.ports[1], tls=None) as stranger:
                    stranger.send("GET / HTTP/1.0\r\n\r\n")
                    while stranger.more():
                        pass
            eventually(service, lambda now: value(now, "smallend_tls_handshake_failures_total") == 3, "failures")
            service.signal(signal.SIGHUP)
            eventually(service, lambda now: value(now, "smallend_reloads_total", outcome="taken") == 1, "taken")
            identity.key.write_text("")
            service.signal(signal.SIGHUP)
            series = eventually(service, lambda now: value(now, "smallend_reloads_total", outcome="kept") == 1, "kept")
            want_equal(value(series, "smallend_reloads_total", outcome="taken"), 1, "taken, still")


def a_drain_shows(program):
    service = Service(program, drain_delay_ms=1500, admin_listen="127.0.0.1:0")
    want_equal(value(scrape(service), "smallend_draining"), 0, "before")
    service.signal()
    service.logged(lambda line: line["msg"] == "draining")
    want_equal(value(scrape(service, service.admin_port), "smallend_draining"), 1, "after")
    reply = service.ask("GET", "/readyz", port=service.admin_port)
    want_equal((reply.status, reply.document["parts"]), (503, {"requests": "draining"}), "readyz")
    want_equal(service.ask("GET", "/livez", port=service.admin_port).status, 200, "livez")
    service.close()


def the_process_is_shown_as_the_system_sees_it(program):
    with Service(program) as service:
        series = scrape(service)
        want(abs(value(series, "process_start_time_seconds") - time.time()) < 60, "start")
        want(0 < value(series, "process_cpu_seconds_total") < 60, "processor time")
        status = pathlib.Path(f"/proc/{service.process.pid}/status").read_text()
        resident = 1024 * int(re.search(r"VmRSS:\s+(\d+) kB", status).group(1))
        want(0.5 < value(series, "process_resident_memory_bytes") / resident < 2, f"memory, the system says {resident}")
        files = len(os.listdir(f"/proc/{service.process.pid}/fd"))
        want(abs(value(series, "process_open_fds") - files) <= 3, f"open files, the system says {files}")
        limits = pathlib.Path(f"/proc/{service.process.pid}/limits").read_text()
        want_equal(value(series, "process_max_fds"), int(re.search(r"Max open files\s+(\d+)", limits).group(1)), "limit")


HELPERS = (scrape, value, eventually, promtool)
CASES = [case for case in list(globals().values())
         if callable(case) and getattr(case, "__module__", None) == __name__ and case not in HELPERS]
