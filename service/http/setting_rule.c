#include "http/setting_rule.h"

#include <stdbool.h>
#include <string.h>

#include "base/log.h"

/*
 * CivetWeb reads an address again, and resolves it; here only what it would
 * take in silence and read otherwise than meant is kept from it: blanks, empty
 * entries, letters behind the port other than the s that stands for TLS.
 */
static bool
is_address(const char *entry, size_t length)
{
    if (length == 0 || length > 200) {
        return false;
    }
    length -= entry[length - 1] == 's' ? 1 : 0;
    size_t digits = 0;
    while (digits < length && entry[length - 1 - digits] >= '0' && entry[length - 1 - digits] <= '9') {
        ++digits;
    }
    if (digits == 0 || digits > 5) {
        return false;
    }
    const size_t host = length - digits;
    if (host == 0 || (host == 1 && entry[0] == '+')) {
        return true;
    }
    if (entry[host - 1] != ':') {
        return false;
    }
    if (entry[0] == '[') {
        return host >= 4 && entry[host - 2] == ']' && strspn(entry + 1, "0123456789abcdefABCDEF:.") == host - 3;
    }
    static const char name_bytes[] = "0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ.-";
    return host >= 2 && strspn(entry, name_bytes) == host - 1;
}

static bool
every_entry(const char *list, bool (*rule)(const char *entry, size_t length))
{
    for (const char *entry = list;; ++entry) {
        const size_t length = strcspn(entry, ",");
        if (!rule(entry, length)) {
            return false;
        }
        entry += length;
        if (*entry == '\0') {
            return true;
        }
    }
}

const char *
setting_rule_addresses(const char *value)
{
    return every_entry(value, is_address)
               ? NULL
               : "ADDRESS:PORT, with an s behind it for TLS, several separated by commas without blanks";
}

const char *
setting_rule_addresses_or_none(const char *value)
{
    return value[0] == '\0' ? NULL : setting_rule_addresses(value);
}

const char *
setting_rule_log_mode(const char *value)
{
    enum log_mode mode;
    return log_mode_find(value, &mode) ? NULL : "json, text or off";
}

const char *
setting_rule_anything(const char *value)
{
    (void)value;
    return NULL;
}

static bool
is_file(const char *entry, size_t length)
{
    return length > 0 && entry[0] != ' ' && entry[length - 1] != ' ';
}

const char *
setting_rule_files(const char *value)
{
    return value[0] == '\0' || every_entry(value, is_file) ? NULL : "file names separated by commas without blanks";
}

const char *
setting_rule_client_certificates(const char *value)
{
    return strcmp(value, "require") == 0 || strcmp(value, "ask") == 0 ? NULL : "require or ask";
}

/* An origin is compared byte for byte with what a browser sends, which is
 * lower case and without a path (the Fetch standard, "Origin header"). */
static bool
is_origin(const char *entry, size_t length)
{
    static const char bytes[] = "0123456789abcdefghijklmnopqrstuvwxyz.-:[]";
    size_t scheme = 0;
    if (strncmp(entry, "https://", 8) == 0) {
        scheme = 8;
    } else if (strncmp(entry, "http://", 7) == 0) {
        scheme = 7;
    }
    return scheme > 0 && length > scheme && length <= 200 && strspn(entry + scheme, bytes) == length - scheme;
}

const char *
setting_rule_origins(const char *value)
{
    if (value[0] == '\0' || strcmp(value, "*") == 0 || every_entry(value, is_origin)) {
        return NULL;
    }
    return "*, or origins such as https://example.org, separated by commas without blanks";
}

/* It is written into headers and pages as it stands, so only bytes that mean
 * nothing there are taken. */
const char *
setting_rule_url_or_none(const char *value)
{
    static const char bytes[] = "0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ.-_~/:[]";
    const size_t length = strlen(value);
    const size_t scheme = strncmp(value, "https://", 8) == 0 ? 8 : strncmp(value, "http://", 7) == 0 ? 7 : 0;
    const bool good = length == 0 || (scheme > 0 && length > scheme && length <= 200 &&
                                      strspn(value, bytes) == length && value[length - 1] != '/');
    return good ? NULL : "an address such as https://pins.example, without a slash at its end";
}
