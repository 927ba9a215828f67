"""Replicas of the service on ports of their own, and HAProxy before them with the configuration of deploy/haproxy."""

import csv
import os
import signal
import socket
import ssl
import subprocess
import time

from tally import DEPLOY, Failed, want_equal

from service import Service

CONFIGURATION = DEPLOY / "haproxy" / "haproxy.cfg"
NAMES = ("a", "b", "c")
READY_S = 20


def free_ports(count):
    """Ports that are free now; held together so that they differ."""
    held = [socket.socket() for _ in range(count)]
    for one in held:
        one.bind(("127.0.0.1", 0))
    ports = [one.getsockname()[1] for one in held]
    for one in held:
        one.close()
    return ports


def until(holds, seconds, what):
    end = time.monotonic() + seconds
    while not holds():
        if time.monotonic() > end:
            raise Failed(f"not within {seconds} s: {what}")
        time.sleep(0.02)


class Replica:
    """One of the services; comes back on its ports after it was stopped or killed."""

    def __init__(self, program, port, admin_port, **settings):
        self.program, self.port, self.admin_port, self.settings = program, port, admin_port, settings
        self.service = None
        self.start()

    def start(self):
        self.service = Service(
            self.program,
            listen=f"127.0.0.1:{self.port}",
            admin_listen=f"127.0.0.1:{self.admin_port}",
            drain_delay_ms=2000,
            **self.settings,
        )

    def stop(self):
        """As an operator would: it must end well, having logged no error."""
        self.service.close()

    def kill(self):
        self.service.process.send_signal(signal.SIGKILL)
        self.service.wait()

    def is_running(self):
        return self.service.process.poll() is None


def make_certificate(folder):
    """For localhost, by itself; the file that HAProxy wants and the one that clients trust."""
    certificate, key, both = folder / "certificate.pem", folder / "key.pem", folder / "both.pem"
    command = "openssl req -x509 -newkey ec -pkeyopt ec_paramgen_curve:P-256 -nodes -days 2 -subj /CN=localhost -addext"
    subprocess.run(
        [*command.split(), "subjectAltName=DNS:localhost,IP:127.0.0.1", "-keyout", str(key), "-out", str(certificate)],
        capture_output=True,
        check=True,
    )
    both.write_text(certificate.read_text() + key.read_text())
    return both, certificate


class Proxy:
    """HAProxy with the configuration as it stands; everything that differs here comes by its variables."""

    def __init__(self, folder, servers, **variables):
        folder.mkdir(parents=True, exist_ok=True)
        self.folder, self.socket = folder, folder / "admin.sock"
        bundle, self.trusted = make_certificate(folder)
        self.port, self.plain_port, self.inside_port = free_ports(3)
        own = {
            "PROXY_LOG": "stderr",
            "PROXY_SOCKET": self.socket,
            "PROXY_CERT": bundle,
            "PROXY_BIND": f"127.0.0.1:{self.port}",
            "PROXY_BIND_PLAIN": f"127.0.0.1:{self.plain_port}",
            "PROXY_INSIDE": f"127.0.0.1:{self.inside_port}",
            "PROXY_PROBLEMS": DEPLOY / "haproxy" / "problems",
        }
        if os.geteuid() != 0:
            own["PROXY_UNPRIVILEGED"] = "yes"
        for name, (port, admin_port) in zip(NAMES, servers):
            own[name.upper()], own[name.upper() + "_ADMIN"] = f"127.0.0.1:{port}", admin_port
        own.update(variables)
        kept = {name: value for name, value in os.environ.items() if not name.startswith("SMALLEND_")}
        self.environment = {**kept, **{"SMALLEND_" + name: str(value) for name, value in own.items()}}
        self.log = open(folder / "haproxy.log", "wb")
        self.process = None

    def check(self):
        """What HAProxy says of the configuration; it must not even warn."""
        done = subprocess.run(
            ["haproxy", "-c", "-f", str(CONFIGURATION)],
            env=self.environment,
            capture_output=True,
            text=True,
            check=False,
        )
        want_equal(
            (done.returncode, done.stdout.strip(), done.stderr.strip()),
            (0, "Configuration file is valid", ""),
            "haproxy -c",
        )

    def __enter__(self):
        self.process = subprocess.Popen(
            ["haproxy", "-db", "-f", str(CONFIGURATION)],
            env=self.environment,
            stdin=subprocess.DEVNULL,
            stdout=self.log,
            stderr=self.log,
        )
        until(self.socket.exists, READY_S, "the proxy's socket")
        return self

    def __exit__(self, *_):
        self.process.terminate()
        self.process.wait()
        self.log.close()

    def told(self):
        """What it logged."""
        return (self.folder / "haproxy.log").read_text(errors="replace")

    def states(self):
        """UP, DOWN, ... of each replica, as the proxy sees it."""
        with socket.socket(socket.AF_UNIX) as asked:
            asked.connect(str(self.socket))
            asked.sendall(b"show stat\n")
            text = b"".join(iter(lambda: asked.recv(65536), b"")).decode()
        rows = csv.DictReader(text.removeprefix("# ").splitlines())
        return {row["svname"]: row["status"] for row in rows if row["pxname"] == "replicas" and row["svname"] in NAMES}

    def await_state(self, name, wanted):
        until(lambda: self.states()[name].startswith(wanted), READY_S, f"replica {name} {wanted}: {self.states()}")

    def trust(self):
        return ssl.create_default_context(cafile=str(self.trusted))

    def connect(self, source="127.0.0.1", plain=False):
        """A connection, over TLS if not told otherwise, from an address of the loopback network."""
        made = socket.create_connection(("127.0.0.1", self.plain_port if plain else self.port), 20, (source, 0))
        return made if plain else self.trust().wrap_socket(made, server_hostname="localhost")
