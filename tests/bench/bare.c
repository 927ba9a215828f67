/*
 * The bare handler: what CivetWeb itself costs. It reads the body and answers
 * with as many constant bytes as the last number of the path says, by the
 * options that the service gives its own listener. Below /parse/ it has jansson
 * parse the body first: what no service that reads JSON by it can do without.
 *
 *   bench_bare ADDRESS THREADS [CERTIFICATE]
 *
 * CERTIFICATE is a PEM file of certificate and key, for an address with an s
 * behind it. Prints a line when it listens, and runs until it is killed.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <civetweb.h>
#include <jansson.h>

#include "http/exchange.h"
#include "http/gate.h"
#include "http/tls.h"

enum { ANSWER_MAX = 8 << 20, BODY_MAX = 65536, HEAD_MAX = 256 };

/* Bytes of every answer, with room for a head before them. */
static char *answer;

/* The body, or its last bytes where it is larger than the buffer; how many. */
static size_t
read_body(struct mg_connection *connection, long long length, char body[BODY_MAX])
{
    size_t filled = 0;
    while (length > 0) {
        filled = filled < BODY_MAX ? filled : 0;
        const int got = mg_read(connection, body + filled, BODY_MAX - filled);
        if (got <= 0) {
            break;
        }
        filled += (size_t)got;
        length -= got;
    }
    return filled;
}

static int
on_request(struct mg_connection *connection)
{
    const struct mg_request_info *request = mg_get_request_info(connection);
    const char *number = strrchr(request->local_uri_raw, '/');
    const long asked = number != NULL ? strtol(number + 1, NULL, 10) : 0;
    const long size = asked < 0 || asked > ANSWER_MAX ? 0 : asked;
    char head[HEAD_MAX], body[BODY_MAX];
    const size_t filled = read_body(connection, request->content_length, body);
    if (strncmp(request->local_uri_raw, "/parse/", 7) == 0) {
        json_decref(json_loadb(body, filled, JSON_REJECT_DUPLICATES, NULL));
    }
    const int length = snprintf(head, sizeof head,
                                "HTTP/1.1 200 OK\r\nContent-Type: application/json\r\nContent-Length: %ld\r\n"
                                "Cache-Control: no-store\r\nX-Content-Type-Options: nosniff\r\n\r\n",
                                size);
    char *whole = malloc((size_t)(length + size));
    if (whole == NULL) {
        return 500;
    }
    memcpy(whole, head, (size_t)length);
    memcpy(whole + length, answer, (size_t)size);
    mg_write(connection, whole, (size_t)(length + size));
    free(whole);
    return 200;
}

int
main(int argc, char **argv)
{
    char read_ms[16], head_size[16];
    if (argc < 3) {
        fprintf(stderr, "bench_bare ADDRESS THREADS [CERTIFICATE]\n");
        return 64;
    }
    snprintf(read_ms, sizeof read_ms, "%d", EXCHANGE_READ_MS);
    snprintf(head_size, sizeof head_size, "%d", GATE_HEAD_SIZE);
    const char *options[] = {
        "listening_ports", argv[1], "num_threads", argv[2], "connection_queue", argv[2], "request_timeout_ms", read_ms,
        "keep_alive_timeout_ms", "2000", "max_request_size", head_size, "listen_backlog", "1024", "enable_keep_alive", "yes",
        "tcp_nodelay", "1", "decode_url", "no", "decode_query_string", "no", "enable_auth_domain_check", "no",
        "enable_directory_listing", "no", "ssl_protocol_version", TLS_CIVETWEB_VERSION, "ssl_cipher_list", TLS_CIPHERS,
        argc > 3 ? "ssl_certificate" : NULL, argc > 3 ? argv[3] : NULL, NULL,
    };
    const struct mg_callbacks callbacks = {.begin_request = on_request};
    answer = calloc(ANSWER_MAX, 1); /* takes memory only where it is sent */
    if (answer == NULL) {
        return 70;
    }
    mg_init_library(argc > 3 ? MG_FEATURES_TLS : 0);
    if (mg_start(&callbacks, NULL, options) == NULL) {
        fprintf(stderr, "bench_bare: cannot listen on %s\n", argv[1]);
        return 70;
    }
    puts("ready");
    fflush(stdout);
    pause();
    return 0;
}
