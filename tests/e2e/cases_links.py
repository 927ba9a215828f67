"""Answers that can be linked to: the job in the address."""

import base64
import json
import pathlib

from service import Service, want, want_equal

FIXTURES = pathlib.Path(__file__).resolve().parents[2] / "fixtures" / "jobs"
CALLS = ("load", "strength", "slot", "set-screw", "fit", "material", "inspection", "turning", "check")


def want_problem(reply, status, name):
    want_equal(reply.status, status, "status")
    want_equal(reply.get("Content-Type"), "application/problem+json", "type")
    want_equal(reply.document["type"], "/v1/problems/" + name, "problem")
    want(reply.document["cautions"], "cautions")


def a_post_tells_the_link_to_the_same_bytes(service):
    for path in sorted(FIXTURES.glob("*.json")):
        job = path.read_bytes()
        for call in CALLS:
            for form in ("", "?format=md", "?format=html"):
                posted = service.ask("POST", f"/v1/{call}{form}", job)
                link = posted.get("Content-Location")
                want(link is not None and link.startswith(f"/v1/{call}") and len(link) <= 8000, f"link {link}")
                linked = service.ask("GET", link)
                want_equal(linked.status, 200, link)
                want_equal(linked.body, posted.body, f"{path.name} {call}{form}")
                want_equal(linked.get("Content-Type"), posted.get("Content-Type"), "type")


def a_link_may_be_kept_and_asked_for_again(service):
    link = "/v1/load?engine.bore=5.25in&engine.stroke=8&engine.peak_pressure=285+psi"
    first = service.ask("GET", link)
    want_equal((first.status, first.get("Cache-Control")), (200, "public, max-age=86400"), "first")
    # pi/4 x 5.25^2 x 285
    force = first.document["results"]["load"]["gas_force_peak"]["value"]
    want(abs(force - 6169.55) < 0.01, f"gas force {force}")
    again = service.ask("GET", link, headers=[("If-None-Match", first.get("ETag"))])
    want_equal((again.status, again.body, again.get("ETag")), (304, b"", first.get("ETag")), "again")
    other = service.ask("GET", link + "&format=txt")
    want(other.get("ETag") != first.get("ETag"), "two forms with one tag")
    head = service.ask("HEAD", link)
    want_equal((head.status, head.get("Content-Length"), head.body), (200, str(len(first.body)), b""), "HEAD")
    want_equal(first.get("Content-Location"), None, "a link to itself")


def the_whole_job_may_stand_in_one_parameter(service):
    job = (FIXTURES / "pump-engine.json").read_bytes()
    text = base64.urlsafe_b64encode(job).decode()
    posted = service.ask("POST", "/v1/check", job)
    for spelt in (text, text.rstrip("=")):
        want_equal(service.ask("GET", f"/v1/check?job={spelt}").body, posted.body, "job=")
    wrong = base64.urlsafe_b64encode(b'{"pin": {"diametr": 1}}').decode().rstrip("=")
    reply = service.ask("GET", f"/v1/check?job={wrong}")
    want_problem(reply, 422, "invalid-job")
    want_equal(reply.document["errors"][0]["pointer"], "/pin/diametr", "pointer within job=")
    want_problem(service.ask("GET", "/v1/check?job=%21"), 400, "bad-request")
    want_problem(service.ask("GET", "/v1/check?job=e30&units=metric"), 400, "bad-request")
    want_problem(service.ask("GET", "/v1/check?job=ew"), 400, "not-json")


def faults_of_a_link_name_the_parameter(service):
    reply = service.ask("GET", "/v1/inspection?engine.bor=5&inspection.readings.0.size=5,25&pin.diameter=3+psi")
    want_problem(reply, 422, "invalid-job")
    want_equal(reply.get("Cache-Control"), "no-store", "a refusal kept")
    errors = {error["parameter"]: error for error in reply.document["errors"]}
    want_equal({name: error["code"] for name, error in errors.items()},
               {"engine.bor": "unknown_member", "inspection.readings.0.size": "bad_number",
                "pin.diameter": "wrong_unit"}, "errors")
    want_equal(errors["engine.bor"]["nearest"], "bore", "nearest")
    posted = service.ask("POST", "/v1/inspection", json.dumps({
        "engine": {"bor": "5"}, "inspection": {"readings": [{"size": "5,25"}]}, "pin": {"diameter": "3 psi"}}).encode())
    for error in posted.document["errors"]:
        place = error.pop("pointer").lstrip("/").replace("/", ".")
        error["parameter"] = place
        want_equal(errors[place], error, "the same fault by POST")


