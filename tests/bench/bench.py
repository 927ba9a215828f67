#!/usr/bin/env python3
"""Throughput and latency of the service beside a bare handler and a Fastify service, in alternating rounds.

    bench.py --build FOLDER --node-modules FOLDER [--quick] [--output FOLDER]

Every figure is a ratio within one run: medians over the rounds, with the smallest and the largest. Writes bench.md and
bench.svg to the output folder. run.sh builds what it needs and calls it.
"""

import argparse
import copy
import os
import pathlib
import platform
import re
import socket
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request

import picture
from picture import PARSING
from cases import CASES, MOST_JOBS, PROJECT, WHOLE_BATCH, Case, batch, job
from count import per_call

HERE = pathlib.Path(__file__).resolve().parent
THREADS = 256  # the service's default, and so the bare handler's
FEW = 8  # connections; of batches the service takes no more than twice as many at once


def free_port():
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        return taken.getsockname()[1]


class Server:
    """A process that listens on one port; `path` gives the path of a case there."""

    def __init__(self, name, command, path, environment=(), port=None, scheme="http", ready=None):
        self.name, self.path, self.scheme, self.port = name, path, scheme, port
        self.started = time.monotonic()
        self.process = subprocess.Popen(command, env={**os.environ, **dict(environment)}, stdin=subprocess.DEVNULL,
                                        stdout=subprocess.PIPE if ready else subprocess.DEVNULL,
                                        stderr=subprocess.DEVNULL)
        if ready and self.process.stdout.readline().strip() != b"ready":
            raise SystemExit(f"bench: {name} does not start")
        if scheme == "http":
            self.wait()
        elif not ready:
            time.sleep(0.5)
        self.start_s = time.monotonic() - self.started

    def below(self, name, path):
        """The same process by other paths; it is closed with this one."""
        other = copy.copy(self)
        other.name, other.path = name, path
        return other

    def wait(self):
        """Until it has answered: a socket that listens is not yet a service."""
        while time.monotonic() - self.started < 20:
            try:
                with socket.create_connection(("127.0.0.1", self.port), 5) as asking:
                    asking.sendall(b"GET /livez HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n")
                    if asking.recv(64).startswith(b"HTTP/1.1"):
                        return
            except OSError:
                time.sleep(0.0002)
        raise SystemExit(f"bench: {self.name} does not listen")

    def memory_kb(self, row="VmRSS"):
        text = pathlib.Path(f"/proc/{self.process.pid}/status").read_text()
        return int(re.search(rf"{row}:\s+(\d+)", text).group(1))

    def close(self):
        self.process.kill()
        self.process.wait()


