/* W3C Trace Context, section 3.2 (traceparent); the ids are its examples. */

#include "http/trace_context.h"

#include "support/close.h"

#define TRACE "4bf92f3577b34da6a3ce929d0e0e4736"
#define PARENT "00f067aa0ba902b7"

static void
assert_ignored(const char *header)
{
    char id[TRACE_ID_SIZE] = "unchanged";
    assert_false(trace_context_id(header, id));
    assert_string_equal(id, "");
}

static void
reads_the_trace_id(void **state)
{
    (void)state;
    char id[TRACE_ID_SIZE];
    assert_true(trace_context_id("00-" TRACE "-" PARENT "-01", id));
    assert_string_equal(id, TRACE);
}

static void
reads_later_versions_as_far_as_it_knows_them(void **state)
{
    (void)state;
    char id[TRACE_ID_SIZE];
    assert_true(trace_context_id("cc-" TRACE "-" PARENT "-01", id));
    assert_true(trace_context_id("cc-" TRACE "-" PARENT "-01-what-the-future-brings", id));
    assert_ignored("cc-" TRACE "-" PARENT "-01.what");
}

static void
ignores_what_is_not_valid(void **state)
{
    (void)state;
    assert_ignored(NULL);
    assert_ignored("");
    assert_ignored("00-" TRACE "-" PARENT);
    assert_ignored("00-" TRACE "-" PARENT "-01-more");
    assert_ignored("ff-" TRACE "-" PARENT "-01");
    assert_ignored("00-4BF92F3577B34DA6A3CE929D0E0E4736-" PARENT "-01");
    assert_ignored("00-00000000000000000000000000000000-" PARENT "-01");
    assert_ignored("00-" TRACE "-0000000000000000-01");
    assert_ignored("00_" TRACE "-" PARENT "-01");
    assert_ignored("00-" TRACE "-" PARENT "-0g");
    assert_ignored(" 0-" TRACE "-" PARENT "-01");
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_the_trace_id),
        cmocka_unit_test(reads_later_versions_as_far_as_it_knows_them),
        cmocka_unit_test(ignores_what_is_not_valid),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
