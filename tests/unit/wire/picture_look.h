#ifndef SMALLEND_TESTS_UNIT_WIRE_PICTURE_LOOK_H
#define SMALLEND_TESTS_UNIT_WIRE_PICTURE_LOOK_H

/*
 * Looking at a picture: is it well-formed XML, is every coordinate a number
 * inside the viewBox, does any text cover another? A small reader of its own,
 * strict where XML is: it fails the test at what it does not know.
 */

#include "support/close.h"

#include <ctype.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "wire/svg_measure.h"

enum { LOOK_TAG_SIZE = 32768, LOOK_TEXT_SIZE = 2048, LOOK_BOXES_MAX = 400, LOOK_DEPTH_MAX = 8 };

/* One tag with its attributes, and the characters behind it. */
struct look_tag {
    char name[32];
    bool ends, empty; /* </x>, <x/> */
    char attributes[LOOK_TAG_SIZE];
    char text[LOOK_TEXT_SIZE]; /* escapes resolved */
};

static inline void
look_resolve(const char *from, size_t length, char *to, size_t capacity)
{
    static const struct {
        const char *escape, *character;
    } known[] = {{"&amp;", "&"}, {"&lt;", "<"}, {"&gt;", ">"}, {"&quot;", "\""}, {"&#39;", "'"}};
    struct text text;
    uint32_t code;

    text_init(&text, to, capacity);
    for (size_t i = 0; i < length;) {
        size_t taken = text_character(from + i, length - i, &code);
        const char *character = NULL;

        if (taken == 0 || (code < 0x20 && code != '\n')) {
            fail_msg("a byte that XML does not take: %02x", (unsigned char)from[i]);
        }
        for (size_t k = 0; from[i] == '&' && k < sizeof known / sizeof known[0]; k++) {
            if (strncmp(from + i, known[k].escape, strlen(known[k].escape)) == 0) {
                character = known[k].character;
                taken = strlen(known[k].escape);
            }
        }
        if (from[i] == '&' && character == NULL) {
            fail_msg("an unknown escape: %.12s", from + i);
        }
        if (character != NULL) {
            text_add(&text, character);
        } else {
            text_add_bytes(&text, from + i, taken);
        }
        i += taken;
    }
    assert_false(text.cut);
}

/* Attributes are name="value" each, with nothing that XML forbids. */
static inline void
look_check_attributes(const char *at)
{
    while (*at != '\0') {
        assert_true(*at == ' ');
        at++;
        const size_t name = strcspn(at, "=");
        assert_true(name > 0 && name < 24 && at[name] == '=' && at[name + 1] == '"');
        const size_t value = strcspn(at + name + 2, "\"<");
        assert_true(at[name + 2 + value] == '"');
        at += name + 2 + value + 1;
    }
}

/* The next tag; false at the end of the picture. */
static inline bool
look_next(const char **at, struct look_tag *tag)
{
    if (**at == '\0') {
        return false;
    }
    if (**at != '<') {
        fail_msg("no tag: %.40s", *at);
    }
    const char *start = *at + 1;
    tag->ends = *start == '/';
    start += tag->ends;
    const char *end = strchr(start, '>');
    assert_non_null(end);
    tag->empty = end[-1] == '/';
    const size_t length = (size_t)(end - start) - tag->empty, name = strcspn(start, " />");
    assert_true(name > 0 && name < sizeof tag->name && length - name < sizeof tag->attributes);
    memcpy(tag->name, start, name);
    tag->name[name] = '\0';
    memcpy(tag->attributes, start + name, length - name);
    tag->attributes[length - name] = '\0';
    look_check_attributes(tag->attributes);
    const size_t text = strcspn(end + 1, "<");
    look_resolve(end + 1, text, tag->text, sizeof tag->text);
    *at = end + 1 + text;
    return true;
}

/* The value of an attribute, or NULL. */
static inline const char *
look_attribute(const struct look_tag *tag, const char *name)
{
    char wanted[40];
    snprintf(wanted, sizeof wanted, " %s=\"", name);
    const char *at = strstr(tag->attributes, wanted);
    return at == NULL ? NULL : at + strlen(wanted);
}

