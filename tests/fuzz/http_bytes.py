#!/usr/bin/env python3
"""Sends the service bytes that are almost HTTP, over a real socket, and looks at what comes back.

    http_bytes.py [PROGRAM] [--seconds N] [--seed N] [--case N] [--at-once N]

    --seconds N   how long (10)
    --seed N      another sequence of cases (1); the same seed gives the same cases
    --case N      this case of the seed alone, shown byte for byte

Each case is one connection: a request of the list below, valid or hostile, changed at random. Every answer must be whole
and one of ours: a status that we give, and a problem document with cautions where it refuses. After each batch a healthy
client must get the same bytes as ever; at the end the service must stop in good order and have logged nothing but JSON and
no error (run it with sanitizers). Ends with "N passed, N failed", counting batches.
"""

import argparse
import concurrent.futures
import json
import os
import pathlib
import random
import socket
import struct
import sys
import time

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests" / "e2e"))

from service import Failed, Reply, Service, check_every, want  # noqa: E402  # pylint: disable=wrong-import-position

BATCH = 100
JOB = json.dumps(json.loads((ROOT / "fixtures/jobs/pump-engine.json").read_text())).encode()
SMALL = b'{"engine":{"bore":5,"stroke":8,"peak_pressure":285},"pin":{"diameter":1.25,"steel":"4140-bc"}}'
STATUSES = {200, 204, 304, 400, 404, 405, 406, 408, 411, 413, 414, 415, 417, 422, 429, 431, 501, 503, 505}


def post(path, body, *headers):
    lines = [b"POST " + path + b" HTTP/1.1", b"Host: x", b"Content-Type: application/json",
             b"Content-Length: %d" % len(body), *headers]
    return b"\r\n".join(lines) + b"\r\n\r\n" + body


def get(path, *headers, method=b"GET"):
    return b"\r\n".join([method + b" " + path + b" HTTP/1.1", b"Host: x", *headers]) + b"\r\n\r\n"


REQUESTS = [
    get(b"/"), get(b"/livez"), get(b"/readyz"), get(b"/v1/steels"), get(b"/v1/steels/4140-bc"), get(b"/v1/units/in"),
    get(b"/v1/problems/not-json"), get(b"/v1/checks/bending"), get(b"/nowhere"), get(b"*", method=b"OPTIONS"),
    get(b"/v1/check", b"Origin: https://a.example", b"Access-Control-Request-Method: POST", method=b"OPTIONS"),
    get(b"/livez", method=b"HEAD"), get(b"/v1/fit-classes", b"If-None-Match: \"x\", *"),
    get(b"/v1/check?engine.bore=5.25in&pin.diameter=1%203/8+in&units=inch&format=md"),
    get(b"/v1/load?engine.bore=5&engine.stroke=8&engine.peak_pressure=285&trace=24"),
    get(b"/v1/check?job=eyJlbmdpbmUiOnsiYm9yZSI6NX19"), get(b"/v1/check?%zz&a=%00"), get(b"/v1/check?" + b"a" * 9000),
    get(b"/v1/inspection?inspection.readings.0.size=1.3745&inspection.readings.1.size=1.3744&format=html"),
    get(b"/livez", b"traceparent: 00-0af7651916cd43dd8448eb211c80319c-b7ad6b7169203331-01"),
    get(b"http://x/livez"), get(b"/../../etc/passwd"), get(b"/%2e%2e/%00"), b"GET /livez HTTP/1.0\r\n\r\n", b"GET /livez\r\n\r\n",
    post(b"/v1/check", JOB), post(b"/v1/check", SMALL, b"Accept: text/markdown"), post(b"/v1/size?format=txt", b"{}"),
    post(b"/v1/strength", SMALL, b"Expect: 100-continue"), post(b"/v1/load?trace=12", SMALL, b"Connection: close"),
    post(b"/v1/slot", b"[[[[[[["), post(b"/v1/material", b"\xff\xfe\x00"), post(b"/v1/turning", b""),
    post(b"/v1/fit", b'{"units":"furlong"}', b"Accept: text/html;q=0.9, */*;q=0.1"),
    post(b"/v1/check", SMALL, b"Transfer-Encoding: chunked"), post(b"/v1/check", SMALL, b"Content-Length: 3"),
    b"POST /v1/check HTTP/1.1\r\nHost: x\r\nTransfer-Encoding: chunked\r\n\r\n5\r\n{   }\r\n0\r\n\r\n",
    b"POST /v1/check HTTP/1.1\r\nHost: x\r\nContent-Length: 99999999\r\n\r\n{}",
    b"POST /v1/check HTTP/1.1\r\nHost: x\r\nX: a\r\n b\r\nContent-Length: 2\r\n\r\n{}",
    get(b"/livez") + get(b"/v1/bolts") + post(b"/v1/check", SMALL), b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03",
    b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n", b"\r\n\r\n" + get(b"/livez"), b"GET / HTTP/1.1\r\n" + b"A: b\r\n" * 80 + b"\r\n",
]
TOKENS = [
    b"\r\n", b"\n", b"\r", b"\0", b" ", b"\t", b":", b"%", b"?", b"&", b"=", b"/", b"{", b"}", b"[", b'"', b"\\u0000", b"\xff",
    b"\xe2\x80\xae", b"HEAD ", b"GET ", b"POST ", b" HTTP/1.1", b" HTTP/1.0", b" HTTP/9.9", b"\r\n\r\n", b"Content-Length: 0\r\n",
    b"Content-Length: -1\r\n", b"Content-Length: 18446744073709551616\r\n", b"Transfer-Encoding: chunked\r\n", b"Connection: close\r\n",
    b"Connection: keep-alive\r\n", b"Expect: 100-continue\r\n", b"Accept: image/svg+xml\r\n", b"Host: y\r\n", b"Upgrade: websocket\r\n",
    b"Sec-WebSocket-Key: x\r\n", b"Range: bytes=0-1\r\n", b"Authorization: Basic x\r\n", b"Origin: null\r\n", b"Cookie: a=b\r\n",
    b"1e999", b"-0", b"format=json", b"job=", b"a" * 300, b"%41" * 100, b"[" * 40, b"9" * 400,
]


