"""Many jobs in one request: answered in order, faults in their place, streamed, and bounded in every respect."""

import http.client
import json
import os
import signal
import subprocess
import threading
import time

from cases_answers import CALLS, FIXTURES, JOB, want_problem
from service import Failed, Service, environment, want, want_equal

PIECE = 65536  # the service gathers as much before it sends
MANY = 1000  # the most jobs of a batch
BODY_MAX = 4194304  # and bytes of it
SLOW_JOB = (FIXTURES / "jobs" / "held-in-piston.json").read_bytes()
HEAD = "POST /v1/batch HTTP/%s\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: %d\r\n%s\r\n"
READ_S, WRITE_S, SLACK_S = 5, 10, 5
CALCULATION_S = 40  # for a part of a full batch, on a busy machine and under a sanitizer


def entry(call, job=None, **others):
    members = [json.dumps(name) + ":" + json.dumps(value) for name, value in {"call": call, **others}.items()]
    return ("{" + ",".join(members)).encode() + (b',"job":' + job if job else b"") + b"}"


def batch(entries):
    return b'{"jobs":[' + b",".join(entries) + b"]}"


def slow(count):
    """Jobs of many trials each: nothing passes, and the whole range is searched."""
    job = json.loads(SLOW_JOB)
    job["find"] = {"what": "pin.hardness"}
    return batch([entry("size", json.dumps(job).encode())] * count)


DEMO = batch([entry("check", JOB)] * MANY)


def request(body, version="1.1", headers=""):
    return (HEAD % (version, len(body), headers)).encode() + body


def ask(service, body):
    """By Python's own client, which reads what is chunked: the reply and its body."""
    connection = http.client.HTTPConnection("127.0.0.1", service.port, timeout=120)
    if service.scheme == "https":
        context = service.contexts[service.port]
        connection = http.client.HTTPSConnection("localhost", service.port, timeout=120, context=context)
    connection.request("POST", "/v1/batch", body, {"Content-Type": "application/json"})
    reply = connection.getresponse()
    data = reply.read()
    connection.close()
    return reply, data


def read_head(client):
    while b"\r\n\r\n" not in client.pending:
        want(client.more(), f"no head came, only {client.pending[:200]!r}")
    head, client.pending = client.pending.split(b"\r\n\r\n", 1)
    return [line.lower() for line in head.decode("latin-1").split("\r\n")]


def read_chunks(client):
    """The chunks of an answer, strictly by RFC 9112 section 7.1 and without extensions or trailers."""
    chunks = []
    while True:
        while b"\r\n" not in client.pending:
            want(client.more(), f"cut off before a chunk, after {sum(map(len, chunks))} bytes")
        size, client.pending = client.pending.split(b"\r\n", 1)
        want(size and not size.strip(b"0123456789abcdef"), f"size of a chunk: {size[:40]!r}")
        length = int(size, 16)
        while len(client.pending) < length + 2:
            want(client.more(), f"cut off in a chunk, after {sum(map(len, chunks))} bytes")
        want_equal(client.pending[length:length + 2], b"\r\n", "behind a chunk")
        chunk, client.pending = client.pending[:length], client.pending[length + 2:]
        if not chunk:
            return chunks
        chunks.append(chunk)


def lines(data):
    """The answers of a batch as they stand in it, each on its line."""
    head, *answers, tail = data.split(b"\n")[:-1]
    want(head.endswith(b'"answers":[') and tail.startswith(b"]"), f"{data[:100]!r} ... {data[-100:]!r}")
    return [answer.removesuffix(b",") for answer in answers]


def statuses(data):
    return [answer["status"] for answer in json.loads(data)["answers"]]


def want_all_checked(data):
    """The same of a thousand long answers. One is read: to parse them all would hold up the cases beside this one."""
    answers = lines(data)
    want_equal(len(answers), MANY, "answers")
    want(all(answer.startswith(b'{"call":"check","status":200,"answer":{') for answer in answers), "status")
    want_equal(len(set(answers)), 1, "different answers to one job")
    want_equal(json.loads(answers[-1])["answer"]["label"], json.loads(JOB)["label"], "label")


def is_cut_off(line):
    return line["msg"] == "answer cut off"


def is_answered_batch(line):
    return line["msg"] == "request" and line["route"] == "/v1/batch"