def parameters_that_spell_no_job_are_refused(service):
    for query, status, name in (
        ("engine.bore=5&engine.bore=5", 400, "duplicate-member"), ("engine=5&engine.bore=5", 400, "duplicate-member"),
        ("engine..bore=5", 400, "bad-request"), ("=5", 400, "bad-request"), ("engine.bore=%ff", 400, "bad-request"),
        ("engine.bore=%zz", 400, "bad-request"), ("find.among.1=1045-cd", 400, "bad-request"),
        ("a.b.c.d.e.f.g=1", 400, "bad-request"), ("trace=72", 422, "invalid-job"), ("format=pdf", 406, "not-acceptable"),
        ("engine.0=5", 422, "invalid-job"), ("page=2", 422, "invalid-job"),
    ):
        want_problem(service.ask("GET", f"/v1/check?{query}"), status, name)


def a_form_left_half_empty_is_answered(service):
    reply = service.ask("GET", "/v1/load?label=&engine.bore=5&engine.stroke=8&engine.peak_pressure=285&engine.speed=")
    want_equal(reply.status, 200, "status")
    want(reply.document["results"]["load"]["pin_load_max"]["value"] > 0, "load")
    want_equal(service.ask("GET", "/v1/check").document["verdict"], "incomplete", "no query at all")


def a_refusal_speaks_the_form_asked_for(service):
    for form, kind in (("md", "text/markdown"), ("txt", "text/plain"), ("html", "text/html")):
        for path, headers in ((f"/v1/check?format={form}&engine.bor=@all", []),
                              ("/v1/check?engine.bor=@all", [("Accept", kind)])):
            reply = service.ask("GET", path, headers=headers)
            want_equal(reply.status, 422, path)
            want_equal(reply.get("Content-Type"), f"{kind}; charset=utf-8", "type")
            want(b"engine.bor" in reply.body and b"Cautions" in reply.body and b"@" not in reply.body, f"{reply.body}")


def a_page_can_do_nothing(service):
    reply = service.ask("GET", "/v1/check?label=%3Cscript%3Ealert(1)%3C/script%3E&format=html")
    want_equal(reply.get("Content-Security-Policy"), "default-src 'none'; style-src 'unsafe-inline'; "
               "base-uri 'none'; form-action 'none'", "policy")
    want_equal(reply.get("X-Content-Type-Options"), "nosniff", "sniffing")
    want(b"<script" not in reply.body and b"src=" not in reply.body, "a script, or something fetched")


def links_are_whole_where_the_public_address_is_set(program):
    with Service(program, PUBLIC_URL="https://pins.example/engines") as service:
        reply = service.ask("POST", "/v1/check?format=txt", b'{"engine": {"bore": 5}}')
        want_equal(reply.get("Content-Location"),
                   "https://pins.example/engines/v1/check?engine.bore=5&format=txt", "link")
        want(b"\nhttps://pins.example/engines/v1/check?engine.bore=5\n" in reply.body, "link in the text")
        other = service.ask("POST", "/v1/check", b"{}", headers=[("X-Forwarded-Host", "evil.example")])
        want("evil" not in other.get("Content-Location"), "a host of the client's")


def a_job_too_long_for_a_link_gets_none(service):
    job = json.dumps({"inspection": {"readings": [
        {"at": f"{i / 10:.1f} in", "around": "90 deg", "size": "1.3749 in"} for i in range(96)]}}).encode()
    reply = service.ask("POST", "/v1/inspection?format=txt", job)
    want_equal(reply.status, 200, "status")
    want(reply.get("Content-Location") is None or len(reply.get("Content-Location")) <= 8000, "a link too long")


SHARED_CASES = [
    a_post_tells_the_link_to_the_same_bytes, a_link_may_be_kept_and_asked_for_again,
    the_whole_job_may_stand_in_one_parameter, faults_of_a_link_name_the_parameter,
    parameters_that_spell_no_job_are_refused, a_form_left_half_empty_is_answered,
    a_refusal_speaks_the_form_asked_for, a_page_can_do_nothing, a_job_too_long_for_a_link_gets_none,
]
CASES = [links_are_whole_where_the_public_address_is_set]
