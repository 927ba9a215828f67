#!/usr/bin/env python3
"""A healthy client beside slow and many ones, at one service without a proxy.

    slow.py PROGRAM [--seconds N]

Each attack is measured between two quiet stretches; the healthy client asks on a connection of its own each time. Every one
of its requests must be answered as ever, and memory stays within what the threads may take; the ratio of the 99th
percentiles is told. Needs slowhttptest. Ends with "N passed, N failed".
"""

import argparse
import contextlib
import multiprocessing
import pathlib
import re
import resource
import selectors
import socket
import subprocess
import sys
import time

HERE = pathlib.Path(__file__).resolve().parent
PROJECT = HERE.parents[1]
sys.path.insert(0, str(PROJECT / "tests/e2e"))
from service import Client, Service  # noqa: E402

JOB = (PROJECT / "fixtures/jobs/pump-engine.json").read_bytes()
POST = b"POST /v1/check HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: %d\r\n" % len(JOB)
CURVES = b"POST /v1/load?trace=1440 HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n" % len(JOB)
THREADS = 256
MEMORY_MB = 128  # README: what 256 threads may take together


def ask(port):
    """Seconds that one answer takes, its connection included."""
    start = time.monotonic()
    with Client(port) as client:
        client.send(POST + b"Connection: close\r\n\r\n" + JOB)
        reply = client.reply()
    if reply.status != 200 or not reply.body.endswith(b"}\n"):
        raise OSError(f"status {reply.status}")
    return time.monotonic() - start


def healthy(port, seconds):
    """(99th percentile, median) in ms, requests, failures."""
    times, failed, end = [], 0, time.monotonic() + seconds
    while time.monotonic() < end:
        try:
            times.append(ask(port))
        except (OSError, ValueError) as error:
            failed += 1
            print(f"  failed: {error!r}")
        time.sleep(0.005)
    times.sort()
    return 1000 * times[int(len(times) * 0.99)], 1000 * times[len(times) // 2], len(times) + failed, failed


# ---- attacks: context managers that go on until they are left ---------------------------------------------------------


@contextlib.contextmanager
def slowhttptest(port, *options):
    command = ["slowhttptest", "-u", f"http://127.0.0.1:{port}/v1/check", "-l", "300", "-r", "200", "-p", "10", *options]
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        time.sleep(2)
        yield
    finally:
        process.kill()
        process.wait()


def slow_heads(port):
    return slowhttptest(port, "-H", "-c", "300", "-i", "1")


def slow_bodies(port):
    return slowhttptest(port, "-B", "-c", "300", "-i", "1", "-s", "8192")


def slow_readers(port):
    return slowhttptest(port, "-X", "-c", "300", "-w", "1", "-y", "8", "-n", "5", "-z", "32", "-k", "3")


def keep_a_thousand(port):
    """A thousand connections that were answered once and then stay; who is turned away comes back."""
    chooser, asked = selectors.DefaultSelector(), b"GET /livez HTTP/1.1\r\nHost: x\r\n\r\n"
    missing = 1000
    while True:
        while missing > 0:
            try:
                one = socket.create_connection(("127.0.0.1", port), 2)
                one.sendall(asked)
            except OSError:
                break
            one.setblocking(False)
            chooser.register(one, selectors.EVENT_READ)
            missing -= 1
        for key, _ in chooser.select(0.1):
            try:
                over = not key.fileobj.recv(65536)
            except BlockingIOError:
                continue
            except OSError:
                over = True
            if over:
                chooser.unregister(key.fileobj)
                key.fileobj.close()
                missing += 1
        time.sleep(0.1)


def open_and_leave(port):
    """Connections opened as fast as it goes, and left without a word."""
    held = []
    while True:
        with contextlib.suppress(OSError):
            held.append(socket.create_connection(("127.0.0.1", port), 1))
        if len(held) > 100:
            held.pop(0).close()
        time.sleep(0.001)


@contextlib.contextmanager
def processes(function, port, count):
    """In processes of their own, so that the healthy client does not wait for them in its own."""
    running = [multiprocessing.Process(target=function, args=(port,), daemon=True) for _ in range(count)]
    for process in running:
        process.start()
    try:
        time.sleep(2)
        yield
    finally:
        for process in running:
            process.kill()
            process.join()


def idle_connections(port):
    return processes(keep_a_thousand, port, 1)


def flood(port):
    return processes(open_and_leave, port, 2)


@contextlib.contextmanager
def readers_of_curves(port):
    """Who ask for much and read nothing of it."""
    held = []
    try:
        for _ in range(200):
            one = socket.socket()
            one.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 2048)
            one.connect(("127.0.0.1", port))
            one.sendall(CURVES + JOB)
            held.append(one)
        time.sleep(1)
        yield
    finally:
        for one in held:
            one.close()


ATTACKS = {"300 slow heads": slow_heads, "300 slow bodies": slow_bodies, "300 slow readers": slow_readers,
           "1000 idle connections": idle_connections, "a flood of connections": flood,
           "200 who do not read": readers_of_curves}


def memory_mb(service):
    text = pathlib.Path(f"/proc/{service.process.pid}/status").read_text()
    return int(re.search(r"VmHWM:\s+(\d+)", text).group(1)) / 1024


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("program")
    parser.add_argument("--seconds", type=float, default=8)
    arguments = parser.parse_args()
    resource.setrlimit(resource.RLIMIT_NOFILE, (8192, 8192))
    passed = failed = 0
    for what, attack in ATTACKS.items():
        with Service(arguments.program, threads=THREADS) as service:
            before = healthy(service.port, arguments.seconds / 2)
            with attack(service.port):
                during = healthy(service.port, arguments.seconds)
            time.sleep(6)  # what hangs is let go by then
            after = healthy(service.port, arguments.seconds / 2)
            used = memory_mb(service)
        quiet = max(before[0], after[0])
        print(f"note {what}: 99 % of {during[2]} within {during[0]:.1f} ms, quiet {before[0]:.1f} and {after[0]:.1f} ms "
              f"({during[0] / quiet:.1f} times), median {during[1]:.1f} and {before[1]:.1f} ms, at most {used:.0f} MB", flush=True)
        for good in (before[3] + during[3] + after[3] == 0, used < MEMORY_MB):
            passed, failed = passed + good, failed + (not good)
            if not good:
                print(f"FAILED {what}: {before[3]}, {during[3]} and {after[3]} requests failed, {used:.0f} MB")
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
