#include "wire/markup.h"

#include <string.h>

#include "support/close.h"

static void
assert_html(const char *markdown, const char *html)
{
    struct buffer out;
    buffer_init(&out);
    markup_markdown_to_html(&out, markdown);
    assert_string_equal(out.at != NULL ? out.at : "", html);
    buffer_clear(&out);
}

static void
paragraphs_lists_and_tables_become_elements(void **state)
{
    (void)state;
    assert_html("", "");
    assert_html("One\n\nTwo\n", "<p>One</p>\n<p>Two</p>\n");
    assert_html("- a\n- b\n", "<ul>\n<li>a</li>\n<li>b</li>\n</ul>\n");
    assert_html("1. a\n2. b\n", "<ol>\n<li>a</li>\n<li>b</li>\n</ol>\n");
    assert_html("| A | B |\n|---|---|\n| 1 | 2 \\| 3 |\n",
                "<table>\n<tr><th>A</th><th>B</th></tr>\n<tr><td>1</td><td>2 | 3</td></tr>\n</table>\n");
}

static void
bold_code_links_and_escapes_become_spans(void **state)
{
    (void)state;
    assert_html("**b** `c_d` \\*e\\*", "<h1><strong>b</strong> <code>c_d</code> *e*</h1>\n");
    assert_html("a\n\n**b**\n\n**c** d", "<p>a</p>\n<h2><strong>b</strong></h2>\n<p><strong>c</strong> d</p>\n");
    assert_html("<https://pins.example/v1?a=1&b=2>",
                "<p><a href=\"https://pins.example/v1?a=1&amp;b=2\">https://pins.example/v1?a=1&amp;b=2</a></p>\n");
}

/* Whatever is not ours comes out as text. */
static void
nothing_becomes_a_tag_of_its_own(void **state)
{
    (void)state;
    assert_html("\\<script\\>&\"", "<p>&lt;script&gt;&amp;&quot;</p>\n");
    assert_html("`<script>`", "<p><code>&lt;script&gt;</code></p>\n");
    assert_html("<open", "<p>&lt;open</p>\n");
    assert_html("a **open", "<p>a <strong>open</strong></p>\n");
    assert_html("\\", "<p>\\</p>\n");
}

static void
sentences_are_escaped_for_markdown(void **state)
{
    (void)state;
    struct buffer out;
    buffer_init(&out);
    markup_escape_markdown(&out, "grey_iron _x_ *y* @all <b> [l](u)");
    assert_string_equal(out.at, "grey_iron \\_x\\_ \\*y\\* (at)all \\<b\\> \\[l\\](u)");
    buffer_clear(&out);
}

/* GitHub Flavored Markdown, section 6.9: addresses are links without any mark. */
static void
addresses_in_a_text_are_no_links(void **state)
{
    (void)state;
    struct buffer out;
    buffer_init(&out);
    markup_escape_markdown(&out, "see https://evil.example, WWW.evil.example: 1.5 at 3:2");
    assert_string_equal(out.at, "see https\\://evil.example, WWW\\.evil.example: 1.5 at 3:2");
    buffer_clear(&out);
    assert_html("a https\\://evil.example", "<p>a https://evil.example</p>\n");
}

/* An entity is read before names are looked for: "&commat;all" would call them. */
static void
entities_are_no_way_round_the_escapes(void **state)
{
    (void)state;
    struct buffer out;
    buffer_init(&out);
    markup_escape_markdown(&out, "A&B &commat;all &#64;all");
    assert_string_equal(out.at, "A\\&B \\&commat;all \\&\\#64;all");
    buffer_clear(&out);
    assert_html("A\\&B \\&commat;all\n", "<p>A&amp;B &amp;commat;all</p>\n");
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(paragraphs_lists_and_tables_become_elements),
        cmocka_unit_test(bold_code_links_and_escapes_become_spans),
        cmocka_unit_test(nothing_becomes_a_tag_of_its_own),
        cmocka_unit_test(sentences_are_escaped_for_markdown),
        cmocka_unit_test(addresses_in_a_text_are_no_links),
        cmocka_unit_test(entities_are_no_way_round_the_escapes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
