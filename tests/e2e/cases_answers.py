"""What a well-behaved client asks, and what it is told when it asks wrongly."""

import json
import pathlib
import time

from service import want, want_equal

FIXTURES = pathlib.Path(__file__).resolve().parents[2] / "fixtures"
JOB = (FIXTURES / "jobs" / "pump-engine.json").read_bytes()
CALLS = ("load", "strength", "slot", "set-screw", "fit", "material", "inspection", "turning", "check")
TABLES = ("steels", "bearing-metals", "bolts", "fit-classes", "units", "sources", "checks", "problems")


def want_problem(reply, status, name):
    want_equal(reply.status, status, "status")
    want_equal(reply.document["type"], "/v1/problems/" + name, "problem")


def every_call_answers_a_job(service):
    for call in CALLS:
        reply = service.ask("POST", f"/v1/{call}", JOB)
        want_equal(reply.status, 200, call)
        want_equal(reply.get("Content-Type"), "application/json", "type")
        want_equal(reply.get("Cache-Control"), "no-store", "Cache-Control of a POST")
        document = reply.document
        want(document["verdict"] in ("ok", "marginal", "incomplete", "fails"), f"verdict {document['verdict']}")
        want_equal(document["label"], json.loads(JOB)["label"], "label")


def an_empty_job_is_incomplete(service):
    reply = service.ask("POST", "/v1/check", b"{}")
    want_equal(reply.status, 200, "status")
    want_equal(reply.document["verdict"], "incomplete", "verdict")


def the_same_request_gives_the_same_bytes(service):
    bodies = {service.ask("POST", "/v1/check", JOB).body for _ in range(3)}
    want_equal(len(bodies), 1, "different answers to one request")


def the_form_follows_format_then_accept(service):
    markdown, text = "text/markdown; charset=utf-8", "text/plain; charset=utf-8"
    for path, accept, wanted in (
        ("/v1/check?format=md", None, markdown),
        ("/v1/check?format=txt", None, text),
        ("/v1/check?format=%74xt", None, text),
        ("/v1/check?format=json", "text/plain", "application/json"),
        ("/v1/check", "text/markdown", markdown),
        ("/v1/check", "text/plain;q=0.9, application/json;q=0.8", text),
        ("/v1/check", "text/html,application/xhtml+xml,*/*;q=0.8", "text/html; charset=utf-8"),
        ("/v1/check?", "*/*", "application/json"),
    ):
        reply = service.ask("POST", path, JOB, [("Accept", accept)] if accept else [])
        want_equal(reply.status, 200, path)
        want_equal(reply.get("Content-Type"), wanted, f"{path} Accept: {accept}")
        want("Accept" in reply.get("Vary"), "Vary")


def several_accept_lines_are_one(service):
    reply = service.ask("POST", "/v1/check", JOB, [("Accept", "application/json;q=0.1"), ("Accept", "text/plain")])
    want(reply.get("Content-Type").startswith("text/plain"), f"{reply}")


def a_trace_comes_with_load(service):
    reply = service.ask("POST", "/v1/load?trace=24", JOB)
    want_equal(len(reply.document["results"]["load"]["trace"]["pin_load"]["values"]), 24, "points")
    for wrong in ("11", "1441", "12.5", "", "-24", "99999999999"):
        want_problem(service.ask("POST", f"/v1/load?trace={wrong}", JOB), 400, "bad-request")
    want_problem(service.ask("POST", "/v1/check?trace=24", JOB), 400, "bad-request")


def every_table_answers_and_its_rows_too(service):
    for table in TABLES:
        reply = service.ask("GET", f"/v1/{table}")
        want_equal(reply.status, 200, table)
        want_equal(reply.get("Cache-Control"), "public, max-age=3600", "Cache-Control of a table")
        rows = reply.document[table.replace("-", "_")]
        want(rows and all(row["id"] for row in rows), f"rows of {table}")
        if table in ("steels", "bearing-metals", "problems"):
            want_equal(service.ask("GET", f"/v1/{table}/{rows[0]['id']}").status, 200, f"{table}/{rows[0]['id']}")
            want_problem(service.ask("GET", f"/v1/{table}/no-such-row"), 404, "not-found")


