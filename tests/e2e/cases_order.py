"""Release records: who gets one, how it is signed, what comes of one that is sent back.

What other implementations make of the signatures is tested in tests/order.
"""

import base64
import hashlib
import hmac
import json
import pathlib
import re
import signal
import subprocess
import sys

from cases_answers import FIXTURES, want_problem
from cases_program import run
from service import Service, want, want_equal

sys.path.append(str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from keys import KeyFolder  # noqa: E402

ORDER = (FIXTURES / "jobs" / "order-pin.json").read_bytes()
JOSE = [("Accept", "application/jose")]
AS_JOSE = [("Content-Type", "application/jose")]


def unpack(text):
    return base64.urlsafe_b64decode(text + b"=" * (-len(text) % 4))


def pack(data):
    return base64.urlsafe_b64encode(data).rstrip(b"=")


def order(service, **changes):
    """The record of the fixture, groups of it replaced."""
    job = {**json.loads(ORDER), **changes}
    reply = service.ask("POST", "/v1/order", json.dumps(job).encode())
    want_equal(reply.status, 200, f"status of {changes}")
    return reply.document


def release(document):
    return document["results"]["order"]["release"]


def codes(document):
    return [reason["code"] for reason in document["results"]["order"]["reasons"]]


def verify(service, jws):
    reply = service.ask("POST", "/v1/order/verify", jws, AS_JOSE)
    want_equal(reply.status, 200, "status of verify")
    return reply.document


def signed(service):
    reply = service.ask("POST", "/v1/order", ORDER, JOSE)
    want_equal(reply.status, 200, "status")
    want_equal(reply.get("Content-Type"), "application/jose", "type")
    return reply.body


# ---- without keys ----


def an_order_is_a_record_and_unsigned(service):
    document = order(service)
    record = document["results"]["order"]
    want_equal(release(document), "release", "release of the demo engine")
    want("jws" not in record, "a signature without a key")
    want(re.fullmatch("[0-9a-f]{64}", record["record_id"]), f"record_id {record['record_id']}")
    want(re.fullmatch("[0-9a-f]{64}", record["part_id"]), f"part_id {record['part_id']}")
    for name in ("material", "blank", "diameter", "length", "finish", "roughness", "hardness", "case_depth", "slot",
                 "fastening", "notes", "inspection"):
        want(name in record["part"], f"no {name} in the part")
    want_equal(service.ask("GET", "/v1/order").status, 405, "an order by link")


def its_id_is_the_hash_of_the_rest(service):
    body = service.ask("POST", "/v1/order", ORDER).body
    found = re.search(rb',"record_id":"([0-9a-f]{64})"', body)
    payload = (body[:found.start()] + body[found.end():]).removesuffix(b"\n")
    want_equal(hashlib.sha256(payload).hexdigest().encode(), found.group(1), "record_id")


def the_job_of_a_record_gives_the_record_again(service):
    for name in sorted((FIXTURES / "jobs").glob("*.json")):
        first = service.ask("POST", "/v1/order", name.read_bytes())
        job = first.document["results"]["order"]["job"]
        second = service.ask("POST", "/v1/order", json.dumps(job).encode())
        want_equal(second.body, first.body, f"the record of {name.name} made from its own job")


def the_same_pin_has_the_same_part_id(service):
    part = order(service)["results"]["order"]["part_id"]
    other = order(service, label="another", engine={"bore": "6 in", "stroke": "9 in"}, order={"quantity": 9})
    want_equal(other["results"]["order"]["part_id"], part, "part_id in another engine")
    job = json.loads(ORDER)
    job["units"] = "metric"
    job["pin"].update(diameter={"min": 34.91738, "max": 34.925}, length=120.65, roughness=0.4064)
    metric = service.ask("POST", "/v1/order", json.dumps(job).encode()).document
    want_equal(metric["results"]["order"]["part_id"], part, "part_id in millimeters")
    job["pin"]["length"] = 120.7
    longer = service.ask("POST", "/v1/order", json.dumps(job).encode()).document
    want(longer["results"]["order"]["part_id"] != part, "part_id of another length")


def nothing_is_released_that_must_not_be(service):
    job = json.loads(ORDER)
    for what, changes, code in (
        ("a steel too weak and a slot too deep", {"pin": {**job["pin"], "steel": "12L14"},
                                                  "slot": {"depth": "0.45 in", "cutter_diameter": "7/16 in"}}, "fails"),
        ("no fit", {"running_fit": {}}, "not_judged"),
        ("no slot", {"slot": {}}, "not_judged"),
        ("an assumed eye", {"eye": {"metal": "steel"}}, "assumed_geometry"),
        ("a loose fit", {"running_fit": {**job["running_fit"], "hole": {"min": "1.3765 in", "max": "1.3775 in"}}}, "marginal"),
        ("no limits", {"pin": {**job["pin"], "diameter": "1.375 in"}}, "no_tolerance"),
        ("a cancel", {"order": {"action": "cancel", "supersedes": "0" * 64}}, "canceled"),
    ):
        document = order(service, **changes)
        want_equal(release(document), "hold", what)
        want(code in codes(document), f"{what}: {codes(document)}")
    document = order(service, running_fit={**job["running_fit"], "hole": {"min": "1.3765 in", "max": "1.3775 in"}},
                     order={"accept_marginal": True})
    want_equal(release(document), "release", "a loose fit that the buyer accepts")
    want_equal(document["verdict"], "marginal", "its verdict")
    want_equal(release(order(service, order={"action": "replace", "supersedes": "0" * 64})), "release", "a replacement")


def an_order_must_say_what_it_supersedes(service):
    for wanted, code in (({"action": "replace"}, "missing"), ({"action": "cancel"}, "missing"),
                         ({"supersedes": "0" * 64}, "contradiction"),
                         ({"action": "cancel", "supersedes": "twelve"}, "out_of_range")):
        reply = service.ask("POST", "/v1/order", json.dumps({"order": wanted}).encode())
        want_problem(reply, 422, "invalid-job")
        want_equal(reply.document["errors"][0]["code"], code, f"{wanted}")
        want_equal(reply.document["errors"][0]["pointer"], "/order/supersedes", f"{wanted}")


def an_order_is_told_in_words(service):
    for form in ("txt", "md", "html"):
        text = service.ask("POST", f"/v1/order?format={form}", ORDER).body.decode()
        for words in ("Released", "Buy", "Make", "Inspect", "ASTM A29 Grade 8620", "1.3747 in to 1.3750 in", "not signed"):
            want(words in text, f"no {words} in {form}")


def no_key_no_signature(service):
    for reply in (service.ask("POST", "/v1/order", ORDER, JOSE), service.ask("POST", "/v1/order?format=jws", ORDER)):
        want_problem(reply, 406, "not-acceptable")
        want("signing key" in reply.document["detail"], reply.document["detail"])
    mixed = service.ask("POST", "/v1/order", ORDER, [("Accept", "application/jose, application/json;q=0.1")])
    want_equal(mixed.get("Content-Type"), "application/json", "the second choice")
    want_problem(service.ask("POST", "/v1/check", ORDER, JOSE), 406, "not-acceptable")
    keys = service.ask("GET", "/.well-known/jwks.json")
    want_equal(keys.body, b'{"keys":[]}\n', "the set of keys")
    want_equal(keys.get("Content-Type"), "application/jwk-set+json", "its type")
    want_equal(keys.get("Cache-Control"), "public, max-age=300", "how long it may be kept")


def what_is_no_record_is_refused(service):
    for body, headers, status, name in (
        (b"a.b", AS_JOSE, 422, "invalid-record"),
        (b"", AS_JOSE, 422, "invalid-record"),
        (b"a.b.c", AS_JOSE, 422, "invalid-record"),
        (b"\xff\xfe.\x00.\x01", AS_JOSE, 422, "invalid-record"),
        (b"{}", [], 422, "invalid-record"),
        (b'{"jws": 7}', [], 422, "invalid-record"),
        (b'{"jws": "a.b", "more": 1}', [], 422, "invalid-record"),
        (b"a.b.c", [], 400, "not-json"),
        (b"a.b.c", [("Content-Type", "text/plain")], 415, "unsupported-media-type"),
        (b"x" * 131073, AS_JOSE, 413, "too-large"),
    ):
        want_problem(service.ask("POST", "/v1/order/verify", body, headers), status, name)
    want_problem(service.ask("POST", "/v1/order", b"a.b.c", AS_JOSE), 415, "unsupported-media-type")
    nested = pack(b"[" * 5000) + b"." + pack(b"{}") + b".AA"
    want_problem(service.ask("POST", "/v1/order/verify", nested, AS_JOSE), 422, "invalid-record")


# ---- with keys ----


def a_signed_record_is_known_again(program):
    with KeyFolder() as keys, Service(program, signing_keys=keys.private("a"), threads=8) as service:
        jws = signed(service)
        want_equal(signed(service), jws, "the same order, signed twice")
        header, payload, _ = (unpack(part) for part in jws.split(b"."))
        key = service.ask("GET", "/.well-known/jwks.json").document["keys"][0]
        want_equal(json.loads(header), {"alg": "EdDSA", "kid": key["kid"], "typ": "smallend-result+jws",
                                        "cty": "application/json"}, "header")
        want("alg" not in key and "d" not in key, f"the key published: {key}")
        # RFC 7638: SHA-256 of the required members in order, without blanks
        required = json.dumps({name: key[name] for name in ("crv", "kty", "x")}, separators=(",", ":")).encode()
        want_equal(pack(hashlib.sha256(required).digest()).decode(), key["kid"], "kid")
        answer = order(service)["results"]["order"]
        want_equal(answer["jws"].encode(), jws, "the signature in the JSON answer")
        want_equal(hashlib.sha256(payload).hexdigest(), answer["record_id"], "record_id")
        for body, headers in ((jws, AS_JOSE), (jws + b"\n", AS_JOSE), (json.dumps({"jws": jws.decode()}).encode(), [])):
            reply = service.ask("POST", "/v1/order/verify", body, headers).document
            want_equal((reply["valid"], reply["signature"], reply["kid"]), (True, "good", key["kid"]), "verify")
            want_equal(reply["record"], json.loads(payload), "the record")
            want_equal((reply["verdict_now"], reply["release_now"]), ("ok", "release"), "what today's rules say")
            want_equal(reply["record_id"], answer["record_id"], "record_id")
            want(reply["rules_now"] and reply["cautions"], "rules and cautions")
        want(b"signed with the key " + key["kid"].encode() in service.ask("POST", "/v1/order?format=txt", ORDER).body,
             "who signed, in the text")


def a_forged_record_is_not_valid(program):
    with KeyFolder() as keys, Service(program, signing_keys=keys.private("a"), threads=8) as service:
        jws = signed(service)
        header, payload, signature = jws.split(b".")
        public = unpack(service.ask("GET", "/.well-known/jwks.json").document["keys"][0]["x"].encode())
        pem = subprocess.run(["openssl", "pkey", "-in", keys.file("a"), "-pubout"], capture_output=True, check=True).stdout
        told = json.loads(unpack(header))

        def with_header(**changes):
            return pack(json.dumps({name: value for name, value in {**told, **changes}.items() if value is not None}).encode())

        def refused(what, token, wanted="bad"):
            reply = verify(service, token)
            want_equal((reply["valid"], reply["signature"]), (False, wanted), what)
            want("record" not in reply and "verdict_now" not in reply, f"{what}: the record is shown")
            want(reply["detail"], f"{what}: no word why")

        released = pack(unpack(payload).replace(b'"hold"', b'"release"').replace(b"1.375", b"1.475"))
        refused("an altered payload", b".".join((header, released, signature)))
        flipped = bytearray(unpack(signature))
        flipped[5] ^= 1
        refused("an altered signature", b".".join((header, payload, pack(bytes(flipped)))))
        refused("no signature", b".".join((header, payload, b"")))
        refused("alg none", b".".join((with_header(alg="none"), payload, b"")))
        refused("alg none with its signature", b".".join((with_header(alg="none"), payload, signature)))
        refused("alg ES256", b".".join((with_header(alg="ES256"), payload, signature)))
        refused("a key of elsewhere", b".".join((with_header(kid="elsewhere"), payload, signature)), "unknown_key")
        refused("no key named", b".".join((with_header(kid=None), payload, signature)), "unknown_key")
        refused("crit", b".".join((with_header(crit=["b64"], b64=False), payload, signature)))
        refused("another typ", b".".join((with_header(typ="JWT"), payload, signature)))
        for secret in (public, pem):
            forged = with_header(alg="HS256") + b"." + payload
            refused("HS256 with the public key", forged + b"." + pack(hmac.digest(secret, forged, "sha256")))
        for token in (b".".join((pack(b'{"alg":"EdDSA",' + unpack(header)[1:]), payload, signature)),  # a member twice
                      b".".join((header + b"=", payload, signature)), b".".join((header, b"\n" + payload, signature))):
            want_problem(service.ask("POST", "/v1/order/verify", token, AS_JOSE), 422, "invalid-record")


def keys_rotate_and_old_records_stay_known(program):
    with KeyFolder() as keys:
        old, new = keys.private("old"), keys.private("new", "p256")
        retired = keys.public("retired", old)
        with Service(program, signing_keys=old, threads=8) as service:
            jws = signed(service)
        with Service(program, signing_keys=f"{new},{old}", threads=8) as service:
            want_equal(verify(service, jws)["signature"], "good", "by the second key")
            want_equal(len(service.ask("GET", "/.well-known/jwks.json").document["keys"]), 2, "keys published")
            want_equal(json.loads(unpack(signed(service).split(b".")[0]))["alg"], "ES256", "the first key signs")
        with Service(program, signing_keys=new, verify_keys=retired, threads=8) as service:
            want_equal(verify(service, jws)["signature"], "good", "by a retired key")
            first, second = signed(service), signed(service)
            want_equal(first.split(b".")[:2], second.split(b".")[:2], "header and payload of two ES256 records")
            for token in (first, second):
                want_equal(verify(service, token)["valid"], True, "an ES256 record")
        with Service(program, verify_keys=retired, threads=8) as service:
            want_equal(verify(service, jws)["valid"], True, "where nothing is signed")
            want_problem(service.ask("POST", "/v1/order", ORDER, JOSE), 406, "not-acceptable")
        with Service(program, signing_keys=new, threads=8) as service:
            want_equal(verify(service, jws)["signature"], "unknown_key", "by a key thrown away")


def a_service_of_small_bodies_knows_its_own_records(program):
    with KeyFolder() as keys, Service(program, signing_keys=keys.private("a"), max_body=4096, threads=8) as service:
        want_equal(verify(service, signed(service))["valid"], True, "a record larger than a job may be")


# ---- tokens ----


def orders_want_a_token_where_one_is_set(program):
    with KeyFolder() as keys:
        tokens = keys.write("tokens", f"# buyers\n{hashlib.sha256(b'museum-42').hexdigest()}  -\n")
        with Service(program, signing_keys=keys.private("a"), tokens=tokens, threads=8) as service:
            for headers in ([], [("Authorization", "Bearer museum-43")], [("Authorization", "Basic museum-42")],
                            [("Authorization", "Bearer museum-42"), ("Authorization", "Bearer museum-42")],
                            [("Authorization", "Bearer " + hashlib.sha256(b"museum-42").hexdigest())]):
                reply = service.ask("POST", "/v1/order", ORDER, headers)
                want_problem(reply, 401, "unauthorized")
                challenge = reply.get("WWW-Authenticate")
                want(challenge.startswith('Bearer realm="'), f"challenge {challenge}")
                want_equal("invalid_token" in challenge, bool(headers), "what the challenge says is wrong")
            reply = service.ask("POST", "/v1/order", ORDER, JOSE + [("Authorization", "Bearer museum-42")])
            want_equal(reply.status, 200, "status with the token")
            want_equal(verify(service, reply.body)["valid"], True, "verify without a token")
            want_equal(service.ask("POST", "/v1/check", ORDER).status, 200, "another call without a token")
            want_equal(service.ask("OPTIONS", "/v1/order").status, 204, "a preflight without a token")
        want(not any("museum" in json.dumps(line) for line in service.lines), "a token stands in the log")


def a_token_counts_as_a_whole(program):
    """Also one so long that what reads the header has no room for what stands behind it."""
    with KeyFolder() as keys:
        long = "m" * 1016  # with "Bearer " before it, all that the buffer of the header holds
        tokens = keys.write("tokens", "\n".join(hashlib.sha256(token.encode()).hexdigest() for token in (long, long[1:])))
        with Service(program, tokens=tokens, threads=8) as service:
            for token, status in ((long[1:], 200), (long[1:] + "x", 401), (long, 401), (long + "x", 401)):
                reply = service.ask("POST", "/v1/order", ORDER, [("Authorization", "Bearer " + token)])
                want_equal(reply.status, status, f"a token of {len(token)} characters")


# ---- what the operator sees ----


def unusable_keys_do_not_start(program):
    with KeyFolder() as keys:
        encrypted = keys.file("encrypted")
        subprocess.run(["openssl", "pkcs8", "-topk8", "-in", keys.private("a"), "-out", encrypted, "-passout", "pass:x",
                        "-v2", "aes-256-cbc"], check=True, capture_output=True)
        for name, path, words in (
            ("SMALLEND_SIGNING_KEYS", "/nowhere.pem", "No such file"),
            ("SMALLEND_SIGNING_KEYS", encrypted, "encrypted"),
            ("SMALLEND_SIGNING_KEYS", keys.private("rsa", "RSA"), "another kind"),
            ("SMALLEND_SIGNING_KEYS", keys.public("pub", keys.file("a")), "public key"),
            ("SMALLEND_SIGNING_KEYS", keys.write("empty", ""), "no private key"),
            ("SMALLEND_VERIFY_KEYS", keys.file("a"), "private key"),
            ("SMALLEND_TOKENS", keys.write("tokens", "museum-42\n"), "line 1"),
        ):
            done = run(program, environment={name: str(path), "SMALLEND_LISTEN": "127.0.0.1:0"})
            want(done.returncode not in (0, None) and str(path).encode() in done.stderr and words.encode() in done.stderr,
                 f"{name} {path}: {done}")
            want(b"museum" not in done.stderr, "what stands in the file is shown")
        want_equal(run(program, environment={"SMALLEND_SIGNING_KEYS": "a,,b"}).returncode, 64, "an empty name")


def a_key_that_all_may_read_is_warned_of(program):
    with KeyFolder() as keys:
        path = keys.private("a")
        path.chmod(0o644)
        with Service(program, signing_keys=path, threads=8) as service:
            line = service.logged(lambda line: line["msg"] == "signing_key")
            want_equal(line["level"], "warn", "level")


def sighup_reads_keys_and_tokens_again(program):
    with KeyFolder() as keys:
        path = keys.private("a")
        tokens = keys.write("tokens", hashlib.sha256(b"one").hexdigest())
        with Service(program, signing_keys=path, tokens=tokens, threads=8) as service:
            def jws(token):
                return service.ask("POST", "/v1/order", ORDER, JOSE + [("Authorization", f"Bearer {token}")])

            def reload(outcome):
                before = sum(line.get("msg") == "reload" for line in service.lines)
                service.signal(signal.SIGHUP)
                service.logged(lambda line: line.get("msg") == "reload" and
                               sum(other.get("msg") == "reload" for other in service.lines) > before)
                line = [line for line in service.lines if line.get("msg") == "reload"][-1]
                want_equal(line["outcome"], outcome, "outcome")
                return line

            first = jws("one")
            want_equal(first.status, 200, "the first token")
            keys.private("a")
            keys.write("tokens", hashlib.sha256(b"two").hexdigest())
            reload("taken")
            want_equal(jws("one").status, 401, "the token taken out")
            second = jws("two")
            want(second.status == 200 and second.body.split(b".")[0] != first.body.split(b".")[0], "the new key signs")
            want_equal(verify(service, first.body)["signature"], "unknown_key", "the record of the old key")
            path.write_text("half a ke", encoding="utf-8")
            keys.write("tokens", hashlib.sha256(b"three").hexdigest())
            want(str(path) in reload("kept")["detail"], "which file is broken")
            want_equal(jws("three").status, 401, "a token beside a broken key")
            want_equal(jws("two").body, second.body, "the key and the token kept")


def the_command_line_gives_records_too(program):
    done = run(program, "--order", job=ORDER)
    want_equal(done.returncode, 0, "status of a release")
    want_equal(json.loads(done.stdout)["results"]["order"]["release"], "release", "release")
    want_equal(run(program, "--order", job=b"{}").returncode, 3, "status of a hold")
    want_equal(run(program, "--order", "--format", "jws", job=ORDER).returncode, 64, "a signature without a key")
    want_equal(run(program, "--check", "--format", "jws", job=ORDER).returncode, 64, "a signed check")
    with KeyFolder() as keys:
        path = keys.private("a")
        with Service(program, signing_keys=path, threads=8) as service:
            done = run(program, "--order", "--format=jws", job=ORDER, environment={"SMALLEND_SIGNING_KEYS": str(path)})
            want_equal(done.stdout, signed(service), "the record of the command line")
            want_equal(run(program, "--order", job=ORDER, environment={"SMALLEND_SIGNING_KEYS": "/nowhere"}).returncode, 64,
                       "a key that is not there")


SHARED_CASES = [
    an_order_is_a_record_and_unsigned, its_id_is_the_hash_of_the_rest, the_job_of_a_record_gives_the_record_again,
    the_same_pin_has_the_same_part_id, nothing_is_released_that_must_not_be, an_order_must_say_what_it_supersedes,
    an_order_is_told_in_words, no_key_no_signature, what_is_no_record_is_refused,
]
CASES = [
    a_signed_record_is_known_again, a_forged_record_is_not_valid, keys_rotate_and_old_records_stay_known,
    a_service_of_small_bodies_knows_its_own_records, orders_want_a_token_where_one_is_set, a_token_counts_as_a_whole,
    unusable_keys_do_not_start,
    a_key_that_all_may_read_is_warned_of, sighup_reads_keys_and_tokens_again, the_command_line_gives_records_too,
]
