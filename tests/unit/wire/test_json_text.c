#include "ask.h"

#include <errno.h>
#include <stdlib.h>

/* The problem that a text is refused with. */
static enum problem
refused(const char *text, size_t length, struct json_text_fault *fault)
{
    json_t *root = json_text_read(text, length, fault);
    assert_null(root);
    assert_true(fault->detail[0] != '\0');
    return fault->problem;
}

static bool
taken(const char *text)
{
    struct json_text_fault fault;
    json_t *root = json_text_read(text, strlen(text), &fault);
    json_decref(root);
    return root != NULL;
}

static void
refuses_what_is_not_json_and_says_where(void **state)
{
    (void)state;
    static const char *const texts[] = {
        "",    "{",          "{\"a\":}",      "{'a':1}",     "{\"a\":NaN}", "{\"a\":Infinity}",
        "{}x", "{\"a\":01}", "{\"a\":1e999}", "\"\\ud800\"", "\"\xFF\"",    "\"\\u0000\"",
        "tru", "{\"a\":1,}", "[1 2]"};
    struct json_text_fault fault;
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        assert_int_equal(refused(texts[i], strlen(texts[i]), &fault), PROBLEM_not_json);
    }
    refused("{\n  \"a\": tru\n}", 14, &fault);
    assert_non_null(strstr(fault.detail, "Line 2, column "));
}

static void
refuses_a_raw_nul(void **state)
{
    (void)state;
    struct json_text_fault fault;
    assert_int_equal(refused("{\"a\":\"b\0c\"}", 11, &fault), PROBLEM_not_json);
    assert_int_equal(refused("{}\0", 3, &fault), PROBLEM_not_json);
}

static void
refuses_a_member_given_twice(void **state)
{
    (void)state;
    struct json_text_fault fault;
    assert_int_equal(refused("{\"a\":1,\"a\":1}", 13, &fault), PROBLEM_duplicate_member);
    assert_non_null(strstr(fault.detail, "\"a\""));
    assert_true(taken("{\"a\":{\"a\":1}}"));
}

static void
refuses_nesting_beyond_thirty_two(void **state)
{
    (void)state;
    char text[256];
    for (size_t depth = JSON_TEXT_DEPTH_MAX; depth <= JSON_TEXT_DEPTH_MAX + 1; depth++) {
        memset(text, '[', depth);
        memset(text + depth, ']', depth);
        text[2 * depth] = '\0';
        assert_int_equal(taken(text), depth <= JSON_TEXT_DEPTH_MAX);
    }
    struct json_text_fault fault;
    assert_int_equal(refused(text, strlen(text), &fault), PROBLEM_too_deep);
}

/* The scan ends before the parser, which recurses, sees the text. */
static void
refuses_a_million_brackets(void **state)
{
    (void)state;
    const size_t size = 1000000;
    char *text = malloc(size);
    assert_non_null(text);
    memset(text, '[', size);
    struct json_text_fault fault;
    assert_int_equal(refused(text, size, &fault), PROBLEM_too_deep);
    free(text);
}

static void
brackets_in_strings_do_not_nest(void **state)
{
    (void)state;
    assert_true(taken("{\"a\":\"[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[\\\"[[[[[[[[[[[[[[[[[[[[[\"}"));
}

static void
takes_a_byte_order_mark_and_any_value(void **state)
{
    (void)state;
    assert_true(taken("\xEF\xBB\xBF{}"));
    assert_true(taken("[]"));
    assert_true(taken("1"));
    assert_true(taken("99999999999999999999999999"));
}

/* ---- want of memory ---- */

/* How many allocations still succeed. */
static int allocations_left;

static void *
allocate_some(size_t size)
{
    if (allocations_left-- > 0) {
        return malloc(size);
    }
    errno = ENOMEM; /* as malloc of POSIX does */
    return NULL;
}

