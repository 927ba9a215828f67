"""TLS of the service's own: who may talk, what a reload changes, and what strangers at the door do not."""

import concurrent.futures
import functools
import os
import signal
import socket
import ssl
import subprocess
import threading
import time
import xml.etree.ElementTree as xml

from cases_answers import JOB
from cases_life import HEAD, READ_S, closed_between, drip
from certificates import Authority
from service import Client, Failed, Service, environment, want, want_equal

LISTEN = "127.0.0.1:0s"
GET = "GET /livez HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n"


def start(program, authority, identity, **settings):
    settings = {"listen": LISTEN, **identity.settings, **settings}
    return Service(program, tls=settings.pop("tls", None) or authority.context(), **settings)


def with_authority(case):
    """Certificates of its own for each case."""

    @functools.wraps(case)
    def wrapped(program):
        with Authority() as authority:
            case(program, authority)

    return wrapped


def handshake(port, context):
    """What was agreed on: version, cipher, certificate (DER). Raises ssl.SSLError if there is no agreement."""
    with Client(port, tls=context) as client:
        try:
            client.send(GET)
        except (ssl.SSLEOFError, ConnectionError):
            pass  # what comes back says why
        want_equal(client.reply().status, 200, "status")
        return client.socket.agreed.version(), client.socket.agreed.cipher()[0], client.socket.agreed.getpeercert(binary_form=True)


def refused(port, context, *reasons):
    """The service breaks the handshake off, and the client hears one of these reasons."""
    try:
        agreed = handshake(port, context)
    except ssl.SSLError as error:
        want(any(reason in str(error) for reason in reasons), f"wanted one of {reasons}, got {error}")
        return
    except (ConnectionError, AttributeError) as error:  # reset, or closed without an answer
        raise Failed(f"wanted one of {reasons}, got {error!r}") from error
    raise Failed(f"not refused: {agreed[:2]}")


def of_version(context, version, ciphers=None):
    context.minimum_version = context.maximum_version = version
    if ciphers:
        context.set_ciphers(ciphers)
    return context


def reload(service, outcome):
    """Hang up, and wait for the word that it was noticed."""
    def said(line):
        return line["msg"] == "reload"
    before = sum(map(said, service.lines))
    service.signal(signal.SIGHUP)
    line = service.logged(lambda line: said(line) and sum(map(said, service.lines)) > before and line is last(service, said))
    want_equal((line["part"], line["outcome"]), ("certificate", outcome), f"{line}")
    return line


def last(service, rule):
    return [line for line in service.lines if rule(line)][-1]


def put(source, target):
    """Exchange both files of a pair as a careful operator would: each at once."""
    for name in ("certificate", "key"):
        new = getattr(target, name).with_suffix(".new")
        new.write_bytes(getattr(source, name).read_bytes())
        os.chmod(new, 0o600)
        os.replace(new, getattr(target, name))


def start_fails(program, wanted, **settings):
    """It does not start, ends with 1, and says why."""
    done = subprocess.run([program], env=environment(**{"listen": LISTEN, **settings}), capture_output=True, timeout=30,
                          check=False)
    want_equal(done.returncode, 1, f"status; {done.stderr}")
    said = done.stderr.decode().splitlines()[-1]
    want(said.startswith("smallend: ") and all(word in said for word in wanted), f"wanted {wanted} in: {said}")


# ---- what is spoken ----


@with_authority
def versions_1_2_and_1_3_are_spoken_and_older_ones_refused(program, authority):
    with start(program, authority, authority.issue("one")) as service:
        for version, name in ((ssl.TLSVersion.TLSv1_2, "TLSv1.2"), (ssl.TLSVersion.TLSv1_3, "TLSv1.3")):
            want_equal(handshake(service.port, of_version(authority.context(), version))[0], name, "version")
        for version in (ssl.TLSVersion.TLSv1, ssl.TLSVersion.TLSv1_1):
            old = of_version(authority.context(), version, "DEFAULT@SECLEVEL=0")
            refused(service.port, old, "alert protocol version")


