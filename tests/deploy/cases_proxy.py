"""What the proxy lets through, what it refuses and how it says so."""

import contextlib
import http.client
import http.server
import json
import re
import socket
import subprocess
import threading
import time

from proxy import Proxy, free_ports, make_certificate
from tally import DEPLOY, PROJECT, case, want, want_equal

from service import Service

JOB = (PROJECT / "fixtures/jobs/pump-engine.json").read_bytes()
HEAD = "POST /v1/check HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
REQUEST_S = 5  # the proxy's limit for head and body
CONNECTIONS, REQUESTS, WINDOW_S = 50, 300, 10  # and for one address


def read_answer(client):
    """Status, headers with names in lower case, body."""
    reply = http.client.HTTPResponse(client)
    reply.begin()
    return reply.status, {name.lower(): value for name, value in reply.getheaders()}, reply.read()


def exchange(site, data, **options):
    """Send these bytes over TLS and read the first answer."""
    with site.proxy.connect(**options) as client:
        client.sendall(data if isinstance(data, bytes) else data.encode("latin-1"))
        return read_answer(client)


def ask(site, method, path, body=None, headers=(), **options):
    lines = [f"{method} {path} HTTP/1.1", "Host: smallend.example", "Connection: close", *headers]
    if body is not None:
        lines += ["Content-Type: application/json", f"Content-Length: {len(body)}"]
    return exchange(site, "\r\n".join(lines).encode() + b"\r\n\r\n" + (body or b""), **options)


def catalogue(site):
    done = subprocess.run([site.program, "--print", "problems"], capture_output=True, check=True)
    return json.loads(done.stdout)


def want_problem(site, answer, status, retry=False):
    """A refusal in the form of the service, with its catalogue's title and its cautions."""
    got, headers, body = answer
    want_equal(got, status, "status")
    want_equal(headers["content-type"], "application/problem+json", "type")
    problem, known = json.loads(body), catalogue(site)
    titles = {row["type"]: row["title"] for row in known["problems"]}
    want_equal(problem["status"], status, "status in the body")
    want_equal(problem["title"], titles.get(problem["type"]), "title")
    want_equal(problem["cautions"], known["cautions"], "cautions")
    want(problem["detail"], "no detail")
    want_equal(headers.get("access-control-allow-origin"), "*", "who may read it")
    want_equal(headers.get("cache-control"), "no-store", "Cache-Control")
    want_equal(headers.get("x-content-type-options"), "nosniff", "X-Content-Type-Options")
    want(re.search(r" GMT$", headers.get("date", "")), f"Date: {headers.get('date')}")
    if retry:
        want(int(headers["retry-after"]) > 0, "Retry-After")


@case
def an_answer_through_the_proxy_is_the_service_s(site):
    direct = site.replicas["a"].service.ask("POST", "/v1/check", JOB)
    status, headers, body = ask(site, "POST", "/v1/check", JOB)
    want_equal((status, body), (200, direct.body), "answer")
    want_equal(headers["content-type"], direct.get("Content-Type"), "type")
    want_equal(headers["strict-transport-security"], "max-age=31536000", "HSTS")
    want_equal(ask(site, "POST", "/v1/check", b"{")[0], 400, "a problem of the service")


@case
def a_batch_larger_than_the_proxy_s_buffer_passes(site):
    jobs = [{"call": "check", "job": json.loads(JOB)}] * 300
    body = json.dumps({"jobs": jobs}).encode()
    want(len(body) > 3 * 81920, f"only {len(body)} bytes")
    data = (
        f"POST /v1/batch HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: {len(body)}\r\n\r\n"
    )
    with socket.create_connection(("127.0.0.1", site.replicas["a"].port), 20) as client:
        client.sendall(data.encode() + body)
        direct = read_answer(client)
    status, _, answer = exchange(site, data.encode() + body)
    want_equal((direct[0], status), (200, 200), "status of the service itself and through the proxy")
    want_equal(len(json.loads(answer)["answers"]), len(jobs), "answers")
    want(answer == direct[2], "another answer through the proxy")