/* Whichever allocation fails first, nothing but the 503 comes of it. */
static void
says_so_where_memory_runs_out(void **state)
{
    (void)state;
    static const char text[] = "{\"a\":[1,\"text\",{\"b\":null}],\"c\":{\"d\":[[]]},\"e\":2.5}";
    bool whole = false;
    int failures = 0;
    for (int allowed = 0; allowed < 200 && !whole; allowed++) {
        struct json_text_fault fault;
        allocations_left = allowed;
        json_set_alloc_funcs(allocate_some, free);
        json_t *root = json_text_read(text, strlen(text), &fault);
        json_set_alloc_funcs(malloc, free);
        whole = root != NULL;
        if (!whole) {
            assert_int_equal(fault.problem, PROBLEM_unavailable);
            failures++;
        }
        json_decref(root);
    }
    assert_true(whole);
    assert_true(failures > 5);
}

/* One allocation fails and the later ones do not: no character may be lost of
 * any text or number, whatever its length. */
static size_t refused_one, allocations_made;

static void *
allocate_but_one(size_t size)
{
    if (++allocations_made == refused_one) {
        errno = ENOMEM;
        return NULL;
    }
    return malloc(size);
}

static void
loses_no_character_where_one_allocation_fails(void **state)
{
    (void)state;
    for (size_t length = 1; length <= 300; length += length < 70 ? 1 : 23) {
        char text[1024], digits[301];
        memset(digits, '7', length);
        digits[length] = '\0';
        snprintf(text, sizeof text, "{\"%s\":\"%s\",\"b\":[0.%s,1]}", digits, digits, digits);
        bool whole = false;
        for (refused_one = 1; !whole; refused_one++) {
            struct json_text_fault fault;
            allocations_made = 0;
            json_set_alloc_funcs(allocate_but_one, free);
            json_t *root = json_text_read(text, strlen(text), &fault);
            json_set_alloc_funcs(malloc, free);
            whole = allocations_made < refused_one;
            if (root == NULL) {
                assert_int_equal(fault.problem, PROBLEM_unavailable);
                assert_false(whole);
                continue;
            }
            assert_string_equal(json_string_value(json_object_get(root, digits)), digits);
            assert_true(json_number_value(json_array_get(json_object_get(root, "b"), 0)) == strtod(strchr(text, '[') + 1, NULL));
            json_decref(root);
        }
    }
}

/* The document is read inside a list of our own; nothing told may speak of that. */
static void
tells_where_a_document_ends(void **state)
{
    (void)state;
    static const struct {
        const char *text, *told;
    } cases[] = {
        {"{\"a\":1", "The document ends too early."},
        {"{\"a\":\"b", "a text is not closed"},
        {"{} x", "Line 1, column 4: nothing may follow the document."},
        {"{}}", "Line 1, column 3: nothing may follow the document."},
        {"1,2", "more than one document"},
        {"[1 2]", "']' expected near '2'"},
        {"{\n\"a\":tru}", "Line 2, column 7: "},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct json_text_fault fault;
        assert_int_equal(refused(cases[i].text, strlen(cases[i].text), &fault), PROBLEM_not_json);
        if (strstr(fault.detail, cases[i].told) == NULL) {
            fail_msg("%s: %s", cases[i].text, fault.detail);
        }
    }
    assert_false(taken("1]"));
    assert_false(taken("1],[2"));
    assert_false(taken("]"));
    assert_false(taken(","));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(refuses_what_is_not_json_and_says_where),
        cmocka_unit_test(refuses_a_raw_nul),
        cmocka_unit_test(refuses_a_member_given_twice),
        cmocka_unit_test(refuses_nesting_beyond_thirty_two),
        cmocka_unit_test(refuses_a_million_brackets),
        cmocka_unit_test(brackets_in_strings_do_not_nest),
        cmocka_unit_test(takes_a_byte_order_mark_and_any_value),
        cmocka_unit_test(says_so_where_memory_runs_out),
        cmocka_unit_test(loses_no_character_where_one_allocation_fails),
        cmocka_unit_test(tells_where_a_document_ends),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