@with_authority
def weak_ciphers_are_refused(program, authority):
    """For TLS 1.2; those of TLS 1.3 are all sound."""
    rsa = authority.issue("rsa", new_key=("-newkey", "rsa:2048"))
    with start(program, authority, rsa) as service:
        for cipher in ("ECDHE-RSA-AES256-GCM-SHA384", "ECDHE-RSA-AES128-GCM-SHA256", "ECDHE-RSA-CHACHA20-POLY1305"):
            strong = of_version(authority.context(), ssl.TLSVersion.TLSv1_2, cipher)
            want_equal(handshake(service.port, strong)[1], cipher, "cipher")
        for cipher in ("AES128-SHA", "AES256-GCM-SHA384", "ECDHE-RSA-AES128-SHA", "ECDHE-RSA-AES256-SHA384",
                       "DHE-RSA-AES256-GCM-SHA384", "ECDHE-RSA-CAMELLIA128-SHA256"):
            weak = of_version(authority.context(), ssl.TLSVersion.TLSv1_2, cipher + ":@SECLEVEL=0")
            refused(service.port, weak, "alert handshake failure")


@with_authority
def sessions_are_resumed_in_1_3_only(program, authority):
    """A ticket of 1.2 would give recorded connections away to whoever gets the key that sealed it."""
    with start(program, authority, authority.issue("one")) as service:
        for version, wanted in ((ssl.TLSVersion.TLSv1_3, True), (ssl.TLSVersion.TLSv1_2, False)):
            context = of_version(authority.context(), version)
            with Client(service.port, tls=context) as first:
                first.send(GET)
                first.reply()
                session = first.socket.agreed.session
            plain = socket.create_connection(("127.0.0.1", service.port), 20)
            with context.wrap_socket(plain, server_hostname="localhost", session=session) as second:
                want_equal(second.session_reused, wanted, f"{version.name} resumed")


@with_authority
def http_1_1_is_the_protocol_agreed_on(program, authority):
    with start(program, authority, authority.issue("one")) as service:
        for offered, wanted in ((["h2", "http/1.1"], "http/1.1"), (["http/1.0"], "http/1.0")):
            context = authority.context()
            context.set_alpn_protocols(offered)
            with Client(service.port, tls=context) as client:
                want_equal(client.socket.agreed.selected_alpn_protocol(), wanted, f"of {offered}")
        context = authority.context()
        context.set_alpn_protocols(["h2"])
        refused(service.port, context, "alert no application protocol")


@with_authority
def a_scanner_finds_nothing_weak(program, authority):
    rsa = authority.issue("rsa", new_key=("-newkey", "rsa:2048"))
    with start(program, authority, rsa) as service:
        done = subprocess.run(["sslscan", "--no-colour", "--xml=-", f"127.0.0.1:{service.port}"], capture_output=True,
                              timeout=120, check=False)
        found = xml.fromstring(done.stdout).find("ssltest")
        spoken = {f"{one.get('type')}{one.get('version')}": one.get("enabled") for one in found.iter("protocol")}
        want_equal(spoken, {"ssl2": "0", "ssl3": "0", "tls1.0": "0", "tls1.1": "0", "tls1.2": "1", "tls1.3": "1"}, "versions")
        ciphers = [one.get("cipher") for one in found.iter("cipher")]
        want(len(ciphers) >= 6, f"{ciphers}")
        for one in found.iter("cipher"):
            sound = one.get("cipher").startswith(("TLS_AES", "TLS_CHACHA20", "ECDHE-")) and int(one.get("bits")) >= 128
            want(sound and one.get("strength") in ("acceptable", "strong"), f"{one.attrib}")
        want(all(one.get("vulnerable") == "0" for one in found.iter("heartbleed")), "heartbleed")
        renegotiation = found.find("renegotiation").attrib
        want_equal(renegotiation["supported"], "0", "renegotiation")
        want(found.find("compression") is None or found.find("compression").get("supported") == "0", "compression")


@with_authority
def plain_and_tls_stand_side_by_side(program, authority):
    identity = authority.issue("one")
    with start(program, authority, identity, listen="127.0.0.1:0,127.0.0.1:0s,[::1]:0s", admin_listen=LISTEN) as service:
        want_equal([port in service.contexts for port in service.ports], [False, True, True], "which speak TLS")
        bodies = [service.ask("POST", "/v1/check", JOB, port=port).body for port in service.ports[:2]]
        want(bodies[0] == bodies[1], "TLS changes the answer")
        want_equal(service.ask("GET", "/readyz", port=service.admin_port).document["parts"],
                   {"requests": "ready", "certificate": "ready"}, "parts by the admin listener")
        with Client(service.ports[2], "::1", tls=authority.context()) as client:
            client.send(GET)
            want_equal(client.reply().status, 200, "by IPv6")


