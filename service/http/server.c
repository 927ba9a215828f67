#include "http/server.h"

#include <malloc.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

#include <civetweb.h>

#include "base/text.h"
#include "base/version.h"
#include "http/deadline.h"
#include "http/listener.h"

enum {
    CONNECTION_QUEUE = 128,
    ADMIN_THREADS = 4,
    SPARE_FILES = 64, /* standard streams, listening sockets, what libraries open */
    PORTS_MAX = 16
};

/*
 * At the limit of open files CivetWeb's accepting thread turns in circles
 * without a word, so there must be room for every socket it can hold.
 */
static bool
have_enough_files(const struct settings *settings, char fault[SERVER_FAULT_SIZE])
{
    const rlim_t wanted = (rlim_t)settings->threads + ADMIN_THREADS + (rlim_t)2 * CONNECTION_QUEUE + SPARE_FILES;
    struct rlimit files;
    if (getrlimit(RLIMIT_NOFILE, &files) != 0 || files.rlim_cur >= wanted) {
        return true;
    }
    files.rlim_cur = wanted;
    if (wanted <= files.rlim_max && setrlimit(RLIMIT_NOFILE, &files) == 0) {
        return true;
    }
    struct text text;
    text_init(&text, fault, SERVER_FAULT_SIZE);
    text_format(&text, "%ld threads need %llu open files; raise the limit (ulimit -n) or lower SMALLEND_THREADS",
                settings->threads, (unsigned long long)wanted);
    return false;
}

/*
 * What glibc frees of a large block it keeps from then on, in an arena of each
 * few threads: after some batches, tens of megabytes for good (mallopt(3),
 * "dynamic mmap threshold"). Fixed thresholds give the body of a batch back to
 * the system, and leave the buffers of ordinary answers where they are.
 */
static void
return_large_blocks(void)
{
    mallopt(M_MMAP_THRESHOLD, 256 * 1024);
    mallopt(M_TRIM_THRESHOLD, 1024 * 1024);
}

/* Entry `index` of a list of addresses, its port replaced by the one bound. */
static void
add_address(struct text *text, const char *list, int index, const struct mg_server_port *port)
{
    const char *entry = list;
    for (; index > 0; --index) {
        entry += strcspn(entry, ",");
        entry += *entry == ',';
    }
    size_t host = strcspn(entry, ",");
    host -= host > 0 && entry[host - 1] == 's' ? 1 : 0;
    while (host > 0 && entry[host - 1] >= '0' && entry[host - 1] <= '9') {
        --host;
    }
    text_add(text, port->is_ssl ? "https://" : "http://");
    if (host > 0 && entry[host - 1] == ':') {
        text_add_bytes(text, entry, host);
    } else {
        text_add(text, "*:");
    }
    text_format(text, "%d", port->port);
}

static void
log_addresses(struct log_line *line, const char *key, const struct listener *listener, const char *list)
{
    char buffer[LOG_VALUE_MAX];
    struct text text;
    struct mg_server_port ports[PORTS_MAX];
    text_init(&text, buffer, sizeof buffer);
    const int count = listener->context != NULL ? mg_get_server_ports(listener->context, PORTS_MAX, ports) : 0;
    for (int i = 0; i < count; ++i) {
        text_add(&text, i > 0 ? "," : "");
        add_address(&text, list, i, &ports[i]);
    }
    if (count > 0) {
        log_text(line, key, buffer);
    }
}

static void
log_ready(const struct server *server)
{
    struct log_line line;
    log_begin(&line, server->log_mode, LOG_LEVEL_INFO, "ready");
    log_addresses(&line, "listen", &server->public_listener, server->settings.listen);
    log_addresses(&line, "admin_listen", &server->admin_listener, server->settings.admin_listen);
    log_integer(&line, "threads", server->settings.threads);
    log_text(&line, "version", SMALLEND_VERSION);
    log_text(&line, "rules", SMALLEND_RULES);
    log_end(&line);
}