class Bench:
    def __init__(self, build, modules, work):
        self.build, self.modules, self.work = build, modules, work
        self.certificate = None

    def make_certificate(self):
        if self.certificate is None:
            key, cert, both = (self.work / name for name in ("key.pem", "cert.pem", "both.pem"))
            subprocess.run(["openssl", "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes",
                            "-subj", "/CN=localhost", "-addext", "subjectAltName=DNS:localhost,IP:127.0.0.1", "-days",
                            "3", "-keyout", key, "-out", cert], check=True, capture_output=True)
            both.write_bytes(cert.read_bytes() + key.read_bytes())
            self.certificate = (key, cert, both)
        return self.certificate

    def service(self, tls=False):
        port = free_port()
        settings = {"SMALLEND_LISTEN": f"127.0.0.1:{port}{'s' if tls else ''}"}
        if tls:
            key, cert, _ = self.make_certificate()
            settings.update(SMALLEND_TLS_KEY=str(key), SMALLEND_TLS_CERT=str(cert))
        return Server("smallend", [self.build / "smallend"], lambda case, _: "/v1/" + case.path, settings, port,
                      "https" if tls else "http")

    def bare(self, tls=False):
        port = free_port()
        address = f"127.0.0.1:{port}{'s' if tls else ''}"
        command = [self.build / "tests/bench/bench_bare", address, str(THREADS)]
        return Server("bare", command + ([self.make_certificate()[2]] if tls else []), lambda _, size: f"/{size}", (),
                      port, "https" if tls else "http", ready=tls)

    def fastify(self, processes, tls=False):
        port = free_port()
        name = "Fastify, one process" if processes == 1 else f"Fastify, {processes} processes"
        command = ["node", HERE / "peer/server.mjs", str(port), str(processes), self.modules]
        return Server(name, command + ([self.make_certificate()[2]] if tls else []), lambda _, size: f"/{size}", (), port,
                      "https" if tls else "http", ready=True)

    def body(self, case):
        path = self.work / (re.sub(r"\W+", "-", case.name) + ".json")
        if not path.exists():
            path.write_bytes(case.body)
        return path

    def size(self, case, service):
        """Bytes of the answer, after a look at its status."""
        request = urllib.request.Request(f"http://127.0.0.1:{service.port}/v1/{case.path}", case.body,
                                         {"Content-Type": "application/json"})
        try:
            with urllib.request.urlopen(request, timeout=120) as answer:
                status, data = answer.status, answer.read()
        except urllib.error.HTTPError as error:
            status, data = error.code, error.read()
        if status != case.status:
            raise SystemExit(f"bench: {case.name} answers {status}: {data[:300]}")
        return len(data)

    def load(self, server, case, size, connections, seconds):
        """(requests a second, median in us, 99th percentile in us)."""
        url = f"{server.scheme}://127.0.0.1:{server.port}{server.path(case, size)}"
        done = subprocess.run(["wrk", "-t1", f"-c{connections}", f"-d{seconds}s", "--timeout", "60s", "-s",
                               HERE / "post.lua", url], env={**os.environ, "BENCH_BODY": str(self.body(case))},
                              capture_output=True, text=True, check=True)
        requests, duration, median, p99, errors, lost = map(
            int, re.search(r"^RESULT (.*)$", done.stdout, re.M).group(1).split())
        wrong = requests - errors if server.name == "smallend" and case.status >= 400 else errors
        if requests == 0 or wrong > 0 or lost > 0:
            raise SystemExit(f"bench: {server.name}, {case.name}: {requests} requests, {wrong} wrong, {lost} lost")
        return requests / (duration / 1e6), median, p99


class Figures:
    """Rounds of one case at one number of connections: figures by server."""

    def __init__(self, case, connections, scheme):
        self.case, self.connections, self.scheme = case, connections, scheme
        self.rounds = []

    def ratio(self, name, column=0, of="smallend"):
        """Median, least and most of the figure of the service, or of another, as a share of that server's, round by round."""
        shares = [one[of][column] / one[name][column] for one in self.rounds if name in one and of in one]
        return (statistics.median(shares), min(shares), max(shares)) if shares else None

    def median(self, name, column):
        return statistics.median(one[name][column] for one in self.rounds if name in one)


def spread(ratio):
    if ratio is None:
        return ""
    places = 2 if ratio[0] >= 0.1 else 3
    return f"{ratio[0]:.{places}f} ({ratio[1]:.{places}f}-{ratio[2]:.{places}f})"


def measure(bench, servers, cases, connections, rounds, seconds, service):
    for case in cases:
        size = bench.size(case, service)
        figures = Figures(case, connections, servers[0].scheme)
        asked = [server for server in servers if case.goal or server.name != PARSING]
        for _ in range(rounds):
            figures.rounds.append({server.name: bench.load(server, case, size, connections, seconds) for server in asked})
        where = "" if connections == 8 and figures.scheme == "http" else f"  [{connections}, {figures.scheme}]"
        print(f"{case.name} of bare: {spread(figures.ratio('bare'))}{where}", flush=True)
        if figures.ratio("bare", of=PARSING):
            print(f"bare that parses, of bare: {spread(figures.ratio('bare', of=PARSING))}{where}", flush=True)
        yield figures


