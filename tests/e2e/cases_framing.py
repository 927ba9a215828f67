"""Requests that are not quite HTTP. Whoever stands between the client and us must not see another end of a request than
we do: what is doubtful is refused and the connection closed, so that nothing behind it is taken for a request."""

import re

from service import want, want_equal

START = b"POST /v1/check HTTP/1.1\r\nHost: x\r\n"
SECOND = b"GET /livez HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n"


def refused(service, data, *statuses, finish=False):
    """One answer of one of these statuses, then the end: SECOND, sent behind, is never answered."""
    replies = service.raw(data + SECOND, finish)
    want(len(replies) == 1, f"{len(replies)} answers to {data[:200]!r}: {replies}")
    want(replies[0].status in statuses, f"wanted {statuses}: {replies[0]} to {data[:200]!r}")
    want_equal(replies[0].get("Connection"), "close", f"Connection in the answer to {data[:200]!r}")
    return replies[0]


def both_a_length_and_a_coding(service):
    for headers in (b"Content-Length: 5\r\nTransfer-Encoding: chunked\r\n",
                    b"Transfer-Encoding: chunked\r\nContent-Length: 5\r\n",
                    b"Content-Length: 5\r\nTransfer-Encoding: identity\r\n"):
        refused(service, START + headers + b"\r\n0\r\n\r\n", 400)


def chunked_is_not_taken(service):
    reply = refused(service, START + b"Transfer-Encoding: chunked\r\n\r\n2\r\n{}\r\n0\r\n\r\n", 411)
    want_equal(reply.document["type"], "/v1/problems/length-required", "problem")
    refused(service, START + b"Transfer-Encoding: Chunked\r\n\r\nffffffffffffffff\r\n", 411)


def any_other_coding(service):
    for coding in (b"Transfer-Encoding: identity", b"Transfer-Encoding: gzip", b"Transfer-Encoding: gzip, chunked",
                   b"Transfer-Encoding: xchunked", b"Transfer-Encoding: chunked ", b"Transfer-Encoding:",
                   b"Transfer-Encoding: identity\r\nTransfer-Encoding: chunked",
                   b"Transfer-Encoding: chunked\r\nTransfer-Encoding: chunked", b"Transfer-Encoding : chunked",
                   b"Transfer-Encoding\x0b: chunked"):
        refused(service, START + coding + b"\r\n\r\n0\r\n\r\n", 400)
    old = b"POST /v1/check HTTP/1.0\r\nConnection: keep-alive\r\n"
    refused(service, old + b"Transfer-Encoding: chunked\r\n\r\n0\r\n\r\n", 400)


def a_length_given_twice(service):
    for headers in (b"Content-Length: 5\r\nContent-Length: 5\r\n", b"Content-Length: 5\r\ncontent-length: 6\r\n",
                    b"Content-Length: 5, 5\r\n"):
        refused(service, START + headers + b"\r\n{   }", 400)


def a_length_that_is_no_plain_number(service):
    for value in (b"+5", b"-5", b"5x", b"5.0", b"0x5", b"-0", b"", b"5 5", b"five", b"5;", b"5,"):
        refused(service, START + b"Content-Length: " + value + b"\r\n\r\n{   }", 400)


def a_length_beyond_all_measure(service):
    for value in (b"65537", b"999999999999999", b"1000000000000000", b"9223372036854775807", b"9223372036854775808",
                  b"18446744073709551616", b"9" * 100):
        refused(service, START + b"Content-Length: " + value + b"\r\n\r\n{}", 413)


def a_blank_before_the_colon(service):
    refused(service, START + b"Content-Length : 2\r\n\r\n{}", 400)
    refused(service, START + b"X-Other : 2\r\nContent-Length: 2\r\n\r\n{}", 400)
    refused(service, START + b"X-Empty :\r\nContent-Length: 2\r\n\r\n{}", 400)


def a_folded_line(service):
    refused(service, START + b"X-Long: a\r\n b\r\nContent-Length: 2\r\n\r\n{}", 400)
    refused(service, START + b"Content-Length: 2\r\nX-Long: a\r\n b\r\n\r\n{}", 400)
    refused(service, b"POST /v1/check HTTP/1.1\r\n Host: x\r\nHost: x\r\nContent-Length: 2\r\n\r\n{}", 400)
    refused(service, START + b"X-Long: a\r\n\tb\r\nContent-Length: 2\r\n\r\n{}", 400)


def a_line_that_is_no_header(service):
    for line in (b": no name", b"no colon", b"na me: x", b"n\xc3\xa4me: x", b"na\x00me: x", b"X: a\x00b",
                 b"name(x): y", b"\"x\": y"):
        refused(service, START + line + b"\r\nContent-Length: 2\r\n\r\n{}", 400)