def resident_kb(service, name):
    with open(f"/proc/{service.process.pid}/status", encoding="ascii") as status:
        return next(int(line.split()[1]) for line in status if line.startswith(name + ":"))


# ---- on one service ----


def a_batch_answers_with_the_bytes_of_single_calls(service):
    jobs = [path.read_bytes() for path in sorted((FIXTURES / "jobs").glob("*.json"))]
    pairs = [(call, job) for job in jobs for call in CALLS]
    pairs += [("check", b'{"engine": {"boer": 5}}'), ("fit", b"[]"), ("load", b'{"engine": nonsense}')]
    reply, data = ask(service, batch([entry(call, job) for call, job in pairs]))
    document = json.loads(data)
    want_equal((reply.status, reply.getheader("Content-Type")), (200, "application/json"), "answer")
    want(document["service"]["version"] and document["cautions"], "service and cautions")
    answers = lines(data)
    want_equal(len(answers), len(pairs), "answers")
    for (call, job), answer in zip(pairs, answers):
        single = service.ask("POST", f"/v1/{call}", job)
        member = b"answer" if single.status == 200 else b"problem"
        wanted = b'{"call":"%s","status":%d,"%s":%s}' % (call.encode(), single.status, member, single.body[:-1])
        want(answer == wanted, f"{call} of {job[:80]!r}: {answer[:300]!r}")


def a_batch_keeps_the_order_and_the_ids(service):
    jobs = [entry("load", b'{"label": "%d"}' % number, id=f"job {number}") for number in range(MANY)]
    document = json.loads(ask(service, batch(jobs))[1])
    want_equal([answer["id"] for answer in document["answers"]], [f"job {number}" for number in range(MANY)], "ids")
    want_equal([answer["answer"]["label"] for answer in document["answers"]], [str(number) for number in range(MANY)],
               "labels")


def faults_of_a_batch_stand_in_their_place(service):
    _, data = ask(service, batch([entry("check", JOB), entry("chek", JOB, id="b"), b"7", entry("fit", b"{}"),
                                  entry("fit", b'{"pin": {"diameter": "5 psi"}}')]))
    answers = json.loads(data)["answers"]
    want_equal(statuses(data), [200, 422, 422, 200, 422], "status")
    error = answers[1]["problem"]["errors"][0]
    want_equal((answers[1]["id"], error["pointer"], error["nearest"]), ("b", "/jobs/1/call", "check"), "unknown call")
    want("inspection" in error["expected"], "the calls there are")
    want_equal(answers[2]["problem"]["errors"][0]["pointer"], "/jobs/2", "no object")
    want_equal(answers[4]["problem"]["errors"][0]["pointer"], "/pin/diameter", "a fault of the job")


def a_short_batch_is_sent_with_its_length(service):
    for version, connection in (("1.1", None), ("1.0", "keep-alive")):
        with service.client() as client:
            for _ in range(2):
                client.send(request(batch([entry("check", JOB)]), version, "Connection: keep-alive\r\n"))
                reply = client.reply()
                want_equal((reply.status, reply.get("Transfer-Encoding"), reply.get("Connection")),
                           (200, None, connection), f"HTTP/{version}")
                want(reply.get("Server-Timing"), "the time it took")
    reply = service.ask("POST", "/v1/batch", b'{"jobs": []}')
    want_equal((reply.status, reply.document["answers"]), (200, []), "an empty batch")


def a_long_batch_is_sent_in_chunks(service):
    with service.client() as client:
        for count in (2, 40):
            client.send(request(batch([entry("check", JOB)] * count)))
            head = read_head(client)
            want("transfer-encoding: chunked" in head and not any("content-length" in line for line in head), f"{head}")
            chunks = read_chunks(client)
            want_equal(statuses(b"".join(chunks)), [200] * count, "status")
            want_equal({len(chunk) for chunk in chunks[:-1]}, {PIECE}, "size of all chunks but the last")
        client.send("GET /livez HTTP/1.1\r\nHost: x\r\n\r\n")
        want_equal(client.reply().status, 200, "the next request on the connection")


def a_long_batch_ends_with_the_connection_in_old_http(service):
    with service.client() as client:
        client.send(request(batch([entry("check", JOB)] * 4), "1.0", "Connection: keep-alive\r\n"))
        head = read_head(client)
        want("connection: close" in head, f"{head}")
        want(not any(line.startswith(("content-length", "transfer-encoding")) for line in head), f"{head}")
        while client.more():
            pass
        want_equal(statuses(client.pending), [200] * 4, "status")


