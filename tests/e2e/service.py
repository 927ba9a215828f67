"""The real program as a service, and a client that can say what no well-behaved one would."""

import json
import os
import pathlib
import signal
import socket
import subprocess
import threading
import time

HERE = pathlib.Path(__file__).resolve().parent
START_S = 30
ANSWER_S = 20
JSON_TYPES = ("application/json", "application/problem+json")


class Failed(Exception):
    """What was wanted and what came."""


def want(condition, message):
    if not condition:
        raise Failed(message)


def want_equal(got, wanted, what):
    want(got == wanted, f"{what}: wanted {wanted!r}, got {got!r}")


class Reply:
    """One answer of HTTP/1.1."""

    def __init__(self, status, headers, body):
        self.status, self.headers, self.body = status, headers, body

    def get(self, name):
        """The one value of a header; None if it is absent. Twice is a fault."""
        values = [value for key, value in self.headers if key.lower() == name.lower()]
        want(len(values) <= 1, f"header {name} stands {len(values)} times")
        return values[0] if values else None

    @property
    def document(self):
        return json.loads(self.body)

    def __repr__(self):
        return f"<{self.status} {self.headers} {self.body[:300]!r}>"


class Client:
    """A connection, and the answers on it."""

    def __init__(self, port, host="127.0.0.1", receive_buffer=None):
        self.socket = socket.socket(socket.AF_INET6 if ":" in host else socket.AF_INET)
        if receive_buffer:
            self.socket.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, receive_buffer)
        self.socket.settimeout(ANSWER_S)
        self.socket.connect((host, port))
        self.pending = b""

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.socket.close()

    def send(self, data):
        self.socket.sendall(data.encode("latin-1") if isinstance(data, str) else data)
        return self

    def finish(self):
        """No more will be sent."""
        self.socket.shutdown(socket.SHUT_WR)
        return self

    def more(self):
        """Receive; False at the end, by whatever means it came."""
        try:
            data = self.socket.recv(65536)
        except ConnectionResetError:
            data = b""
        self.pending += data
        return bool(data)

    def is_closed(self):
        """True once the service has closed; waits for it. Nothing else may come."""
        while self.more():
            pass
        want_equal(self.pending, b"", "bytes before the end of the connection")
        return True

    def reply(self, bodiless=False, interim=False):
        """The next answer, and what must hold for each; None if the connection ends without one."""
        while b"\r\n\r\n" not in self.pending:
            if not self.more():
                want_equal(self.pending, b"", "an answer cut off in its head")
                return None
        head, self.pending = self.pending.split(b"\r\n\r\n", 1)
        lines = head.decode("latin-1").split("\r\n")
        version, status, _ = lines[0].split(" ", 2)
        want_equal(version, "HTTP/1.1", "version of the status line")
        headers = [tuple(part.strip() for part in line.split(":", 1)) for line in lines[1:]]
        reply = Reply(int(status), headers, b"")
        if interim:
            return reply
        if not bodiless and reply.status not in (204, 304):
            length = int(reply.get("Content-Length"))
            while len(self.pending) < length:
                want(self.more(), f"an answer cut off in its body, {len(self.pending)} of {length} bytes")
            reply.body, self.pending = self.pending[:length], self.pending[length:]
        check_every(reply)
        return reply


def check_every(reply):
    """What must hold for each answer of the service."""
    want_equal(reply.get("X-Content-Type-Options"), "nosniff", "X-Content-Type-Options")
    want(reply.get("Date"), "no Date")
    want(reply.get("Cache-Control"), "no Cache-Control")
    content_type = (reply.get("Content-Type") or "").split(";")[0]
    if reply.body and content_type in JSON_TYPES:
        document = reply.document
        probe = isinstance(document.get("status"), str)
        contract = "openapi" in document  # which says in its own words what to mind
        if not probe and not contract:
            cautions = document.get("cautions")
            want(cautions and all(isinstance(text, str) and text for text in cautions), f"no cautions in {reply}")
        if reply.status >= 400 and not probe:
            want_equal(content_type, "application/problem+json", "type of a problem")
            want_equal(document["status"], reply.status, "status in the problem document")
            want(document["type"].startswith("/v1/problems/"), f"type {document['type']}")


