"""The same with python3-jwcrypto (Debian): run by the distribution's python3, which has it.

    verify_jwcrypto.py KEYS-FILE JWS-FILE
"""

import json
import sys

from jwcrypto import jwk, jws

with open(sys.argv[1], encoding="utf-8") as file:
    keys = jwk.JWKSet.from_json(file.read())
with open(sys.argv[2], encoding="utf-8") as file:
    token = jws.JWS()
    token.allowed_algs = ["EdDSA", "ES256"]
    try:
        token.deserialize(file.read())
        key = keys.get_key(token.jose_header.get("kid"))
        if key is None:
            raise ValueError("no such key")
        token.verify(key)
        print(json.dumps({"valid": True, "payload": token.payload.decode()}))
    except Exception as fault:  # whatever it does not like
        print(json.dumps({"valid": False, "why": f"{type(fault).__name__} {fault}"}))