def a_batch_that_is_none_is_refused_as_a_whole(service):
    for body, status, name in (
        (b"", 400, "not-json"), (b'{"jobs": [', 400, "not-json"), (b'{"jobs": [{"call": "fit}]}', 400, "not-json"),
        (b'{"jobs": [], "jobs": []}', 400, "duplicate-member"), (b"[" * 100, 400, "too-deep"),
        (b"{}", 422, "invalid-job"), (b"[]", 422, "invalid-job"), (b'{"jobs": {}}', 422, "invalid-job"),
        (b'{"jobs": [], "mode": "fast"}', 422, "invalid-job"), (batch([b"{}"] * (MANY + 1)), 422, "invalid-job"),
        (b'{"jobs": [' + b" " * (BODY_MAX - 11) + b"]}", 413, "too-large"),
    ):
        want_problem(service.ask("POST", "/v1/batch", body), status, name)
    padded = b'{"jobs": [' + b" " * (BODY_MAX - 12) + b"]}"
    want_equal(service.ask("POST", "/v1/batch", padded).status, 200, "a batch at the limit")
    error = service.ask("POST", "/v1/batch", b'{"job": []}').document["errors"]
    want_equal([(one["pointer"], one["code"]) for one in error], [("/job", "unknown_member"), ("/jobs", "missing")], "")


def a_batch_is_answered_as_json_only(service):
    want_problem(service.ask("POST", "/v1/batch?format=md", b'{"jobs":[]}'), 406, "not-acceptable")
    want_problem(service.ask("POST", "/v1/batch", b'{"jobs":[]}', [("Accept", "text/plain")]), 406, "not-acceptable")
    want_problem(service.ask("POST", "/v1/batch?trace=24", b'{"jobs":[]}'), 400, "bad-request")
    want_problem(service.ask("GET", "/v1/batch"), 405, "method-not-allowed")
    want(any(call["href"] == "/v1/batch" for call in service.ask("GET", "/").document["calls"]), "batch in the index")


SHARED_CASES = [a_batch_answers_with_the_bytes_of_single_calls, a_batch_keeps_the_order_and_the_ids,
                faults_of_a_batch_stand_in_their_place, a_short_batch_is_sent_with_its_length,
                a_long_batch_is_sent_in_chunks, a_long_batch_ends_with_the_connection_in_old_http,
                a_batch_that_is_none_is_refused_as_a_whole, a_batch_is_answered_as_json_only]


# ---- each on a service of its own ----


def lean(program):
    """A service whose resident memory tells something: a sanitizer would keep what was freed, for later."""
    options = "ASAN_OPTIONS=quarantine_size_mb=1:thread_local_quarantine_size_kb=64"
    service = Service("/usr/bin/env", arguments=[options, program], threads=4, batch_limit_ms=600000)
    for _ in range(8):
        ask(service, batch([entry("check", JOB)] * 8))  # each thread once
    return service


def a_full_batch_takes_little_memory(program):
    """The body, and pieces of the answer: not the answer, 28 times as long, nor a tree of the body, ten times."""
    with lean(program) as service:
        before = resident_kb(service, "VmRSS")
        reply, data = ask(service, DEMO)
        grown = resident_kb(service, "VmHWM") - before
        want_equal(reply.getheader("Transfer-Encoding"), "chunked", "answer")
        want_all_checked(data)
        want(len(data) > 20 * len(DEMO), f"{len(data)} bytes of answers show nothing")
        limit = (2 * len(DEMO) + 32 * PIECE) // 1024
        want(grown <= limit, f"{grown} kB more for a body of {len(DEMO) // 1024} kB; at most {limit} kB were wanted")