static bool
open_seal(struct server *server, char fault[SERVER_FAULT_SIZE])
{
    const struct seal_files files = {.signing_keys = server->settings.signing_keys,
                                     .verify_keys = server->settings.verify_keys,
                                     .tokens = server->settings.tokens};
    return seal_open(&server->seal, &files, server->log_mode, fault);
}

/* What the operator should know of the certificate in force. */
static void
log_certificate(const struct server *server)
{
    struct log_line line;
    const struct tls_identity *identity = server->tls.identity;
    if (identity == NULL) {
        return;
    }
    log_begin(&line, server->log_mode, identity->key_is_open ? LOG_LEVEL_WARN : LOG_LEVEL_INFO, "certificate");
    log_text(&line, "subject", identity->name);
    log_integer(&line, "expires_in_days", (identity->expires_s - (long long)time(NULL)) / 86400);
    log_flag(&line, "client_authorities", identity->client_authorities != NULL);
    if (identity->key_is_open) {
        log_text(&line, "warning", "any user of this machine may read the private key's file");
    }
    log_end(&line);
}

static bool
start_parts(struct server *server, const struct settings *settings, char fault[SERVER_FAULT_SIZE])
{
    struct timespec now = {0};
    clock_gettime(CLOCK_REALTIME, &now);
    server->started_s = (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
    atomic_init(&server->draining, false);
    atomic_init(&server->in_flight, 0);
    atomic_init(&server->batches, 0);
    listener_init(&server->public_listener, server, false, (int)settings->threads);
    listener_init(&server->admin_listener, server, true, settings->admin_listen[0] != '\0' ? ADMIN_THREADS : 0);
    if (!log_mode_find(settings->log, &server->log_mode) || !have_enough_files(settings, fault)) {
        return false;
    }
    if (!open_seal(server, fault)) {
        return false;
    }
    if (!tls_start(&server->tls, settings, fault)) {
        goto no_tls;
    }
    if (!log_limit_init(&server->handshake_log)) {
        goto no_handshake_log;
    }
    if (!log_limit_init(&server->civetweb_log)) {
        goto no_civetweb_log;
    }
    return true;

no_civetweb_log:
    log_limit_destroy(&server->handshake_log);
no_handshake_log:
    text_copy(fault, SERVER_FAULT_SIZE, "no memory for a lock");
    tls_stop(&server->tls);
no_tls:
    seal_close(&server->seal);
    return false;
}

static void
stop_parts(struct server *server)
{
    log_limit_destroy(&server->civetweb_log);
    log_limit_destroy(&server->handshake_log);
    tls_stop(&server->tls);
    seal_close(&server->seal);
}

bool
server_start(struct server *server, const struct settings *settings, char fault[SERVER_FAULT_SIZE])
{
    memset(server, 0, sizeof *server);
    server->settings = *settings;
    if (!start_parts(server, &server->settings, fault)) {
        return false;
    }
    log_certificate(server);
    return_large_blocks();
    mg_init_library(MG_FEATURES_TLS | MG_FEATURES_IPV6);
    if (!listener_start(&server->public_listener, settings->listen, CONNECTION_QUEUE, fault)) {
        goto no_public;
    }
    if (server->admin_listener.threads > 0 &&
        !listener_start(&server->admin_listener, settings->admin_listen, CONNECTION_QUEUE, fault)) {
        goto no_admin;
    }
    log_ready(server);
    return true;

no_admin:
    mg_stop(server->public_listener.context);
no_public:
    mg_exit_library();
    stop_parts(server);
    return false;
}

/* ---- on SIGHUP ---- */

static bool
reload_keys(struct server *server, char fault[SERVER_FAULT_SIZE])
{
    return seal_reload(&server->seal, fault);
}

static bool
has_keys(const struct server *server)
{
    const struct settings *settings = &server->settings;
    return settings->signing_keys[0] != '\0' || settings->verify_keys[0] != '\0' || settings->tokens[0] != '\0';
}

static bool
reload_certificate(struct server *server, char fault[SERVER_FAULT_SIZE])
{
    if (!tls_reload(&server->tls, fault)) {
        return false;
    }
    log_certificate(server);
    return true;
}

static bool
has_certificate(const struct server *server)
{
    return server->tls.identity != NULL;
}

static const struct {
    const char *name;
    bool (*is_in_use)(const struct server *server);
    bool (*reload)(struct server *server, char fault[SERVER_FAULT_SIZE]);
} parts[] = {
    {"keys", has_keys, reload_keys},
    {"certificate", has_certificate, reload_certificate},
};

void
server_reload(struct server *server)
{
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; ++i) {
        char fault[SERVER_FAULT_SIZE] = "";
        struct log_line line;
        if (!parts[i].is_in_use(server)) {
            continue;
        }
        const bool taken = parts[i].reload(server, fault);
        metrics_count_reload(&server->metrics, taken ? METRICS_RELOAD_TAKEN : METRICS_RELOAD_KEPT);
        log_begin(&line, server->log_mode, taken ? LOG_LEVEL_INFO : LOG_LEVEL_WARN, "reload");
        log_text(&line, "part", parts[i].name);
        log_text(&line, "outcome", taken ? "taken" : "kept");
        if (!taken) {
            log_text(&line, "detail", fault);
        }
        log_end(&line);
    }
}

