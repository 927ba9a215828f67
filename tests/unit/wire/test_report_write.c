#include "ask.h"

#include <math.h>

#include "base/version.h"
#include "joint/check.h"
#include "wire/report_write.h"

/* A report with nothing in it. */
static void
empty_report(enum call call, struct report *report)
{
    memset(report, 0, sizeof *report);
    report->call = call;
    report->verdict = VERDICT_OK;
    report->summary.text = "All is well.";
}

static json_t *
written(const struct job *job, const struct report *report)
{
    const struct report_curves none = {NULL, 0};
    struct buffer out;
    buffer_init(&out);
    assert_true(report_write(&out, job, report, &none));
    assert_false(out.failed);
    json_error_t error;
    json_t *root = json_loadb(out.at, out.length, JSON_REJECT_DUPLICATES, &error);
    assert_non_null(root);
    buffer_clear(&out);
    return root;
}

static void
writes_the_members_of_the_contract_in_order(void **state)
{
    (void)state;
    static const char *const members[] = {"service", "label",  "verdict",     "summary",     "next_steps",
                                          "results", "checks", "not_checked", "assumptions", "cautions"};
    struct job job;
    struct report report;
    job_init(&job);
    memcpy(job.label, "a label", sizeof "a label");
    empty_report(CALL_check, &report);
    json_t *root = written(&job, &report);
    size_t i = 0;
    const char *key;
    json_t *value;
    json_object_foreach(root, key, value)
    {
        assert_true(i < sizeof members / sizeof members[0]);
        assert_string_equal(key, members[i]);
        i++;
    }
    assert_int_equal(i, sizeof members / sizeof members[0]);
    assert_string_equal(look_text(root, "/service/name"), SMALLEND_NAME);
    assert_string_equal(look_text(root, "/service/version"), SMALLEND_VERSION);
    assert_string_equal(look_text(root, "/service/rules"), SMALLEND_RULES);
    assert_string_equal(look_text(root, "/label"), "a label");
    assert_string_equal(look_text(root, "/verdict"), "ok");
    json_decref(root);
}

static void
leaves_out_a_label_that_was_not_given(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    job_init(&job);
    empty_report(CALL_check, &report);
    json_t *root = written(&job, &report);
    assert_null(look(root, "/label"));
    json_decref(root);
}

/* 812.4 psi, as the contract writes it; 1 psi = 4.4482216152605 N / 0.00064516 m2, exact. */
static void
rounds_to_seven_significant_digits(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    job_init(&job);
    empty_report(CALL_check, &report);
    report_put(&report, RESULT_load_peak_pressure, 812.4 * 4.4482216152605 / 0.00064516);
    report_put(&report, RESULT_load_load_ratio, -1.0 / 3.0);
    report_put(&report, RESULT_load_piston_area, -0.0);
    struct buffer out;
    buffer_init(&out);
    const struct report_curves none = {NULL, 0};
    assert_true(report_write(&out, &job, &report, &none));
    assert_non_null(strstr(out.at, "\"peak_pressure\":{\"value\":812.4,\"unit\":\"psi\"}"));
    assert_non_null(strstr(out.at, "\"load_ratio\":{\"value\":-0.3333333,\"unit\":\"1\"}"));
    assert_non_null(strstr(out.at, "\"piston_area\":{\"value\":0,\"unit\":\"in2\"}"));
    buffer_clear(&out);
}

