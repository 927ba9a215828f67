"""The built program under test: started once as a service, or called once a job from the command line.

    program.py build/smallend COMMAND...     runs a command while the service runs; "{url}" in it is its address
"""

import http.client
import json
import os
import queue
import re
import signal
import subprocess
import sys
import threading

START_LIMIT_S = 30


class Answer:
    """Status (HTTP, or 200 and 422 for the command line), body as bytes, and the document in it."""

    def __init__(self, status, body):
        self.status = status
        self.body = body
        try:
            self.document = json.loads(body)
        except ValueError:
            self.document = None

    def complaint(self):
        return f"status {self.status}: {self.body[:600].decode('utf-8', 'replace')}"


class CommandLine:
    """`smallend --check --format json < job.json`, one process a job."""

    def __init__(self, program):
        self.program = program

    def ask(self, call, job):
        done = subprocess.run(
            [self.program, "--" + call, "--format", "json"],
            input=as_bytes(job),
            capture_output=True,
            timeout=60,
            check=False,
        )
        if done.returncode in (0, 1, 2, 3):
            return Answer(200, done.stdout)
        return Answer(422 if done.returncode == 64 else 500, done.stdout + done.stderr)

    def close(self):
        pass


class Remote:
    """A service that somebody else started."""

    def __init__(self, url):
        found = re.fullmatch(r"http://([^/:]+|\[[^]]+\]):(\d+)/?", url)
        if not found:
            raise SystemExit(f"not an address of the form http://host:port: {url}")
        self.host, self.port = found.group(1).strip("[]"), int(found.group(2))
        self.connection = None

    def ask(self, call, job):
        for again in (True, False):
            if self.connection is None:
                self.connection = http.client.HTTPConnection(self.host, self.port, timeout=60)
            try:
                self.connection.request("POST", "/v1/" + call, as_bytes(job), {"Content-Type": "application/json"})
                reply = self.connection.getresponse()
                return Answer(reply.status, reply.read())
            except (http.client.HTTPException, ConnectionError):
                self.connection.close()  # an idle connection that the service closed
                self.connection = None
                if not again:
                    raise
        return None

    def close(self):
        if self.connection is not None:
            self.connection.close()


class Service(Remote):
    """The program as a service on a free loopback port, until close(); settings by their names in the environment."""

    def __init__(self, program, **more):
        settings = {name: value for name, value in os.environ.items() if not name.startswith("SMALLEND_")}
        settings.update(SMALLEND_LISTEN="127.0.0.1:0", SMALLEND_LOG="json", SMALLEND_DRAIN_DELAY_MS="0", **more)
        self.process = subprocess.Popen(
            [program], env=settings, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT
        )
        self.log = []
        port = queue.Queue()
        threading.Thread(target=self.follow, args=(port,), daemon=True).start()
        try:
            found = port.get(timeout=START_LIMIT_S)
        except queue.Empty:
            found = None
        if found is None:
            self.process.kill()
            raise SystemExit("the service did not say where it listens:\n" + "".join(self.log[-20:]))
        super().__init__(f"http://127.0.0.1:{found}")

    def follow(self, port):
        """Read the log to its end, so that the pipe never fills; hand over the port of the first line that names it."""
        told = False
        for line in self.process.stdout:
            line = line.decode("utf-8", "replace")
            self.log = self.log[-200:] + [line]
            found = re.search(r"127\.0\.0\.1:([1-9]\d*)", line)
            if found and not told:
                told = True
                port.put(int(found.group(1)))
        if not told:
            port.put(None)

    def close(self):
        """Stop it; returns a complaint if it did not end well."""
        super().close()
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGTERM)
        try:
            status = self.process.wait(timeout=40)
        except subprocess.TimeoutExpired:
            self.process.kill()
            return "the service did not stop within 40 s"
        if status != 0:
            return f"the service ended with status {status}:\n" + "".join(self.log[-20:])
        return None


def as_bytes(job):
    return job if isinstance(job, bytes) else json.dumps(job).encode()


def look_up(document, pointer):
    """A JSON pointer; in a list of objects a token that is no number selects by "id"."""
    place = document
    for token in pointer.split("/")[1:]:
        if isinstance(place, list) and not token.isdigit():
            place = next((item for item in place if isinstance(item, dict) and item.get("id") == token), None)
        elif isinstance(place, list):
            place = place[int(token)] if int(token) < len(place) else None
        elif isinstance(place, dict):
            place = place.get(token)
        else:
            return None
    return place


def main():
    if len(sys.argv) < 3:
        raise SystemExit(__doc__)
    service = Service(sys.argv[1])
    address = f"http://127.0.0.1:{service.port}"
    status = subprocess.run([word.replace("{url}", address) for word in sys.argv[2:]], check=False).returncode
    complaint = service.close()
    if complaint:
        print("FAILED " + complaint)
    return status or (1 if complaint else 0)


if __name__ == "__main__":
    sys.exit(main())
