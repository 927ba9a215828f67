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

/* What lies between two limits as written lies between the limits. */
static void
limits_to_work_to_are_rounded_inward_and_written_once_if_alike(void **state)
{
    (void)state;
    const struct {
        double least_mm, most_mm;
        enum unit_system system;
        const char *text;
    } rows[] = {
        {34.9173, 34.9257, UNITS_METRIC, "34.918 mm to 34.925 mm"},
        {34.9173, 34.9252, UNITS_INCH, "1.3747 in to 1.3750 in"}, /* 1.374697 and 1.375008 in */
        {34.9151, 34.9252, UNITS_INCH, "1.3747 in to 1.3750 in"}, /* 1.374610 in */
        {34.925, 34.925, UNITS_INCH, "1.3750 in"},
        {63.5, 63.5, UNITS_METRIC, "63.500 mm"},
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct limits limits = {.min_m = rows[i].least_mm * 1e-3, .max_m = rows[i].most_mm * 1e-3};
        const struct message message = {
            .text = "{12:}", .value = {{0}, {limits.min_m, DIMENSION_LENGTH}, {limits.max_m, DIMENSION_LENGTH}}};
        char text[SIZE_TEXT_RANGE_MAX];
        struct message_text rendered;

        size_text_limits(text, sizeof text, &limits, rows[i].system);
        assert_string_equal(text, rows[i].text);
        message_render(&rendered, &message, rows[i].system);
        assert_string_equal(rendered.at, rows[i].text);
    }
}

static void
advised_quantities_are_rounded_to_what_a_shop_works_to(void **state)
{
    (void)state;
    const struct {
        double value;
        enum dimension dimension;
        enum unit_system system;
        const char *up, *down;
    } rows[] = {
        {5.8729 * 0.0254, DIMENSION_LENGTH, UNITS_INCH, "5.88 in", "5.87 in"},
        {0.0872 , DIMENSION_LENGTH, UNITS_METRIC, "87.2 mm", "87.2 mm"},
        {0.087163, DIMENSION_LENGTH, UNITS_METRIC, "87.2 mm", "87.1 mm"},
        {0.0532 * 0.0254, DIMENSION_LENGTH, UNITS_INCH, "0.054 in", "0.053 in"},
        {0.263e-4 * 0.0254, DIMENSION_LENGTH, UNITS_INCH, "1 tenth", "0 in"},
        {90050.0 * 6894.757293168361, DIMENSION_PRESSURE, UNITS_INCH, "91000 psi", "90000 psi"},
        {25.5, DIMENSION_TORQUE, UNITS_METRIC, "26 N.m", "25 N.m"},
        {2.54, DIMENSION_TORQUE, UNITS_METRIC, "2.6 N.m", "2.5 N.m"},
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct message up = {.text = "{0^}", .value = {{rows[i].value, rows[i].dimension}}};
        const struct message down = {.text = "{0_}", .value = {{rows[i].value, rows[i].dimension}}};
        struct message_text rendered;

        message_render(&rendered, &up, rows[i].system);
        assert_string_equal(rendered.at, rows[i].up);
        message_render(&rendered, &down, rows[i].system);
        assert_string_equal(rendered.at, rows[i].down);
    }
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
        cmocka_unit_test(limits_to_work_to_are_rounded_inward_and_written_once_if_alike),
        cmocka_unit_test(advised_quantities_are_rounded_to_what_a_shop_works_to),
        cmocka_unit_test(a_share_beyond_ten_times_says_no_more_than_that),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