@case
def http_2_is_spoken(site):
    command = [
        "curl",
        "--silent",
        "--http2",
        "--cacert",
        str(site.proxy.trusted),
        "--noproxy",
        "*",
        "--output",
        "-",
        "--write-out",
        "\n%{http_version} %{http_code}",
        "--data-binary",
        "@-",
        "--header",
        "Content-Type: application/json",
        f"https://127.0.0.1:{site.proxy.port}/v1/check",
    ]
    done = subprocess.run(command, input=JOB, capture_output=True, timeout=30, check=True)
    body, told = done.stdout.rsplit(b"\n", 1)
    want_equal(told, b"2 200", "version and status")
    want_equal(body, site.replicas["a"].service.ask("POST", "/v1/check", JOB).body, "answer")


@case
def old_tls_is_refused(site):
    command = ["openssl", "s_client", "-connect", f"127.0.0.1:{site.proxy.port}", "-cipher", "DEFAULT@SECLEVEL=0"]
    for version, accepted in (("-tls1_1", False), ("-tls1_2", True), ("-tls1_3", True)):
        done = subprocess.run([*command, version], input=b"", capture_output=True, timeout=20, check=False)
        want_equal(done.returncode == 0, accepted, version)


@case
def plain_http_leads_to_tls(site):
    status, headers, _ = ask(site, "POST", "/v1/check?format=md", JOB, plain=True)
    want_equal(status, 308, "status")
    want_equal(headers["location"], "https://smallend.example/v1/check?format=md", "Location")


@case
def query_asks_as_post_does(site):
    want_equal(ask(site, "QUERY", "/v1/check", JOB)[::2], ask(site, "POST", "/v1/check", JOB)[::2], "answer")


@case
def a_client_that_waits_for_100_is_told_to_go_on(site):
    with site.proxy.connect() as client:
        client.sendall(f"{HEAD}Content-Length: {len(JOB)}\r\nExpect: 100-continue\r\n\r\n".encode())
        want(client.recv(1000).startswith(b"HTTP/1.1 100 "), "no 100")
        client.sendall(JOB)
        want_equal(read_answer(client)[0], 200, "status")


@case
def metrics_are_not_for_the_public(site):
    want_problem(site, ask(site, "GET", "/metrics"), 404)


@case
def malformed_and_ambiguous_requests_are_refused(site):
    """In HAProxy's own words, which cannot be chosen for these."""
    many = "".join(f"X-{i}: 1\r\n" for i in range(60))
    for data in (
        "GET / HTTP/1.1\r\nHost: x\r\nBad Name: 1\r\n\r\n",
        f"GET / HTTP/1.1\r\nHost: x\r\n{many}\r\n",
        f"{HEAD}Content-Length: 5\r\nContent-Length: 6\r\n\r\n{{}}   ",
        "GET /\r\n\r\n",
    ):
        want_equal(exchange(site, data)[0], 400, data[:60])


SMUGGLED = "GET /livez HTTP/1.1\r\nHost: smuggled\r\n\r\n"
GET = "GET /readyz HTTP/1.1\r\nHost: x\r\n"
LONG = 200_000