@with_authority
def the_end_of_an_answer_is_told_by_tls(program, authority):
    """Without close_notify a client cannot tell an end from a cut (RFC 8446 section 6.1): also after what cannot be
    read, and where a body is left unread."""
    with start(program, authority, authority.issue("one")) as service:
        for request in (GET, "no HTTP at all\r\n\r\n", HEAD % 9999999 + "x" * 20000):
            with service.client() as client:
                client.send(request)
                want(client.reply() is not None, f"no answer to {request[:40]!r}")
                want(client.is_closed() and not client.cut_off, f"cut off after {request[:40]!r}")


@with_authority
def browsers_are_sent_back_to_tls_only_where_that_is_set(program, authority):
    """RFC 6797: never on a connection without TLS."""
    name, identity = "Strict-Transport-Security", authority.issue("one")
    both = "127.0.0.1:0s,127.0.0.1:0"
    with start(program, authority, identity, listen=both) as service:
        want_equal(service.ask("GET", "/").get(name), None, "by default")
    with start(program, authority, identity, listen=both, tls_hsts_s=3600) as service:
        want_equal(service.ask("GET", "/").get(name), "max-age=3600", "by TLS")
        want_equal(service.ask("GET", "/", port=service.ports[1]).get(name), None, "without TLS")


# ---- how it starts ----


@with_authority
def it_does_not_start_on_a_pair_that_will_not_do(program, authority):
    good, other = authority.issue("good"), authority.issue("other")
    expired = authority.issue("expired", starts_in_s=-7200, ends_in_s=-3600)
    early = authority.issue("early", starts_in_s=3600)
    weak = authority.issue("weak", new_key=("-newkey", "rsa:1024"))
    empty = authority.folder / "empty.pem"
    empty.write_text("")
    missing = authority.folder / "missing.pem"
    start_fails(program, ["SMALLEND_TLS_CERT", "SMALLEND_TLS_KEY"])
    start_fails(program, ["SMALLEND_TLS_CERT", "SMALLEND_TLS_KEY"], tls_cert=good.certificate)
    start_fails(program, ["SMALLEND_TLS_CERT"], listen="127.0.0.1:0", admin_listen=LISTEN)
    start_fails(program, [str(missing), "No such file"], tls_cert=missing, tls_key=good.key)
    start_fails(program, [str(missing), "No such file"], tls_cert=good.certificate, tls_key=missing)
    start_fails(program, [str(empty), "no certificate"], tls_cert=empty, tls_key=good.key)
    start_fails(program, [str(good.certificate), "no private key"], tls_cert=good.certificate, tls_key=good.certificate)
    start_fails(program, [str(other.key), "does not belong", str(good.certificate)],
                tls_cert=good.certificate, tls_key=other.key)
    start_fails(program, [str(expired.certificate), "expired at"], **expired.settings)
    start_fails(program, [str(early.certificate), "not valid before"], **early.settings)
    start_fails(program, [str(weak.certificate), "too small"], **weak.settings)
    start_fails(program, [str(empty), "no certificate"], tls_client_ca=empty, **good.settings)


@with_authority
def a_key_with_a_passphrase_is_refused_without_asking_for_it(program, authority):
    good = authority.issue("good")
    locked = authority.folder / "locked.key"
    subprocess.run(["openssl", "pkey", "-in", good.key, "-aes128", "-passout", "pass:secret", "-out", locked], check=True)
    start_fails(program, [str(locked), "passphrase"], tls_cert=good.certificate, tls_key=locked)


@with_authority
def a_key_that_others_may_read_is_warned_of(program, authority):
    identity = authority.issue("one")
    for mode, level in ((0o604, "warn"), (0o640, "info")):
        identity.key.chmod(mode)
        with start(program, authority, identity) as service:
            want_equal(service.logged(lambda line: line["msg"] == "certificate")["level"], level, f"mode {mode:o}")


