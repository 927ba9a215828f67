#!/usr/bin/env python3
"""Runs three replicas behind HAProxy as deploy/haproxy configures it: updates, a crash, slow clients, limits, refusals.

    replicas.py [PROGRAM] [--long] [--case NAME]...

With --long more rounds and longer attacks, and what wrk measures with and without the proxy. Ends with
"N passed, N failed"; lines that begin with "note" are figures. Needs haproxy, curl, openssl and slowhttptest.
"""

import argparse
import os
import pathlib
import sys
import tempfile

import cases_proxy
import cases_replicas
from proxy import NAMES, Proxy, Replica, free_ports
from tally import Tally


class Site:
    """Replicas and the proxy before them."""

    def __init__(self, program, folder, long):
        self.program, self.folder, self.long = program, folder, long
        ports = free_ports(2 * len(NAMES))
        self.addresses = list(zip(ports[::2], ports[1::2]))
        self.replicas = {name: Replica(program, *address) for name, address in zip(NAMES, self.addresses)}
        self.proxy = Proxy(folder / "proxy", self.addresses)
        # For loads of one address: the same without the limits that one client has.
        self.wide_proxy = Proxy(folder / "wide", self.addresses, PROXY_RATE=1_000_000, PROXY_CONNECTIONS=1000)

    def __enter__(self):
        for proxy in (self.proxy, self.wide_proxy):
            proxy.check()
            proxy.__enter__()
        for name in NAMES:
            self.await_state(name, "UP")
        return self

    def await_state(self, name, state):
        """Until both proxies see a replica so."""
        for proxy in (self.proxy, self.wide_proxy):
            proxy.await_state(name, state)

    def __exit__(self, *_):
        for proxy in (self.proxy, self.wide_proxy):
            proxy.__exit__()
        for replica in self.replicas.values():
            if replica.is_running():
                replica.kill()


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("program", nargs="?", default="build/smallend")
    parser.add_argument("--long", action="store_true")
    parser.add_argument("--case", action="append", help="this one alone; may be given several times")
    asked = parser.parse_args()
    program = os.path.abspath(asked.program)
    if not os.access(program, os.X_OK):
        print(f"there is no program {program}: build it first", file=sys.stderr)
        return 64
    tally = Tally(asked.case)
    with tempfile.TemporaryDirectory(prefix="smallend-") as folder, Site(
        program, pathlib.Path(folder), asked.long
    ) as site:
        for module in (cases_proxy, cases_replicas):
            tally.run_all(module, site)
        if asked.long:
            cases_replicas.measure(site)
        for replica in site.replicas.values():
            tally.run(replica_ends_well, replica)
    return tally.finish()


def replica_ends_well(replica):
    """After all that it stops when told, and has logged no error."""
    replica.stop()


if __name__ == "__main__":
    sys.exit(main())
