#include "base/base64url.h"

#include <string.h>

static const char alphabet[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

size_t
base64url_length(size_t bytes)
{
    return bytes / 3 * 4 + (bytes % 3 > 0 ? bytes % 3 + 1 : 0);
}

void
base64url_write(char *text, const unsigned char *bytes, size_t length)
{
    unsigned bits = 0, held = 0;
    for (size_t i = 0; i < length; i++) {
        bits = (bits << 8 | bytes[i]) & 0xffffu;
        for (held += 8; held >= 6; held -= 6) {
            *text++ = alphabet[bits >> (held - 6) & 63u];
        }
    }
    if (held > 0) {
        *text++ = alphabet[bits << (6 - held) & 63u];
    }
    *text = '\0';
}

/* Value of a character, 64 if it has none. */
static unsigned
value_of(char character)
{
    const char *found = character != '\0' ? strchr(alphabet, character) : NULL;
    return found != NULL ? (unsigned)(found - alphabet) : 64u;
}

bool
base64url_read(const char *text, size_t length, unsigned char *bytes, size_t *count)
{
    for (int pads = 0; pads < 2 && length > 0 && (length + (size_t)pads) % 4 == 0 && text[length - 1] == '='; pads++) {
        length--;
    }
    if (length % 4 == 1) {
        return false;
    }
    unsigned bits = 0, held = 0;
    *count = 0;
    for (size_t i = 0; i < length; i++) {
        const unsigned value = value_of(text[i]);
        if (value > 63u) {
            return false;
        }
        bits = (bits << 6 | value) & 0xffffu;
        held += 6;
        if (held >= 8) {
            held -= 8;
            bytes[(*count)++] = (unsigned char)(bits >> held & 0xffu);
        }
    }
    return (bits & ((1u << held) - 1u)) == 0;
}
