#include "ask.h"

/* Figures marked "exact" follow from 1 in = 25.4 mm, 1 lb = 0.45359237 kg and
 * standard gravity; the tolerance is that of double arithmetic. */
#define EXACT 1e-12

/* ---- texts and lists ---- */

/* One label of `count` euro signs, three bytes each. */
static bool
label_taken(size_t count, struct job *job, struct fault_list *faults)
{
    char text[1024] = "{\"label\":\"";
    size_t length = strlen(text);
    for (size_t i = 0; i < count; i++, length += 3) {
        memcpy(text + length, "\xE2\x82\xAC", 3);
    }
    memcpy(text + length, "\"}", 3);
    return read_job(text, job, faults);
}

static void
counts_a_label_in_characters(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    assert_true(label_taken(120, &job, &faults));
    assert_int_equal(strlen(job.label), 360);
    assert_false(label_taken(121, &job, &faults));
    assert_int_equal(fault_at(&faults, "/label")->code, FAULT_OUT_OF_RANGE);
}

static void
refuses_characters_that_break_lines_or_direction(void **state)
{
    (void)state;
    static const char *const texts[] = {"a\\nb", "a\\u0007", "\\u0085", "\\u2028", "\\u202e", "\\u2066", "\\u007f"};
    struct fault_list faults;
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        char text[64];
        snprintf(text, sizeof text, "{\"label\":\"%s\"}", texts[i]);
        assert_string_equal(only_fault(text, &faults)->pointer, "/label");
    }
}

static void
reads_lists(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    assert_true(read_job("{\"turning\":{\"spindle_speeds\":[60,\"120 rpm\"],\"machine_taper\":{\"amount\":\"1 thou\","
                         "\"over\":6}},\"find\":{\"what\":\"pin.steel\",\"among\":[\"4140-bc\",\"c93200\"],\"from\":1,"
                         "\"to\":\"2 in\"},\"inspection\":{\"readings\":[{\"at\":0.5,\"around\":90,\"size\":1.3745},"
                         "{\"size\":\"34.9 mm\"}]},\"order\":{\"accept_marginal\":true}}",
                         &job, &faults));
    assert_int_equal(job.turning.spindle_speeds_count, 2);
    assert_close(job.turning.spindle_speeds_rad_s[1], 12.5663706143592, EXACT); /* 4 pi */
    assert_close(job.machine_taper.amount_m, 2.54e-5, EXACT);
    assert_int_equal(job.find.among_count, 2);
    assert_string_equal(job.find.among[1], "c93200");
    assert_true(job.find.from.is_number);
    assert_string_equal(job.find.to.text, "2 in");
    assert_int_equal(job.inspection.readings_count, 2);
    assert_close(job.inspection.readings[0].around_rad, 1.5707963267949, EXACT);
    assert_true(job.inspection.readings[0].has_at && !job.inspection.readings[1].has_at);
    assert_true(job.order.accept_marginal);
}

static void
refuses_lists_that_are_too_long_or_hold_the_wrong_thing(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    char text[512] = "{\"turning\":{\"spindle_speeds\":[1";
    for (int i = 0; i < 32; i++) {
        memcpy(text + strlen(text), ",1", 3);
    }
    memcpy(text + strlen(text), "]}}", 4);
    assert_string_equal(only_fault(text, &faults)->pointer, "/turning/spindle_speeds");
    assert_false(
        read_job("{\"inspection\":{\"readings\":[{\"size\":1.3,\"foo\":1},{\"around\":3},5]}}", &job, &faults));
    assert_int_equal(fault_at(&faults, "/inspection/readings/0/foo")->code, FAULT_UNKNOWN_MEMBER);
    assert_int_equal(fault_at(&faults, "/inspection/readings/1/size")->code, FAULT_MISSING);
    assert_int_equal(fault_at(&faults, "/inspection/readings/2")->code, FAULT_WRONG_TYPE);
}

static void
an_empty_list_is_an_absent_one(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    assert_true(read_job("{\"inspection\":{\"readings\":[]}}", &job, &faults));
    assert_false(job_given(&job, FIELD_inspection_readings));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(counts_a_label_in_characters),
        cmocka_unit_test(refuses_characters_that_break_lines_or_direction),
        cmocka_unit_test(reads_lists),
        cmocka_unit_test(refuses_lists_that_are_too_long_or_hold_the_wrong_thing),
        cmocka_unit_test(an_empty_list_is_an_absent_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