# ---- reload ----


@with_authority
def a_reload_under_load_loses_nobody(program, authority):
    """Thirty exchanges of the pair while clients come and go; a connection from before stays."""
    pairs = [authority.issue(name) for name in ("left", "right")]
    used = authority.issue("used")
    put(pairs[0], used)
    with start(program, authority, used, log="json") as service, service.client() as old:
        failures, handshakes, stop = [], [0], threading.Event()

        def come_and_go():
            while not stop.is_set():
                try:
                    handshake(service.port, authority.context())
                    handshakes[0] += 1
                except Exception as error:  # whatever it was, it is lost
                    failures.append(repr(error))

        with concurrent.futures.ThreadPoolExecutor(3) as pool:
            clients = [pool.submit(come_and_go) for _ in range(3)]
            try:
                for number in range(1, 31):
                    put(pairs[number % 2], used)
                    reload(service, "taken")
                    want_equal(handshake(service.port, authority.context())[2], pairs[number % 2].der, f"certificate {number}")
            finally:
                stop.set()
            for client in clients:
                client.result()
        want_equal(failures, [], f"clients lost among {handshakes[0]}")
        want(handshakes[0] > 30, f"{handshakes[0]} handshakes are no load")
        want_equal(service.ask("GET", "/livez").status, 200, "afterwards")
        old.socket.close()


@with_authority
def a_connection_outlives_a_reload(program, authority):
    first, second = authority.issue("first"), authority.issue("second")
    used = authority.issue("used")
    put(first, used)
    with start(program, authority, used) as service, service.client() as client:
        client.send(HEAD % 2 + "{")
        put(second, used)
        reload(service, "taken")
        client.send("}")
        want_equal(client.reply().status, 200, "status of the request begun before")
        want_equal(client.socket.agreed.getpeercert(binary_form=True), first.der, "its certificate")
        want_equal(handshake(service.port, authority.context())[2], second.der, "the next one's")


