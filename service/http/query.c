#include "http/query.h"

#include <stddef.h>
#include <string.h>

static int
hex_digit(char byte)
{
    static const char digits[] = "0123456789abcdef0123456789ABCDEF";
    const char *found = byte != '\0' ? strchr(digits, byte) : NULL;
    return found != NULL ? (int)((found - digits) % 16) : -1;
}

/* Decode `length` bytes into `out`; false if they are no text that fits. */
static bool
decode(const char *from, size_t length, char *out, size_t capacity)
{
    size_t written = 0;
    bool whole = true;
    for (size_t i = 0; i < length && whole; ++i) {
        char byte = from[i] == '+' ? ' ' : from[i];
        if (from[i] == '%') {
            const int high = i + 1 < length ? hex_digit(from[i + 1]) : -1;
            const int low = i + 2 < length ? hex_digit(from[i + 2]) : -1;
            whole = high >= 0 && low >= 0 && high + low > 0;
            byte = (char)(high * 16 + low);
            i += 2;
        }
        whole = whole && written + 1 < capacity;
        if (whole) {
            out[written++] = byte;
        }
    }
    out[written] = '\0';
    return whole;
}

enum query_outcome
query_next(const char **at, struct query_pair *pair)
{
    if (*at == NULL) {
        return QUERY_END;
    }
    *at += strspn(*at, "&");
    if (**at == '\0') {
        return QUERY_END;
    }
    const size_t length = strcspn(*at, "&");
    const char *equals = memchr(*at, '=', length);
    const size_t name_length = equals != NULL ? (size_t)(equals - *at) : length;
    bool whole = decode(*at, name_length, pair->name, sizeof pair->name);
    pair->value[0] = '\0';
    if (equals != NULL) {
        whole = decode(equals + 1, length - name_length - 1, pair->value, sizeof pair->value) && whole;
    }
    *at += length;
    return whole ? QUERY_PAIR : QUERY_MALFORMED;
}