def environment(**settings):
    """Ours, with these settings of the service and no others."""
    names = {name: value for name, value in os.environ.items() if not name.startswith("SMALLEND_")}
    names.setdefault("TSAN_OPTIONS", f"suppressions={HERE / 'tsan.supp'}")
    given = {"LISTEN": "127.0.0.1:0", "DRAIN_DELAY_MS": "0", "LOG": "json"}
    given.update({name.upper(): str(value) for name, value in settings.items()})
    names.update({"SMALLEND_" + name: value for name, value in given.items()})
    return names


class Service:
    """The program, started with settings of the environment (names without SMALLEND_) until close()."""

    def __init__(self, program, arguments=(), **settings):
        self.process = subprocess.Popen([program, *arguments], env=environment(**settings), stdin=subprocess.DEVNULL,
                                        stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
        self.stopping = False
        self.lines = []
        self.arrived = threading.Condition()
        threading.Thread(target=self.follow, daemon=True).start()
        ready = self.logged(lambda line: line.get("msg") == "ready", START_S)
        self.ports = [int(url.rsplit(":", 1)[1]) for url in ready["listen"].split(",")]
        self.port = self.ports[0]
        self.admin_port = int(ready["admin_listen"].rsplit(":", 1)[1]) if "admin_listen" in ready else None

    def follow(self):
        for line in self.process.stderr:
            with self.arrived:
                try:
                    self.lines.append(json.loads(line))
                except ValueError:
                    self.lines.append({"not_json": line.decode("utf-8", "replace")})
                self.arrived.notify_all()

    def logged(self, rule, seconds=ANSWER_S):
        """The first line of the log that the rule holds for; waits for it."""
        end = time.monotonic() + seconds
        with self.arrived:
            while True:
                for line in self.lines:
                    if rule(line):
                        return line
                left = end - time.monotonic()
                if left <= 0 or not self.arrived.wait(left):
                    raise Failed(f"no such line in the log: {self.lines[-20:]}")

    def client(self, **options):
        return Client(self.port, **options)

    def ask(self, method, path, body=None, headers=(), port=None):
        """One request on a connection of its own."""
        lines = [f"{method} {path} HTTP/1.1", "Host: localhost", "Connection: close"]
        if body is not None:
            lines += ["Content-Type: application/json", f"Content-Length: {len(body)}"]
            lines = [line for line in lines if line.split(":")[0] not in {name for name, _ in headers}]
        lines += [f"{name}: {value}" for name, value in headers]
        with Client(port or self.port) as client:
            client.send("\r\n".join(lines) + "\r\n\r\n").send(body or b"")
            reply = client.reply(bodiless=method == "HEAD")
            want(reply is not None, f"{method} {path}: closed without an answer")
            want(client.is_closed(), "")
            return reply

    def raw(self, data, finish=False):
        """Every answer to these bytes until the service closes, which it must."""
        with self.client() as client:
            client.send(data)
            if finish:
                client.finish()
            replies = []
            while (reply := client.reply()) is not None:
                replies.append(reply)
            return replies

    def signal(self, number=signal.SIGTERM):
        self.stopping = number != signal.SIGHUP
        self.process.send_signal(number)

    def wait(self, seconds=40):
        try:
            return self.process.wait(seconds)
        except subprocess.TimeoutExpired:
            self.process.kill()
            raise Failed(f"the service did not end within {seconds} s") from None

    def close(self, wanted=0):
        """Stop it, and look through what it logged."""
        if not self.stopping:
            self.signal()
        status = self.wait()
        want(status == wanted, f"the service ended with status {status}, wanted {wanted}: {self.lines[-20:]}")
        for line in self.lines:
            want("not_json" not in line, f"a line of the log is no JSON: {line}")
            want(line["level"] != "error", f"the service logged an error: {line}")

    def __enter__(self):
        return self

    def __exit__(self, kind, *_):
        if kind is None:
            self.close()
        elif self.process.poll() is None:
            self.process.kill()
