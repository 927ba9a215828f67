#!/usr/bin/env python3
"""Millions of mixed requests, good and bad, at one service: every status as it should be, and nothing that grows.

    soak.py PROGRAM [--requests N] [--connections N]

Needs wrk. After a warm-up, memory and open files are looked at again and again while nothing is asked; neither may
grow. Ends with "N passed, N failed".
"""

import argparse
import base64
import json
import os
import pathlib
import re
import socket
import subprocess
import sys
import tempfile
import time
import urllib.parse

HERE = pathlib.Path(__file__).resolve().parent
PROJECT = HERE.parents[1]
sys.path.insert(0, str(PROJECT / "tests/e2e"))
from service import Client, environment  # noqa: E402

JOBS = {path.stem: path.read_bytes() for path in sorted((PROJECT / "fixtures/jobs").glob("*.json"))}
CALLS = ("check", "load", "strength", "slot", "set-screw", "fit", "material", "inspection", "turning", "order")
SLICE_S = 15
SETTLE_S = 2.5  # longer than an idle connection is kept
MEMORY_SLACK_KB = 2048
MEMORY_GROWTH = 1.03


def http(method, path, body=None, status=200, headers=()):
    head = [f"{method} {path} HTTP/1.1", "Host: soak", *(f"{name}: {value}" for name, value in headers)]
    if body is not None:
        if not any(name == "Content-Type" for name, _ in headers):
            head.append("Content-Type: application/json")
        head.append(f"Content-Length: {len(body)}")
    return ("\r\n".join(head) + "\r\n\r\n").encode() + (body or b""), status


def good_requests():
    for call in CALLS:
        for name, job in JOBS.items():
            yield http("POST", f"/v1/{call}", job)
        for form in ("md", "txt", "html"):
            yield http("POST", f"/v1/{call}?format={form}", JOBS["pump-engine"])
    for form in ("svg", "html"):
        yield http("POST", f"/v1/check?format={form}", JOBS["deep-slot"])
    yield http("POST", "/v1/load?trace=360", JOBS["pump-engine"])
    yield http("POST", "/v1/load?trace=90&format=svg", JOBS["pump-engine"])
    sized = {**json.loads(JOBS["pump-engine"]), "find": {"what": "pin.steel"}}
    yield http("POST", "/v1/size", json.dumps(sized).encode())
    yield http("GET", "/v1/check?" + urllib.parse.urlencode({"engine.bore": "5.25 in", "engine.stroke": "8", "pin.diameter": "1 3/8"}))
    coded = base64.urlsafe_b64encode(JOBS["pump-engine"]).decode().rstrip("=")
    yield http("GET", f"/v1/fit?job={coded}")
    for path in ("/", "/v1/checks", "/v1/units", "/v1/sources", "/openapi.json", "/readyz", "/livez", "/metrics", "/.well-known/jwks.json"):
        yield http("GET", path)
    yield http("OPTIONS", "/v1/check", None, 204, (("Origin", "https://elsewhere.example"), ("Access-Control-Request-Method", "POST")))
    few = json.dumps({"jobs": [{"call": "fit", "job": json.loads(JOBS["pump-engine"])}, {"call": "fit", "job": {"pin": 1}}] * 3})
    yield http("POST", "/v1/batch", few.encode())


