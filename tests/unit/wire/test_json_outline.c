/* The outline of a text is held against jansson, which reads it whole: what
 * jansson takes has a sound outline with the same parts. */

#include "wire/json_outline.h"

#include <stdlib.h>
#include <string.h>

#include "support/close.h"

/* A copy without anything behind it, so that a sanitizer sees a step too far. */
static char *
exact_copy(const char *text, size_t length)
{
    char *copy = malloc(length > 0 ? length : 1);
    assert_non_null(copy);
    memcpy(copy, text, length);
    return copy;
}

static bool
is_sound(const char *text, size_t length, struct json_text_fault *fault)
{
    struct json_part value;
    char *copy = exact_copy(text, length);
    const bool sound = json_outline_read(copy, length, &value, fault);
    free(copy);
    return sound;
}

static void
assert_refused(const char *text, const char *detail)
{
    struct json_text_fault fault;
    if (is_sound(text, strlen(text), &fault)) {
        fail_msg("taken: %s", text);
    }
    assert_int_equal(fault.problem, PROBLEM_not_json);
    assert_string_equal(fault.detail, detail);
}

static void
assert_taken(const char *text)
{
    struct json_text_fault fault;
    if (!is_sound(text, strlen(text), &fault)) {
        fail_msg("refused: %s: %s", text, fault.detail);
    }
}

static void
takes_every_kind_of_value(void **state)
{
    (void)state;
    static const char *const texts[] = {
        "{}",
        "[]",
        "null",
        "true",
        "-1.5e+3",
        "\"\"",
        "[1,2]",
        "[[],{}]",
        "{\"a\":{\"b\":[null]}}",
        " \t\r\n[ 1 , 2 ]\n",
        "\xEF\xBB\xBF{}",
        "{\"a\" : 1 , \"b\":\"c\"}",
    };
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        assert_taken(texts[i]);
    }
}

static void
leaves_words_and_what_is_quoted_to_others(void **state)
{
    (void)state;
    assert_taken("[nonsense]");
    assert_taken("[01, 1.2.3, +1]");
    assert_taken("[\"\\q\", \"\\ud800\", \"\xff\"]");
}

static void
is_not_misled_by_brackets_in_texts(void **state)
{
    (void)state;
    assert_taken("{\"]}\":\"[{\",\"\\\"]\":\"\\\\\"}");
    assert_taken("[\"\\\\\\\"]\"]");
    assert_refused("[\"\\\"]", "Line 1, column 2: this text does not end, or has a line break or another control "
                               "character in it.");
}

static void
says_where_the_outline_breaks(void **state)
{
    (void)state;
    static const char open_text[] = ": this text does not end, or has a line break or another control character in it.";
    char detail[160];
    assert_refused("", "Line 1, column 1: the text ends where a value was expected.");
    assert_refused("  \n ", "Line 2, column 2: the text ends where a value was expected.");
    assert_refused("[", "Line 1, column 2: the text ends where a value or ] was expected.");
    assert_refused("{", "Line 1, column 2: the text ends where a member's name in quotes or } was expected.");
    assert_refused("{\"a\"", "Line 1, column 5: the text ends where a colon was expected.");
    assert_refused("{\"a\":", "Line 1, column 6: the text ends where a value was expected.");
    assert_refused("{\"a\":1",
                   "Line 1, column 7: the text ends where a comma or the bracket that closes was expected.");
    assert_refused("[1,]", "Line 1, column 4: a value was expected.");
    assert_refused("[,1]", "Line 1, column 2: a value or ] was expected.");
    assert_refused("[1 2]", "Line 1, column 4: a comma or the bracket that closes was expected.");
    assert_refused("[1}", "Line 1, column 3: a comma or the bracket that closes was expected.");
    assert_refused("{\"a\":1]", "Line 1, column 7: a comma or the bracket that closes was expected.");
    assert_refused("{\"a\":1,}", "Line 1, column 8: a member's name in quotes was expected.");
    assert_refused("{a:1}", "Line 1, column 2: a member's name in quotes or } was expected.");
    assert_refused("{\"a\" 1}", "Line 1, column 6: a colon was expected.");
    assert_refused("{\"a\":}", "Line 1, column 6: a value was expected.");
    assert_refused("[] []", "Line 1, column 4: nothing more was expected.");
    assert_refused("]", "Line 1, column 1: a value was expected.");
    assert_refused("['a']", "Line 1, column 2: a value or ] was expected.");
    assert_refused("[1] // one", "Line 1, column 5: nothing more was expected.");
    assert_refused("[1,\n \"\xC3\xA4\xC3\xB6\",\n\"\xC3\xBC\" 2]",
                   "Line 3, column 5: a comma or the bracket that closes was expected.");
    assert_true(snprintf(detail, sizeof detail, "Line 1, column 2%s", open_text) > 0);
    assert_refused("[\"a\nb\"]", detail);
    assert_refused("[\"abc", detail);
    assert_refused("[\"abc\\", detail);
}

static void
takes_no_byte_of_no_character(void **state)
{
    (void)state;
    struct json_text_fault fault;
    assert_false(is_sound("[1]\0", 4, &fault));
    assert_false(is_sound("[\0]", 3, &fault));
    assert_false(is_sound("[\"\0\"]", 5, &fault));
    assert_false(is_sound("\0[]", 3, &fault));
    assert_false(is_sound("\xEF\xBB", 2, &fault));
    assert_false(is_sound("\xEF\xBB\xBF", 3, &fault));
    assert_false(is_sound("[]\xEF\xBB\xBF", 5, &fault));
}