def throughput_table(all_figures):
    names = ["Fastify, one process", "Fastify, 2 processes"]
    lines = ["| call | connections | | smallend, requests/s | of bare | goal | bare that parses, of bare | "
             + " | ".join(f"of {name}" for name in names) + " | p50, p99 in ms | p99 of bare's |",
             "|---|---|---|---|---|---|---|---|---|---|---|"]
    for f in all_figures:
        goal = f"{f.case.goal:.2f}" if f.case.goal else ""
        p99 = f.ratio("bare", 2)
        lines.append(f"| {f.case.name} | {f.connections} | {f.scheme} | {f.median('smallend', 0):,.0f} | "
                     f"{spread(f.ratio('bare'))} | {goal} | {spread(f.ratio('bare', of=PARSING))} | "
                     f"{spread(f.ratio(names[0]))} | {spread(f.ratio(names[1]))} | "
                     f"{f.median('smallend', 1) / 1000:.2f}, {f.median('smallend', 2) / 1000:.2f} | {p99[0]:.1f} |")
    return lines


def image_kb(program):
    """Of a container image that holds this program: what is copied into ours, as one compressed layer."""
    with tempfile.TemporaryDirectory() as work:
        subprocess.run([PROJECT / "deploy/container/collect.sh", program, f"{work}/image"], cwd=PROJECT, check=True,
                       capture_output=True)
        packed = subprocess.run(["tar", "-C", work, "-cz", "image"], check=True, capture_output=True)
    return len(packed.stdout) // 1024


def batch_lines(bench, service, call, seconds, rounds):
    """Jobs a second in batches beside those of single requests, one connection each, in alternating rounds."""
    single = Case(call, call, job(), call)
    full = Case(f"batch of {MOST_JOBS} {call}", "batch", batch(call, MOST_JOBS), "batch")
    size = bench.size(full, service)
    shares = []
    for _ in range(rounds):
        alone = bench.load(service, single, 0, 1, seconds)[0]
        together = bench.load(service, full, size, 1, max(2, 2 * seconds))[0] * MOST_JOBS
        shares.append(together / alone)
    line = spread((statistics.median(shares), min(shares), max(shares)))
    print(f"batch of {MOST_JOBS} of single requests, {call}, by the job: {line}", flush=True)
    return [f"| {call} | {line} | 4 |"]


def growth_lines(bench, service, cases, per):
    """How the time of one request grows, by the job or the point: medians of a few."""
    lines = []
    for case, count in cases:
        bench.size(case, service)
        _, median, _ = bench.load(service, case, 0, 1, 1)
        lines.append(f"| {count} {per} | {median / 1000:.2f} | {median / count:.1f} |")
    return lines


def start_and_memory(bench, rounds):
    rows = {}
    for _ in range(rounds):
        for make in (bench.service, bench.bare):
            server = make()
            time.sleep(0.1)
            rows.setdefault(server.name, []).append((server.start_s * 1000, server.memory_kb()))
            server.close()
    return {name: tuple(statistics.median(column) for column in zip(*figures)) for name, figures in rows.items()}


def machine():
    text = pathlib.Path("/proc/cpuinfo").read_text()
    model = re.search(r"model name\s*:\s*(.*)", text)
    return f"{model.group(1) if model else platform.machine()}, {os.cpu_count()} cores, Linux {platform.release().split('-')[0]}"


def counts_table(build):
    """Instructions of one call by part: own code, jansson, and the C library with all else."""
    lines = ["| call | read | compute | write | whole | of a check |", "|---|---|---|---|---|---|"]
    whole_check = None
    for case in CASES:
        parts = {stage: sum(per_call(build, case, stage).values()) for stage in ("read", "compute", "write")}
        if case.status != 200:
            parts["read"] = parts["compute"] = parts["write"]
        whole_check = whole_check or parts["write"]
        read, compute, whole = parts["read"], parts["compute"], parts["write"]
        lines.append(f"| {case.name} | {read:,.0f} | {compute - read:,.0f} | {whole - compute:,.0f} | {whole:,.0f} | "
                     f"{whole / whole_check:.2f} |")
    return lines