# What clients may send, and the answers it may have; closed: none at all. A 200 is right where the proxy has made the
# request a plain one before it passed it on.
ODD = [
    ("a length and a coding", HEAD + "Content-Length: 4\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n" + SMUGGLED, {400, 411}),
    ("two lengths", HEAD + "Content-Length: 2\r\nContent-Length: 60\r\n\r\n{}" + SMUGGLED, {400}),
    ("a list of lengths", HEAD + "Content-Length: 2, 60\r\n\r\n{}" + SMUGGLED, {400}),
    *((f"length {length}", HEAD + f"Content-Length: {length}\r\n\r\n{{}}", {400, 411, 413}) for length in
      ("+2", "-2", "2x", "0x2", "2.0", "", "99999999999999999999")),
    ("a coding twice", HEAD + "Transfer-Encoding: identity\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n" + SMUGGLED, {400, 411, 422}),
    ("an unknown coding", HEAD + "Transfer-Encoding: xchunked\r\n\r\n0\r\n\r\n" + SMUGGLED, {400, 411, 422, 501}),
    ("a blank before the colon", HEAD + "Content-Length : 2\r\n\r\n{}", {400}),
    ("a chunk of odd size", HEAD + "Transfer-Encoding: chunked\r\n\r\n-5\r\n{}\r\n0\r\n\r\n", {400, 411}),
    ("a folded line", GET + "X-A: 1\r\n b\r\n\r\n", {200, 400}),
    ("a line that is no header", GET + "nothing\r\n\r\n", {400}),
    ("a bare line end", "GET /readyz HTTP/1.1\nHost: x\n\n", {200, 400}),
    ("a NUL in the path", "GET /\0 HTTP/1.1\r\nHost: x\r\n\r\n", {400}),
    ("a NUL in a field", GET + "X-A: \0\r\n\r\n", {400}),
    ("dot segments", "GET /v1/../metrics HTTP/1.1\r\nHost: x\r\n\r\n", {400, 404}),
    ("an encoded path", "GET /%6detrics HTTP/1.1\r\nHost: x\r\n\r\n", {404}),
    ("a doubled slash", "GET //metrics HTTP/1.1\r\nHost: x\r\n\r\n", {404}),
    ("an absolute address", "GET http://x/readyz HTTP/1.1\r\nHost: x\r\n\r\n", {200}),
    ("two hosts", "GET /readyz HTTP/1.1\r\nHost: x\r\nHost: y\r\n\r\n", {400}),
    ("no host", "GET /readyz HTTP/1.1\r\n\r\n", {400}),
    ("a head too long", GET + "X-A: " + "a" * LONG + "\r\n\r\n", {400, 413, 431}),
    ("an address too long", "GET /" + "a" * LONG + " HTTP/1.1\r\nHost: x\r\n\r\n", {400, 413, 414, 431}),
    ("another version", "GET /readyz HTTP/3.0\r\nHost: x\r\n\r\n", {200, 400, 505}),
    ("HTTP/0.9", "GET /readyz\r\n\r\n", {400}),
    ("another method", "BREW /v1/check HTTP/1.1\r\nHost: x\r\n\r\n", {400, 405, 501}),
    ("a trace", "TRACE / HTTP/1.1\r\nHost: x\r\n\r\n", {400, 405, 501}),
    ("a tunnel", "CONNECT elsewhere:443 HTTP/1.1\r\nHost: elsewhere:443\r\n\r\n", {400, 404, 405, 501}),
    ("an upgrade", GET + "Connection: Upgrade\r\nUpgrade: h2c\r\n\r\n", {200, 400}),
    ("no HTTP", "\x16\x03\x01\x02\x00\x01\x00\x01\xfc" + "\0" * 300, {400}),
]


@case
def an_odd_request_gets_one_answer_and_hurts_nobody(site):
    """One answer, or the end of the connection: nothing hidden in a request is answered as another."""
    for number, (what, data, statuses) in enumerate(ODD):
        source = f"127.0.1.{number + 1}"
        with site.proxy.connect(source) as client:
            with contextlib.suppress(OSError):  # it may have heard enough before all was said
                client.sendall(data.encode("latin-1"))
            client.settimeout(REQUEST_S + 3)
            answers = read_to_the_end(client)
        got = [int(line.split()[1]) for line in re.findall(rb"^HTTP/1\.[01] \d{3}", answers, re.MULTILINE)]
        want(len(got) == 1 and got[0] in statuses, f"{what}: {got} {answers[:200]}")
        status, _, body = ask(site, "POST", "/v1/check", JOB, source=source)
        want(status == 200 and json.loads(body)["verdict"] == "ok", f"the next client after {what}: {status}")


def read_to_the_end(client):
    """All that comes, until the other side closes or says nothing more for a while."""
    data = b""
    try:
        while True:
            piece = client.recv(65536)
            if not piece:
                return data
            data += piece
            client.settimeout(0.3)
    except OSError:
        return data


@case
def lengths_that_contradict_each_other_never_reach_the_service(site):
    """Of a chunked body that has a length besides, the proxy drops the length; and the service wants one."""
    answer = exchange(site, f"{HEAD}Content-Length: 3\r\nTransfer-Encoding: chunked\r\n\r\n2\r\n{{}}\r\n0\r\n\r\n")
    want_equal(answer[0], 411, "status")
    want_equal(exchange(site, f"{HEAD}Transfer-Encoding: chunked\r\n\r\nzz\r\n")[0], 400, "a chunk of no size")


