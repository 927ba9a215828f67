#!/usr/bin/env python3
"""Refuses the running service its allocations, one at a time: the first of a request, the second, and so on.

    no_memory.py [PROGRAM] [--most N]     a plain build: sanitizers bring an allocator of their own

    --most N   at most so many allocations of one request, evenly spread (150)

What a client may see of it is an answer, a problem, or a closed connection; the next client gets what it always got. Needs a
C compiler. Ends with "N passed, N failed", one for each kind of request and one for the end of the service.
"""

import argparse
import mmap
import os
import pathlib
import struct
import subprocess
import sys
import tempfile

from service import Client, Failed, Service, want, want_equal

HERE = pathlib.Path(__file__).resolve().parent
JOB = (HERE.parents[1] / "fixtures/jobs/pump-engine.json").read_bytes()


def post(path, body, *headers):
    lines = [f"POST {path} HTTP/1.1", "Host: x", "Content-Type: application/json", f"Content-Length: {len(body)}", *headers]
    return "\r\n".join([*lines, "Connection: close", "", ""]).encode() + body


def get(path, *headers):
    return "\r\n".join([f"GET {path} HTTP/1.1", "Host: x", *headers, "Connection: close", "", ""]).encode()


REQUESTS = {
    "a job": post("/v1/check", JOB, "Origin: https://a.example"),
    "a job, as a page": post("/v1/check?format=html", JOB),
    "a job with curves": post("/v1/load?trace=24", JOB),
    "a job with faults": post("/v1/check", b'{"engine":{"bore":"5 furlong","storke":8}}'),
    "no JSON": post("/v1/check", b'{"a":[1,'),
    "a link": get("/v1/check?engine.bore=5.25in&engine.stroke=8&engine.peak_pressure=285&pin.diameter=1.375&format=md"),
    "a link with a document": get("/v1/check?job=eyJlbmdpbmUiOnsiYm9yZSI6NX19"),
    "a table": get("/v1/steels"),
    "a row of a table": get("/v1/steels/4140-bc", "If-None-Match: \"x\""),
    "no such path": get("/nowhere"),
}
MAY_BE = (500, 503)


def ask(service, request):
    """The answer, None for a closed connection."""
    with Client(service.port) as client:
        try:
            return client.send(request).reply()
        except (ConnectionResetError, BrokenPipeError):
            return None


def refuse_each(service, counter, request, most):
    """How many allocations the request makes, each refused once (or some, evenly spread)."""
    whole = ask(service, request)
    want(whole is not None and whole.status < 500, f"without any refusal: {whole}")
    counter[:] = struct.pack("=I", 0x7FFFFFFF)
    ask(service, request)
    made = 0x7FFFFFFF - struct.unpack("=I", counter[:])[0]
    for n in range(1, made + 1, max(1, made // most)):
        counter[:] = struct.pack("=I", n)
        reply = ask(service, request)
        counter[:] = struct.pack("=I", 0)
        if reply is not None and reply.status != whole.status:
            want(reply.status in MAY_BE, f"allocation {n} of {made} refused: {reply}")
        elif reply is not None and (reply.get("Content-Type") or "").endswith("json"):
            want_equal(reply.body, whole.body, f"the answer with allocation {n} of {made} refused")
        want(service.process.poll() is None, f"the service is gone after allocation {n} of {made} was refused")
        again = ask(service, request)
        want(again is not None, f"the next client gets nothing after allocation {n} of {made} was refused")
        want_equal((again.status, again.body), (whole.status, whole.body), "what the next client gets")
    return made


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("program", nargs="?", default="build/smallend")
    parser.add_argument("--most", type=int, default=150)
    asked = parser.parse_args()
    outcomes = {}
    with tempfile.TemporaryDirectory() as folder:
        library, number = os.path.join(folder, "no_memory.so"), os.path.join(folder, "number")
        subprocess.run([os.environ.get("CC", "cc"), "-std=gnu11", "-O1", "-Wall", "-Wextra", "-fPIC", "-shared", "-o", library,
                        str(HERE / "no_memory.c")], check=True)
        with open(number, "w+b") as file:
            file.write(bytes(mmap.PAGESIZE))
            file.flush()
            counter = memoryview(mmap.mmap(file.fileno(), 4))
            os.environ.update(LD_PRELOAD=library, NO_MEMORY_FILE=number)
            service = Service(os.path.abspath(asked.program), threads=8)
            del os.environ["LD_PRELOAD"]
            for name, request in REQUESTS.items():
                try:
                    made = refuse_each(service, counter, request, asked.most)
                    outcomes[name] = None if made > 0 else "it makes no allocation: nothing was tried"
                    print(f"note {name}: {made} allocations")
                except (Failed, OSError) as failure:
                    outcomes[name] = repr(failure)
            service.signal()
            status = service.wait()
            outcomes["its end"] = None if status == 0 else f"the service ended with status {status}"
    for name, failure in outcomes.items():
        if failure:
            print(f"FAILED {name}: {failure}")
    failed = sum(1 for failure in outcomes.values() if failure)
    print(f"{len(outcomes) - failed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
