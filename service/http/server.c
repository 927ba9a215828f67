#include "http/server.h"

#include <stdio.h>
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
    ADMIN_THREADS = 2,
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

/* Entry `index` of a list of addresses, its port replaced by the one bound. */
static void
add_address(struct text *text, const char *list, int index, int port)
{
    const char *entry = list;
    for (; index > 0; --index) {
        entry += strcspn(entry, ",");
        entry += *entry == ',';
    }
    size_t host = strcspn(entry, ",");
    while (host > 0 && entry[host - 1] >= '0' && entry[host - 1] <= '9') {
        --host;
    }
    if (host > 0 && entry[host - 1] == ':') {
        text_add(text, "http://");
        text_add_bytes(text, entry, host);
    } else {
        text_add(text, "http://*:");
    }
    text_format(text, "%d", port);
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
        add_address(&text, list, i, ports[i].port);
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

bool
server_start(struct server *server, const struct settings *settings, char fault[SERVER_FAULT_SIZE])
{
    memset(server, 0, sizeof *server);
    server->settings = *settings;
    const int threads = (int)settings->threads;
    atomic_init(&server->draining, false);
    atomic_init(&server->in_flight, 0);
    atomic_init(&server->batches, 0);
    if (!log_mode_find(settings->log, &server->log_mode) || !have_enough_files(settings, fault) ||
        !open_seal(server, fault)) {
        return false;
    }
    mg_init_library(MG_FEATURES_TLS | MG_FEATURES_IPV6);
    if (!listener_start(&server->public_listener, server, settings->listen, threads, CONNECTION_QUEUE, fault)) {
        goto no_public;
    }
    server->admin_listener.admin = true;
    if (settings->admin_listen[0] != '\0' && !listener_start(&server->admin_listener, server, settings->admin_listen,
                                                             ADMIN_THREADS, CONNECTION_QUEUE, fault)) {
        goto no_admin;
    }
    log_ready(server);
    return true;

no_admin:
    mg_stop(server->public_listener.context);
no_public:
    mg_exit_library();
    seal_close(&server->seal);
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

static const struct {
    const char *name;
    bool (*is_in_use)(const struct server *server);
    bool (*reload)(struct server *server, char fault[SERVER_FAULT_SIZE]);
} parts[] = {
    {"keys", has_keys, reload_keys},
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
        log_begin(&line, server->log_mode, taken ? LOG_LEVEL_INFO : LOG_LEVEL_WARN, "reload");
        log_text(&line, "part", parts[i].name);
        log_text(&line, "outcome", taken ? "taken" : "kept");
        if (!taken) {
            log_text(&line, "detail", fault);
        }
        log_end(&line);
    }
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
    const int cut_off = atomic_load(&server->in_flight);
    mg_stop(server->public_listener.context);
    if (server->admin_listener.context != NULL) {
        mg_stop(server->admin_listener.context);
    }
    mg_exit_library();
    log_begin(&line, server->log_mode, cut_off > 0 ? LOG_LEVEL_WARN : LOG_LEVEL_INFO, "stopped");
    log_integer(&line, "cut_off", cut_off);
    log_end(&line);
    seal_close(&server->seal);
}
