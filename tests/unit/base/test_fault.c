#include "support/close.h"

#include <string.h>

#include "base/fault.h"

/* The codes of the problem documents, as the contract lists them. */
static void
codes_stand_as_on_the_wire(void **state)
{
    (void)state;
    static const char *const wire[] = {"unknown_member", "wrong_type",    "wrong_unit", "bad_number",
                                       "out_of_range",   "contradiction", "missing"};

    assert_int_equal(sizeof wire / sizeof wire[0], FAULT_CODE_COUNT);
    for (int code = 0; code < FAULT_CODE_COUNT; code++) {
        assert_string_equal(fault_code_text((enum fault_code)code), wire[code]);
    }
}

static void
keeps_faults_in_order(void **state)
{
    (void)state;
    struct fault_list list;

    fault_list_init(&list);
    assert_int_equal(list.count, 0);
    assert_int_equal(list.dropped, 0);
    assert_non_null(fault_add(&list, FAULT_WRONG_UNIT, "/engine/bore", "\"%s\" is a unit of %s.", "lb", "mass"));
    assert_non_null(fault_add(&list, FAULT_MISSING, "/find/what", "This member is mandatory."));

    assert_int_equal(list.count, 2);
    assert_int_equal(list.fault[0].code, FAULT_WRONG_UNIT);
    assert_string_equal(list.fault[0].pointer, "/engine/bore");
    assert_string_equal(list.fault[0].detail, "\"lb\" is a unit of mass.");
    assert_int_equal(list.fault[1].code, FAULT_MISSING);
    assert_string_equal(list.fault[1].detail, "This member is mandatory.");
}

static void
leaves_optional_texts_empty(void **state)
{
    (void)state;
    struct fault_list list;
    memset(&list, 'x', sizeof list);

    fault_list_init(&list);
    const struct fault *const fault = fault_add(&list, FAULT_MISSING, "", "x");
    assert_non_null(fault);
    assert_string_equal(fault->got, "");
    assert_string_equal(fault->expected, "");
    assert_string_equal(fault->nearest, "");
}

static void
counts_what_it_drops(void **state)
{
    (void)state;
    struct fault_list list;

    fault_list_init(&list);
    for (int i = 0; i < FAULT_MAX; i++) {
        assert_non_null(fault_add(&list, FAULT_UNKNOWN_MEMBER, "/x", "fault %d", i));
    }
    assert_null(fault_add(&list, FAULT_UNKNOWN_MEMBER, "/x", "one too many"));
    assert_null(fault_add(&list, FAULT_UNKNOWN_MEMBER, "/x", "two too many"));
    assert_int_equal(list.count, FAULT_MAX);
    assert_int_equal(list.dropped, 2);
    assert_string_equal(list.fault[FAULT_MAX - 1].detail, "fault 39");
}

static void
cuts_long_texts_between_characters(void **state)
{
    (void)state;
    struct fault_list list;
    char quotes[3 * 200 + 1]; /* U+2033, three bytes each */

    for (size_t i = 0; i < 200; i++) {
        memcpy(quotes + 3 * i, "\u2033", 3);
    }
    quotes[sizeof quotes - 1] = '\0';
    fault_list_init(&list);
    const struct fault *const fault = fault_add(&list, FAULT_BAD_NUMBER, quotes, "%s", quotes);
    assert_non_null(fault);
    assert_int_equal(strlen(fault->pointer), 159); /* 53 of them, and the NUL */
    assert_int_equal(strlen(fault->detail), 237);  /* 79 of them; 2 of 239 bytes stay free */
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(codes_stand_as_on_the_wire),  cmocka_unit_test(keeps_faults_in_order),
        cmocka_unit_test(leaves_optional_texts_empty), cmocka_unit_test(counts_what_it_drops),
        cmocka_unit_test(cuts_long_texts_between_characters),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
