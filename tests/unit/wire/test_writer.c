/* Texts and words as JSON. */
#include "support/close.h"

#include <string.h>

#include "joint/check.h"
#include "joint/material.h"
#include "wire/writer.h"

/* `text` as a list of one, without the brackets. */
static const char *
written(const char *text, struct buffer *out)
{
    struct writer writer;
    buffer_empty(out);
    writer_init(&writer, out);
    writer_list(&writer, NULL);
    writer_text(&writer, NULL, text);
    writer_list_end(&writer);
    out->at[out->length - 1] = '\0';
    return out->at + 1;
}

/* Bytes, and how RFC 8259 section 7 lets them be written. */
static const struct {
    const char *bytes, *json;
} characters[] = {
    {"a", "a"},
    {"\"", "\\\""},
    {"\\", "\\\\"},
    {"\n", "\\n"},
    {"\t", "\\u0009"},
    {"\x1F", "\\u001f"},
    {" ", " "},
    {"~", "~"},
    {"\x7F", "\x7F"},
    {"\xC3\x98", "\xC3\x98"},
    {"\xF0\x9F\x94\xA7", "\xF0\x9F\x94\xA7"},
    {"\xC3", "\xEF\xBF\xBD"}, /* a cut character */
    {"\xFF", "\xEF\xBF\xBD"},
};

enum { LENGTH_MAX = 50, SIZE = 4 * LENGTH_MAX };

/* Every character at every place of texts of every length. */
static void
escapes_a_character_wherever_it_stands(void **state)
{
    (void)state;
    struct buffer out;
    buffer_init(&out);
    for (size_t c = 0; c < sizeof characters / sizeof characters[0]; c++) {
        for (int length = 0; length < LENGTH_MAX; length++) {
            for (int before = 0; before <= length; before++) {
                char text[SIZE], wanted[SIZE];
                snprintf(text, sizeof text, "%.*s%s%.*s", before, "plain and then some more of it, up to fifty of these",
                         characters[c].bytes, length - before, "what comes behind the one character, as much as fits");
                snprintf(wanted, sizeof wanted, "\"%.*s%s%.*s\"", before,
                         "plain and then some more of it, up to fifty of these", characters[c].json, length - before,
                         "what comes behind the one character, as much as fits");
                assert_string_equal(written(text, &out), wanted);
            }
        }
    }
    assert_string_equal(written("", &out), "\"\"");
    buffer_clear(&out);
}

static void
want_word(const char *word, struct buffer *out)
{
    assert_int_equal(strlen(written(word, out)), strlen(word) + 2);
    for (const char *at = word; *at != '\0'; at++) {
        assert_in_range(*at, ' ', '~');
    }
}

/* What writer_word is given is not looked at any more. */
static void
words_of_the_tables_stand_for_themselves(void **state)
{
    (void)state;
    struct buffer out;
    size_t count = 0;
    buffer_init(&out);
    for (int i = 0; i < FIELD_COUNT; i++) {
        want_word(job_field_pointer((enum job_field)i), &out);
    }
    want_word(job_field_pointer(FIELD_units), &out);
    for (int i = 0; i < RESULT_COUNT; i++) {
        want_word(result_row((enum result)i)->name, &out);
    }
    for (size_t i = 0; i < check_count(); i++) {
        want_word(check_row(i)->id, &out);
    }
    for (int i = 0; i < SECTION_COUNT; i++) {
        want_word(section_text((enum section)i), &out);
    }
    for (int i = 0; i <= VERDICT_FAILS; i++) {
        want_word(verdict_text((enum verdict)i), &out);
    }
    const struct unit *const unit = unit_table(&count);
    for (size_t i = 0; i < count; i++) {
        want_word(unit[i].symbol, &out);
    }
    const struct steel *const steel = steel_table(&count);
    for (size_t i = 0; i < count; i++) {
        want_word(steel[i].id, &out);
    }
    const struct metal *const metal = bearing_metal_table(&count);
    for (size_t i = 0; i < count; i++) {
        want_word(metal[i].id, &out);
    }
    const struct choice_row *const scale = choice_table(CHOICE_SET_hardness_scale, &count);
    for (size_t i = 0; i < count; i++) {
        want_word(scale[i].text, &out);
    }
    buffer_clear(&out);
}

static void
writes_a_quantity_as_value_and_unit(void **state)
{
    (void)state;
    struct buffer out;
    struct writer writer;
    buffer_init(&out);
    writer_init(&writer, &out);
    writer_object(&writer, NULL);
    writer_quantity(&writer, "a", 0.0254, DIMENSION_LENGTH, UNITS_INCH);
    writer_word(&writer, "b", "c");
    writer_value(&writer, "d", -0.0, "HB");
    writer_object_end(&writer);
    assert_string_equal(out.at, "{\"a\":{\"value\":1,\"unit\":\"in\"},\"b\":\"c\",\"d\":{\"value\":0,\"unit\":\"HB\"}}");
    assert_false(writer.defect);
    writer_value(&writer, "e", (double)NAN, "HB");
    assert_true(writer.defect);
    buffer_clear(&out);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(escapes_a_character_wherever_it_stands),
        cmocka_unit_test(words_of_the_tables_stand_for_themselves),
        cmocka_unit_test(writes_a_quantity_as_value_and_unit),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