@case
def a_body_too_large_is_refused_by_its_length(site):
    """Once as much has come as the proxy holds: it waits for the body before it judges."""
    want_problem(site, exchange(site, f"{HEAD}Content-Length: 4194305\r\n\r\n".encode() + b" " * 100_000), 413)
    status, _, body = ask(site, "POST", "/v1/check", b" " * 70_000)
    want_equal((status, json.loads(body)["type"]), (413, "/v1/problems/too-large"), "the service's own limit")


@case
def a_slow_request_is_refused_in_time(site):
    for data in ("GET / HTTP/1.1\r\nHo", f"{HEAD}Content-Length: 100\r\n\r\n{{"):
        start = time.monotonic()
        answer = exchange(site, data)
        took = time.monotonic() - start
        want(REQUEST_S - 1 < took < REQUEST_S + 2, f"after {took:.1f} s")
        want_equal(answer[0], 408, "status")
    want_problem(site, answer, 408)  # the head had been read


@case
def a_refusal_of_head_has_no_body(site):
    with site.proxy.connect() as client:
        client.sendall(b"HEAD /metrics HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n")
        head, _, body = b"".join(iter(lambda: client.recv(65536), b"")).partition(b"\r\n\r\n")
    want(head.startswith(b"HTTP/1.1 404 "), f"{head}")
    want_equal(body, b"", "body")


@case
def one_address_has_so_many_connections(site):
    source, held, refused = "127.0.0.40", [], 0
    try:
        for _ in range(CONNECTIONS + 10):
            try:
                held.append(site.proxy.connect(source))
            except OSError:
                refused += 1
        want_equal((len(held), refused), (CONNECTIONS, 10), "connections held and refused")
        want_equal(ask(site, "GET", "/readyz", source="127.0.0.41")[0], 200, "another address")
    finally:
        for client in held:
            client.close()


@case
def who_asks_too_often_is_told_when_to_come_back(site):
    source = "127.0.0.50"
    statuses, answer = [], None
    with site.proxy.connect(source) as client:
        while len(statuses) < REQUESTS + 20 and 429 not in statuses:
            client.sendall(b"GET /readyz HTTP/1.1\r\nHost: x\r\n\r\n")
            answer = read_answer(client)
            statuses.append(answer[0])
    want_equal(set(statuses[:-1]), {200}, "answers before the limit")
    want(REQUESTS <= len(statuses) <= REQUESTS + 20, f"refused after {len(statuses)}")
    want_problem(site, answer, 429, retry=True)
    want_equal(ask(site, "GET", "/readyz", source="127.0.0.51")[0], 200, "another address")
    time.sleep(int(answer[1]["retry-after"]))
    want_equal(ask(site, "GET", "/readyz", source=source)[0], 200, "after Retry-After")


@case
def the_way_to_the_replicas_can_be_tls(site):
    """Only to one whose certificate its authority vouches for."""
    (site.folder / "own").mkdir()
    _, certificate = make_certificate(site.folder / "own")
    _, other = make_certificate(site.folder)
    port, admin_port = free_ports(2)
    settings = {"listen": f"127.0.0.1:{port}s", "admin_listen": f"127.0.0.1:{admin_port}"}
    with Service(site.program, tls_cert=certificate, tls_key=site.folder / "own" / "key.pem", **settings):
        for trusted, status in ((certificate, 200), (other, 503)):
            own = {"PROXY_REPLICA_CA": trusted, "PROXY_REPLICA_NAME": "localhost"}
            with Proxy(site.folder / f"tls{status}", [(port, admin_port)] * 3, **own) as proxy:
                proxy.await_state("a", "UP")
                behind = type("Behind", (), {"proxy": proxy, "program": site.program})
                want_equal(ask(behind, "POST", "/v1/check", JOB)[0], status, f"status, {trusted.parent.name} trusted")


