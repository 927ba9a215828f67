"""The contract as the service hands it out. Whether the service keeps to it is the business of tests/contract."""

import json
import pathlib
import subprocess

from service import Service, want, want_equal

ROOT = pathlib.Path(__file__).resolve().parents[2]


def the_contract_is_served_as_it_is_committed(service):
    reply = service.ask("GET", "/openapi.json")
    want_equal((reply.status, reply.get("Content-Type")), (200, "application/json"), "answer")
    want(reply.body == (ROOT / "api" / "openapi.json").read_bytes(), "the bytes differ from api/openapi.json")
    again = service.ask("GET", "/openapi.json", headers=[("If-None-Match", reply.get("ETag"))])
    want_equal((again.status, again.body), (304, b""), "the same again")


def documents_of_one_form_do_not_negotiate(service):
    """A client of RFC 9727 asks for its own media type, one of OpenAPI perhaps for another."""
    for accept in ("application/linkset+json", "text/html", "application/json"):
        reply = service.ask("GET", "/.well-known/api-catalog", headers=[("Accept", accept)])
        want_equal(reply.status, 200, accept)
        want_equal(reply.get("Content-Type"),
                   'application/linkset+json; profile="https://www.rfc-editor.org/info/rfc9727"', accept)
    reply = service.ask("GET", "/openapi.json?v=1", headers=[("Accept", "application/vnd.oai.openapi+json")])
    want_equal(reply.status, 200, "the contract by another type")


def the_index_links_to_its_descriptions(service):
    link = service.ask("HEAD", "/").get("Link")
    for part in ('</openapi.json>; rel="service-desc"', '</>; rel="service-doc"',
                 '</.well-known/api-catalog>; rel="api-catalog"'):
        want(part in link, f"{part} is not in {link}")
    documents = service.ask("GET", "/").document["documents"]
    for entry in documents:
        want_equal(service.ask("GET", entry["href"]).status, 200, entry["href"])


def the_catalog_is_absolute_only_by_the_operators_word(program):
    with Service(program) as service:
        reply = service.ask("GET", "/.well-known/api-catalog", headers=[("Host", "evil.example")])
        want(b"evil" not in reply.body and b"://" not in reply.body, f"{reply.body}")
    with Service(program, public_url="https://pins.example") as service:
        entry = service.ask("GET", "/.well-known/api-catalog").document["linkset"][0]
        want_equal(entry["anchor"], "https://pins.example/", "anchor")
        want_equal(entry["status"][0]["href"], "https://pins.example/readyz", "status")


def the_program_prints_what_it_serves(program):
    def printed(name):
        return subprocess.run([program, "--print", name], capture_output=True, check=True).stdout

    want(printed("openapi") == (ROOT / "api" / "openapi.json").read_bytes(), "--print openapi")
    routes = json.loads(printed("routes"))["routes"]
    want({"method": "GET", "path": "/openapi.json", "admin": False} in routes, f"{routes}")
    for name in ("job", "query", "answer", "problem", "tables"):
        want("$defs" in json.loads(printed("schema/" + name)), name)
    done = subprocess.run([program, "--print", "schema/nothing"], capture_output=True, check=False)
    want_equal((done.returncode, done.stdout), (64, b""), "an unknown schema")


SHARED_CASES = [the_contract_is_served_as_it_is_committed, documents_of_one_form_do_not_negotiate,
                the_index_links_to_its_descriptions]
CASES = [the_catalog_is_absolute_only_by_the_operators_word, the_program_prints_what_it_serves]
