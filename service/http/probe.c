#include "http/probe.h"

#include <stdlib.h>
#include <string.h>

#include <civetweb.h>

#include "base/text.h"

/* An address that can be asked. */
struct target {
    char host[208];
    int port;
};

/* What listens on every address answers on that of the machine itself. */
static const char *
reachable(const char *host)
{
    if (host[0] == '\0' || strcmp(host, "+") == 0 || strcmp(host, "0.0.0.0") == 0) {
        return "127.0.0.1";
    }
    return strcmp(host, "::") == 0 ? "::1" : host;
}

/* An entry that setting_rule_addresses has taken; false if it is not of use:
 * TLS, for which a client may need a certificate, or a port not known before. */
static bool
read_entry(const char *entry, size_t length, struct target *target)
{
    size_t host = length;
    while (host > 0 && entry[host - 1] >= '0' && entry[host - 1] <= '9') {
        --host;
    }
    target->port = (int)strtol(entry + host, NULL, 10);
    host -= host > 0 && entry[host - 1] == ':' ? 1 : 0;
    const bool brackets = host > 1 && entry[0] == '[';
    char written[sizeof target->host];
    struct text text;
    text_init(&text, written, sizeof written);
    text_add_bytes(&text, entry + (brackets ? 1 : 0), brackets ? host - 2 : host);
    text_copy(target->host, sizeof target->host, reachable(written));
    return target->port > 0;
}

static bool
find_target(const char *addresses, struct target *target)
{
    for (const char *entry = addresses; *entry != '\0';) {
        const size_t length = strcspn(entry, ",");
        if (length > 0 && entry[length - 1] != 's' && read_entry(entry, length, target)) {
            return true;
        }
        entry += length + (entry[length] == ',' ? 1 : 0);
    }
    return false;
}

/* The status of the answer, 0 if there is none. */
static int
ask(struct mg_connection *connection, const struct target *target)
{
    char why[128];
    const bool ipv6 = strchr(target->host, ':') != NULL;
    mg_printf(connection, "GET /readyz HTTP/1.1\r\nHost: %s%s%s:%d\r\nConnection: close\r\n\r\n", ipv6 ? "[" : "",
              target->host, ipv6 ? "]" : "", target->port);
    if (mg_get_response(connection, why, sizeof why, PROBE_LIMIT_MS) < 0) {
        return 0;
    }
    const struct mg_response_info *info = mg_get_response_info(connection);
    return info != NULL ? info->status_code : 0;
}

static bool
judge(int status, const struct target *target, char fault[PROBE_FAULT_SIZE])
{
    struct text text;
    text_init(&text, fault, PROBE_FAULT_SIZE);
    if (status == 0) {
        text_format(&text, "nothing that answers on %s, port %d", target->host, target->port);
    } else if (status != 200) {
        text_format(&text, "not ready: %s, port %d, answers with status %d", target->host, target->port, status);
    }
    return status == 200;
}

bool
probe_service(const struct settings *settings, char fault[PROBE_FAULT_SIZE])
{
    char why[128];
    struct target target;
    if (!find_target(settings->admin_listen, &target) && !find_target(settings->listen, &target)) {
        text_copy(fault, PROBE_FAULT_SIZE, "nothing to ask: no address without TLS, or with a port of its own");
        return false;
    }
    mg_init_library(MG_FEATURES_IPV6);
    struct mg_connection *connection = mg_connect_client(target.host, target.port, 0, why, sizeof why);
    const int status = connection != NULL ? ask(connection, &target) : 0;
    if (connection != NULL) {
        mg_close_connection(connection);
    }
    mg_exit_library();
    return judge(status, &target, fault);
}
