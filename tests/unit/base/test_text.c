#include "support/close.h"

#include <stdlib.h>
#include <string.h>

#include "base/text.h"

static void
adds_what_fits(void **state)
{
    (void)state;
    char buffer[32];
    struct text text;

    text_init(&text, buffer, sizeof buffer);
    text_add(&text, "pin ");
    text_add_bytes(&text, "1 3/8 in", 5);
    text_format(&text, " x %d", 4);
    assert_string_equal(buffer, "pin 1 3/8 x 4");
    assert_int_equal(text.length, 13);
    assert_false(text.cut);
}

static void
takes_back_what_was_added(void **state)
{
    (void)state;
    char buffer[8];
    struct text text;

    text_init(&text, buffer, sizeof buffer);
    text_add(&text, "pin");
    text_add(&text, ".diameter");
    assert_true(text.cut);
    text_shorten(&text, 3);
    assert_string_equal(buffer, "pin");
    assert_false(text.cut);
    text_add(&text, ".bore");
    assert_string_equal(buffer, "pin.bor");
    text_shorten(&text, 0);
    assert_string_equal(buffer, "");
}

static void
adds_strings_and_counts(void **state)
{
    (void)state;
    char buffer[64];
    struct text text;

    text_init(&text, buffer, sizeof buffer);
    text_join(&text, "pin", ": ", "");
    text_add_count(&text, 0);
    text_join(&text, " ");
    text_add_count(&text, 1375);
    text_join(&text, " ");
    text_add_count(&text, 18446744073709551615ul);
    assert_string_equal(buffer, "pin: 0 1375 18446744073709551615");
}

static void
adds_decimals_as_printf_does(void **state)
{
    (void)state;
    static const double values[] = {1.375, 0.125, -0.0004, 0.0, 1e300, 12345678.5};
    for (size_t i = 0; i < sizeof values / sizeof values[0]; i++) {
        for (int decimals = 0; decimals <= 9; decimals++) {
            char buffer[400], wanted[400];
            struct text text;

            text_init(&text, buffer, sizeof buffer);
            text_add_fixed(&text, values[i], decimals);
            snprintf(wanted, sizeof wanted, "%.*f", decimals, values[i]);
            assert_string_equal(buffer, wanted);
            assert_int_equal(text.length, strlen(wanted));
        }
    }
}

static void
starts_empty_even_in_one_byte(void **state)
{
    (void)state;
    char buffer[1] = {'x'};
    struct text text;

    text_init(&text, buffer, sizeof buffer);
    assert_string_equal(buffer, "");
    text_add(&text, "");
    assert_false(text.cut);
    text_format(&text, "%d", 7);
    assert_string_equal(buffer, "");
    assert_true(text.cut);
}

static void
never_writes_past_the_buffer(void **state)
{
    (void)state;
    /* On the heap and to the byte, so that the address sanitizer sees a miss. */
    for (size_t capacity = 1; capacity <= 12; capacity++) {
        char *const buffer = malloc(capacity);
        assert_non_null(buffer);
        struct text text;
        text_init(&text, buffer, capacity);
        for (int i = 0; i < 4; i++) {
            text_add(&text, "abc");
            text_format(&text, "%05d", i);
        }
        assert_true(text.cut);
        assert_int_equal(strlen(buffer), text.length);
        assert_true(text.length < capacity);
        free(buffer);
    }
}

static void
adds_nothing_after_a_cut(void **state)
{
    (void)state;
    char buffer[6];
    struct text text;

    text_init(&text, buffer, sizeof buffer);
    text_add(&text, "abc");
    text_add(&text, "defg");
    text_add(&text, "");
    text_format(&text, "%c", 'z');
    assert_string_equal(buffer, "abcde");
    assert_true(text.cut);
}

static void
fills_the_buffer_without_a_cut(void **state)
{
    (void)state;
    char buffer[6];
    struct text text;

    text_init(&text, buffer, sizeof buffer);
    text_format(&text, "%s", "abcde");
    assert_string_equal(buffer, "abcde");
    assert_false(text.cut);
}

/* U+00B5 takes two bytes, U+2033 three, U+1D7D8 four (The Unicode Standard, table 3-6). */
static void
cuts_between_characters(void **state)
{
    (void)state;
    static const char whole[] = "\u00B5\u2033\U0001D7D8";
    static const size_t kept[] = {0, 0, 2, 2, 2, 5, 5, 5, 5, 9};

    for (size_t room = 0; room < sizeof kept / sizeof kept[0]; room++) {
        char copied[16], added[16], formatted[16];
        struct text text;

        assert_int_equal(text_copy(copied, room + 1, whole), room >= 9);
        assert_int_equal(strlen(copied), kept[room]);

        text_init(&text, added, room + 1);
        text_add_bytes(&text, whole, sizeof whole - 1);
        assert_int_equal(text.length, kept[room]);

        text_init(&text, formatted, room + 1);
        text_format(&text, "%s", whole);
        assert_int_equal(text.length, kept[room]);
        assert_string_equal(formatted, copied);
    }
}

static void
copies_whole_strings(void **state)
{
    (void)state;
    char buffer[4];

    assert_true(text_copy(buffer, sizeof buffer, "pin"));
    assert_string_equal(buffer, "pin");
    assert_false(text_copy(buffer, sizeof buffer, "pins"));
    assert_string_equal(buffer, "pin");
}

