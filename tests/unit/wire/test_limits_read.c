#include "ask.h"

/* Figures marked "exact" follow from 1 in = 25.4 mm, 1 lb = 0.45359237 kg and
 * standard gravity; the tolerance is that of double arithmetic. */
#define EXACT 1e-12

/* ---- limits ---- */

static void
reads_limits_in_every_form(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    assert_true(read_job("{\"pin\":{\"diameter\":1.375}}", &job, &faults));
    assert_close(job.pin.diameter.min_m, 0.034925, EXACT);
    assert_close(job.pin.diameter.max_m, 0.034925, EXACT);
    assert_true(read_job("{\"pin\":{\"diameter\":{\"min\":\"34.90 mm\",\"max\":1.375}}}", &job, &faults));
    assert_close(job.pin.diameter.min_m, 0.0349, EXACT);
    assert_close(job.pin.diameter.max_m, 0.034925, EXACT);
    assert_true(read_job("{\"pin\":{\"diameter\":{\"nominal\":1.375,\"upper\":\"-0.8 thou\",\"lower\":-0.0012}}}", &job,
                         &faults));
    assert_close(job.pin.diameter.nominal_m, 0.034925, EXACT);
    assert_close(job.pin.diameter.max_m, (1.375 - 0.0008) * 0.0254, EXACT);
    assert_close(job.pin.diameter.min_m, (1.375 - 0.0012) * 0.0254, EXACT);
}

/* ISO 286, over 30 to 50 mm: g6 -9 -25, H7 +25 0 um (JIS B 0401, read); ANSI
 * B4.1, 1.19 to 1.97 in: RC4 hole +1.6 0, shaft -1.0 -2.0 thou (Machinery's
 * Handbook, 31st edition, table 8a, read). */
static void
reads_classes_on_the_side_they_stand(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    assert_true(read_job("{\"units\":\"metric\",\"pin\":{\"diameter\":{\"nominal\":38,\"class\":\"g6\"}},"
                         "\"held_fit\":{\"hole\":{\"nominal\":38,\"class\":\"H7\"}},"
                         "\"running_fit\":{\"pin\":{\"nominal\":\"1 1/2 in\",\"class\":\"RC4\"},"
                         "\"hole\":{\"nominal\":\"1 1/2 in\",\"class\":\"RC4\"}}}",
                         &job, &faults));
    assert_close(job.pin.diameter.min_m, 0.037975, EXACT);
    assert_close(job.pin.diameter.max_m, 0.037991, EXACT);
    assert_close(job.held_fit.hole.min_m, 0.038, EXACT);
    assert_close(job.held_fit.hole.max_m, 0.038025, EXACT);
    assert_close(job.running_fit.pin.max_m, 1.4990 * 0.0254, EXACT);
    assert_close(job.running_fit.pin.min_m, 1.4980 * 0.0254, EXACT);
    assert_close(job.running_fit.hole.max_m, 1.5016 * 0.0254, EXACT);
}

static void
refuses_limits_that_contradict_themselves(void **state)
{
    (void)state;
    struct fault_list faults;
    const struct fault *fault = only_fault("{\"pin\":{\"diameter\":{\"min\":1.376,\"max\":1.375}}}", &faults);
    assert_int_equal(fault->code, FAULT_CONTRADICTION);
    assert_string_equal(fault->detail, "min (1.376 in) is greater than max (1.375 in).");
    fault = only_fault("{\"pin\":{\"diameter\":{\"nominal\":1.375,\"upper\":-0.002,\"lower\":-0.001}}}", &faults);
    assert_int_equal(fault->code, FAULT_CONTRADICTION);
    fault = only_fault("{\"pin\":{\"diameter\":{\"nominal\":1.375,\"min\":1.3,\"max\":1.4}}}", &faults);
    assert_int_equal(fault->code, FAULT_CONTRADICTION);
}

static void
refuses_half_of_a_form_of_limits(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    const struct fault *fault = only_fault("{\"pin\":{\"diameter\":{\"min\":1.375}}}", &faults);
    assert_int_equal(fault->code, FAULT_MISSING);
    assert_string_equal(fault->pointer, "/pin/diameter/max");
    assert_string_equal(only_fault("{\"pin\":{\"diameter\":{\"class\":\"g6\"}}}", &faults)->pointer,
                        "/pin/diameter/nominal");
    assert_false(read_job("{\"pin\":{\"diameter\":{}}}", &job, &faults));
    assert_int_equal(fault_at(&faults, "/pin/diameter/min")->code, FAULT_MISSING);
    assert_int_equal(fault_at(&faults, "/pin/diameter/max")->code, FAULT_MISSING);
}