def every_problem_type_leads_to_its_page(service):
    for row in service.ask("GET", "/v1/problems").document["problems"]:
        want_equal(service.ask("GET", f"/v1/problems/{row['id']}").status, 200, row["id"])


def the_index_answers(service):
    want_equal(service.ask("GET", "/").status, 200, "status")


def an_unchanged_table_is_not_sent_again(service):
    first = service.ask("GET", "/v1/units")
    tag = first.get("ETag")
    want(tag and tag.startswith('"'), f"ETag {tag}")
    for named in (tag, f'"other", {tag}', f"W/{tag}", "*"):
        again = service.ask("GET", "/v1/units", headers=[("If-None-Match", named)])
        want_equal((again.status, again.body, again.get("ETag")), (304, b"", tag), f"If-None-Match: {named}")
        want_equal(again.get("Cache-Control"), first.get("Cache-Control"), "Cache-Control of 304")
    want_equal(service.ask("GET", "/v1/units", headers=[("If-None-Match", '"other"')]).status, 200, "another tag")
    want(service.ask("GET", "/v1/steels").get("ETag") != tag, "two tables with one tag")


def head_is_get_without_the_body(service):
    for path in ("/", "/v1/units", "/v1/steels/no-such", "/livez"):
        get, head = service.ask("GET", path), service.ask("HEAD", path)
        want_equal((head.status, head.body), (get.status, b""), f"HEAD {path}")
        for name in ("Content-Type", "Content-Length", "ETag", "Cache-Control"):
            want_equal(head.get(name), get.get(name), f"{name} of HEAD {path}")


def options_lists_the_methods(service):
    for path, wanted in (("/v1/check", "GET, HEAD, POST, OPTIONS"), ("/v1/units", "GET, HEAD, OPTIONS"), ("/", "GET, HEAD, OPTIONS")):
        reply = service.ask("OPTIONS", path)
        want_equal((reply.status, reply.body, reply.get("Allow")), (204, b"", wanted), f"OPTIONS {path}")
    want_problem(service.ask("OPTIONS", "/v1/nothing"), 404, "not-found")


def other_methods_are_told_which_will_do(service):
    for method, path, allow in (
        ("PUT", "/v1/check", "GET, HEAD, POST, OPTIONS"),
        ("POST", "/v1/units", "GET, HEAD, OPTIONS"), ("DELETE", "/v1/steels/1045-cd", "GET, HEAD, OPTIONS"),
        ("PATCH", "/", "GET, HEAD, OPTIONS"), ("PROPFIND", "/", "GET, HEAD, OPTIONS"),
        ("CONNECT", "/livez", "GET, HEAD, OPTIONS"),
    ):
        reply = service.ask(method, path)
        want_equal((reply.status, reply.get("Allow")), (405, allow), f"{method} {path}")


def web_pages_of_any_origin_may_read(service):
    for path in ("/v1/check", "/v1/nothing"):
        reply = service.ask("POST", path, JOB, [("Origin", "https://forum.example")])
        want_equal(reply.get("Access-Control-Allow-Origin"), "*", path)
        want(reply.get("Access-Control-Allow-Credentials") is None, "credentials")
        want("ETag" in reply.get("Access-Control-Expose-Headers"), "exposed headers")
    preflight = service.ask("OPTIONS", "/v1/check", headers=[
        ("Origin", "https://forum.example"), ("Access-Control-Request-Method", "POST"),
        ("Access-Control-Request-Headers", "content-type")])
    want_equal(preflight.status, 204, "preflight")
    want_equal(preflight.get("Access-Control-Allow-Origin"), "*", "origin")
    want("POST" in preflight.get("Access-Control-Allow-Methods"), "methods")
    want("content-type" in preflight.get("Access-Control-Allow-Headers"), "headers")
    want_equal(service.ask("GET", "/readyz").get("Access-Control-Allow-Origin"), None, "origin for probes")