class Recorder(http.server.BaseHTTPRequestHandler):
    """In the place of a replica: keeps what it is sent."""

    seen = []

    def do_GET(self):
        if self.path != "/readyz":
            self.seen.append(self.headers)
        self.send_response(200)
        self.send_header("Content-Length", "0")
        self.end_headers()

    def log_message(self, *_):
        pass


@case
def what_a_client_says_of_itself_is_replaced(site):
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Recorder)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    port = server.server_address[1]
    with Proxy(site.folder / "recorded", [(port, port)] * 3) as proxy:
        proxy.await_state("a", "UP")
        with proxy.connect("127.0.0.60") as client:
            client.sendall(
                b"GET / HTTP/1.1\r\nHost: smallend.example\r\nX-Forwarded-For: 6.6.6.6\r\nX-Real-IP: 6.6.6.6\r\n"
                b"Forwarded: for=6.6.6.6\r\nX-Forwarded-Host: evil\r\ntraceparent: kept\r\n\r\n"
            )
            client.recv(1000)
    server.shutdown()
    server.server_close()
    (headers,) = Recorder.seen
    for name, wanted in (
        ("X-Forwarded-For", ["127.0.0.60"]),
        ("X-Forwarded-Proto", ["https"]),
        ("Forwarded", None),
        ("X-Forwarded-Host", ["smallend.example"]),
        ("X-Real-IP", None),
        ("traceparent", ["kept"]),
    ):
        want_equal(headers.get_all(name), wanted, name)


@case
def without_replicas_it_says_when_to_come_back(site):
    with Proxy(site.folder / "alone", [tuple(free_ports(2)) for _ in range(3)]) as proxy:
        proxy.await_state("a", "DOWN")
        site_alone = type("Alone", (), {"proxy": proxy, "program": site.program})
        want_problem(site_alone, ask(site_alone, "POST", "/v1/check", JOB), 503, retry=True)


@case
def a_replica_that_breaks_off_is_a_problem_too(site):
    """One that closes in the middle of the head, and one that never answers a check but is asked all the same."""
    listening = socket.create_server(("127.0.0.1", 0))

    def answer():
        while True:
            try:
                client, _ = listening.accept()
            except OSError:
                return
            with client:
                ready = b"/readyz" in client.recv(4000)
                client.sendall(
                    b"HTTP/1.1 200 OK\r\nContent-Length: 0\r\n\r\n" if ready else b"HTTP/1.1 200 OK\r\nConte"
                )

    threading.Thread(target=answer, daemon=True).start()
    port = listening.getsockname()[1]
    with Proxy(site.folder / "broken", [(port, port)] * 3) as proxy:
        proxy.await_state("a", "UP")
        site_broken = type("Broken", (), {"proxy": proxy, "program": site.program})
        want_problem(site_broken, ask(site_broken, "POST", "/v1/check", JOB), 502, retry=True)
    listening.close()


@case
def every_refusal_has_its_body(site):
    """Also those that are not provoked here; the members are those of the service."""
    configured = re.findall(r"http-error status (\d+)", (DEPLOY / "haproxy/haproxy.cfg").read_text())
    files = sorted((DEPLOY / "haproxy/problems").glob("*.json"))
    want_equal([file.stem for file in files], configured, "files and configuration")
    known = catalogue(site)
    titles = {row["type"]: row["title"] for row in known["problems"]}
    for file in files:
        problem = json.loads(file.read_text())
        want_equal(list(problem), ["type", "title", "status", "detail", "cautions"], f"members of {file.name}")
        want_equal(problem["status"], int(file.stem), f"status of {file.name}")
        want_equal(problem["title"], titles.get(problem["type"]), f"title of {file.name}")
        want_equal(problem["cautions"], known["cautions"], f"cautions of {file.name}")


@case
def the_proxy_has_metrics_of_its_own_for_the_inside(site):
    with socket.create_connection(("127.0.0.1", site.proxy.inside_port), 10) as client:
        client.sendall(b"GET /metrics HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n")
        text = b"".join(iter(lambda: client.recv(65536), b"")).decode()
    want(
        re.search(r'^haproxy_server_status\{proxy="replicas",server="a",state="UP"\} 1$', text, re.MULTILINE),
        "status of a",
    )