static void
writes_results_in_the_documents_units(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    job_init(&job);
    job.units = UNITS_METRIC;
    empty_report(CALL_check, &report);
    report_put(&report, RESULT_load_pin_load_max, 20000.0);
    report_put_flag(&report, RESULT_load_load_reverses, false);
    report_put(&report, RESULT_load_rod_angle_max, 0.5235987755982988); /* pi / 6 */
    report_put_limits(&report, RESULT_fit_bushing_outside_wanted, 0.0381, 0.03815);
    json_t *root = written(&job, &report);
    assert_close(look_number(root, "/results/load/pin_load_max/value"), 20000.0, 1e-12);
    assert_string_equal(look_text(root, "/results/load/pin_load_max/unit"), "N");
    assert_true(json_is_false(look(root, "/results/load/load_reverses")));
    assert_close(look_number(root, "/results/load/rod_angle_max/value"), 30.0, 1e-12);
    assert_string_equal(look_text(root, "/results/load/rod_angle_max/unit"), "deg");
    assert_close(look_number(root, "/results/fit/bushing_outside_wanted/min/value"), 38.1, 1e-12);
    assert_close(look_number(root, "/results/fit/bushing_outside_wanted/max/value"), 38.15, 1e-12);
    assert_string_equal(look_text(root, "/results/fit/bushing_outside_wanted/max/unit"), "mm");
    assert_null(look(root, "/results/strength"));
    json_decref(root);
}

/* A call that needs a section's values does not report them. */
static void
writes_only_the_sections_of_the_call(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    job_init(&job);
    empty_report(CALL_fit, &report);
    report_put(&report, RESULT_load_pin_load_max, 20000.0);
    report_put(&report, RESULT_fit_clearance_min, 0.00002);
    json_t *root = written(&job, &report);
    assert_null(look(root, "/results/load"));
    assert_non_null(look(root, "/results/fit/clearance_min"));
    json_decref(root);
}

static void
writes_a_check_with_value_limits_and_what_it_rests_on(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    job_init(&job);
    job.units = UNITS_METRIC;
    job.state[FIELD_pin_diameter] = FIELD_GIVEN;
    job.state[FIELD_boss_length] = FIELD_ASSUMED;
    empty_report(CALL_strength, &report);
    struct finding *finding = &report.finding[check_index("boss_pressure")];
    finding_ceiling(finding, 6.8e6, 9.0e6, 10.0e6);
    finding_advise(finding, "Make it {0} or {a}.");
    finding_advise_value(finding, 0, 0.04, DIMENSION_LENGTH);
    finding_advise_word(finding, 0, "harder");
    json_t *root = written(&job, &report);
    json_t *check = entry_of(look(root, "/checks"), "boss_pressure");
    assert_non_null(check);
    assert_string_equal(look_text(check, "/section"), "strength");
    assert_string_equal(look_text(check, "/verdict"), "ok");
    assert_close(look_number(check, "/value/value"), 6.8, 1e-12);
    assert_close(look_number(check, "/advised/value"), 9.0, 1e-12);
    assert_close(look_number(check, "/limit/value"), 10.0, 1e-12);
    assert_string_equal(look_text(check, "/limit/unit"), "MPa");
    assert_close(look_number(check, "/utilization"), 0.68, 1e-12); /* demand / limit */
    assert_string_equal(look_text(check, "/reads/0"), "/pin/diameter");
    assert_int_equal(json_array_size(look(check, "/reads")), 2);
    assert_int_equal(json_array_size(look(check, "/assumed")), 1);
    assert_string_equal(look_text(check, "/assumed/0"), "/boss/length");
    assert_string_equal(look_text(check, "/advice"), "Make it 40 mm or harder.");
    assert_string_equal(look_text(check, "/basis"), check_row(check_index("boss_pressure"))->basis);
    assert_non_null(look(check, "/source"));
    json_decref(root);
}

