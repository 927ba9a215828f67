#!/usr/bin/env python3
"""Signed records against implementations of JWS that are not this project's: what they say of ours, and what ours says
of theirs.

    test_order.py PROGRAM       ORDER_TOOLS names the folder of the npm package jose; see run.sh

    npm jose          EdDSA and ES256
    python3-jwcrypto  EdDSA and ES256
    jose (Debian)     ES256; it does not know EdDSA
    openssl           the bare Ed25519 signature

Ends with "N passed, N failed".
"""

import base64
import json
import os
import pathlib
import subprocess
import sys
import traceback

HERE = pathlib.Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parent / "e2e"), str(HERE.parent / "support")]
from keys import KeyFolder  # noqa: E402
from service import Service, want, want_equal  # noqa: E402

ORDER = (HERE.parents[1] / "fixtures" / "jobs" / "order-pin.json").read_bytes()
JOSE = [("Accept", "application/jose")]
AS_JOSE = [("Content-Type", "application/jose")]
SYSTEM_PYTHON = "/usr/bin/python3"


def output(*command):
    return subprocess.run(command, capture_output=True, timeout=60, check=False)


def by_npm(keys, token):
    done = output("node", HERE / "verify.mjs", keys, token, *["trust-names"] * (keys.name == "strange.json"))
    want_equal(done.returncode, 0, f"npm jose: {done.stderr}")
    return json.loads(done.stdout)


def by_jwcrypto(keys, token):
    done = output(SYSTEM_PYTHON, HERE / "verify_jwcrypto.py", keys, token)
    want_equal(done.returncode, 0, f"jwcrypto: {done.stderr}")
    return json.loads(done.stdout)


def by_jose_tool(keys, token):
    done = output("jose", "jws", "ver", "-i", token, "-k", keys, "-O-")
    return {"valid": done.returncode == 0, "payload": done.stdout.decode(), "why": done.stderr.decode()}


VERIFIERS = {"ed25519": [by_npm, by_jwcrypto], "p256": [by_npm, by_jwcrypto, by_jose_tool]}


class Bench:
    """A service that signs with a key of one kind, and a retired key of the other; its keys and a record in files."""

    def __init__(self, program, kind):
        self.folder = KeyFolder().__enter__()
        self.kind = kind
        self.key = self.folder.private("key", kind)
        other = self.folder.public("retired", self.folder.private("other", "p256" if kind == "ed25519" else "ed25519"))
        self.service = Service(program, signing_keys=self.key, verify_keys=other, threads=8)
        self.keys = self.folder.write("keys.json", self.service.ask("GET", "/.well-known/jwks.json").body.decode())
        self.jws = self.service.ask("POST", "/v1/order", ORDER, JOSE).body.decode()
        self.token = self.folder.write("token", self.jws)

    def close(self):
        self.service.close()
        self.folder.__exit__()

    def altered(self):
        header, payload, signature = self.jws.split(".")
        data = base64.urlsafe_b64decode(payload + "==").replace(b'"release":"release"', b'"release":"RELEASE"')
        return self.folder.write("altered", ".".join((header, pack(data), signature)))

    def verify(self, token):
        reply = self.service.ask("POST", "/v1/order/verify", token.encode(), AS_JOSE)
        want_equal(reply.status, 200, "status of verify")
        return reply.document


def pack(data):
    return base64.urlsafe_b64encode(data).rstrip(b"=").decode()


def they_find_our_record_good(bench):
    for verifier in VERIFIERS[bench.kind]:
        said = verifier(bench.keys, bench.token)
        want(said["valid"], f"{verifier.__name__}: {said}")
        record = json.loads(said["payload"])
        want_equal(record["results"]["order"]["release"], "release", f"what {verifier.__name__} reads")


def they_find_an_altered_record_bad(bench):
    altered = bench.altered()
    for verifier in VERIFIERS[bench.kind]:
        want(not verifier(bench.keys, altered)["valid"], f"{verifier.__name__} takes an altered record")


def they_find_it_bad_by_another_key(bench):
    with KeyFolder() as keys, Service(bench.service.process.args[0], signing_keys=keys.private("x", bench.kind),
                                      threads=8) as other:
        document = json.loads(other.ask("GET", "/.well-known/jwks.json").body)
        document["keys"][0]["kid"] = json.loads(bench.keys.read_text())["keys"][0]["kid"]  # under the name of ours
        strange = bench.folder.write("strange.json", json.dumps(document))
    for verifier in VERIFIERS[bench.kind]:
        want(not verifier(strange, bench.token)["valid"], f"{verifier.__name__} takes another key")


def openssl_finds_the_bare_signature_good(bench):
    signed, _, signature = bench.jws.rpartition(".")
    raw = bench.folder.file("signature")
    raw.write_bytes(base64.urlsafe_b64decode(signature + "=="))
    public = bench.folder.public("public", bench.key)
    text = bench.folder.write("signed", signed)
    done = output("openssl", "pkeyutl", "-verify", "-pubin", "-inkey", public, "-rawin", "-in", text, "-sigfile", raw)
    want(done.returncode == 0, f"openssl: {done}")


def we_find_their_signature_good(bench):
    """python3-jwcrypto signs the payload of our record with our key under our header."""
    header, payload, _ = bench.jws.split(".")
    script = ("import sys, json; from jwcrypto import jwk, jws\n"
              "key = jwk.JWK.from_pem(open(sys.argv[1], 'rb').read())\n"
              "token = jws.JWS(open(sys.argv[2], 'rb').read())\n"
              "token.allowed_algs = ['EdDSA', 'ES256', 'HS256']\n"
              "token.add_signature(key, None, sys.argv[3], None)\n"
              "print(token.serialize(compact=True))\n")
    data = bench.folder.file("payload")
    data.write_bytes(base64.urlsafe_b64decode(payload + "=="))
    told = base64.urlsafe_b64decode(header + "==").decode()
    done = output(SYSTEM_PYTHON, "-c", script, bench.key, data, told)
    want_equal(done.returncode, 0, f"jwcrypto: {done.stderr}")
    reply = bench.verify(done.stdout.decode().strip())
    want_equal((reply["valid"], reply["signature"]), (True, "good"), "what we say of it")


def both_find_the_same_thumbprint(bench):
    """Debian's jose: RFC 7638 of each key as published."""
    for key in json.loads(bench.keys.read_text())["keys"]:
        if key["kty"] == "EC":
            file = bench.folder.write("one.json", json.dumps(key))
            done = output("jose", "jwk", "thp", "-i", file, "-a", "S256")
            want_equal(done.stdout.decode().strip(), key["kid"], "thumbprint")


CASES = {
    "ed25519": [they_find_our_record_good, they_find_an_altered_record_bad, they_find_it_bad_by_another_key,
                openssl_finds_the_bare_signature_good, we_find_their_signature_good],
    "p256": [they_find_our_record_good, they_find_an_altered_record_bad, they_find_it_bad_by_another_key,
             we_find_their_signature_good, both_find_the_same_thumbprint],
}


def main():
    program = os.path.abspath(sys.argv[1])
    passed = failed = 0
    for kind, cases in CASES.items():
        bench = Bench(program, kind)
        for case in cases:
            try:
                case(bench)
                passed += 1
            except Exception:  # a fault of the test, or an answer that is none
                failed += 1
                print(f"FAILED {case.__name__}, {kind}\n{traceback.format_exc()}")
        bench.close()
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
