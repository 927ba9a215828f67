#ifndef SMALLEND_WIRE_MARKUP_H
#define SMALLEND_WIRE_MARKUP_H

/* Text made harmless for Markdown and for HTML, and the one turned into the
 * other. */

#include "wire/buffer.h"

/* Our own sentence in Markdown: what would be taken as markup is escaped, and
 * nobody is called by an @. */
void markup_escape_markdown(struct buffer *out, const char *text);

/* What stands for this character in HTML and XML; NULL = it stands for itself. */
const char *markup_escape_of(char c);

/* Text within HTML or XML, attribute values in double quotes included. */
void markup_escape_html(struct buffer *out, const char *text, size_t length);

/*
 * The Markdown that this service writes, as HTML: headings (a line in bold),
 * paragraphs, lists, tables, bold, code, backslash escapes and <links>. It is not a reader of Markdown at
 * large: whatever else stands in the text comes out as text.
 */
void markup_markdown_to_html(struct buffer *out, const char *markdown);

/* Head of a page up to <main>, and its end. `title` and `description` are
 * plain text. */
void markup_page_begin(struct buffer *out, const char *title, const char *description);
void markup_page_end(struct buffer *out);

#endif