def mutate(rng):
    """A request and what was done to it, by a generator of random numbers alone: to its bytes anywhere, or, so that it gets
    further, only to a body, whose length is told right, or to a path and query."""
    whole = rng.choice(REQUESTS)
    head, end, body = whole.partition(b"\r\n\r\n")
    length = b"Content-Length: %d" % len(body)
    if rng.random() < 0.6:
        return change(whole, rng, (0, 1, 1, 2, 3, 6))[:200_000]
    if length in head:
        body = change(body, rng, (1, 1, 2, 4))[:60_000]
        return head.replace(length, b"Content-Length: %d" % len(body)) + end + body
    method, blank, rest = whole.partition(b" ")
    target, version, rest = rest.partition(b" HTTP/1.1")
    target = bytes(byte for byte in change(target, rng, (1, 1, 2, 4)) if 0x21 <= byte < 0x7F)
    return method + blank + target + version + rest


def change(whole, rng, times):
    data = bytearray(whole)
    for _ in range(rng.choice(times)):
        at, length = rng.randrange(len(data) + 1), rng.randrange(1, 1 + min(40, len(data) or 1))
        kind = rng.randrange(8)
        if kind == 0 and at < len(data):
            data[at] ^= 1 << rng.randrange(8)
        elif kind == 1:
            data[at:at] = rng.choice(TOKENS)
        elif kind == 2:
            del data[at:at + length]
        elif kind == 3:
            data[at:at] = data[at:at + length] * rng.randrange(1, 30)
        elif kind == 4:
            data[at:at + length] = rng.randbytes(length)
        elif kind == 5:
            data[at:] = rng.choice(REQUESTS)[rng.randrange(20):]
        elif kind == 6:
            line = data.find(b"\r\n", at)
            data[line + 2 if line >= 0 else at:0] = rng.choice(TOKENS)
        elif rng.random() < 0.3:
            del data[at:]
    return bytes(data)


