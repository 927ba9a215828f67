#!/usr/bin/env python3
"""Has testssl.sh look for weaknesses of the TLS listener; it takes two minutes.

    run_testssl.py PROGRAM

Each finding of severity LOW and above fails, save those that are the test certificate's. Ends with "N passed, N failed".
"""

import json
import shutil
import subprocess
import sys

from certificates import Authority
from service import Service

# What an operator's certificate has and one made for a test has not; and what testssl.sh says of itself or of HTTP.
NOT_OURS = {"cert_revocation", "DNS_CAArecord", "engine_problem", "HTTP_status_code"}
HARMLESS = {"OK", "INFO"}


def main():
    scanner = shutil.which("testssl") or shutil.which("testssl.sh")
    if len(sys.argv) != 2 or not scanner:
        print("run_testssl.py PROGRAM; needs testssl.sh: deploy/setup.sh --testssl", file=sys.stderr)
        return 64
    with Authority() as authority:
        identity = authority.issue("scanned", ends_in_s=90 * 86400, new_key=("-newkey", "rsa:3072"))
        found = authority.folder / "found.json"
        with Service(sys.argv[1], tls=authority.context(), listen="127.0.0.1:0s", tls_hsts_s=63072000,
                     **identity.settings) as service:
            subprocess.run([scanner, "--color", "0", "--quiet", "--warnings", "off", "--nodns", "none", "--add-ca",
                            authority.certificate, "--jsonfile", found, f"localhost:{service.port}"],
                           stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, check=False, timeout=900)
        findings = json.loads(found.read_text())
    bad = [one for one in findings if one["severity"] not in HARMLESS and one["id"] not in NOT_OURS]
    for one in bad:
        print(f"FAILED {one['severity']} {one['id']}: {one['finding']}")
    if len(findings) < 100:
        print(f"FAILED only {len(findings)} findings: testssl.sh did not get through")
        bad.append(None)
    print(f"{len(findings) - len(bad)} passed, {len(bad)} failed")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