static void
a_two_sided_check_has_pairs_of_limits(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    job_init(&job);
    job.units = UNITS_METRIC;
    empty_report(CALL_fit, &report);
    struct finding *finding = &report.finding[check_index("clearance_cold")];
    *finding = (struct finding){.judged = true,
                                .two_sided = true,
                                .has_value = true,
                                .has_limits = true,
                                .has_utilization = true,
                                .value = 1e-5,
                                .value_high = 3e-5,
                                .limit_low = 0.0,
                                .limit_high = 6e-5,
                                .advised_low = 1e-5,
                                .advised_high = 4e-5,
                                .utilization = 0.5};
    json_t *root = written(&job, &report);
    json_t *check = entry_of(look(root, "/checks"), "clearance_cold");
    assert_close(look_number(check, "/value/min/value"), 0.01, 1e-12);
    assert_close(look_number(check, "/value/max/value"), 0.03, 1e-12);
    assert_close(look_number(check, "/limit_high/value"), 0.06, 1e-12);
    assert_close(look_number(check, "/advised_low/value"), 0.01, 1e-12);
    assert_non_null(look(check, "/limit_low"));
    assert_non_null(look(check, "/advised_high"));
    assert_null(look(check, "/limit"));
    assert_null(look(check, "/advised"));
    json_decref(root);
}

static void
a_check_of_words_has_no_numbers(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    job_init(&job);
    empty_report(CALL_material, &report);
    report.finding[check_index("steel_suits")] = (struct finding){.judged = true, .verdict = VERDICT_MARGINAL};
    json_t *root = written(&job, &report);
    json_t *check = entry_of(look(root, "/checks"), "steel_suits");
    assert_string_equal(look_text(check, "/verdict"), "marginal");
    assert_null(look(check, "/value"));
    assert_null(look(check, "/limit"));
    assert_null(look(check, "/utilization"));
    json_decref(root);
}

/* Any one list of `needs` would do: one of three pressures, each with what else
 * is missing. */
static void
says_what_a_check_needs_as_ways_any_of_which_would_do(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    job_init(&job);
    job.state[FIELD_engine_stroke] = FIELD_GIVEN;
    job.state[FIELD_engine_speed] = FIELD_GIVEN;
    empty_report(CALL_load, &report);
    json_t *root = written(&job, &report);
    json_t *entry = entry_of(look(root, "/not_checked"), "load_reverses");
    assert_non_null(entry);
    json_t *needs = look(entry, "/needs");
    assert_int_equal(json_array_size(needs), 3);
    for (size_t i = 0; i < 3; i++) {
        assert_int_equal(json_array_size(json_array_get(needs, i)), 2);
        assert_string_equal(json_string_value(json_array_get(json_array_get(needs, i), 0)), "/engine/bore");
    }
    assert_string_equal(look_text(needs, "/0/1"), "/engine/peak_pressure");
    assert_string_equal(look_text(needs, "/1/1"), "/engine/compression_pressure");
    assert_string_equal(look_text(needs, "/2/1"), "/engine/compression_ratio");
    assert_null(look(entry, "/because"));
    json_decref(root);
}

static void
says_why_a_check_does_not_apply(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    job_init(&job);
    empty_report(CALL_strength, &report);
    finding_not_applicable(&report.finding[check_index("ovalization")], "the pin is solid");
    json_t *root = written(&job, &report);
    json_t *entry = entry_of(look(root, "/not_checked"), "ovalization");
    assert_string_equal(look_text(entry, "/because"), "the pin is solid");
    assert_int_equal(json_array_size(look(entry, "/needs")), 0);
    json_decref(root);
}

/* However many alternatives there are, the answer stays readable. */
static void
the_ways_of_a_check_are_bounded(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    job_init(&job);
    empty_report(CALL_check, &report);
    json_t *root = written(&job, &report);
    json_t *list = look(root, "/not_checked");
    size_t asked = 1; /* the rubbing speed, a result that needs more than its section */
    for (size_t i = 0; i < check_count(); i++) {
        asked += (call_row(CALL_check)->sections >> check_row(i)->section) & 1u;
    }
    assert_int_equal(json_array_size(list), asked);
    for (size_t i = 0; i < json_array_size(list); i++) {
        assert_true(json_array_size(look(json_array_get(list, i), "/needs")) <= 12);
    }
    json_decref(root);
}

