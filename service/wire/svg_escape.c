#include "wire/svg.h"

#include <stdint.h>
#include <string.h>

#include "base/text.h"
#include "wire/markup.h"

/* Forbidden by XML 1.0, or turning the direction of the text around it. */
static bool
is_replaced(uint32_t code)
{
    return code < 0x20 || (code >= 0x7F && code < 0xA0) || (code >= 0xD800 && code <= 0xDFFF) ||
           (code & 0xFFFE) == 0xFFFE || code > 0x10FFFF || (code >= 0x202A && code <= 0x202E) ||
           (code >= 0x2066 && code <= 0x2069);
}

static const char *
escape_of(uint32_t code)
{
    switch (code) {
    case '&':
    case '<':
    case '>':
    case '"':
        return markup_escape_of((char)code);
    case '\'':
        return "&#39;";
    case '\t':
    case '\n':
    case '\r':
        return " ";
    default:
        return is_replaced(code) ? "\xEF\xBF\xBD" : NULL;
    }
}

/* Printable ASCII that XML does not read: what nearly all texts are of. */
static bool
is_plain(char c)
{
    return c >= ' ' && c <= '~' && c != '&' && c != '<' && c != '>' && c != '"' && c != '\'';
}

void
svg_escape(struct buffer *out, const char *text)
{
    const size_t length = strlen(text);

    for (size_t at = 0; at < length;) {
        const size_t from = at;
        uint32_t code = 0;

        while (is_plain(text[at])) {
            at++;
        }
        buffer_add_bytes(out, text + from, at - from);
        if (at == length) {
            break;
        }
        const size_t taken = text_character(text + at, length - at, &code);
        const char *escape = taken == 0 ? escape_of(0) : escape_of(code);

        if (escape != NULL) {
            buffer_add(out, escape);
        } else {
            buffer_add_bytes(out, text + at, taken);
        }
        at += taken == 0 ? 1 : taken;
    }
}
