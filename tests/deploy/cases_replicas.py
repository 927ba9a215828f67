"""Replicas that come and go, and clients that want to hold them up, while others ask without a pause."""

import statistics
import subprocess
import time

from cases_proxy import HEAD, JOB, ask
from load import Load, Question
from proxy import NAMES, until
from tally import PROJECT, case, want, want_equal


def questions(site):
    """Of several kinds, with the answers that a replica gives when asked directly."""
    service = site.replicas["a"].service
    wanted = [
        ("POST", f"/v1/check?format={form}", file.read_bytes())
        for form in ("json", "md")
        for file in sorted((PROJECT / "fixtures/jobs").glob("*.json"))
    ]
    wanted += [("GET", "/v1/steels", None), ("GET", "/v1/units", None)]
    return [Question(*request, service.ask(*request).body) for request in wanted]


def restart(site, name):
    """As an update does: tell it to stop, start the next one, wait until it gets requests."""
    site.replicas[name].stop()
    site.replicas[name].start()
    site.await_state(name, "UP")


def want_none(load):
    want(not load.failures, f"{len(load.failures)} of {load.count} failed, such as {load.failures[:3]}")


@case
def an_update_of_every_replica_loses_no_request(site):
    rounds = 4 if site.long else 1
    with Load(site.wide_proxy, questions(site)) as load:
        for _ in range(rounds):
            for name in NAMES:
                restart(site, name)
    print(f"note update of {rounds * len(NAMES)} replicas: {load.summary()}")
    want_none(load)
    want(load.count > 500 * rounds, f"only {load.count} requests")


@case
def a_crash_loses_no_request(site):
    """What had not been answered goes to another replica; only an answer that was under way could be cut off."""
    rounds = 12 if site.long else 3
    with Load(site.wide_proxy, questions(site)) as load:
        for number in range(rounds):
            name = NAMES[number % len(NAMES)]
            before = load.count
            until(lambda: load.count > before + 50, 20, "requests before the crash")
            site.replicas[name].kill()
            site.await_state(name, "DOWN")
            site.replicas[name].start()
            site.await_state(name, "UP")
    print(f"note {rounds} crashes (kill -9): {load.summary()}")
    want_none(load)


@case
def one_replica_of_three_carries_on_alone(site):
    with Load(site.wide_proxy, questions(site)) as load:
        for name in NAMES[1:]:
            site.replicas[name].kill()
        for name in NAMES[1:]:
            site.await_state(name, "DOWN")
        before = load.count
        until(lambda: load.count > before + 200, 20, "requests on the last replica")
        for name in NAMES[1:]:
            site.replicas[name].start()
    for name in NAMES[1:]:
        site.await_state(name, "UP")
    want_none(load)


def hold(site, data, count):
    """So many connections, from many addresses, that have sent this and stay."""
    held = []
    for number in range(count):
        client = site.proxy.connect(f"127.0.1.{1 + number % 20}")
        client.sendall(data)
        held.append(client)
    return held


@case
def slow_clients_do_not_hold_up_others(site):
    """Three hundred at once, who never finish, are held by the proxy; a healthy client notices nothing."""
    for what, data in (
        ("bodies", f"{HEAD}Content-Length: 1000\r\n\r\n{{"),
        ("heads", "GET / HTTP/1.1\r\nHost: x\r\nX-"),
        ("idle", ""),
    ):
        held = hold(site, data.encode(), 300)
        times = []
        end = time.monotonic() + (20 if site.long else 3)
        while time.monotonic() < end:
            start = time.monotonic()
            want_equal(ask(site, "POST", "/v1/check", JOB, source="127.0.0.70")[0], 200, f"answer among slow {what}")
            times.append(time.monotonic() - start)
            time.sleep(0.05)
        for client in held:
            client.close()
        print(
            f"note 300 slow clients ({what}): a healthy one waits {statistics.median(times) * 1000:.1f} ms, "
            f"longest {max(times) * 1000:.0f} ms, of {len(times)}"
        )
        want(statistics.median(times) < 0.5, f"slow {what}: median {statistics.median(times)} s")


@case
def a_known_tool_for_slow_attacks_finds_it_available(site):
    """slowhttptest asks all the while whether the service still answers."""
    address = f"https://127.0.0.1:{site.wide_proxy.port}/v1/check"
    seconds = "30" if site.long else "8"
    for kind in ("-H", "-B"):
        done = subprocess.run(
            [
                "slowhttptest",
                kind,
                "-c",
                "200",
                "-r",
                "100",
                "-i",
                "1",
                "-l",
                seconds,
                "-p",
                "3",
                "-u",
                address,
                "-s",
                "4096",
            ],
            capture_output=True,
            text=True,
            timeout=90,
            check=False,
        )
        told = done.stdout
        want("service available" in told, f"slowhttptest {kind}: {told[-500:]} {done.stderr[-500:]}")
        want(
            not any("service available" in line and "NO" in line for line in told.splitlines()),
            f"{kind}: {told[-800:]}",
        )


def measure(site):
    """What the proxy costs: with it and without, alternating. Figures only; needs wrk."""
    script = site.folder / "ask.lua"
    script.write_text(
        'wrk.method = "POST"\nwrk.headers["Content-Type"] = "application/json"\n'
        f'wrk.body = io.open("{PROJECT}/fixtures/jobs/pump-engine.json"):read("*a")\n'
    )
    found = {}
    for _ in range(3):
        for name, address in (
            ("direct", f"http://127.0.0.1:{site.replicas['a'].port}"),
            ("proxied", f"https://127.0.0.1:{site.wide_proxy.port}"),
        ):
            done = subprocess.run(
                ["wrk", "-t1", "-c8", "-d4", "-s", str(script), address + "/v1/check"],
                capture_output=True,
                text=True,
                check=True,
            )
            rate = next(line.split()[1] for line in done.stdout.splitlines() if line.startswith("Requests/sec"))
            found.setdefault(name, []).append(float(rate))
    print(f"note requests in a second, eight clients: {found}")