def write_report(output, sections, bars):
    text = "\n".join([f"# Benchmark, {time.strftime('%Y-%m-%d')}", "", machine(), ""] + sections) + "\n"
    output.mkdir(parents=True, exist_ok=True)
    (output / "bench.md").write_text(text)
    (output / "bench.svg").write_text(picture.draw(bars, machine()))
    print(f"written: {output / 'bench.md'}, {output / 'bench.svg'}")


def run(bench, arguments):
    quick = arguments.quick
    rounds, seconds = (3, 1)
    sections, everything = [], []
    plain = [bench.service(), bench.bare()]
    service = plain[0]
    parsing = plain[1].below(PARSING, lambda _, size: f"/parse/{size}")
    peers = [bench.fastify(2)] if quick else [bench.fastify(1), bench.fastify(2)]
    at_rest = start_and_memory(bench, 5)
    try:
        for connections in (8,) if quick else (1, 8, 64):
            servers = [*plain, parsing, *peers]
            cases = CASES if connections > FEW else [*CASES, WHOLE_BATCH]
            everything += measure(bench, servers, cases, connections, rounds, seconds, service)
        if not quick:
            secure = [bench.service(tls=True), bench.bare(tls=True), bench.fastify(1, tls=True), bench.fastify(2, tls=True)]
            for connections in (1, 8, 64):
                everything += measure(bench, secure, CASES, connections, rounds, seconds, service)
            for server in secure:
                server.close()
        sections += ["## Requests", "", *throughput_table(everything), "", "## Batches", "",
                     "| call | jobs a second of single requests' | goal |", "|---|---|---|"]
        for call in ("fit",) if quick else ("fit", "check"):
            sections += batch_lines(bench, service, call, seconds, rounds)
        sections += ["", "## Growth", "", "| size | ms | us by the piece |", "|---|---|---|"]
        if not quick:
            sections += growth_lines(bench, service, [(Case(f"batch {n}", "batch", batch("fit", n), "batch"), n)
                                                      for n in (1, 10, 100, 1000)], "jobs of fit")
            sections += growth_lines(bench, service, [(Case(f"trace {n}", f"load?trace={n}", job(), "load"), n)
                                                      for n in (12, 120, 720, 1440)], "points of a curve")
        busy = {server.name: server.memory_kb("VmHWM") for server in plain}
    finally:
        for server in plain + peers:
            server.close()
    programs = {"smallend": bench.build / "smallend", "bare": bench.build / "tests/bench/bench_bare"}
    sections += ["", "## Beside", "", "| | ready after, ms | at rest, kB | at most under load, kB | program, kB | image, kB |",
                 "|---|---|---|---|---|---|"]
    for name, (start, memory) in at_rest.items():
        sections.append(f"| {name} | {start:.1f} | {memory:.0f} | {busy[name]} | {programs[name].stat().st_size // 1024} | "
                        f"{image_kb(programs[name])} |")
        print(f"{name}: ready after {start:.1f} ms, {memory:.0f} kB at rest, {busy[name]} kB at most")
    if not quick:
        sections += ["", "## Instructions of one call in process, by callgrind", "", *counts_table(bench.build)]
    write_report(arguments.output, sections, [f for f in everything if f.connections == 8 and f.scheme == "http"])


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--build", type=pathlib.Path, required=True)
    parser.add_argument("--node-modules", type=pathlib.Path, required=True)
    parser.add_argument("--output", type=pathlib.Path, default=PROJECT / "build-bench")
    parser.add_argument("--quick", action="store_true")
    arguments = parser.parse_args()
    with tempfile.TemporaryDirectory() as work:
        run(Bench(arguments.build.resolve(), arguments.node_modules.resolve(), pathlib.Path(work)), arguments)


if __name__ == "__main__":
    sys.exit(main())
