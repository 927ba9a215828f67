#include "wire/markup.h"

#include <ctype.h>
#include <string.h>
#include <strings.h>

/* Within a word an underscore is no markup: "grey_iron". */
static bool
is_within_word(const char *text, const char *at)
{
    return at > text && isalnum((unsigned char)at[-1]) && isalnum((unsigned char)at[1]);
}

/* Many renderers make links of addresses that stand in the text: "://" and
 * "www." are what they go by. */
static bool
is_within_address(const char *text, const char *at)
{
    return *at == ':' ? strncmp(at, "://", 3) == 0 : at - text >= 3 && strncasecmp(at - 3, "www", 3) == 0;
}

/* Does this character stand for itself where it stands, though it may be markup? */
static bool
is_harmless(const char *text, const char *at)
{
    switch (*at) {
    case '_':
        return is_within_word(text, at);
    case ':':
    case '.':
        return !is_within_address(text, at);
    default:
        return false;
    }
}

void
markup_escape_markdown(struct buffer *out, const char *text)
{
    for (const char *at = text; *at != '\0';) {
        const size_t plain = strcspn(at, "\\`*_[]<>|~#@&:.");
        buffer_add_bytes(out, at, plain);
        at += plain;
        if (*at == '\0') {
            return;
        }
        if (*at == '@') {
            buffer_add(out, "(at)");
        } else {
            buffer_add(out, is_harmless(text, at) ? "" : "\\");
            buffer_add_bytes(out, at, 1);
        }
        at++;
    }
}

const char *
markup_escape_of(char c)
{
    switch (c) {
    case '&':
        return "&amp;";
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    case '"':
        return "&quot;";
    default:
        return NULL;
    }
}

void
markup_escape_html(struct buffer *out, const char *text, size_t length)
{
    size_t from = 0; /* what stands for itself is copied at once */
    for (size_t i = 0; i < length; i++) {
        const char *escape = markup_escape_of(text[i]);
        if (escape != NULL) {
            buffer_add_bytes(out, text + from, i - from);
            buffer_add(out, escape);
            from = i + 1;
        }
    }
    buffer_add_bytes(out, text + from, length - from);
}

/* ---- Markdown of ours to HTML ---- */

/* What the lines before have left open. */
enum block { BLOCK_NONE, BLOCK_PARAGRAPH, BLOCK_BULLETS, BLOCK_NUMBERS, BLOCK_TABLE };

static const char *const block_begin[] = {"", "<p>", "<ul>\n", "<ol>\n", "<table>\n"};
static const char *const block_end[] = {"", "</p>\n", "</ul>\n", "</ol>\n", "</table>\n"};

static void
enter(struct buffer *out, enum block *open, enum block wanted)
{
    if (*open == wanted && wanted != BLOCK_PARAGRAPH) {
        return;
    }
    buffer_add(out, block_end[*open]);
    buffer_add(out, block_begin[wanted]);
    *open = wanted;
}

/* The end of a span that begins behind `at`, or NULL if the line has none. */
static const char *
span_end(const char *at, const char *end, const char *mark)
{
    const size_t length = strlen(mark);
    for (; at + length <= end; at++) {
        if (memcmp(at, mark, length) == 0) {
            return at;
        }
    }
    return NULL;
}

static void
add_link(struct buffer *out, const char *address, size_t length)
{
    buffer_add(out, "<a href=\"");
    markup_escape_html(out, address, length);
    buffer_add(out, "\">");
    markup_escape_html(out, address, length);
    buffer_add(out, "</a>");
}

/* Code or a link at `at`: what stands behind it, or NULL if neither does. */
static const char *
add_span(struct buffer *out, const char *at, const char *end)
{
    const bool code = *at == '`';
    const char *close = span_end(at + 1, end, code ? "`" : ">");
    if (close == NULL) {
        return NULL;
    }
    if (code) {
        buffer_add(out, "<code>");
        markup_escape_html(out, at + 1, (size_t)(close - at) - 1);
        buffer_add(out, "</code>");
    } else {
        add_link(out, at + 1, (size_t)(close - at) - 1);
    }
    return close + 1;
}

/* How many characters from here on are no markup, the first aside. */
static size_t
plain_run(const char *at, const char *end)
{
    size_t run = 1;
    while (at + run < end && at[run] != '`' && at[run] != '<' && at[run] != '\\' && at[run] != '*') {
        run++;
    }
    return run;
}

static void
add_inline(struct buffer *out, const char *at, const char *end)
{
    bool bold = false;
    while (at < end) {
        const char *behind = *at == '`' || *at == '<' ? add_span(out, at, end) : NULL;
        if (behind != NULL) {
            at = behind;
        } else if (*at == '\\' && at + 1 < end) {
            markup_escape_html(out, at + 1, 1);
            at += 2;
        } else if (end - at >= 2 && memcmp(at, "**", 2) == 0) {
            buffer_add(out, bold ? "</strong>" : "<strong>");
            bold = !bold;
            at += 2;
        } else {
            const size_t run = plain_run(at, end);
            markup_escape_html(out, at, run);
            at += run;
        }
    }
    buffer_add(out, bold ? "</strong>" : "");
}

