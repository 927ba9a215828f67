"""Starting, stopping, and clients that hold on: each case starts a service of its own."""

import concurrent.futures
import signal
import subprocess
import time

from cases_answers import JOB
from service import Client, Service, environment, want, want_equal

HEAD = "POST /v1/check HTTP/1.1\r\nHost: x\r\nContent-Length: %d\r\n\r\n"
READ_S = 5  # the service's limits: for a head or a body,
IDLE_S = 2  # for the next request,
WRITE_S = 10  # for an answer
SLACK_S = 4  # for a busy machine


def closed_between(start, earliest, latest):
    took = time.monotonic() - start
    want(earliest - 0.5 <= took <= latest + SLACK_S, f"closed after {took:.1f} s, wanted {earliest} to {latest}")


def drip(client, data, pause):
    """Send byte by byte until the service closes or answers."""
    client.socket.settimeout(pause)
    for byte in data:
        try:
            client.send(bytes([byte]))
        except (BrokenPipeError, ConnectionResetError):
            break
        try:
            if not client.more() or client.pending:
                break
        except TimeoutError:
            pass
    client.socket.settimeout(20)


def a_slow_body_is_ended_in_time(program):
    """A byte now and then must not hold a thread beyond the limit for the whole body."""
    with Service(program) as service, service.client() as client:
        client.send(HEAD % 1000)
        start = time.monotonic()
        drip(client, b" " * 100, 0.5)
        reply = client.reply()
        want_equal((reply.status, reply.get("Connection")), (408, "close"), "answer")
        want(client.is_closed(), "")
        closed_between(start, READ_S, READ_S + 1)


def many_slow_bodies_leave_when_their_time_is_up(program):
    """As many as there are threads; then the next client is served."""
    with Service(program, threads=16, admin_listen="127.0.0.1:0") as service:
        holders = [service.client() for _ in range(16)]
        for holder in holders:
            holder.send(HEAD % 1000 + " ")
        start = time.monotonic()
        want_equal(service.ask("GET", "/livez", port=service.admin_port).status, 200, "probe during the outage")
        want(time.monotonic() - start < 2, "the probe waited")
        want_equal(service.ask("POST", "/v1/check", b"{}").status, 200, "the next client")
        closed_between(start, 0, READ_S + 1)
        for holder in holders:
            holder.socket.close()


def a_slow_head_is_ended_in_time(program):
    with Service(program) as service, service.client() as client:
        start = time.monotonic()
        drip(client, b"GET /livez HTTP/1.1\r\nX: " + b"x" * 100, 0.5)
        reply = client.reply()
        want_equal(reply.status, 408, "status")
        want(client.is_closed(), "")
        closed_between(start, READ_S, READ_S + 1)


def a_silent_client_is_closed(program):
    with Service(program) as service, service.client() as client:
        start = time.monotonic()
        want(client.is_closed(), "")
        closed_between(start, READ_S, READ_S + 1)


def an_idle_connection_is_closed(program):
    with Service(program) as service, service.client() as client:
        client.send("GET /livez HTTP/1.1\r\nHost: x\r\n\r\n")
        want_equal(client.reply().get("Connection"), None, "Connection")
        start = time.monotonic()
        want(client.is_closed(), "")
        closed_between(start, IDLE_S, IDLE_S + 1)


def fill(client):
    """Ask for large answers until no more requests can be sent."""
    client.socket.settimeout(1)
    try:
        for _ in range(500):
            client.send("POST /v1/load?trace=1440 HTTP/1.1\r\nHost: x\r\nContent-Length: %d\r\n\r\n" % len(JOB)).send(JOB)
    except (TimeoutError, ConnectionError):
        pass


def is_cut_off(line):
    return line.get("route") == "/v1/load" and line["dur_ms"] > 1000 * (READ_S - 1)


def a_client_that_does_not_read_is_cut_off(program):
    with Service(program, threads=4) as service, service.client(receive_buffer=2048) as client:
        fill(client)
        service.logged(is_cut_off, WRITE_S + SLACK_S)
        time.sleep(1)
        want_equal(sum(is_cut_off(line) for line in service.lines), 1, "answers that could not be sent")
        want("/v1/load" == service.lines[-1].get("route"), f"more was answered: {service.lines[-1]}")


