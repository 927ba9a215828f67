#include "support/close.h"

#include "wire/message.h"
#include "wire/size_text.h"

/* Digits of the dials: a tenth of a thou, a micrometre. */
static void
writes_sizes_in_the_digits_of_the_dial(void **state)
{
    (void)state;
    char text[SIZE_TEXT_MAX];

    size_text_write(text, sizeof text, 1.25 * 0.0254, UNITS_INCH);
    assert_string_equal(text, "1.2500 in");
    size_text_write(text, sizeof text, 0.038, UNITS_METRIC);
    assert_string_equal(text, "38.000 mm");
    size_text_difference(text, sizeof text, 0.00035 * 0.0254, UNITS_INCH);
    assert_string_equal(text, "0.35 thou");
    size_text_difference(text, sizeof text, 10e-6, UNITS_METRIC);
    assert_string_equal(text, "0.010 mm");
}

static void
a_message_can_ask_for_a_size(void **state)
{
    (void)state;
    struct message_text rendered;
    const struct message message = {.text = "from {0.} to {1.}, not {9.} or {0.",
                                    .value = {{1.2490 * 0.0254, DIMENSION_LENGTH}, {1.25 * 0.0254, DIMENSION_LENGTH}}};

    message_render(&rendered, &message, UNITS_INCH);
    assert_string_equal(rendered.at, "from 1.2490 in to 1.2500 in, not {9.} or {0.");
}

static void
a_share_beyond_ten_times_says_no_more_than_that(void **state)
{
    (void)state;
    char text[SIZE_TEXT_MAX];
    struct message_text rendered;
    const struct message message = {.text = "at {0%} of its limit", .value = {{999.0, DIMENSION_RATIO}}};

    size_text_share(text, sizeof text, 0.664);
    assert_string_equal(text, "66 %");
    size_text_share(text, sizeof text, 10.0);
    assert_string_equal(text, "1000 %");
    message_render(&rendered, &message, UNITS_INCH);
    assert_string_equal(rendered.at, "at over 1000 % of its limit");
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(writes_sizes_in_the_digits_of_the_dial),
        cmocka_unit_test(a_message_can_ask_for_a_size),
        cmocka_unit_test(a_share_beyond_ten_times_says_no_more_than_that),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