def bare_line_ends(service):
    refused(service, b"GET /livez HTTP/1.1\nHost: x\n\n", 400)
    refused(service, b"GET /livez HTTP/1.1\r\nHost: x\n\r\n", 400)
    refused(service, b"GET /livez HTTP/1.1\r\nHost: x\r\n\n", 400)
    refused(service, b"GET /livez HTTP/1.1\r\nHost: x\n\n", 400)
    refused(service, b"GET /livez HTTP/1.1\nHost: x\r\n\r\n", 400)
    refused(service, START + b"X: a\nContent-Length: 2\r\n\r\n{}", 400)
    refused(service, START + b"X: a\rContent-Length: 2\r\n\r\n{}", 400)
    refused(service, START + b"X: a\n\rContent-Length: 2\r\n\r\n{}", 400)


def too_many_headers(service):
    """CivetWeb drops the 65th and further lines in silence, here the length."""
    many = b"".join(b"X-%d: x\r\n" % number for number in range(70))
    reply = refused(service, START + many + b"Content-Length: 2\r\n\r\n{}", 431)
    want_equal(reply.document["type"], "/v1/problems/head-too-large", "problem")
    for extra, status in ((60, 200), (61, 431), (62, 431)):
        some = b"".join(b"X-%d: x\r\n" % number for number in range(extra))
        data = START + some + b"Connection: close\r\nContent-Length: 2\r\n\r\n{}"
        want_equal([reply.status for reply in service.raw(data)], [status], f"{extra + 3} headers")


def a_head_too_long(service):
    refused(service, START + b"X: " + b"x" * 17000 + b"\r\nContent-Length: 2\r\n\r\n{}", 400, 431)
    refused(service, b"GET /" + b"a" * 17000 + b" HTTP/1.1\r\nHost: x\r\n\r\n", 400, 414, 431)
    refused(service, START + b"X: " + b"x" * 200000, 400, 431)


def a_long_but_legal_address_is_read(service):
    """RFC 9110 section 4.1 asks for 8,000 octets at least."""
    replies = service.raw(b"GET /" + b"a" * 8000 + b" HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n")
    want_equal([reply.status for reply in replies], [404], "status")


def a_head_that_fills_the_buffer_to_the_last_byte(service):
    """Its end must be judged without looking past the buffer, here 16,384 bytes."""
    for end in (b"\r\n\r\n", b"\n\n", b"\r\n\n", b"\n\r\n"):
        for leading in (b"", b"\r\n", b" " * 9):
            start = leading + b"GET /livez HTTP/1.1\r\nHost: x\r\nConnection: close\r\nX: "
            for size in range(16380, 16388):
                replies = service.raw(start + b"x" * (size - len(start) - len(end)) + end, finish=True)
                want(len(replies) <= 1, f"{len(replies)} answers")
                legal = end == b"\r\n\r\n" and size < 16384 and not leading.strip(b"\r\n")
                want([reply.status for reply in replies] == [200] or not legal, f"{size} bytes: {replies}")
                want(end == b"\r\n\r\n" or replies[0].status == 400, f"{size} bytes ending in {end!r}: {replies}")


def no_host_or_two(service):
    refused(service, b"GET /livez HTTP/1.1\r\nConnection: keep-alive\r\n\r\n", 400)
    refused(service, b"GET /livez HTTP/1.1\r\nHost: x\r\nHost: x\r\n\r\n", 400)
    refused(service, b"GET /livez HTTP/1.1\r\nHost: x\r\nhost: y\r\n\r\n", 400)
    refused(service, b"GET /livez HTTP/1.1\r\nHost: x y\r\n\r\n", 400)
    refused(service, b"GET /livez HTTP/1.1\r\nHost: x/y\r\n\r\n", 400)