def a_client_that_reads_in_sips_is_cut_off(program):
    """It makes progress, so that only the limit for the whole answer ends it."""
    with Service(program, threads=4) as service, service.client(receive_buffer=2048) as client:
        fill(client)
        start = time.monotonic()
        client.socket.settimeout(1)
        # the answers before the one that sticks take their time on a busy machine
        while time.monotonic() - start < 60 and not any(is_cut_off(line) for line in service.lines):
            client.socket.recv(200)
            time.sleep(0.1)
        line = service.logged(is_cut_off, 1)
        want(line["dur_ms"] < 1000 * (WRITE_S + SLACK_S), f"{line}")


def connections_close_early_when_most_threads_are_taken(program):
    with Service(program, threads=8) as service:
        clients, words = [], []
        for _ in range(8):
            client = service.client()
            clients.append(client)
            client.send("GET /livez HTTP/1.1\r\nHost: x\r\n\r\n")
            words.append(client.reply().get("Connection"))
        want_equal(words, [None] * 6 + ["close"] * 2, "Connection, with 8 threads, 2 of them kept for newcomers")
        want_equal(service.ask("GET", "/livez").status, 200, "a newcomer")
        for client in clients:
            client.socket.close()


def many_clients_at_once_get_their_own_answers(program):
    def ask_some(first):
        with service.client() as client:
            for number in range(first, first + 25):
                body = '{"label": "%d"}' % number
                client.send(HEAD % len(body) + body)
                reply = client.reply()
                want_equal(reply.document["label"], str(number), "label")
                if reply.get("Connection") == "close":
                    return
    with Service(program, threads=64) as service, concurrent.futures.ThreadPoolExecutor(32) as pool:
        list(pool.map(ask_some, range(0, 32 * 25, 25)))


def a_stop_lets_requests_finish(program):
    """SIGTERM in the middle of a body: the answer still comes, then the service ends with status 0."""
    service = Service(program, drain_delay_ms=100)
    with service.client() as client:
        client.send(HEAD % 2 + "{")
        want_equal(service.ask("GET", "/livez").status, 200, "before")
        service.signal()
        service.logged(lambda line: line["msg"] == "draining")
        time.sleep(0.5)
        client.send("}")
        reply = client.reply()
        want_equal(reply.status, 200, "status")
        want(client.is_closed(), "")
    service.close()
    want_equal(service.logged(lambda line: line["msg"] == "stopped")["cut_off"], 0, "requests cut off")


def a_stop_is_told_to_probes_first(program):
    service = Service(program, drain_delay_ms=2000, admin_listen="127.0.0.1:0")
    with service.client() as idle:
        idle.send("GET /readyz HTTP/1.1\r\nHost: x\r\n\r\n")
        want_equal(idle.reply().status, 200, "ready before")
        service.signal(signal.SIGINT)
        service.logged(lambda line: line["msg"] == "draining")
        idle.send("GET /readyz HTTP/1.1\r\nHost: x\r\n\r\n")
        reply = idle.reply()
        want_equal((reply.status, reply.document["status"], reply.get("Connection")), (503, "draining", "close"), "readyz")
        want(reply.get("Retry-After"), "Retry-After")
        want_equal(service.ask("GET", "/readyz", port=service.admin_port).status, 503, "readyz of the admin listener")
        want_equal(service.ask("GET", "/livez").status, 200, "livez")
        work = service.ask("POST", "/v1/check", b"{}")
        want_equal((work.status, work.get("Connection")), (200, "close"), "work in the meantime")
    service.close()


def a_stop_waits_no_longer_than_its_limit(program):
    service = Service(program, drain_limit_ms=300)
    with service.client() as client:
        client.send(HEAD % 2 + "{")
        time.sleep(0.3)
        start = time.monotonic()
        service.signal()
        service.close()
        closed_between(start, 0, 2)
    want_equal(service.logged(lambda line: line["msg"] == "stopped")["cut_off"], 1, "requests cut off")


