#include "http/gate.h"

#include <stdbool.h>
#include <stddef.h>
#include <string.h>
#include <strings.h>

#include <civetweb.h>

static enum gate_verdict
refuse(enum gate_verdict verdict, const char **detail, const char *sentence)
{
    *detail = sentence;
    return verdict;
}

static const char *
end_of(const char *string)
{
    return string + strlen(string);
}

/* RFC 9110 section 5.6.2: token. */
static bool
is_token(const char *name)
{
    static const char bytes[] = "!#$%&'*+-.^_`|~0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";
    return name[0] != '\0' && name[strspn(name, bytes)] == '\0';
}

/*
 * CivetWeb ends each word by writing NUL over the blank or the CR and LF
 * behind it, and skips any further ones. So words that stand further apart than
 * one blank, or two bytes at a line's end, were not separated as RFC 9112
 * section 3 has it.
 */
static bool
request_line_is_strict(const struct mg_request_info *request, const char **line_end)
{
    const char *uri_end = end_of(request->query_string != NULL ? request->query_string : request->request_uri);
    const char *version = request->http_version - strlen("HTTP/");
    *line_end = end_of(request->http_version);
    return request->request_uri - end_of(request->request_method) == 1 && version - uri_end == 1;
}

/*
 * After the last header there must be what CivetWeb leaves of CR LF CR LF: NUL
 * NUL CR NUL. A folded line or a name that is none ends CivetWeb's reading
 * early, and shows here; so does a bare LF. A head that ended in two of those
 * may end CivetWeb's buffer at the second NUL: deploy/setup.sh builds it with
 * two zero bytes behind each buffer.
 */
static bool
head_ends_well(const char *value_end)
{
    return value_end[1] == '\0' && value_end[2] == '\r' && value_end[3] == '\0';
}

static bool
headers_are_strict(const struct mg_request_info *request, const char *line_end)
{
    for (int i = 0; i < request->num_headers; ++i) {
        const char *name = request->http_headers[i].name;
        const char *value = request->http_headers[i].value;
        if (name - line_end != 2 || !is_token(name)) {
            return false;
        }
        /* A blank before the colon was made NUL, and the colon as well. */
        for (const char *gap = end_of(name) + 1; gap < value; ++gap) {
            if (*gap != ' ' && *gap != '\t') {
                return false;
            }
        }
        line_end = end_of(value);
    }
    return request->num_headers == 0 || head_ends_well(line_end);
}

/* How often `name` stands in the head, and its last value. */
static int
count(const struct mg_request_info *request, const char *name, const char **value)
{
    int found = 0;
    for (int i = 0; i < request->num_headers; ++i) {
        if (strcasecmp(request->http_headers[i].name, name) == 0) {
            *value = request->http_headers[i].value;
            ++found;
        }
    }
    return found;
}

static enum gate_verdict
check_length(const struct mg_request_info *request, const char **detail)
{
    const char *coding = "", *length = "";
    const int codings = count(request, "Transfer-Encoding", &coding);
    const int lengths = count(request, "Content-Length", &length);
    if (codings > 0) {
        const bool plain = codings == 1 && lengths == 0 && strcasecmp(coding, "chunked") == 0;
        if (!plain || strcmp(request->http_version, "1.1") != 0) {
            return refuse(GATE_BAD_FRAMING, detail, "Transfer-Encoding contradicts the rest of the request.");
        }
        return refuse(GATE_LENGTH_REQUIRED, detail,
                      "Send the body with Content-Length; transfer codings are not taken.");
    }
    if (lengths > 1) {
        return refuse(GATE_BAD_FRAMING, detail, "Content-Length must be given once.");
    }
    if (lengths == 1) {
        const size_t digits = strspn(length, "0123456789");
        if (digits == 0 || length[digits] != '\0') {
            return refuse(GATE_BAD_FRAMING, detail, "Content-Length must be a plain number of digits.");
        }
        if (digits > 15) {
            return refuse(GATE_TOO_LARGE, detail, "The body is larger than this service accepts.");
        }
    }
    return GATE_OPEN;
}

static enum gate_verdict
check_host(const struct mg_request_info *request, const char **detail)
{
    static const char bytes[] = "0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ.-_~:[]";
    const char *host = "";
    const int hosts = count(request, "Host", &host);
    const bool old = strcmp(request->http_version, "1.0") == 0;
    if (hosts > 1 || (hosts == 0 && !old)) {
        return refuse(GATE_BAD_FRAMING, detail, "Exactly one Host header is needed.");
    }
    if (host[strspn(host, bytes)] != '\0') {
        return refuse(GATE_BAD_FRAMING, detail, "The Host header is not a host name.");
    }
    return GATE_OPEN;
}

enum gate_verdict
gate_check(const struct mg_request_info *request, const char **detail)
{
    const char *line_end = NULL;
    if (!request_line_is_strict(request, &line_end)) {
        return refuse(GATE_BAD_FRAMING, detail, "The request line must be METHOD TARGET HTTP/1.1, one blank between.");
    }
    if (request->num_headers >= MG_MAX_HEADERS) {
        return refuse(GATE_TOO_MANY_HEADERS, detail, "At most 63 header lines are accepted.");
    }
    if (!headers_are_strict(request, line_end)) {
        return refuse(GATE_BAD_FRAMING, detail,
                      "Header lines must be NAME: VALUE, each on one line that ends in CR LF.");
    }
    const enum gate_verdict verdict = check_length(request, detail);
    return verdict != GATE_OPEN ? verdict : check_host(request, detail);
}
