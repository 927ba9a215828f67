#include "wire/query.h"

#include <stdlib.h>
#include <string.h>

static int
hex_digit(char byte)
{
    static const char digits[] = "0123456789abcdef0123456789ABCDEF";
    const char *found = byte != '\0' ? strchr(digits, byte) : NULL;
    return found != NULL ? (int)((found - digits) % 16) : -1;
}

/* Decode a text where it stands: it never grows. False at a wrong code, where
 * the text then ends. */
static bool
decode(char *text)
{
    char *to = text;
    const char *from = text;
    bool whole = true;
    while (whole && *from != '\0') { /* a wrong code may stand at the very end */
        char byte = *from == '+' ? ' ' : *from;
        if (*from == '%') {
            const int high = hex_digit(from[1]);
            const int low = high >= 0 ? hex_digit(from[2]) : -1;
            whole = high >= 0 && low >= 0 && high + low > 0;
            byte = (char)(high * 16 + low);
            from += 2;
        }
        if (whole) {
            *to++ = byte;
            from++;
        }
    }
    *to = '\0';
    return whole;
}

/* Cut the text at its first `mark`: what stands behind it, or NULL. */
static char *
cut(char *text, char mark)
{
    char *place = strchr(text, mark);
    if (place != NULL) {
        *place++ = '\0';
    }
    return place;
}

static bool
read_pair(char *text, struct query_pair *pair)
{
    char *value = cut(text, '=');
    const bool name_whole = decode(text);
    const bool value_whole = value == NULL || decode(value);
    *pair = (struct query_pair){.name = text, .value = value != NULL ? value : ""};
    return name_whole && value_whole;
}

static size_t
pairs_at_most(const char *string)
{
    size_t count = 1;
    for (const char *at = string; *at != '\0'; at++) {
        count += *at == '&';
    }
    return count;
}

enum query_outcome
query_open(struct query *query, const char *string)
{
    *query = (struct query){NULL, NULL, 0};
    if (string == NULL) {
        return QUERY_READ;
    }
    const size_t size = strlen(string) + 1;
    query->text = malloc(size);
    query->pair = calloc(pairs_at_most(string), sizeof *query->pair);
    if (query->text == NULL || query->pair == NULL) {
        return QUERY_NO_MEMORY;
    }
    memcpy(query->text, string, size);
    for (char *at = query->text; at != NULL;) {
        char *next = cut(at, '&');
        if (*at != '\0') {
            if (!read_pair(at, &query->pair[query->count])) {
                return QUERY_MALFORMED;
            }
            query->count++;
        }
        at = next;
    }
    return QUERY_READ;
}

void
query_close(struct query *query)
{
    free(query->text);
    free(query->pair);
    *query = (struct query){NULL, NULL, 0};
}