def an_odd_request_line(service):
    for line in (b"GET  /livez HTTP/1.1", b"GET /livez  HTTP/1.1", b"GET \r\n/livez HTTP/1.1", b"GET /livez",
                 b"GET /livez http/1.1",
                 b"GET /livez HTTP/1", b"GET /livez HTTP/x", b" GET", b"get /livez HTTP/1.1", b"FOO /livez HTTP/1.1",
                 b"GET livez HTTP/1.1", b"GET /li\xc3\xa9 HTTP/1.1", b"GET /li\tvez HTTP/1.1", b"GET /li\x00vez HTTP/1.1",
                 b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03", b"TRACE / HTTP/1.1", b"QUERY /v1/check HTTP/1.1"):
        refused(service, line + b"\r\nHost: x\r\n\r\n", 400, 505, finish=True)


def another_version(service):
    for version in (b"HTTP/1.2", b"HTTP/2.0", b"HTTP/3"):
        refused(service, b"GET /livez " + version + b"\r\nHost: x\r\n\r\n", 505)
    refused(service, b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n", 400)


def http_0_9(service):
    refused(service, b"GET /livez\r\n\r\n", 400, finish=True)


def http_1_0_is_answered_and_closed(service):
    replies = service.raw(b"GET /livez HTTP/1.0\r\n\r\n")
    want_equal([reply.status for reply in replies], [200], "status")
    with service.client() as client:
        for _ in range(2):
            client.send(b"GET /livez HTTP/1.0\r\nConnection: keep-alive\r\n\r\n")
            want_equal(client.reply().get("Connection"), "keep-alive", "Connection")


def an_absolute_address(service):
    here = b"%s://localhost:%d" % (service.scheme.encode(), service.port)
    replies = service.raw(b"GET " + here + b"/livez HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n")
    want_equal([reply.status for reply in replies], [200], "to this port")
    for target in (b"http://localhost:1/livez", b"http://localhost/livez", b"http://localhost:%dx/livez" % service.port,
                   b"ftp://localhost/livez"):
        replies = service.raw(b"GET " + target + b" HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n")
        want(all(reply.status >= 400 for reply in replies), f"{target!r}: {replies}")


def an_asterisk_closes_without_harm(service):
    want(all(reply.status >= 400 for reply in service.raw(b"OPTIONS * HTTP/1.1\r\nHost: x\r\n\r\n")), "OPTIONS *")


def pipelined_requests_are_answered_in_order(service):
    labels = [str(number) for number in range(8)]
    bodies = [b'{"label": "%s"}' % label.encode() for label in labels]
    with service.client() as client:
        client.send(b"".join(START + b"Content-Length: %d\r\n\r\n" % len(body) + body for body in bodies) + SECOND)
        want_equal([client.reply().document["label"] for _ in labels], labels, "order of the answers")
        want_equal(client.reply().status, 200, "the last")


def an_unread_body_ends_the_connection(service):
    """A body that no handler reads would be taken for the next request."""
    for start in (b"GET /livez", b"POST /v1/nothing", b"DELETE /v1/check", b"OPTIONS /v1/check", b"HEAD /livez"):
        data = start + b" HTTP/1.1\r\nHost: x\r\nContent-Length: %d\r\n\r\n" % len(SECOND)
        with service.client() as client:
            client.send(data + SECOND)
            reply = client.reply(bodiless=start.startswith(b"HEAD"))
            want_equal(reply.get("Connection"), "close", f"Connection after {start!r}")
            want(client.is_closed(), "")


def a_body_that_ends_early(service):
    replies = service.raw(START + b"Content-Length: 50\r\n\r\n{}", finish=True)
    want_equal([reply.status for reply in replies], [400], "status")


def upgrades_are_passed_over(service):
    for upgrade in (b"websocket", b"h2c", b"TLS/1.0"):
        data = (b"GET /livez HTTP/1.1\r\nHost: x\r\nConnection: keep-alive, Upgrade\r\nUpgrade: " + upgrade +
                b"\r\nSec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\nSec-WebSocket-Version: 13\r\n\r\n")
        replies = service.raw(data)
        want_equal([(reply.status, reply.get("Connection")) for reply in replies], [(200, "close")], upgrade.decode())


def answers_cannot_be_split(service):
    """What the client sends comes back in no header but as our own text."""
    for header in (b"Origin: https://a\r\nX-Bad: 1", b"traceparent: 00-x", b"Accept: a/b\x7f", b"If-None-Match: \"x\""):
        replies = service.raw(b"GET /v1/units HTTP/1.1\r\nHost: x\r\nConnection: close\r\n" + header + b"\r\n\r\n")
        for reply in replies:
            want(not any(re.search(r"x-bad|00-x", name + value, re.I) for name, value in reply.headers), f"{reply.headers}")


SHARED_CASES = [value for value in list(globals().values())
         if callable(value) and value.__module__ == __name__ and value is not refused]
# By TLS as well: those where it could make a difference. Under it each refusal costs half a second, since our side cannot
# be closed before the client's.
CASES_BY_TLS = [
    both_a_length_and_a_coding,
    too_many_headers,
    a_long_but_legal_address_is_read,
    http_1_0_is_answered_and_closed,
    an_absolute_address,
    an_asterisk_closes_without_harm,
    pipelined_requests_are_answered_in_order,
    an_unread_body_ends_the_connection,
    a_body_that_ends_early,
    upgrades_are_passed_over,
]