def probes_answer_short_and_fresh(service):
    for path, word in (("/livez", "alive"), ("/readyz", "ready"), ("/readyz?now=1", "ready")):
        reply = service.ask("GET", path, headers=[("Accept", "text/html")])
        want_equal((reply.status, reply.document["status"]), (200, word), path)
        want_equal(reply.get("Cache-Control"), "no-store", "Cache-Control")
        want(reply.document["service"]["version"], "version")


def the_log_has_route_and_trace_but_no_path(service):
    trace = "0af7651916cd43dd8448eb211c80319c"
    service.ask("GET", "/v1/steels/no-such-steel-here", headers=[("traceparent", f"00-{trace}-b7ad6b7169203331-01")])
    line = service.logged(lambda line: line.get("trace_id") == trace)
    want_equal((line["method"], line["route"], line["status"]), ("GET", "/v1/steels/{id}", 404), "log line")
    want(line["dur_ms"] >= 0 and line["bytes_out"] > 0, f"{line}")
    want("no-such-steel-here" not in json.dumps(service.lines), "the path is in the log")


# ---- problems ----


def a_body_that_is_no_job_is_refused_with_reasons(service):
    for body, status, name in (
        (b"", 400, "not-json"), (b"{", 400, "not-json"), (b"\xff\xfe{}", 400, "not-json"), (b"[" * 60, 400, "too-deep"),
        (b'{"units": "inch", "units": "inch"}', 400, "duplicate-member"), (b"[]", 422, "invalid-job"),
        (b'{"engine": {"boer": 5.25}}', 422, "invalid-job"), (b'{"engine": {"bore": "5,25 in"}}', 422, "invalid-job"),
        (b'{"engine": {"bore": "5 psi"}}', 422, "invalid-job"), (b'{"engine": {"bore": 1e300}}', 422, "invalid-job"),
    ):
        want_problem(service.ask("POST", "/v1/check", body), status, name)
    error = service.ask("POST", "/v1/check", b'{"engine": {"boer": 5.25}}').document["errors"][0]
    want_equal((error["pointer"], error["code"], error["nearest"]), ("/engine/boer", "unknown_member", "bore"), "error")


def an_unknown_address_is_not_found(service):
    for path in ("/v2/check", "/v1", "/v1/", "/v1/check/", "/v1/checks/fatigue", "/favicon.ico", "/.htpasswd", "//",
                 "/livez/",
                 "/v1/steels/" + "a" * 64, "/v1/steels/a/b", "/LIVEZ"):
        want_problem(service.ask("GET", path), 404, "not-found")


def an_unknown_address_is_told_in_the_form_asked_for(service):
    for path, accept, wanted in (
        ("/v1/nonsense", "text/markdown", "text/markdown; charset=utf-8"),
        ("/v1/nonsense", "text/plain", "text/plain; charset=utf-8"),
        ("/v1/nonsense", "text/html,*/*;q=0.8", "text/html; charset=utf-8"),
        ("/v1/nonsense?format=md", "application/json", "text/markdown; charset=utf-8"),
        ("/v1/nonsense?format=svg", "text/plain", "text/plain; charset=utf-8"),
        ("/v1/nonsense?format=pdf", "*/*", "application/problem+json"),
        ("/v1/nonsense?a=%zz", "image/svg+xml", "application/problem+json"),
        ("/v1/nonsense", "application/json", "application/problem+json"),
    ):
        reply = service.ask("GET", path, None, [("Accept", accept)])
        want_equal(reply.status, 404, path)
        want_equal(reply.get("Content-Type"), wanted, f"{path} Accept: {accept}")
        want("Accept" in reply.get("Vary"), "Vary")