/* A number written as ours are: digits, one point, a sign. */
static inline double
look_number_at(const char *at, const char **end)
{
    const size_t length = strspn(at, "-0123456789.");
    char *stop;

    if (length == 0 || (*at == '-' && length == 1)) {
        fail_msg("no number: %.20s", at);
    }
    const double value = strtod(at, &stop);
    if (stop != at + length) {
        fail_msg("no number: %.20s", at);
    }
    *end = stop;
    return value;
}

static inline double
look_coordinate(const struct look_tag *tag, const char *name)
{
    const char *end, *at = look_attribute(tag, name);
    if (at == NULL) {
        fail_msg("<%s> has no %s", tag->name, name);
    }
    return look_number_at(at, &end);
}

/* ---- what is where ---- */

struct look_box {
    double left, top, right, bottom;
    char text[96];
};

struct look {
    double width, height;
    size_t depth, tags;
    char open[LOOK_DEPTH_MAX][32];
    size_t boxes;
    struct look_box box[LOOK_BOXES_MAX];
};

static inline void
look_inside(const struct look *look, double x, double y, const struct look_tag *tag)
{
    const double slack = 0.6;

    if (!(x >= -slack && y >= -slack && x <= look->width + slack && y <= look->height + slack)) {
        fail_msg("<%s%.60s> %.60s reaches (%g, %g), outside of %g x %g", tag->name, tag->attributes, tag->text, x, y,
                 look->width, look->height);
    }
}

/* Every point of a path: of an arc its end, of a parabola also where its
 * tangents meet, unless that lies outside of its ends. */
static inline void
look_path(const struct look *look, const struct look_tag *tag)
{
    const char *at = look_attribute(tag, "d");
    assert_non_null(at);
    while (*at != '"') {
        const char letter = *at++;
        if (letter == 'Z') {
            continue;
        }
        if (letter == 'A') {
            for (int i = 0; i < 5; i++) {
                look_number_at(at, &at);
                assert_true(*at++ == ' ');
            }
        }
        if (letter == 'Q') {
            look_number_at(at, &at);
            assert_true(*at++ == ' ');
            look_number_at(at, &at);
            assert_true(*at++ == ' ');
        }
        if (strchr("MLAQ", letter) == NULL) {
            fail_msg("an unknown step in a path: %c%.20s", letter, at);
        }
        const double x = look_number_at(at, &at);
        assert_true(*at++ == ' ');
        look_inside(look, x, look_number_at(at, &at), tag);
    }
}

static inline void
look_text(struct look *look, const struct look_tag *tag)
{
    const struct svg_letter letter = {.size = look_coordinate(tag, "font-size"),
                                      .bold = look_attribute(tag, "font-weight") != NULL};
    const double width = svg_text_width(&letter, tag->text);
    const char *turned = look_attribute(tag, "transform"), *anchor = look_attribute(tag, "text-anchor");
    struct look_box box;

    assert_true(letter.size >= 11.0); /* to be read 600 pixels wide */
    if (turned != NULL) {
        assert_int_equal(strncmp(turned, "translate(", 10), 0);
        const char *end;
        const double x = look_number_at(turned + 10, &end), y = look_number_at(end + 1, &end);
        box = (struct look_box){.left = x - 8.0, .right = x, .top = y - width / 2.0, .bottom = y + width / 2.0};
    } else {
        const double x = look_coordinate(tag, "x"), y = look_coordinate(tag, "y");
        const double left = anchor == NULL ? x : x - width * (*anchor == 'm' ? 0.5 : 1.0);
        box = (struct look_box){.left = left, .right = left + width, .top = y - 8.0, .bottom = y};
    }
    look_inside(look, box.left, box.top, tag);
    look_inside(look, box.right, box.bottom, tag);
    text_copy(box.text, sizeof box.text, tag->text);
    assert_true(look->boxes < LOOK_BOXES_MAX);
    look->box[look->boxes++] = box;
}