@with_authority
def a_broken_pair_leaves_the_old_one_in_force(program, authority):
    good, other = authority.issue("good"), authority.issue("other")
    expired = authority.issue("expired", starts_in_s=-7200, ends_in_s=-3600)
    used = authority.issue("used")
    put(good, used)
    with start(program, authority, used) as service:
        def still(what, reason):
            want(reason in reload(service, "kept")["detail"], f"{what}: {service.lines[-1]}")
            want_equal(handshake(service.port, authority.context())[2], good.der, f"after {what}")

        used.certificate.write_bytes(other.certificate.read_bytes())
        still("a certificate of another key", "does not belong")
        half = good.certificate.read_bytes()
        used.certificate.write_bytes(half[:len(half) // 2])
        still("half a certificate", "certificate")
        used.certificate.unlink()
        still("no certificate", "No such file")
        put(expired, used)
        still("an expired one", "expired")
        put(other, used)
        reload(service, "taken")
        want_equal(handshake(service.port, authority.context())[2], other.der, "after a good one")


@with_authority
def an_expired_certificate_is_told_to_probes(program, authority):
    """It was good at the start, and nobody exchanged it in time."""
    used = authority.issue("used")
    with start(program, authority, used, listen="127.0.0.1:0,127.0.0.1:0s") as service:
        end = time.time() + 5
        put(authority.issue("short", ends_in_s=5), used)
        reload(service, "taken")
        want_equal(service.ask("GET", "/readyz").status, 200, "in time")
        time.sleep(max(0, end - time.time()) + 1.5)
        reply = service.ask("GET", "/readyz")
        want_equal((reply.status, reply.document["status"]), (503, "not ready"), "too late")
        want_equal(reply.document["parts"], {"requests": "ready", "certificate": "expired"}, "parts")
        want_equal(service.ask("GET", "/livez").status, 200, "livez")


# ---- clients' certificates ----


@with_authority
def only_clients_with_a_certificate_are_let_in(program, authority):
    identity, client = authority.issue("service"), authority.issue("client")
    with Authority() as stranger, start(program, authority, identity, tls=authority.context(client),
                                        tls_client_ca=authority.certificate) as service:
        want_equal(service.ask("GET", "/livez").status, 200, "with one")
        want(service.logged(lambda line: line.get("route") == "/livez")["client"].endswith("CN=client"), "client in the log")
        refused(service.port, authority.context(), "alert certificate required")
        strange = authority.context(stranger.issue("client"))
        refused(service.port, strange, "alert unknown ca")
        late = authority.context(authority.issue("late", starts_in_s=-7200, ends_in_s=-3600))
        refused(service.port, late, "alert certificate expired")
        old = of_version(authority.context(), ssl.TLSVersion.TLSv1_2)
        refused(service.port, old, "alert handshake failure")


@with_authority
def clients_may_be_asked_for_a_certificate_only(program, authority):
    identity, client = authority.issue("service"), authority.issue("client")
    with Authority() as stranger, start(program, authority, identity, tls_client="ask",
                                        tls_client_ca=authority.certificate) as service:
        handshake(service.port, authority.context())
        handshake(service.port, authority.context(client))
        refused(service.port, authority.context(stranger.issue("client")), "alert unknown ca")


@with_authority
def a_reload_exchanges_the_clients_authorities_too(program, authority):
    """And a session from before does not let in whose authority is gone."""
    identity, client = authority.issue("service"), authority.issue("client")
    trusted = authority.folder / "trusted.pem"
    trusted.write_bytes(authority.certificate.read_bytes())
    context = authority.context(client)
    with Authority() as successor, start(program, authority, identity, tls_client_ca=trusted) as service:
        with Client(service.port, tls=context) as first:
            first.send(GET)
            want_equal(first.reply().status, 200, "before")
            session = first.socket.agreed.session
        trusted.write_bytes(successor.certificate.read_bytes())
        reload(service, "taken")
        refused(service.port, context, "alert unknown ca")
        handshake(service.port, authority.context(successor.issue("client")))
        if session is not None:
            plain = socket.create_connection(("127.0.0.1", service.port), 20)
            with context.wrap_socket(plain, server_hostname="localhost", session=session) as second:
                want(not second.session_reused, "a session was resumed")


# ---- strangers at the door ----


@with_authority
def garbage_at_the_door_does_not_hurt_the_next_client(program, authority):
    hello = bytes.fromhex("160301ffff0100fffb0303") + bytes(300)  # a first message said to be longer than it may be
    with start(program, authority, authority.issue("one"), threads=8) as service:
        for data in (GET.encode(), b"\0" * 500, b"\xff" * 70000, hello, b"\x80\x2e\x01\0\x02", b"\x15\x03\x01\0\x02\x01\0", b""):
            with socket.create_connection(("127.0.0.1", service.port), 20) as stranger:
                stranger.settimeout(20)
                try:
                    stranger.sendall(data)
                    stranger.shutdown(socket.SHUT_WR)
                    while got := stranger.recv(4096):
                        want(not got.startswith(b"HTTP/"), f"HTTP without TLS: {got}")
                except OSError:  # it was closed sooner
                    pass
            handshake(service.port, authority.context())
        failed = service.logged(lambda line: line["msg"] == "tls handshake failed")
        want_equal(failed["level"], "info", "level of a failed handshake")


@with_authority
def tls_at_a_plain_port_is_answered_and_closed(program, authority):
    with start(program, authority, authority.issue("one"), listen="127.0.0.1:0") as service:
        refused(service.port, authority.context(), "wrong version number")
        line = service.logged(lambda line: line["msg"] == "request")
        want_equal((line["status"], line["problem"]), (400, "bad-framing"), "what it was answered")
        want_equal(service.ask("GET", "/livez").status, 200, "the next client")


@with_authority
def a_slow_handshake_is_ended_in_time(program, authority):
    """Silent, and a byte now and then of what could be a first message."""
    first = bytes.fromhex("16030103ff010003fb0303") + bytes(1000)
    with start(program, authority, authority.issue("one"), threads=4) as service:
        begun = time.monotonic()
        with Client(service.port) as silent, Client(service.port) as slow:
            drip(slow, first, 0.2)
            closed_between(begun, 0, READ_S + 1)
            want(silent.is_closed(), "")
            closed_between(begun, READ_S, READ_S + 1)
        handshake(service.port, authority.context())


@with_authority
def slow_handshakes_on_every_thread_end_and_let_others_in(program, authority):
    with start(program, authority, authority.issue("one"), threads=8, admin_listen="127.0.0.1:0") as service:
        begun = time.monotonic()
        holders = [Client(service.port) for _ in range(8)]
        for holder in holders:
            holder.send(b"\x16\x03\x01")
        time.sleep(0.3)
        want_equal(service.ask("GET", "/livez", port=service.admin_port).status, 200, "probe meanwhile")
        handshake(service.port, authority.context())
        closed_between(begun, 0, READ_S + 1)
        for holder in holders:
            holder.socket.close()


@with_authority
def a_slow_body_by_tls_is_ended_in_time(program, authority):
    with start(program, authority, authority.issue("one")) as service, service.client() as client:
        client.send(HEAD % 1000)
        begun = time.monotonic()
        drip(client, b" " * 100, 0.5)
        reply = client.reply()
        want_equal((reply.status, reply.get("Connection")), (408, "close"), "answer")
        want(client.is_closed(), "")
        closed_between(begun, READ_S, READ_S + 1)


@with_authority
def a_piece_of_a_record_is_waited_for_no_longer(program, authority):
    """Bytes that never make a whole record: poll says there is something to read, TLS has nothing to give."""
    with start(program, authority, authority.issue("one")) as service, service.client() as client:
        client.send(HEAD % 1000)
        for byte in b"\x17\x03\x03\x40\x00" + b"x" * 20:
            try:
                client.socket.plain.send(bytes([byte]))
            except ConnectionError:
                break
            time.sleep(0.3)
        line = service.logged(lambda line: line.get("route") == "/v1/check")
        want_equal(line["status"], 408, "status")
        want(line["dur_ms"] < 1000 * (READ_S + 2), f"{line}")


@with_authority
def a_client_by_tls_that_does_not_read_is_cut_off(program, authority):
    with start(program, authority, authority.issue("one"), threads=4) as service:
        with service.client(receive_buffer=2048) as client:
            client.socket.settimeout(1)
            try:
                for _ in range(500):
                    client.send("POST /v1/load?trace=1440 HTTP/1.1\r\nHost: x\r\nContent-Length: %d\r\n\r\n" % len(JOB))
                    client.send(JOB)
            except (TimeoutError, ssl.SSLError, ConnectionError):
                pass
            line = service.logged(lambda line: line.get("route") == "/v1/load" and line["dur_ms"] > 1000 * (READ_S - 1))
            want(line["dur_ms"] < 14000, f"{line}")
            handshake(service.port, authority.context())


@with_authority
def failed_handshakes_do_not_fill_the_log(program, authority):
    """A few lines a second; the rest are counted, and told of once there is room."""
    with start(program, authority, authority.issue("one")) as service:
        def knock():
            with socket.create_connection(("127.0.0.1", service.port), 20) as stranger:
                stranger.sendall(b"GET / HTTP/1.0\r\n\r\n")
                try:
                    stranger.recv(100)
                except ConnectionError:
                    pass

        def told(line):
            return line["msg"] == "tls handshake failed"

        begun = time.monotonic()
        for _ in range(60):
            knock()
        seconds = int(time.monotonic() - begun) + 1
        time.sleep(1.1)
        knock()
        service.logged(lambda line: told(line) and "passed_over" in line)
        time.sleep(0.2)
        lines = [line for line in service.lines if told(line)]
        want(len(lines) <= 3 * (seconds + 1) + 1, f"{len(lines)} lines in {seconds} s")
        want_equal(len(lines) + sum(line.get("passed_over", 0) for line in lines), 61, "failures told of")


@with_authority
def a_stop_lets_requests_by_tls_finish(program, authority):
    service = start(program, authority, authority.issue("one"), drain_delay_ms=100)
    with service.client() as client:
        client.send(HEAD % 2 + "{")
        time.sleep(0.3)
        service.signal()
        service.logged(lambda line: line["msg"] == "draining")
        client.send("}")
        want_equal(client.reply().status, 200, "status")
        want(client.is_closed() and not client.cut_off, "cut off")
    service.close()
    want_equal(service.logged(lambda line: line["msg"] == "stopped")["cut_off"], 0, "requests cut off")


CASES = [value for value in list(globals().values())
         if callable(value) and value.__module__ == __name__ and hasattr(value, "__wrapped__")]