/* No matter how long: nothing recurses, and the number of levels is bounded. */
static void
refuses_what_is_nested_too_deep(void **state)
{
    (void)state;
    enum { LEVELS = 100000 };
    struct json_text_fault fault;
    char *text = malloc(2 * LEVELS);
    assert_non_null(text);
    memset(text, '[', LEVELS);
    memset(text + LEVELS, ']', LEVELS);
    assert_false(json_outline_read(text, 2 * LEVELS, &(struct json_part){NULL, 0}, &fault));
    assert_int_equal(fault.problem, PROBLEM_too_deep);
    assert_string_equal(fault.detail, "Line 1, column 65: objects and lists are nested more than 64 deep.");
    assert_true(is_sound(text + LEVELS - 64, 128, &fault));
    assert_false(is_sound(text + LEVELS - 65, 130, &fault));
    free(text);
}

static void
finds_the_value_without_what_is_around_it(void **state)
{
    (void)state;
    static const char text[] = "\xEF\xBB\xBF \n{\"a\": [1]} \t";
    struct json_part value;
    struct json_text_fault fault;
    assert_true(json_outline_read(text, sizeof text - 1, &value, &fault));
    assert_int_equal(value.length, 10);
    assert_memory_equal(value.at, "{\"a\": [1]}", value.length);
    assert_true(json_part_is_object(&value));
    assert_false(json_part_is_list(&value));
}

/* Each part of a value, as jansson sees the whole: count, names, and the same
 * value when it is read alone. */
static void
assert_same_parts(const char *text)
{
    struct json_text_fault fault;
    struct json_part whole, name, value;
    struct json_walk walk;
    const size_t length = strlen(text);
    json_t *root = json_text_read(text, length, &fault);
    assert_non_null(root);
    assert_true(json_outline_read(text, length, &whole, &fault));
    json_walk_begin(&walk, &whole);
    size_t count = 0;
    for (; json_walk_next(&walk, &name, &value); count++) {
        json_t *alone = json_text_read(value.at, value.length, &fault);
        json_t *wanted = json_array_get(root, count);
        if (json_is_object(root)) {
            json_t *key = json_text_read(name.at, name.length, &fault);
            assert_true(json_is_string(key));
            wanted = json_object_get(root, json_string_value(key));
            json_decref(key);
        }
        assert_non_null(wanted);
        assert_true(json_equal(alone, wanted));
        json_decref(alone);
    }
    assert_int_equal(count, json_is_object(root) ? json_object_size(root) : json_array_size(root));
    json_decref(root);
}

static void
goes_through_the_parts_that_jansson_finds(void **state)
{
    (void)state;
    static const char *const texts[] = {
        "[]",
        "[ ]",
        "{}",
        "{ \n}",
        "[1,22 ,-3.5e2, true,false,null]",
        "[[1,[2]],{\"a\":[{}]},\"],[\",[],{}]",
        "{\"a\":1,\"b\":{\"c\":\"}\"},\"d\\u0022\":[\"\\\\\",\"\\\"\"], \"e,:\" : \":\" }",
        "[\"a\\\\\",\"b\\\\\\\"\",\"\xE2\x82\xAC\"]",
        "[\n{\"x\":\n[\n]\n}\n,\n0\n]",
    };
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        assert_same_parts(texts[i]);
    }
}

/* A text of the bytes that matter, by a generator of fixed start (Knuth's MMIX). */
static size_t
invent(uint64_t *seed, char *text, size_t most)
{
    static const char bytes[] = "[[]]{{}}\"\"\"\\,,,::1a \n\x01";
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    const size_t length = (size_t)(*seed >> 33) % (most + 1);
    for (size_t i = 0; i < length; i++) {
        *seed = *seed * 6364136223846793005u + 1442695040888963407u;
        text[i] = bytes[(size_t)(*seed >> 33) % (sizeof bytes - 1)];
    }
    return length;
}

/* Whatever jansson takes is sound; what is sound can be gone through. */
static void
refuses_nothing_that_jansson_takes(void **state)
{
    (void)state;
    uint64_t seed = 1;
    size_t sound = 0, taken = 0;
    for (int round = 0; round < 300000; round++) {
        char text[12];
        struct json_text_fault fault;
        struct json_part value, name, part;
        struct json_walk walk;
        const size_t length = invent(&seed, text, sizeof text);
        json_t *root = json_text_read(text, length, &fault);
        const bool good = json_outline_read(text, length, &value, &fault);
        if (root != NULL && !good) {
            fail_msg("refused: %.*s: %s", (int)length, text, fault.detail);
        }
        if (good && (json_part_is_list(&value) || json_part_is_object(&value))) {
            size_t count = 0;
            for (json_walk_begin(&walk, &value); json_walk_next(&walk, &name, &part); count++) {
                assert_true(part.length > 0 && part.at + part.length <= text + length);
            }
            if (json_is_array(root)) {
                assert_int_equal(count, json_array_size(root));
            }
        }
        sound += good;
        taken += root != NULL;
        json_decref(root);
    }
    assert_true(sound > taken && taken > 1000); /* else the texts try nothing */
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(takes_every_kind_of_value),
        cmocka_unit_test(leaves_words_and_what_is_quoted_to_others),
        cmocka_unit_test(is_not_misled_by_brackets_in_texts),
        cmocka_unit_test(says_where_the_outline_breaks),
        cmocka_unit_test(takes_no_byte_of_no_character),
        cmocka_unit_test(refuses_what_is_nested_too_deep),
        cmocka_unit_test(finds_the_value_without_what_is_around_it),
        cmocka_unit_test(goes_through_the_parts_that_jansson_finds),
        cmocka_unit_test(refuses_nothing_that_jansson_takes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