static inline void
look_shape(struct look *look, const struct look_tag *tag)
{
    if (strcmp(tag->name, "text") == 0) {
        look_text(look, tag);
    } else if (strcmp(tag->name, "path") == 0) {
        look_path(look, tag);
    } else if (strcmp(tag->name, "line") == 0) {
        look_inside(look, look_coordinate(tag, "x1"), look_coordinate(tag, "y1"), tag);
        look_inside(look, look_coordinate(tag, "x2"), look_coordinate(tag, "y2"), tag);
    } else if (strcmp(tag->name, "rect") == 0) {
        const double x = look_coordinate(tag, "x"), y = look_coordinate(tag, "y");
        look_inside(look, x, y, tag);
        look_inside(look, x + look_coordinate(tag, "width"), y + look_coordinate(tag, "height"), tag);
    } else if (strcmp(tag->name, "ellipse") == 0) {
        const double x = look_coordinate(tag, "cx"), y = look_coordinate(tag, "cy");
        const double rx = look_coordinate(tag, "rx"), ry = look_coordinate(tag, "ry");
        look_inside(look, x - rx, y - ry, tag);
        look_inside(look, x + rx, y + ry, tag);
    }
}

static inline void
look_open(struct look *look, const struct look_tag *tag)
{
    if (strcmp(tag->name, "svg") == 0) {
        look->width = look_coordinate(tag, "width");
        look->height = look_coordinate(tag, "height");
        char box[64];
        snprintf(box, sizeof box, "0 0 %g %g\"", look->width, look->height);
        assert_int_equal(strncmp(look_attribute(tag, "viewBox"), box, strlen(box)), 0);
    } else if (look->depth == 1 && strcmp(tag->name, "defs") != 0) { /* not the patterns */
        look_shape(look, tag);
    }
    if (!tag->empty) {
        assert_true(look->depth < LOOK_DEPTH_MAX);
        text_copy(look->open[look->depth++], sizeof look->open[0], tag->name);
    }
}

static inline void
look_for_covered_text(const struct look *look)
{
    for (size_t i = 0; i < look->boxes; i++) {
        for (size_t k = i + 1; k < look->boxes; k++) {
            const struct look_box *a = &look->box[i], *b = &look->box[k];
            if (a->left < b->right - 0.5 && b->left < a->right - 0.5 && a->top < b->bottom - 0.5 &&
                b->top < a->bottom - 0.5) {
                fail_msg("\"%s\" covers \"%s\"", a->text, b->text);
            }
        }
    }
}

/* Read a whole picture; the test fails at whatever is wrong with it. */
static inline void
look_at(const char *picture, struct look *look)
{
    static struct look_tag tag;
    const char *at = picture;

    memset(look, 0, sizeof *look);
    while (look_next(&at, &tag)) {
        look->tags++;
        assert_true(look->depth > 0 || look->tags == 1); /* one root */
        if (tag.ends) {
            assert_true(look->depth > 0);
            assert_string_equal(look->open[--look->depth], tag.name);
        } else {
            look_open(look, &tag);
        }
    }
    assert_int_equal(look->depth, 0);
    look_for_covered_text(look);
}

/* All that can be read on a picture, its lines joined by spaces. */
static inline void
look_words(const char *picture, char *words, size_t capacity)
{
    static struct look_tag tag;
    const char *at = picture;
    struct text text;

    text_init(&text, words, capacity);
    while (look_next(&at, &tag)) {
        if (!tag.ends && strcmp(tag.name, "text") == 0) {
            text_add(&text, tag.text);
            text_add(&text, " ");
        }
    }
    assert_false(text.cut);
}

/* The first element of this name whose attribute has this value, or NULL: *tag. */
static inline bool
look_find(const char **at, const char *name, const char *attribute, const char *value, struct look_tag *tag)
{
    while (look_next(at, tag)) {
        const char *found = look_attribute(tag, attribute);
        if (!tag->ends && strcmp(tag->name, name) == 0 && found != NULL &&
            strncmp(found, value, strlen(value)) == 0 && found[strlen(value)] == '"') {
            return true;
        }
    }
    return false;
}

#endif
