#include "picture_look.h"

#include "wire/svg.h"
#include "wire/svg_dimension.h"

static const char *
number_text(double value, struct buffer *out)
{
    buffer_clear(out);
    svg_number(out, value);
    return out->at;
}

static void
writes_numbers_short_and_finite(void **state)
{
    (void)state;
    struct buffer out;
    buffer_init(&out);
    assert_string_equal(number_text(12.0, &out), "12");
    assert_string_equal(number_text(12.5, &out), "12.5");
    assert_string_equal(number_text(0.25, &out), "0.25");
    assert_string_equal(number_text(7.05, &out), "7.05");
    assert_string_equal(number_text(-0.5, &out), "-0.5");
    assert_string_equal(number_text(-0.001, &out), "0");
    assert_string_equal(number_text(1.0 / 3.0, &out), "0.33");
    assert_string_equal(number_text(1.999, &out), "2");
    assert_string_equal(number_text((double)NAN, &out), "0");
    assert_string_equal(number_text((double)INFINITY, &out), "0");
    assert_string_equal(number_text(-1e300, &out), "-1000000");
    buffer_clear(&out);
}

static const char *
escaped(const char *text, struct buffer *out)
{
    buffer_clear(out);
    svg_escape(out, text);
    return out->at;
}

static void
escapes_what_xml_reads(void **state)
{
    (void)state;
    struct buffer out;
    buffer_init(&out);
    assert_string_equal(escaped("<b a=\"1\" c='2'>&amp;", &out),
                        "&lt;b a=&quot;1&quot; c=&#39;2&#39;&gt;&amp;amp;");
    assert_string_equal(escaped("\xC3\x98 5 \xF0\x9F\x94\xA7", &out), "\xC3\x98 5 \xF0\x9F\x94\xA7");
    buffer_clear(&out);
}

/* XML 1.0 (fifth edition), 2.2: Char ::= #x9 | #xA | #xD | [#x20-#xD7FF] |
 * [#xE000-#xFFFD] | [#x10000-#x10FFFF]. */
static void
replaces_what_xml_forbids_and_what_turns_text_round(void **state)
{
    (void)state;
    struct buffer out;
    buffer_init(&out);
    assert_string_equal(escaped("a\x01" "b\x1F\x7F", &out), "a\xEF\xBF\xBD" "b\xEF\xBF\xBD\xEF\xBF\xBD");
    assert_string_equal(escaped("a\tb\nc\r", &out), "a b c ");
    assert_string_equal(escaped("\xFF\xC3", &out), "\xEF\xBF\xBD\xEF\xBF\xBD");
    assert_string_equal(escaped("\xEF\xBF\xBE", &out), "\xEF\xBF\xBD");     /* U+FFFE */
    assert_string_equal(escaped("x\xE2\x80\xAEy", &out), "x\xEF\xBF\xBDy"); /* U+202E, right-to-left override */
    buffer_clear(&out);
}

static void
an_empty_picture_is_whole(void **state)
{
    (void)state;
    static struct look look;
    static struct look_tag tag;
    struct buffer out;
    buffer_init(&out);
    svg_open(&out, "test", 120.0, "a < b", "\"c\" & d");
    svg_close(&out);
    look_at(out.at, &look);
    assert_close(look.width, 600.0, 0.0);
    assert_close(look.height, 120.0, 0.0);
    const char *at = out.at;
    assert_true(look_find(&at, "svg", "role", "img", &tag));
    assert_int_equal(strncmp(look_attribute(&tag, "aria-labelledby"), "smallend-test-title smallend-test-desc\"", 39), 0);
    at = out.at;
    assert_true(look_find(&at, "title", "id", "smallend-test-title", &tag));
    assert_string_equal(tag.text, "a < b");
    assert_true(look_find(&at, "desc", "id", "smallend-test-desc", &tag));
    assert_string_equal(tag.text, "\"c\" & d");
    buffer_clear(&out);
}

/* A picture must not fetch or run anything. */
static void
refers_to_nothing_outside(void **state)
{
    (void)state;
    struct buffer out;
    buffer_init(&out);
    svg_open(&out, "test", 120.0, "", "");
    svg_close(&out);
    assert_null(strstr(out.at, "href"));
    assert_null(strstr(out.at, "<script"));
    assert_null(strstr(out.at, "@import"));
    assert_null(strstr(out.at, "font-face"));
    for (const char *at = strstr(out.at, "url("); at != NULL; at = strstr(at + 1, "url(")) {
        assert_true(at[4] == '#');
    }
    for (const char *at = strstr(out.at, "://"); at != NULL; at = strstr(at + 1, "://")) {
        assert_int_equal(strncmp(at, "://www.w3.org/2000/svg\"", 23), 0); /* the name of the language */
    }
    buffer_clear(&out);
}

/* Only the style sheet knows of the dark: without it everything is black on white. */
static void
is_black_on_white_without_a_style_sheet(void **state)
{
    (void)state;
    static struct look_tag tag;
    struct buffer out;
    buffer_init(&out);
    svg_open(&out, "test", 50.0, "", "");
    svg_line(&out, 1.0, 2.0, 3.0, 4.0, SVG_INK_OUTLINE);
    svg_text(&out, 10.0, 20.0, SVG_START, &svg_plain, "x");
    svg_close(&out);
    const char *at = strstr(out.at, "</defs>\n") + strlen("</defs>\n");
    assert_true(look_find(&at, "rect", "fill", "#fff", &tag));
    assert_close(look_coordinate(&tag, "width"), 600.0, 0.0);
    assert_close(look_coordinate(&tag, "height"), 50.0, 0.0);
    assert_true(look_find(&at, "line", "stroke", "#000", &tag));
    assert_true(look_find(&at, "text", "fill", "#000", &tag));
    const char *style = strstr(out.at, "<style>");
    assert_int_equal(strncmp(style, "<style>@media (prefers-color-scheme:dark){", 42), 0);
    assert_non_null(strstr(style, "}}</style>"));
    buffer_clear(&out);
}