def idle_connections_do_not_hold_up_a_stop(program):
    service = Service(program)
    with service.client() as client:
        client.send("GET /livez HTTP/1.1\r\nHost: x\r\n\r\n")
        client.reply()
        start = time.monotonic()
        service.signal()
        service.close()
        closed_between(start, 0, 1.5)


def a_second_signal_ends_at_once(program):
    service = Service(program, drain_delay_ms=60000)
    service.signal()
    service.logged(lambda line: line["msg"] == "draining")
    time.sleep(0.1)
    start = time.monotonic()
    service.signal(signal.SIGINT)
    want_equal(service.wait(), 128 + signal.SIGINT, "status")
    closed_between(start, 0, 1)


def a_hang_up_does_not_end_the_service(program):
    with Service(program) as service:
        service.signal(signal.SIGHUP)
        time.sleep(0.3)
        want_equal(service.ask("GET", "/livez").status, 200, "after SIGHUP")


def the_admin_listener_answers_probes_only(program):
    with Service(program, admin_listen="127.0.0.1:0") as service:
        for path, status in (("/livez", 200), ("/readyz", 200), ("/", 404), ("/v1/units", 404)):
            reply = service.ask("GET", path, port=service.admin_port)
            want_equal((reply.status, reply.get("Connection")), (status, "close"), path)


def two_instances_give_the_same_bytes(program):
    with Service(program) as one, Service(program) as other:
        want(one.port != other.port, "ports")
        want_equal(one.ask("POST", "/v1/check", JOB).body, other.ask("POST", "/v1/check", JOB).body, "answers")


def a_port_in_use_is_an_error(program):
    with Service(program) as service:
        done = subprocess.run([program, "--listen", f"127.0.0.1:{service.port}"], capture_output=True,
                              timeout=30, check=False)
        want_equal(done.returncode, 1, "status")
        want(b"cannot listen on" in done.stderr and b"in use" in done.stderr, f"{done.stderr}")


def it_listens_where_it_is_told(program):
    with Service(program, arguments=["--listen=127.0.0.1:0,[::1]:0"]) as service:
        want_equal(len(service.ports), 2, "ports")
        with Client(service.ports[1], "::1") as client:
            client.send("GET /livez HTTP/1.1\r\nHost: [::1]\r\n\r\n")
            want_equal(client.reply().status, 200, "by IPv6")


def only_listed_origins_may_read(program):
    origins = "https://a.example,https://b.example"
    with Service(program, cors_origins=origins) as service:
        for origin, wanted in (("https://b.example", "https://b.example"), ("https://c.example", None), ("null", None)):
            reply = service.ask("GET", "/v1/units", headers=[("Origin", origin)])
            want_equal(reply.get("Access-Control-Allow-Origin"), wanted, origin)
            want_equal(reply.get("Vary"), "Accept, Origin", "Vary")


def the_size_limit_can_be_set(program):
    with Service(program, max_body=2000) as service:
        want_equal(service.ask("POST", "/v1/check", b"{" + b" " * 1998 + b"}").status, 200, "2,000 bytes")
        want_equal(service.ask("POST", "/v1/check", b"{" + b" " * 1999 + b"}").status, 413, "2,001 bytes")


def the_log_can_be_text_or_off(program):
    for mode, wanted in (("text", b' "ready" '), ("off", b"")):
        process = subprocess.Popen([program], env=environment(log=mode), stderr=subprocess.PIPE)
        time.sleep(1)
        process.send_signal(signal.SIGTERM)
        _, logged = process.communicate(timeout=30)
        want(wanted in logged and (wanted or not logged), f"{mode}: {logged}")
        want_equal(process.returncode, 0, "status")


def too_few_files_are_an_error(program):
    done = subprocess.run(["bash", "-c", 'ulimit -n 200; exec "$0" --listen 127.0.0.1:0', program], capture_output=True,
                          timeout=30, check=False)
    want_equal(done.returncode, 1, "status")
    want(b"open files" in done.stderr, f"{done.stderr}")


HELPERS = (closed_between, drip, fill, is_cut_off)
CASES = [value for value in list(globals().values())
         if callable(value) and value.__module__ == __name__ and value not in HELPERS]
