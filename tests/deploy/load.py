"""Clients that ask through the proxy without a pause and know what each answer must be."""

import http.client
import random
import statistics
import threading
import time

ANSWER_S = 20
REQUESTS_A_CONNECTION = 60  # then a new one, so that both kinds are under way at any moment


class Question:
    """A request and the very bytes of its answer."""

    def __init__(self, method, path, body, answer):
        self.method, self.path, self.body, self.answer = method, path, body, answer
        self.headers = {"Content-Type": "application/json"} if body else {}


class Load:
    """Asks from so many threads in the block; a request that is not answered rightly and in full is a failure."""

    def __init__(self, proxy, questions, clients=6, source="127.0.0.1"):
        self.proxy, self.questions, self.source = proxy, questions, source
        self.failures, self.times = [], []
        self.lock = threading.Lock()
        self.stop = threading.Event()
        self.threads = [threading.Thread(target=self.work, args=(seed,), daemon=True) for seed in range(clients)]

    def work(self, seed):
        choose = random.Random(seed).choice
        context = self.proxy.trust()
        while not self.stop.is_set():
            connection = http.client.HTTPSConnection(
                "127.0.0.1", self.proxy.port, timeout=ANSWER_S, context=context, source_address=(self.source, 0)
            )
            for _ in range(REQUESTS_A_CONNECTION):
                if self.stop.is_set() or not self.ask(connection, choose(self.questions)):
                    break
            connection.close()

    def ask(self, connection, question):
        """One request; never again by itself. True if the connection can be used further."""
        start = time.monotonic()
        try:
            connection.request(question.method, question.path, question.body, question.headers)
            reply = connection.getresponse()
            body = reply.read()
        except (OSError, http.client.HTTPException) as fault:
            self.note(start, f"{question.method} {question.path}: {type(fault).__name__} {fault}")
            return False
        if reply.status != 200:
            self.note(start, f"{question.method} {question.path}: {reply.status} {body[:200]}")
        else:
            self.note(start, None if body == question.answer else f"{question.path}: another answer")
        return not reply.will_close

    def note(self, start, failure):
        with self.lock:
            self.times.append(time.monotonic() - start)
            if failure:
                self.failures.append(failure)

    @property
    def count(self):
        return len(self.times)

    def __enter__(self):
        for thread in self.threads:
            thread.start()
        return self

    def __exit__(self, *_):
        self.stop.set()
        for thread in self.threads:
            thread.join(ANSWER_S + 5)

    def summary(self):
        cuts = statistics.quantiles(self.times, n=100)
        return (
            f"{self.count} requests, {len(self.failures)} failed, median {cuts[49] * 1000:.1f} ms, "
            f"99 % {cuts[98] * 1000:.0f} ms, longest {max(self.times) * 1000:.0f} ms"
        )