static void
refuses_a_class_that_does_not_fit_the_place(void **state)
{
    (void)state;
    struct fault_list faults;
    const struct fault *fault = only_fault("{\"pin\":{\"diameter\":{\"nominal\":1.375,\"class\":\"H7\"}}}", &faults);
    assert_int_equal(fault->code, FAULT_OUT_OF_RANGE);
    assert_string_equal(fault->pointer, "/pin/diameter/class");
    assert_string_equal(fault->nearest, "h7");
    fault = only_fault("{\"pin\":{\"diameter\":{\"nominal\":1.375,\"class\":\"RC44\"}}}", &faults);
    assert_string_equal(fault->nearest, "RC4");
    fault = only_fault("{\"running_fit\":{\"wanted\":{\"nominal\":0.001,\"class\":\"g6\"}}}", &faults);
    assert_int_equal(fault->code, FAULT_UNKNOWN_MEMBER);
    fault = only_fault("{\"pin\":{\"diameter\":{\"nominal\":1.375,\"class\":6}}}", &faults);
    assert_int_equal(fault->code, FAULT_WRONG_TYPE);
    fault = only_fault("{\"pin\":{\"diameter\":{\"nominal\":1.375,\"upper\":1,\"lower\":0}}}", &faults);
    assert_string_equal(fault->pointer, "/pin/diameter/upper");
}

/* ---- threads ---- */

static void
reads_threads_by_designation_and_by_diameter(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    assert_true(read_job("{\"set_screw\":{\"thread\":\"M10\"}}", &job, &faults));
    assert_close(job.set_screw.thread.diameter_m, 0.010, EXACT);
    assert_close(job.set_screw.thread.pitch_m, 0.0015, EXACT); /* ISO 261 coarse */
    assert_true(job.set_screw.thread.metric);
    assert_true(read_job("{\"set_screw\":{\"thread\":0.375}}", &job, &faults));
    assert_string_equal(job.set_screw.thread.designation, "3/8-16 UNC");
    assert_true(read_job("{\"set_screw\":{\"thread\":\"10 mm\"}}", &job, &faults));
    assert_true(job.set_screw.thread.metric);
    assert_true(read_job("{\"units\":\"metric\",\"set_screw\":{\"thread\":\"3/8 in\"}}", &job, &faults));
    assert_false(job.set_screw.thread.metric);
    assert_int_equal(only_fault("{\"set_screw\":{\"thread\":\"Q7\"}}", &faults)->code, FAULT_BAD_NUMBER);
    assert_int_equal(only_fault("{\"set_screw\":{\"thread\":true}}", &faults)->code, FAULT_WRONG_TYPE);
}

static void
reads_a_designation_as_the_bolts_diameter(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    assert_true(read_job("{\"clamp_bolt\":{\"diameter\":\"3/8-16 UNC\"}}", &job, &faults));
    assert_true(job_given(&job, FIELD_clamp_bolt_thread));
    assert_close(job.clamp_bolt.thread.diameter_m, 0.009525, EXACT);
    assert_true(read_job("{\"clamp_bolt\":{\"diameter\":\"3/8\"}}", &job, &faults));
    assert_false(job_given(&job, FIELD_clamp_bolt_thread));
    assert_close(job.clamp_bolt.diameter_m, 0.009525, EXACT);
    const struct fault *fault = only_fault("{\"clamp_bolt\":{\"diameter\":\"M10\",\"thread\":\"M12\"}}", &faults);
    assert_int_equal(fault->code, FAULT_CONTRADICTION);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_limits_in_every_form),
        cmocka_unit_test(reads_classes_on_the_side_they_stand),
        cmocka_unit_test(refuses_limits_that_contradict_themselves),
        cmocka_unit_test(refuses_half_of_a_form_of_limits),
        cmocka_unit_test(refuses_a_class_that_does_not_fit_the_place),
        cmocka_unit_test(reads_threads_by_designation_and_by_diameter),
        cmocka_unit_test(reads_a_designation_as_the_bolts_diameter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