def exchange(port, data, rng):
    """All that comes back, and whether the connection was reset under it."""
    with socket.create_connection(("127.0.0.1", port), timeout=20) as client:
        if rng.random() < 0.03:  # gone before the answer, with a reset
            client.sendall(data)
            client.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
            return b"", True
        try:
            pieces = [data]
            if rng.random() < 0.1 and len(data) > 2:
                cut = rng.randrange(1, len(data))
                pieces = [data[:cut], data[cut:]]
            for piece in pieces:
                client.sendall(piece)
            client.shutdown(socket.SHUT_WR)
        except OSError:  # it has answered and closed already
            pass
        got = b""
        try:
            while piece := client.recv(65536):
                got += piece
        except ConnectionResetError:
            return got, True
        return got, False


def check_answers(data, got, reset):
    """Every answer is whole and one of ours."""
    heads = b"HEAD" in data
    while got:
        want(got.startswith(b"HTTP/1.1 "), f"no HTTP: {got[:200]!r}")
        head, end, rest = got.partition(b"\r\n\r\n")
        if not end:
            want(reset, f"a head cut off: {got[:300]!r}")
            return
        lines = head.decode("latin-1").split("\r\n")
        status = int(lines[0].split(" ")[1])
        headers = [tuple(part.strip() for part in line.split(":", 1)) for line in lines[1:]]
        if status == 100:
            want(not headers, f"an interim answer with headers: {headers}")
            got = rest
            continue
        reply = Reply(status, headers, b"")
        want(status in STATUSES, f"status {status}: {rest[:300]!r}")
        length = 0 if status in (204, 304) else int(reply.get("Content-Length"))
        if heads and (not rest or rest.startswith(b"HTTP/1.1 ")):
            length = 0
        if len(rest) < length:
            want(reset, f"{len(rest)} bytes of a body of {length}: {rest[:300]!r}")
            return
        reply.body, got = rest[:length], rest[length:]
        check_every(reply)


def run_case(port, seed, number):
    """None if all is well, else what is not."""
    rng = random.Random(f"{seed}:{number}")
    data = mutate(rng)
    try:
        check_answers(data, *exchange(port, data, rng))
    except (Failed, ValueError, KeyError, TypeError, OSError) as failure:
        return f"case {number} of seed {seed}: {failure!r}\n    {data[:2000]!r}"
    return None


def healthy(service):
    """What an honest client gets."""
    reply = service.ask("POST", "/v1/check", JOB)
    want(reply.status == 200 and service.ask("GET", "/livez").status == 200, f"an honest client gets {reply}")
    return reply.body


def run_batches(service, asked):
    passed, failures, number = 0, [], 0
    wanted, end = healthy(service), time.monotonic() + asked.seconds
    with concurrent.futures.ThreadPoolExecutor(asked.at_once) as pool:
        while time.monotonic() < end and len(failures) < 10:
            cases = range(number, number + BATCH)
            bad = [text for text in pool.map(lambda case: run_case(service.port, asked.seed, case), cases) if text]
            number += BATCH
            try:
                want(healthy(service) == wanted, "an honest client gets another answer than before")
            except (Failed, OSError) as failure:
                bad.append(f"after case {number - 1} of seed {asked.seed}: {failure!r}")
                failures += bad
                break
            passed += not bad
            failures += bad
    print(f"note {number} requests")
    return passed, failures


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("program", nargs="?", default="build-tests/smallend")
    parser.add_argument("--seconds", type=float, default=10)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--case", type=int)
    parser.add_argument("--at-once", type=int, default=6)
    asked = parser.parse_args()
    service = Service(os.path.abspath(asked.program), threads=16)
    if asked.case is not None:
        print(mutate(random.Random(f"{asked.seed}:{asked.case}")))
        failures = [text for text in [run_case(service.port, asked.seed, asked.case)] if text]
        passed = not failures
    else:
        passed, failures = run_batches(service, asked)
    try:
        service.close()
        passed += 1
    except Failed as failure:
        failures.append(f"at the end: {failure}")
    for failure in failures:
        print("FAILED " + failure)
    print(f"{passed} passed, {len(failures)} failed")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