def an_address_to_be_decoded_is_not_found(service):
    for path in ("/v1/./check", "/v1/../v1/check", "/v1//check", "/v1/check%00", "/v1%2fcheck", "/v1/%63heck",
                 "/v1/check;a=b",
                 "/v1/check.", "/v1\\check", "/v1/units#x", "/%0d%0aSet-Cookie:%20a=b", "/..%2f..%2fetc/passwd"):
        want_problem(service.ask("GET", path), 404, "not-found")


def an_unknown_parameter_is_refused_by_name(service):
    reply = service.ask("POST", "/v1/check?fromat=md", JOB)
    want_problem(reply, 400, "bad-request")
    want("fromat" in reply.document["detail"], "the name of the parameter")
    for query in ("format=json&format=json", "format=json&x=1", "%zz=1", "a=%00", "=", "format=md%", "a" * 100):
        want_problem(service.ask("POST", f"/v1/check?{query}", JOB), 400, "bad-request")
    want_problem(service.ask("GET", "/v1/units?page=2"), 400, "bad-request")


def a_form_that_cannot_be_given_is_refused(service):
    want_problem(service.ask("POST", "/v1/check", JOB, [("Accept", "image/png")]), 406, "not-acceptable")
    want_problem(service.ask("POST", "/v1/check?format=pdf", JOB), 406, "not-acceptable")
    want_problem(service.ask("POST", "/v1/check?format=", JOB), 406, "not-acceptable")
    want_problem(service.ask("GET", "/v1/units?format=md"), 406, "not-acceptable")


def a_body_of_another_type_is_refused(service):
    for name, value in (("Content-Type", "text/plain"), ("Content-Type", "application/x-www-form-urlencoded"),
                        ("Content-Type", "multipart/form-data; boundary=x"), ("Content-Encoding", "gzip")):
        want_problem(service.ask("POST", "/v1/check", JOB, [(name, value)]), 415, "unsupported-media-type")
    for value in ("application/json; charset=utf-8", "application/vnd.joint+json"):
        want_equal(service.ask("POST", "/v1/check", JOB, [("Content-Type", value)]).status, 200, value)


def a_body_without_a_type_is_taken_for_json(service):
    reply = service.raw(b"POST /v1/check HTTP/1.1\r\nHost: x\r\nConnection: close\r\nContent-Length: 2\r\n\r\n{}")
    want_equal([answer.status for answer in reply], [200], "status")


def a_body_too_large_is_refused_and_the_client_sees_it(service):
    for size in (65537, 1000000):
        reply = service.ask("POST", "/v1/check", b" " * size)
        want_problem(reply, 413, "too-large")
        want_equal(reply.get("Connection"), "close", "Connection")
    padded = b"{" + b" " * 65534 + b"}"
    want_equal(service.ask("POST", "/v1/check", padded).status, 200, "a body at the limit")


def a_missing_length_is_asked_for(service):
    reply = service.raw(b"POST /v1/check HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n")
    want_equal([answer.status for answer in reply], [411], "status")


def a_client_that_waits_for_leave_gets_it_at_once(service):
    with service.client() as client:
        head = "POST /v1/check HTTP/1.1\r\nHost: x\r\nContent-Length: 2\r\nExpect: 100-Continue\r\n\r\n"
        client.send(head)
        start = time.monotonic()
        want_equal(client.reply(interim=True).status, 100, "interim status")
        want(time.monotonic() - start < 0.8, "the leave came late")
        client.send("{}")
        want_equal(client.reply().status, 200, "status")
        client.send(head.replace("100-Continue", "a-miracle"))
        want_problem(client.reply(), 417, "expectation-failed")
        want(client.is_closed(), "")
    with service.client() as client:
        client.send(head.replace("Length: 2", "Length: 99999999"))
        want_problem(client.reply(), 413, "too-large")
        want(client.is_closed(), "")


SHARED_CASES = [value for value in list(globals().values())
         if callable(value) and value.__module__ == __name__ and value is not want_problem]
