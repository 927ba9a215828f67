#ifndef SMALLEND_HTTP_SERVER_H
#define SMALLEND_HTTP_SERVER_H

/* The service's life: start, serve, drain, stop. The caller owns the struct,
 * which holds all that changes while the service runs. */

#include <stdatomic.h>
#include <stdbool.h>

#include "base/log.h"
#include "http/log_limit.h"
#include "http/metrics.h"
#include "http/setting.h"
#include "http/tls.h"
#include "seal/seal.h"

struct mg_context;
struct server;

/* One CivetWeb context: its sockets and its threads. */
struct listener {
    struct server *server;
    struct mg_context *context; /* NULL = not started */
    bool admin;
    int threads;          /* 0 = it is not wanted */
    int most_connections; /* beyond these a connection closes after one answer */
    atomic_int connections;
};

struct server {
    struct settings settings;
    enum log_mode log_mode;
    struct seal seal;
    struct listener public_listener;
    struct listener admin_listener;
    atomic_bool draining;
    atomic_int in_flight; /* requests being answered */
    atomic_int batches;   /* those among them that are batches */
    double started_s;     /* seconds since 1970 */
    struct tls tls;
    struct metrics metrics;
    struct log_limit handshake_log; /* of handshakes that failed, */
    struct log_limit civetweb_log;  /* and of what else CivetWeb has to say */
};

enum { SERVER_FAULT_SIZE = 512 };

/*
 * Start to serve. Signals that the program takes itself must be blocked before,
 * for the threads to inherit that. On failure nothing is left running, and
 * `fault` says why. Otherwise the log has a line "ready" with the addresses.
 */
bool server_start(struct server *server, const struct settings *settings, char fault[SERVER_FAULT_SIZE]);

/*
 * On SIGHUP: read again what can be exchanged while the service runs. Each part
 * that turns out broken stays as it was, and the log says why.
 */
void server_reload(struct server *server);

/* Whether the service is up to work, part by part. */
struct server_readiness {
    bool draining;            /* a stop was asked for */
    bool has_certificate;     /* somebody speaks TLS */
    bool certificate_expired; /* TLS clients will not talk to us */
};

void server_readiness(struct server *server, struct server_readiness *readiness);

/* What the metrics say of this moment. */
void server_metrics_now(struct server *server, struct metrics_now *now);

/* Say on /readyz that no more work is wanted, go on serving for a while, then
 * wait until no request is in flight, as the settings have it. */
void server_drain(struct server *server);

/* Close the sockets and end the threads. What is in flight is cut off. */
void server_stop(struct server *server);

#endif