/* The bar that ends a cell; a bar behind a backslash is text. */
static const char *
cell_end(const char *at, const char *end)
{
    while (at < end && *at != '|') {
        at += *at == '\\' && at + 1 < end ? 2 : 1;
    }
    return at < end ? at : end;
}

static void
add_row(struct buffer *out, const char *at, const char *end, bool head)
{
    buffer_add(out, "<tr>");
    for (at++; at < end; at++) {
        const char *stop = cell_end(at, end);
        const char *from = at, *to = stop;
        while (from < to && *from == ' ') {
            from++;
        }
        while (to > from && to[-1] == ' ') {
            to--;
        }
        buffer_add(out, head ? "<th>" : "<td>");
        add_inline(out, from, to);
        buffer_add(out, head ? "</th>" : "</td>");
        at = stop;
    }
    buffer_add(out, "</tr>\n");
}

/* "12. " at the start of a line: what stands behind it, or NULL. */
static const char *
behind_number(const char *at, const char *end)
{
    const char *digit = at;
    while (digit < end && isdigit((unsigned char)*digit)) {
        digit++;
    }
    return digit > at && end - digit >= 2 && digit[0] == '.' && digit[1] == ' ' ? digit + 2 : NULL;
}

/*
 * What stands bold at the beginning is the heading of the text, and a line all
 * in bold that of a part of it: its element, or NULL for any other line.
 */
static const char *
heading_of(const char *at, const char *end, enum block open, bool first)
{
    if (open != BLOCK_NONE || end - at < 4 || memcmp(at, "**", 2) != 0) {
        return NULL;
    }
    if (first) {
        return "h1";
    }
    return memcmp(end - 2, "**", 2) == 0 ? "h2" : NULL;
}

static void
add_heading(struct buffer *out, const char *at, const char *end, const char *heading)
{
    buffer_join(out, "<", heading, ">");
    add_inline(out, at, end);
    buffer_join(out, "</", heading, ">\n");
}

static void
add_line(struct buffer *out, const char *at, const char *end, enum block *open, bool first)
{
    const char *item = NULL;
    const char *heading = heading_of(at, end, *open, first);
    if (at == end) {
        enter(out, open, BLOCK_NONE);
    } else if (heading != NULL) {
        add_heading(out, at, end, heading);
    } else if (*at == '|') {
        const bool head = *open != BLOCK_TABLE;
        enter(out, open, BLOCK_TABLE);
        if (end - at < 4 || memcmp(at, "|---", 4) != 0) {
            add_row(out, at, end, head);
        }
    } else if (end - at >= 2 && memcmp(at, "- ", 2) == 0) {
        item = at + 2;
        enter(out, open, BLOCK_BULLETS);
    } else if ((item = behind_number(at, end)) != NULL) {
        enter(out, open, BLOCK_NUMBERS);
    } else {
        enter(out, open, BLOCK_PARAGRAPH);
        add_inline(out, at, end);
    }
    if (item != NULL) {
        buffer_add(out, "<li>");
        add_inline(out, item, end);
        buffer_add(out, "</li>\n");
    }
}

void
markup_markdown_to_html(struct buffer *out, const char *markdown)
{
    enum block open = BLOCK_NONE;
    for (const char *at = markdown; *at != '\0';) {
        const size_t length = strcspn(at, "\n");
        add_line(out, at, at + length, &open, at == markdown);
        at += length;
        at += *at == '\n';
    }
    enter(out, &open, BLOCK_NONE);
}

/* ---- pages ---- */

void
markup_page_begin(struct buffer *out, const char *title, const char *description)
{
    buffer_add(out, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
                    "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>");
    markup_escape_html(out, title, strlen(title));
    buffer_add(out, "</title>\n<meta name=\"description\" content=\"");
    markup_escape_html(out, description, strlen(description));
    buffer_add(out, "\">\n<style>\n"
                    ":root{color-scheme:light dark}\n"
                    "body{font:1rem/1.5 sans-serif;margin:0 auto;max-width:52rem;padding:1rem}\n"
                    "table{border-collapse:collapse;display:block;overflow-x:auto}\n"
                    "th,td{border:1px solid;padding:.2rem .5rem;text-align:left;vertical-align:top}\n"
                    "svg{height:auto;max-width:100%}\n"
                    "h1{font-size:1.4rem}h2{font-size:1.1rem}\n"
                    "code,a{overflow-wrap:anywhere}td code{white-space:nowrap}\n"
                    "</style>\n</head>\n<body>\n<main>\n");
}

void
markup_page_end(struct buffer *out)
{
    buffer_add(out, "</main>\n</body>\n</html>\n");
}
