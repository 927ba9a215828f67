#include "support/close.h"

#include <string.h>

#include "base/text.h"
#include "quantity/plain.h"

/* Each text and its plain form; characters from the charts of The Unicode Standard. */
static void
dresses_typographic_characters_down(void **state)
{
    (void)state;
    static const struct {
        const char *text, *plain;
    } rows[] = {
        {"5-1/4 in", "5-1/4 in"},
        {"5\t1/4", "5 1/4"},
        {"5\u00A01/4\u2009in", "5 1/4 in"},
        {"5\u202Fmm\u3000", "5 mm "},
        {"\u22125", "-5"},
        {"5\u20131/4", "5-1/4"},
        {"5\u2033 5\u201D 5\u201C 5\u02EE", "5\" 5\" 5\" 5\""},
        {"5\u2032 5\u2019 5\u2018", "5' 5' 5'"},
        {"1\u20444", "1/4"},
        {"N\u00B7m N\u22C5m", "N*m N*m"},
        {"\u00B5m \u03BCm", "um um"},
        {"\u00B0F \u2103", "degF degC"},
        {"in\u00B2 in\u00B3", "in^2 in^3"},
        {"5\u00B1", "5\u00B1"}, /* plus-minus: no dress of ours, stays */
        {"", ""},
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char buffer[128];
        struct text plain;
        text_init(&plain, buffer, sizeof buffer);
        assert_true(plain_add(&plain, rows[i].text, strlen(rows[i].text)));
        assert_string_equal(buffer, rows[i].plain);
    }
}

static void
parts_vulgar_fractions_from_digits(void **state)
{
    (void)state;
    static const struct {
        const char *text, *plain;
    } rows[] = {
        {"\u00BC", "1/4"},          {"5\u00BC", "5 1/4"},      {"5 \u00BC", "5 1/4"},  {"5-\u00BC", "5-1/4"},
        {"-\u00BC", "-1/4"},        {"\u00BC2", "1/4 2"},      {"\u00BC\u00BD", "1/4 1/2"},
        {"\u2152in", "1/10in"},     {"3\u215E\"", "3 7/8\""},  {"1/\u00BC", "1/1/4"},  {"\u00BC\u00B2", "1/4^2"},
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char buffer[128];
        struct text plain;
        text_init(&plain, buffer, sizeof buffer);
        assert_true(plain_add(&plain, rows[i].text, strlen(rows[i].text)));
        assert_string_equal(buffer, rows[i].plain);
    }
}

static void
refuses_controls_and_malformed_bytes(void **state)
{
    (void)state;
    static const char *const wrong[] = {"5\n", "5\r", "\x1B", "5\x7F", "\xC2\x85", "\xFF", "5\xE2\x80", "\xC0\x80"};
    char buffer[128];
    struct text plain;

    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        text_init(&plain, buffer, sizeof buffer);
        assert_false(plain_add(&plain, wrong[i], strlen(wrong[i])));
    }
    text_init(&plain, buffer, sizeof buffer);
    assert_false(plain_add(&plain, "5\0", 2));
}

static void
refuses_what_does_not_fit(void **state)
{
    (void)state;
    char buffer[6];
    struct text plain;

    text_init(&plain, buffer, sizeof buffer);
    assert_true(plain_add(&plain, "5\u00BC", 3));
    text_init(&plain, buffer, sizeof buffer);
    assert_false(plain_add(&plain, "5\u2152", 4));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(dresses_typographic_characters_down),
        cmocka_unit_test(parts_vulgar_fractions_from_digits),
        cmocka_unit_test(refuses_controls_and_malformed_bytes),
        cmocka_unit_test(refuses_what_does_not_fit),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