def bad_requests():
    for name, job in JOBS.items():
        yield http("POST", "/v1/check", job[: len(job) // 2], 400)
        yield http("POST", "/v1/load", job.replace(b'"bore"', b'"boar"', 1), 422 if b'"bore"' in job else 200)
    for body, status in ((b"", 400), (b"[]", 422), (b"{\"pin\":{\"diameter\":\"1 furlong\"}}", 422), (b"[" * 5000, 400),
                         (b"{\"label\":\"\xff\"}", 400), (b"{\"pin\":1,\"pin\":2}", 400), (b"nul", 400)):
        yield http("POST", "/v1/check", body, status)
    yield http("POST", "/v1/check", JOBS["pump-engine"], 415, (("Content-Type", "text/plain"),))
    yield http("POST", "/v1/check", JOBS["pump-engine"], 406, (("Accept", "image/png"),))
    yield http("POST", "/v1/units", b"{}", 405)
    yield http("GET", "/v1/nothing", None, 404)
    yield http("GET", "/v1/units/furlong", None, 404)
    yield http("GET", "/../etc/passwd", None, 404)
    yield http("GET", "/v1/check?engine.boar=1", None, 422)
    yield http("GET", "/v1/check?format=pdf", None, 406)
    yield http("POST", "/v1/order/verify", b'{"jws":"a.b.c"}', 422)
    yield http("PUT", "/v1/check", b"{}", 405)
    yield http("POST", "/v1/check", b" " * 70000, 413)


class Service:
    """The program, logging to nowhere: a log of millions of lines is not what is looked at here."""

    def __init__(self, program):
        with socket.socket() as taken:
            taken.bind(("127.0.0.1", 0))
            self.port = taken.getsockname()[1]
        self.process = subprocess.Popen([program], env=environment(listen=f"127.0.0.1:{self.port}", threads=128),
                                        stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        for _ in range(200):
            try:
                socket.create_connection(("127.0.0.1", self.port)).close()
                return
            except OSError:
                time.sleep(0.05)
        raise SystemExit("the service does not listen")

    def client(self):
        return Client(self.port)

    def stop(self):
        self.process.terminate()
        return self.process.wait(30)


def settle(service, requests):
    """Ask each once: what comes is what is due from now on, and is shown where it was expected otherwise."""
    kept, odd = [], []
    for raw, expected in requests:
        with service.client() as client:
            client.send(raw)
            status = client.reply().status
        if status != expected:
            odd.append(f"{raw[:80]!r} answers {status}, not {expected}")
        kept.append((raw, status))
    return kept, odd


def usage(service):
    folder = pathlib.Path("/proc") / str(service.process.pid)
    text = (folder / "status").read_text()
    return int(re.search(r"VmRSS:\s+(\d+)", text).group(1)), len(list((folder / "fd").iterdir())), \
        int(re.search(r"Threads:\s+(\d+)", text).group(1))


class Outcome:
    def __init__(self):
        self.passed = self.failed = 0

    def tell(self, good, words):
        self.passed, self.failed = self.passed + bool(good), self.failed + (not good)
        if not good:
            print("FAILED " + words)


def run_slice(service, file, connections, seconds):
    """(requests answered, faults) of one slice."""
    done = subprocess.run(["wrk", "-t2", f"-c{connections}", f"-d{seconds}s", "--timeout", "20s", "-s", HERE / "mixed.lua",
                           f"http://127.0.0.1:{service.port}/"], env={**os.environ, "SOAK_REQUESTS": str(file)},
                          capture_output=True, text=True, check=True)
    faults, total = [], 0
    for status, due, came in re.findall(r"^DUE (\d+) (\d+) (\d+)$", done.stdout, re.M):
        total += int(came)
        # what was on its way at the end was sent and never counted
        if not int(due) - connections - 2 <= int(came) <= int(due):
            faults.append(f"status {status} was due {due} times and came {came} times")
    lost = re.search(r"^LOST (.*)$", done.stdout, re.M).group(1)
    if lost != "0 0 0 0":
        faults.append(f"lost (connect, read, write, timeout): {lost}")
    return total, faults


def soak(service, wanted, connections, outcome):
    requests, odd = settle(service, [*good_requests(), *bad_requests()])
    outcome.tell(not odd, "single requests: " + "; ".join(odd))
    with tempfile.NamedTemporaryFile() as file:
        for raw, status in requests:
            file.write(f"{len(raw)} {status}\n".encode() + raw)
        file.flush()
        run_slice(service, file.name, connections, SLICE_S)  # the warm-up
        time.sleep(SETTLE_S)
        first = last = usage(service)
        print(f"note after the warm-up: {first[0]} kB, {first[1]} files, {first[2]} threads")
        answered, start, faults = 0, time.monotonic(), []
        while answered < wanted:
            count, more = run_slice(service, file.name, connections, SLICE_S)
            answered, faults = answered + count, faults + more
        took = time.monotonic() - start
        time.sleep(SETTLE_S)
        last = usage(service)
    print(f"note after {answered} requests of {len(requests)} kinds in {took:.0f} s: {last[0]} kB, {last[1]} files, {last[2]} threads")
    outcome.tell(not faults, "; ".join(faults[:10]))
    outcome.tell(last[0] <= first[0] * MEMORY_GROWTH + MEMORY_SLACK_KB, f"memory grew from {first[0]} to {last[0]} kB")
    outcome.tell(last[1] <= first[1], f"open files grew from {first[1]} to {last[1]}")
    outcome.tell(last[2] <= first[2], f"threads grew from {first[2]} to {last[2]}")


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("program")
    parser.add_argument("--requests", type=int, default=2_000_000)
    parser.add_argument("--connections", type=int, default=32)
    arguments = parser.parse_args()
    outcome = Outcome()
    service = Service(arguments.program)
    try:
        soak(service, arguments.requests, arguments.connections, outcome)
    finally:
        status = service.stop()
    outcome.tell(status == 0, f"the service ended with {status}")
    print(f"{outcome.passed} passed, {outcome.failed} failed")
    return 1 if outcome.failed else 0


if __name__ == "__main__":
    sys.exit(main())