/* ---- what it says of itself ---- */

void
server_readiness(struct server *server, struct server_readiness *readiness)
{
    const int64_t expires_s = tls_expires_s(&server->tls);
    readiness->draining = atomic_load(&server->draining);
    readiness->has_certificate = expires_s != 0;
    readiness->certificate_expired = expires_s != 0 && expires_s <= (int64_t)time(NULL);
}

void
server_metrics_now(struct server *server, struct metrics_now *now)
{
    struct listener *const listeners[METRICS_LISTENER_COUNT] = {&server->public_listener, &server->admin_listener};
    static const char *const names[METRICS_LISTENER_COUNT] = {"public", "admin"};
    *now = (struct metrics_now){.in_flight = atomic_load(&server->in_flight),
                                .draining = atomic_load(&server->draining),
                                .certificate_expires_s = tls_expires_s(&server->tls),
                                .started_s = server->started_s};
    for (size_t i = 0; i < METRICS_LISTENER_COUNT; ++i) {
        if (listeners[i]->threads > 0) {
            now->listener[i].name = names[i];
            now->listener[i].connections = atomic_load(&listeners[i]->connections);
            now->listener[i].most_connections = listeners[i]->threads;
        }
    }
    process_usage_read(&now->process);
}

/* ---- the end ---- */

static void
sleep_ms(long milliseconds)
{
    struct timespec left = {.tv_sec = milliseconds / 1000, .tv_nsec = milliseconds % 1000 * 1000000};
    while (nanosleep(&left, &left) != 0) {
    }
}

void
server_drain(struct server *server)
{
    enum { STEP_MS = 5 };
    struct log_line line;
    atomic_store(&server->draining, true);
    log_begin(&line, server->log_mode, LOG_LEVEL_INFO, "draining");
    log_integer(&line, "delay_ms", server->settings.drain_delay_ms);
    log_end(&line);
    sleep_ms(server->settings.drain_delay_ms);
    const int64_t end_ms = deadline_now_ms() + server->settings.drain_limit_ms;
    while (atomic_load(&server->in_flight) > 0 && deadline_now_ms() < end_ms) {
        sleep_ms(STEP_MS);
    }
}

void
server_stop(struct server *server)
{
    struct log_line line;
    const unsigned passed_over = log_limit_rest(&server->handshake_log) + log_limit_rest(&server->civetweb_log);
    const int cut_off = atomic_load(&server->in_flight);
    mg_stop(server->public_listener.context);
    if (server->admin_listener.context != NULL) {
        mg_stop(server->admin_listener.context);
    }
    mg_exit_library();
    log_begin(&line, server->log_mode, cut_off > 0 ? LOG_LEVEL_WARN : LOG_LEVEL_INFO, "stopped");
    log_integer(&line, "cut_off", cut_off);
    if (passed_over > 0) {
        log_integer(&line, "lines_passed_over", passed_over);
    }
    log_end(&line);
    stop_parts(server);
}