/* ---- measuring ---- */

/* Advance widths read off the font file with another program: "Wm" of DejaVu
 * Sans is 989 + 974 thousandths. */
static void
text_is_as_wide_as_a_wide_font(void **state)
{
    (void)state;
    const struct svg_letter letter = {.size = 1000.0};
    const double width = svg_text_width(&letter, "Wm");
    assert_true(width >= 989.0 + 974.0 && width < 1.05 * (989.0 + 974.0));
    assert_true(svg_text_width(&svg_bold, "abc") > svg_text_width(&svg_plain, "abc"));
}

static void
cuts_long_text_with_an_ellipsis(void **state)
{
    (void)state;
    char line[64];
    assert_true(svg_text_cut(line, sizeof line, &svg_plain, "short", 100.0));
    assert_string_equal(line, "short");
    assert_false(svg_text_cut(line, sizeof line, &svg_plain, "a rather longer text that cannot stand here", 100.0));
    assert_string_equal(line + strlen(line) - 3, "\xE2\x80\xA6");
    assert_true(svg_text_width(&svg_plain, line) <= 100.0);
    char tight[8];
    assert_false(svg_text_cut(tight, sizeof tight, &svg_plain, "\xC3\x98\xC3\x98\xC3\x98\xC3\x98\xC3\x98", 1000.0));
    assert_string_equal(tight, "\xC3\x98\xC3\x98\xE2\x80\xA6"); /* no character is cut in two */
}

static void
wraps_at_spaces_and_loses_nothing(void **state)
{
    (void)state;
    static const char text[] = "one two  three averyverylongwordthatdoesnotfit four";
    char line[64], whole[128] = "";
    const char *at = text;
    struct text copy;
    text_init(&copy, whole, sizeof whole);
    size_t lines = 0;
    while (svg_text_wrap(&at, line, sizeof line, &svg_plain, 70.0)) {
        assert_true(svg_text_width(&svg_plain, line) <= 70.0);
        for (const char *c = line; *c != '\0'; c++) {
            text_add_bytes(&copy, c, *c != ' ');
        }
        lines++;
    }
    assert_string_equal(whole, "onetwothreeaveryverylongwordthatdoesnotfitfour");
    assert_true(lines >= 5);
}

/* ---- dimensions ---- */

static void
short_dimensions_stand_nearest_and_no_figure_is_crossed(void **state)
{
    (void)state;
    static struct look look;
    struct svg_stack stack;
    struct buffer out;
    svg_stack_init(&stack, SVG_BELOW, 60.0, 10.0, 390.0);
    svg_stack_add(&stack, 50.0, 40.0, 350.0, 40.0, false, "bore 5 1/4 in");
    svg_stack_add(&stack, 250.0, 40.0, 150.0, 40.0, false, "eye 2 in"); /* either way round */
    svg_stack_add(&stack, 250.0, 40.0, 254.0, 40.0, true, "gap 1/16 in*");
    svg_stack_add(&stack, 60.0, 40.0, 340.0, 40.0, false, "pin 4 3/4 in");
    svg_stack_add(&stack, 60.0, 40.0, 60.1, 40.0, false, "nothing"); /* no length on paper */
    svg_stack_layout(&stack);
    assert_int_equal(stack.count, 4);
    for (size_t i = 1; i < stack.count; i++) {
        assert_true(stack.item[i].row >= stack.item[i - 1].row);
        assert_true(stack.item[i].to - stack.item[i].from >= stack.item[i - 1].to - stack.item[i - 1].from);
    }
    assert_string_equal(stack.item[3].text, "bore 5 1/4 in");
    buffer_init(&out);
    svg_open(&out, "test", 60.0 + SVG_ROW * (double)stack.rows, "", "");
    svg_stack_draw(&out, &stack);
    svg_close(&out);
    look_at(out.at, &look);
    assert_int_equal(look.boxes, 4);
    buffer_clear(&out);
}

static void
links_of_a_chain_share_a_row(void **state)
{
    (void)state;
    struct svg_stack stack;
    svg_stack_init(&stack, SVG_BELOW, 60.0, 0.0, 400.0);
    svg_stack_add(&stack, 100.0, 40.0, 200.0, 40.0, false, "3 in");
    svg_stack_add(&stack, 200.0, 40.0, 290.0, 40.0, false, "2 in");
    svg_stack_layout(&stack);
    assert_int_equal(stack.rows, 1);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(writes_numbers_short_and_finite),
        cmocka_unit_test(escapes_what_xml_reads),
        cmocka_unit_test(replaces_what_xml_forbids_and_what_turns_text_round),
        cmocka_unit_test(an_empty_picture_is_whole),
        cmocka_unit_test(refers_to_nothing_outside),
        cmocka_unit_test(is_black_on_white_without_a_style_sheet),
        cmocka_unit_test(text_is_as_wide_as_a_wide_font),
        cmocka_unit_test(cuts_long_text_with_an_ellipsis),
        cmocka_unit_test(wraps_at_spaces_and_loses_nothing),
        cmocka_unit_test(short_dimensions_stand_nearest_and_no_figure_is_crossed),
        cmocka_unit_test(links_of_a_chain_share_a_row),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