def the_memory_of_a_batch_is_given_back(program):
    """Whichever thread had it."""
    largest = batch([entry("fit")])
    largest += b" " * (BODY_MAX - len(largest))
    with lean(program) as service:
        before = resident_kb(service, "VmRSS")
        for _ in range(12):
            want_equal(statuses(ask(service, largest)[1]), [200], "status")
        service.logged(lambda line: sum(map(is_answered_batch, service.lines)) == 8 + 12)  # and done with
        kept = resident_kb(service, "VmRSS") - before
        want(kept < BODY_MAX // 1024, f"{kept} kB were kept after 12 batches of {BODY_MAX // 1024} kB")


def a_client_that_leaves_does_not_hurt_the_next(program):
    with Service(program, threads=4, max_batches=1) as service:
        for number, received in enumerate((0, 1, 200000), 1):
            with service.client() as client:
                client.send(request(DEMO))
                while len(client.pending) < received:
                    want(client.more(), f"the service closed after {client.pending[:300]!r}")
            service.logged(lambda line: sum(map(is_answered_batch, service.lines)) == number)
        done = [line for line in service.lines if is_answered_batch(line)]
        want(all(line["bytes_out"] < 10000000 for line in done), f"answers went on for nobody: {done}")
        want_equal([line["reason"] for line in service.lines if is_cut_off(line)], ["client"] * 3, "reasons")
        want_equal(statuses(ask(service, batch([entry("check", JOB)] * 3))[1]), [200] * 3, "the next client")


def want_cut_off(service):
    """For the client's sake alone: the time to calculate what filled its buffers does not count."""
    waiting_s = service.logged(is_cut_off, CALCULATION_S + WRITE_S)["waiting_ms"] / 1000
    want(READ_S - 1 < waiting_s < WRITE_S + SLACK_S, f"cut off after {waiting_s} s")


def a_client_that_does_not_read_its_batch_is_cut_off(program):
    with Service(program, threads=4) as service, service.client(receive_buffer=2048) as client:
        client.send(request(DEMO))
        want_cut_off(service)
        want_equal(service.ask("GET", "/livez").status, 200, "the next client")
        while client.more():
            pass
        want(not client.pending.endswith(b"0\r\n\r\n"), "what was cut off looks whole")


def a_client_that_reads_its_batch_in_sips_is_cut_off(program):
    """Each sip is progress, so that only the limit for a piece ends it."""
    with Service(program, threads=4) as service, service.client(receive_buffer=2048) as client:
        client.send(request(DEMO))
        end = time.monotonic() + CALCULATION_S + WRITE_S
        while time.monotonic() < end and not any(map(is_cut_off, service.lines)) and client.socket.recv(200):
            time.sleep(0.1)
        want_cut_off(service)


def a_batch_that_calculates_too_long_is_put_off_in_its_place(program):
    """What one request may cost is bounded; what was left out is told, and nothing that was done is lost."""
    with Service(program, batch_limit_ms=400) as service:
        reply, data = ask(service, slow(MANY))
        got = statuses(data)
        done = got.count(200)
        want_equal((reply.status, got), (200, [200] * done + [503] * (MANY - done)), "status")
        want(0 < done < MANY, f"{done} jobs were answered within 0.4 s")
        late = json.loads(data)["answers"][-1]["problem"]
        want_equal(late["type"], "/v1/problems/unavailable", "problem")
        want("0.4 s" in late["detail"], late["detail"])


def what_is_ready_of_a_batch_is_sent_within_a_second(program):
    """So that whoever stands between sees that something comes, though a piece is far from full. Here the service is held
    for more than a second: what it does next takes that long on any machine."""
    with Service(program, batch_limit_ms=600000) as service, service.client() as client:
        count = 150  # more than can be done before it is held
        client.send(request(slow(count)))
        read_head(client)
        chunks = []
        reader = threading.Thread(target=lambda: chunks.extend(read_chunks(client)))
        reader.start()
        time.sleep(0.1)
        os.kill(service.process.pid, signal.SIGSTOP)
        time.sleep(1.5)
        os.kill(service.process.pid, signal.SIGCONT)
        reader.join()
        want_equal(statuses(b"".join(chunks)), [200] * count, "status")
        want(any(len(chunk) < PIECE for chunk in chunks[:-1]), f"{[len(chunk) for chunk in chunks]}")


def only_so_many_batches_are_let_in(program):
    small = batch([entry("fit", JOB)])
    with Service(program, threads=8, max_batches=2) as service:
        holders = [service.client() for _ in range(2)]
        for holder in holders:
            holder.send(HEAD % ("1.1", len(small), ""))
        time.sleep(0.3)
        reply = service.ask("POST", "/v1/batch", small)
        want_problem(reply, 503, "unavailable")
        want_equal((bool(reply.get("Retry-After")), reply.get("Connection")), (True, "close"), "headers")
        want_equal(service.ask("POST", "/v1/fit", JOB).status, 200, "a single call meanwhile")
        for holder in holders:
            holder.send(small)
            want_equal(holder.reply().status, 200, "those let in")
        want_equal(service.ask("POST", "/v1/batch", small).status, 200, "afterwards")
        for holder in holders:
            holder.socket.close()


def a_large_body_may_come_slowly(program):
    """It has the time of a slow line, which is more than a single job's; a line that is silent has not."""
    body = batch([entry("fit", JOB)]) + b" " * (3 * 8 * PIECE)
    with Service(program) as service:
        with service.client() as client, service.client() as silent:
            silent.send(HEAD % ("1.1", len(body), ""))
            start = time.monotonic()
            client.send(HEAD % ("1.1", len(body), ""))
            for at in range(0, len(body), PIECE * 8):
                client.send(body[at:at + PIECE * 8])
                time.sleep(0.45 * READ_S)
            want_equal(client.reply().status, 200, "a body in pieces")
            want(time.monotonic() - start > READ_S, "the body came too soon to show anything")
            want_problem(silent.reply(), 408, "request-timeout")
            want(silent.is_closed(), "")


def a_stop_lets_a_batch_finish(program):
    service = Service(program, drain_limit_ms=120000, batch_limit_ms=600000)
    with service.client() as client:
        client.send(request(DEMO))
        read_head(client)
        service.signal()
        service.logged(lambda line: line["msg"] == "draining")
        want_all_checked(b"".join(read_chunks(client)))
    service.close()
    want_equal(service.logged(lambda line: line["msg"] == "stopped")["cut_off"], 0, "requests cut off")


def a_stop_at_its_limit_leaves_no_batch_that_looks_whole(program):
    service = Service(program, drain_limit_ms=200)
    with service.client(receive_buffer=4096) as client:
        client.send(request(DEMO))
        read_head(client)
        service.signal(signal.SIGINT)
        service.close()
        try:
            read_chunks(client)
        except Failed:
            return
    raise Failed("the answer came whole, so that nothing was shown")


def the_size_limit_of_a_batch_can_be_set(program):
    with Service(program, max_batch=2000, max_body=1024) as service:
        want_equal(service.ask("POST", "/v1/batch", b'{"jobs":[' + b" " * 1989 + b"]}").status, 200, "2,000 bytes")
        want_equal(service.ask("POST", "/v1/batch", b'{"jobs":[' + b" " * 1990 + b"]}").status, 413, "2,001 bytes")


def run(program, body, **settings):
    return subprocess.run([program, "--batch"], input=body, env=environment(**settings), capture_output=True,
                          timeout=120, check=False)


def a_batch_from_standard_input_is_the_service_s(program):
    body = batch([entry("check", JOB), entry("load", JOB, id="x"), entry("fit")])
    done = run(program, body)
    with Service(program) as service:
        want_equal((done.returncode, done.stdout), (0, ask(service, body)[1]), "answer")


def the_status_of_a_batch_tells_whether_all_was_answered(program):
    for body, status in ((batch([]), 0), (batch([entry("fit"), entry("check", b"{}")]), 0),
                         (batch([entry("fit"), entry("ftt"), entry("fit")]), 64), (b"{}", 64), (b"[", 64), (b"", 64)):
        done = run(program, body)
        want_equal(done.returncode, status, f"{body[:60]}")
        want("cautions" in json.loads(done.stdout), "no document")
    done = run(program, batch([entry("fit")] * 200), max_batch=1024)
    want(done.returncode == 64 and b"1024 bytes" in done.stderr and not done.stdout, f"{done}")


CASES = [a_full_batch_takes_little_memory, the_memory_of_a_batch_is_given_back,
         a_client_that_leaves_does_not_hurt_the_next,
         a_client_that_does_not_read_its_batch_is_cut_off, a_client_that_reads_its_batch_in_sips_is_cut_off,
         a_batch_that_calculates_too_long_is_put_off_in_its_place, what_is_ready_of_a_batch_is_sent_within_a_second,
         only_so_many_batches_are_let_in, a_large_body_may_come_slowly, a_stop_lets_a_batch_finish,
         a_stop_at_its_limit_leaves_no_batch_that_looks_whole, the_size_limit_of_a_batch_can_be_set,
         a_batch_from_standard_input_is_the_service_s, the_status_of_a_batch_tells_whether_all_was_answered]