static void
writes_assumptions_next_steps_and_cautions(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    job_init(&job);
    empty_report(CALL_check, &report);
    report.assumption_count = 3;
    report.assumption[0] = (struct assumption){.at = FIELD_units, .kind = ASSUMED_WORD, .word = "inch"};
    report.assumption[0].because.text = "none was named";
    report.assumption[1] = (struct assumption){
        .at = FIELD_engine_rod_length, .kind = ASSUMED_QUANTITY, .si = 0.508, .dimension = DIMENSION_LENGTH};
    report.assumption[1].because.text = "{a} strokes";
    report.assumption[1].because.word[0] = "2.25";
    report.assumption[2] = (struct assumption){.at = FIELD_pin_steel, .kind = ASSUMED_NOTHING};
    report.assumption[2].because.text = "why not";
    report.next_step_count = 2;
    report.next_step[0] =
        (struct next_step){.text = {.text = "Cut less."}, .at = FIELD_slot_depth, .has_to = true, .to = 0.00254};
    report.next_step[1] = (struct next_step){.text = {.text = "Go on."}, .at = FIELD_NONE};
    report.caution_count = 1;
    report.caution[0] = "Mind the flywheel.";
    json_t *root = written(&job, &report);
    assert_string_equal(look_text(root, "/assumptions/0/at"), "/units");
    assert_string_equal(look_text(root, "/assumptions/0/value"), "inch");
    assert_close(look_number(root, "/assumptions/1/value/value"), 20.0, 1e-12); /* 0.508 m, exact */
    assert_string_equal(look_text(root, "/assumptions/1/because"), "2.25 strokes");
    assert_null(look(root, "/assumptions/2/value"));
    assert_string_equal(look_text(root, "/next_steps/0/at"), "/slot/depth");
    assert_close(look_number(root, "/next_steps/0/to/value"), 0.1, 1e-12);
    assert_null(look(root, "/next_steps/1/at"));
    assert_null(look(root, "/next_steps/1/to"));
    assert_string_equal(look_text(root, "/cautions/0"), "Mind the flywheel.");
    json_decref(root);
}

static void
a_number_that_is_not_finite_stops_the_answer(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    const struct report_curves none = {NULL, 0};
    job_init(&job);
    empty_report(CALL_check, &report);
    assert_true(report_is_finite(&report));
    report.result[RESULT_load_pin_load_max] = (struct result_value){.known = true, .si = (double)NAN};
    assert_false(report_is_finite(&report));
    struct buffer out;
    buffer_init(&out);
    assert_false(report_write(&out, &job, &report, &none));
    buffer_clear(&out);
    empty_report(CALL_check, &report);
    report.finding[0].judged = true;
    report.finding[0].utilization = (double)INFINITY;
    assert_false(report_is_finite(&report));
    empty_report(CALL_check, &report);
    report.summary.value[2].si = (double)NAN;
    assert_false(report_is_finite(&report));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(writes_the_members_of_the_contract_in_order),
        cmocka_unit_test(leaves_out_a_label_that_was_not_given),
        cmocka_unit_test(rounds_to_seven_significant_digits),
        cmocka_unit_test(writes_results_in_the_documents_units),
        cmocka_unit_test(writes_only_the_sections_of_the_call),
        cmocka_unit_test(writes_a_check_with_value_limits_and_what_it_rests_on),
        cmocka_unit_test(a_two_sided_check_has_pairs_of_limits),
        cmocka_unit_test(a_check_of_words_has_no_numbers),
        cmocka_unit_test(says_what_a_check_needs_as_ways_any_of_which_would_do),
        cmocka_unit_test(says_why_a_check_does_not_apply),
        cmocka_unit_test(the_ways_of_a_check_are_bounded),
        cmocka_unit_test(writes_assumptions_next_steps_and_cautions),
        cmocka_unit_test(a_number_that_is_not_finite_stops_the_answer),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