static void
decodes_characters(void **state)
{
    (void)state;
    uint32_t code = 0;

    assert_int_equal(text_character("A", 1, &code), 1);
    assert_int_equal(code, 0x41);
    assert_int_equal(text_character("\xC2\xB5", 2, &code), 2);
    assert_int_equal(code, 0xB5);
    assert_int_equal(text_character("\xE2\x80\xB3x", 4, &code), 3);
    assert_int_equal(code, 0x2033);
    assert_int_equal(text_character("\xF4\x8F\xBF\xBF", 4, &code), 4);
    assert_int_equal(code, 0x10FFFF);
}

/* Ill-formed by The Unicode Standard, table 3-7. */
static void
refuses_malformed_characters(void **state)
{
    (void)state;
    static const char *const malformed[] = {
        "\x80",         "\xBF\x80", "\xC0\x80",     "\xC1\xBF",         "\xC2",         "\xC2\x41",
        "\xE0\x9F\xBF", "\xE2\x80", "\xED\xA0\x80", "\xF0\x8F\xBF\xBF", "\xF0\x90\x80", "\xF4\x90\x80\x80",
        "\xF8\x88\x80\x80\x80", "\xFF",
    };
    uint32_t code = 77;

    for (size_t i = 0; i < sizeof malformed / sizeof malformed[0]; i++) {
        assert_int_equal(text_character(malformed[i], strlen(malformed[i]), &code), 0);
    }
    assert_int_equal(text_character("", 0, &code), 0);
    assert_int_equal(code, 77);
}

static void
compares_ignoring_case(void **state)
{
    (void)state;
    assert_true(text_same_ignoring_case("PSI", "psi"));
    assert_true(text_same_ignoring_case("", ""));
    assert_true(text_same_ignoring_case("12L14-CD", "12l14-cd"));
    assert_false(text_same_ignoring_case("psi", "ps"));
    assert_false(text_same_ignoring_case("ps", "psi"));
    assert_false(text_same_ignoring_case("", "a"));
    /* '[' and '{' differ by the bit that tells cases apart, and are no letters. */
    assert_false(text_same_ignoring_case("[", "{"));
    assert_false(text_same_ignoring_case("@", "`"));
}

/* Counted by hand: one edit each, or as said. */
static void
counts_single_character_edits(void **state)
{
    (void)state;
    assert_int_equal(text_edit_distance("", ""), 0);
    assert_int_equal(text_edit_distance("bore", "bore"), 0);
    assert_int_equal(text_edit_distance("bore", "bor"), 1);
    assert_int_equal(text_edit_distance("bore", "borre"), 1);
    assert_int_equal(text_edit_distance("bore", "bare"), 1);
    assert_int_equal(text_edit_distance("stroke", "storke"), 1);
    assert_int_equal(text_edit_distance("", "pin"), 3);
    assert_int_equal(text_edit_distance("pin", ""), 3);
    assert_int_equal(text_edit_distance("abc", "xyz"), 3);
    /* The textbook example of the edit distance: two replaced, one inserted. */
    assert_int_equal(text_edit_distance("kitten", "sitting"), 3);
    /* Where optimal string alignment differs from unrestricted edits (2). */
    assert_int_equal(text_edit_distance("ca", "abc"), 3);
}

static void
counts_characters_not_bytes(void **state)
{
    (void)state;
    assert_int_equal(text_edit_distance("\u00B5m", "um"), 1);
    assert_int_equal(text_edit_distance("\u2033", ""), 1);
    /* Bytes that are not UTF-8 count as one character each. */
    assert_int_equal(text_edit_distance("\xFF\xFE", "\xFF"), 1);
}

static void
compares_63_characters_at_most(void **state)
{
    (void)state;
    char long_a[200], long_b[200];

    memset(long_a, 'a', sizeof long_a - 1);
    memset(long_b, 'b', sizeof long_b - 1);
    long_a[sizeof long_a - 1] = '\0';
    long_b[sizeof long_b - 1] = '\0';
    assert_int_equal(text_edit_distance(long_a, long_b), 63);
    memset(long_b, 'a', 63);
    assert_int_equal(text_edit_distance(long_a, long_b), 0);
}

/* As JavaScript prints them, between 1e-5 and 1e15. */
static void
writes_numbers_in_as_few_digits_as_read_back(void **state)
{
    (void)state;
    static const struct {
        double value;
        const char *text;
    } cases[] = {
        {0.0, "0"},       {-0.0, "0"},          {190.0, "190"},     {5.25, "5.25"},
        {0.1, "0.1"},     {-1.375, "-1.375"},   {1e15, "1000000000000000"}, {0.00001, "0.00001"},
        {1e22, "1e+22"},  {5e-324, "5e-324"},   {0.1 + 0.2, "0.30000000000000004"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char buffer[40];
        struct text text;
        text_init(&text, buffer, sizeof buffer);
        text_add_exact(&text, cases[i].value);
        assert_string_equal(buffer, cases[i].text);
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(adds_what_fits),
        cmocka_unit_test(takes_back_what_was_added),
        cmocka_unit_test(adds_strings_and_counts),
        cmocka_unit_test(adds_decimals_as_printf_does),
        cmocka_unit_test(starts_empty_even_in_one_byte),
        cmocka_unit_test(never_writes_past_the_buffer),
        cmocka_unit_test(adds_nothing_after_a_cut),
        cmocka_unit_test(fills_the_buffer_without_a_cut),
        cmocka_unit_test(cuts_between_characters),
        cmocka_unit_test(copies_whole_strings),
        cmocka_unit_test(decodes_characters),
        cmocka_unit_test(refuses_malformed_characters),
        cmocka_unit_test(compares_ignoring_case),
        cmocka_unit_test(counts_single_character_edits),
        cmocka_unit_test(counts_characters_not_bytes),
        cmocka_unit_test(writes_numbers_in_as_few_digits_as_read_back),
        cmocka_unit_test(compares_63_characters_at_most),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
