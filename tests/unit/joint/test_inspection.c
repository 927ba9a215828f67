#include "support/close.h"

#include <string.h>

#include "joint/check.h"
#include "joint/inspection.h"
#include "joint/joint.h"

static const double inch_m = 0.0254;
static const double tenth_m = 0.0254e-4;

static void
give_limits(struct job *job, enum job_field field, struct limits *limits, double min_m, double max_m)
{
    *limits = (struct limits){.min_m = min_m, .max_m = max_m};
    job->state[field] = FIELD_GIVEN;
}

static void
read_at(struct job *job, double at_in, double size_in)
{
    job->inspection.readings[job->inspection.readings_count++] =
        (struct reading){.has_at = true, .at_m = at_in * inch_m, .size_m = size_in * inch_m};
    job->state[FIELD_inspection_readings] = FIELD_GIVEN;
}

static void
give_uncertainty(struct job *job, double uncertainty_m)
{
    job->inspection.uncertainty_m = uncertainty_m;
    job->state[FIELD_inspection_uncertainty] = FIELD_GIVEN;
}

/* A pin of 1.2490 to 1.2495 in, read to half a tenth, and the hole for it. */
static void
start(struct job *job)
{
    job_init(job);
    give_limits(job, FIELD_pin_diameter, &job->pin.diameter, 1.2490 * inch_m, 1.2495 * inch_m);
    give_limits(job, FIELD_running_fit_hole, &job->running_fit.hole, 1.2503 * inch_m, 1.2508 * inch_m);
    give_uncertainty(job, 0.5 * tenth_m);
}

static void
run(struct job *job, struct report *report)
{
    job_complete(job);
    joint_run(job, CALL_inspection, report);
    assert_null(report->defect);
}

static const struct finding *
finding_of(const struct report *report, const char *id)
{
    assert_true(check_index(id) < check_count());
    return &report->finding[check_index(id)];
}

static const char *
decision_of(const struct report *report)
{
    assert_true(report->result[RESULT_inspection_decision].known);
    return report->result[RESULT_inspection_decision].word;
}

static double
result_in(const struct report *report, enum result result)
{
    assert_true(report->result[result].known);
    return report->result[result].si / inch_m;
}

static void
accepts_a_pin_inside_its_limits(void **state)
{
    (void)state;
    struct job job;
    struct report report;

    start(&job);
    read_at(&job, 0.5, 1.2492);
    read_at(&job, 0.5, 1.2493);
    read_at(&job, 3.5, 1.2493);
    run(&job, &report);
    assert_string_equal(decision_of(&report), "accept");
    assert_int_equal(report.verdict, VERDICT_OK);
    assert_close_or(result_in(&report, RESULT_inspection_to_remove), 0.0, 0.0, 0.0);
    /* Worked by hand: 1.2503 - 1.2493 and 1.2508 - 1.2492. */
    assert_close(result_in(&report, RESULT_inspection_clearance_min), 0.0010, 1e-9);
    assert_close(result_in(&report, RESULT_inspection_clearance_max), 0.0016, 1e-9);
    /* Limits kept back by 0.00005 in; utilization (1.2493 - 1.24925) / 0.00025. */
    const struct finding *size = finding_of(&report, "size_in_limits");
    assert_close(size->advised_low / inch_m, 1.24905, 1e-9);
    assert_close(size->advised_high / inch_m, 1.24945, 1e-9);
    assert_close(size->utilization, 0.2, 1e-6);
}

static void
one_reading_is_accepted_for_its_size_alone(void **state)
{
    (void)state;
    struct job job;
    struct report report;

    start(&job);
    read_at(&job, 0.5, 1.2492);
    run(&job, &report);
    assert_string_equal(decision_of(&report), "accept");
    assert_non_null(strstr(report.next_step[0].text.text, "neither taper nor out-of-round"));
    read_at(&job, 3.5, 1.2492);
    read_at(&job, 3.5, 1.2493);
    run(&job, &report);
    assert_null(strstr(report.next_step[0].text.text, "hese readings"));
}

static void
an_undecided_size_does_not_hide_a_form_that_fails(void **state)
{
    (void)state;
    struct job job;
    struct report report;

    start(&job);
    read_at(&job, 0.5, 1.2490);
    read_at(&job, 0.5, 1.2494);
    run(&job, &report);
    assert_string_equal(decision_of(&report), "undecided");
    assert_int_equal(report.verdict, VERDICT_FAILS);
    assert_non_null(strstr(report.summary.text, "{b}"));
    assert_non_null(strstr(report.summary.word[1], "out of round"));
}

/* The four stations worked out in test_measure.c, at 20 degC: taper
 * -3.6e-5 x 3.75 in, out-of-round 0.0003 in, mean 1.2495625 in. */
static void
reports_taper_roundness_and_form(void **state)
{
    (void)state;
    static const double at_in[] = {0.25, 1.5, 2.75, 4.0};
    static const double read_in[][2] = {{1.2498, 1.2497}, {1.2496, 1.2494}, {1.2495, 1.2492}, {1.2497, 1.2496}};
    struct job job;
    struct report report;

    start(&job);
    for (size_t i = 0; i < 4; i++) {
        read_at(&job, at_in[i], read_in[i][0]);
        read_at(&job, at_in[i], read_in[i][1]);
    }
    run(&job, &report);
    assert_int_equal(report.station_count, 4);
    assert_close(result_in(&report, RESULT_inspection_size_min), 1.2492, 1e-9);
    assert_close(result_in(&report, RESULT_inspection_size_max), 1.2498, 1e-9);
    assert_close(result_in(&report, RESULT_inspection_size_mean), 1.2495625, 1e-9);
    assert_close(result_in(&report, RESULT_inspection_taper), -1.35e-4, 1e-5);
    assert_close(result_in(&report, RESULT_inspection_out_of_round), 3e-4, 1e-6);
    assert_string_equal(report.result[RESULT_inspection_form].word, "waist");
    assert_close_or(result_in(&report, RESULT_inspection_correction), 0.0, 0.0, 1e-15);
    assert_int_equal(finding_of(&report, "taper")->verdict, VERDICT_OK);
    /* 0.0003 in where half of 0.0005 in is allowed. */
    assert_int_equal(finding_of(&report, "out_of_round")->verdict, VERDICT_FAILS);
    assert_close(finding_of(&report, "out_of_round")->utilization, 1.2, 1e-6);
    assert_string_equal(decision_of(&report), "rework");
}

static void
says_how_much_to_take_off_where(void **state)
{
    (void)state;
    struct job job;
    struct report report;

    start(&job);
    read_at(&job, 0.5, 1.2510);
    read_at(&job, 3.5, 1.2493);
    run(&job, &report);
    assert_string_equal(decision_of(&report), "rework");
    /* The near end comes down to the far one, which passes. */
    assert_close(report.station[0].to_remove_m / inch_m, 0.0017, 1e-6);
    assert_close_or(report.station[1].to_remove_m, 0.0, 0.0, 0.0);
    assert_close(result_in(&report, RESULT_inspection_to_remove), 0.0017, 1e-6);
    assert_int_equal(finding_of(&report, "size_in_limits")->verdict, VERDICT_MARGINAL);
    /* What the decision rests on leads, and stations follow. */
    assert_ptr_equal(report.next_step[0].text.text, finding_of(&report, "size_in_limits")->advice.text);
    assert_close(report.next_step[report.next_step_count - 1].text.value[0].si / inch_m, 0.0017, 1e-6);
}

/* Property: a part from which the service had metal taken off as it said is
 * accepted, for pin and hole, whatever the readings were. */
static void
what_it_says_makes_the_part_pass(void **state)
{
    (void)state;
    static const double off_in[] = {0.0, 0.0004, 0.0011, 0.0030, 0.0080};

    for (size_t i = 0; i < 25; i++) {
        for (int part = CHOICE_part_PIN; part <= CHOICE_part_HOLE; part++) {
            struct job job, again;
            struct report report;
            const double sign = part == CHOICE_part_HOLE ? -1.0 : 1.0;

            start(&job);
            job.inspection.part = part;
            job.state[FIELD_inspection_part] = FIELD_GIVEN;
            give_limits(&job, FIELD_inspection_accept, &job.inspection.accept, 1.2490 * inch_m, 1.2495 * inch_m);
            again = job;
            read_at(&job, 0.5, 1.24925 + sign * (0.00025 + off_in[i % 5]));
            read_at(&job, 3.5, 1.24925 + sign * off_in[i / 5]);
            run(&job, &report);
            assert_string_equal(decision_of(&report), "rework");
            for (size_t s = 0; s < report.station_count; s++) {
                const struct station *station = &report.station[s];
                read_at(&again, station->at_m / inch_m, (station->size_mean_m - sign * station->to_remove_m) / inch_m);
            }
            run(&again, &report);
            assert_string_equal(decision_of(&report), "accept");
        }
    }
}

static void
rejects_a_thin_pin_and_says_what_it_still_fits(void **state)
{
    (void)state;
    struct job job;
    struct report report;

    start(&job);
    read_at(&job, 0.5, 1.2485);
    read_at(&job, 3.5, 1.2486);
    run(&job, &report);
    assert_string_equal(decision_of(&report), "reject");
    assert_int_equal(report.verdict, VERDICT_FAILS);
    const struct finding *size = finding_of(&report, "size_in_limits");
    assert_int_equal(size->verdict, VERDICT_FAILS);
    /* A bushing honed to suit: 1.2486 + 0.0005 d to 1.2485 + 0.0015 d in, d the
     * mean (common practice, no source). */
    assert_close(size->advice.value[2].si / inch_m, 1.2486 + 0.0005 * 1.24855, 1e-9);
    assert_close(size->advice.value[3].si / inch_m, 1.2485 + 0.0015 * 1.24855, 1e-9);
    assert_int_equal(report.match_count, 1);
    assert_ptr_equal(report.next_step[report.next_step_count - 1].text.word[0], report.match[0].designation);
}

/* Thin at one end and thick at the other: no hole gives both the clearance
 * wanted, so the bushing is told for the pin trued up at 1.2483 in, 0.0005 to
 * 0.0015 of the mean size larger (common practice, no source). */
static void
a_part_that_varies_too_much_is_trued_up_before_its_mate_is_made(void **state)
{
    (void)state;
    struct job job;
    struct report report;

    start(&job);
    read_at(&job, 0.5, 1.2510);
    read_at(&job, 3.5, 1.2483);
    run(&job, &report);
    assert_string_equal(decision_of(&report), "reject");
    const struct finding *size = finding_of(&report, "size_in_limits");
    assert_close(size->advice.value[2].si / inch_m, 1.2483 + 0.0005 * 1.24965, 1e-9);
    assert_close(size->advice.value[3].si / inch_m, 1.2483 + 0.0015 * 1.24965, 1e-9);
    /* What will not go together is near no running fit. */
    assert_int_equal(report.match_count, 0);
    /* A part to be scrapped is not to be cut. */
    assert_null(strstr(finding_of(&report, "taper")->advice.text, "tailstock"));
}

static const struct next_step *
step_at(const struct report *report, enum job_field at)
{
    for (size_t i = 0; i < report->next_step_count; i++) {
        if (report->next_step[i].at == at) {
            return &report->next_step[i];
        }
    }
    return NULL;
}

/* 1.2510 in at 30 degC, 10 K x 11.7e-6 of plain steel: the micrometer at 20
 * degC shows 1.2510 x 1.17e-4 / 1.000117 = 0.00014635 in more (worked by hand). */
static void
tells_what_the_dial_shows_on_a_warm_part(void **state)
{
    (void)state;
    struct job job;
    struct report report;

    start(&job);
    job.inspection.part_temperature_degC = 30.0;
    job.state[FIELD_inspection_part_temperature] = FIELD_GIVEN;
    read_at(&job, 0.5, 1.2510);
    run(&job, &report);
    assert_string_equal(decision_of(&report), "rework");
    const struct next_step *warm = step_at(&report, FIELD_inspection_part_temperature);
    assert_non_null(warm);
    assert_close(warm->text.value[0].si / inch_m, 1.46350e-4, 1e-5);

    start(&job);
    read_at(&job, 0.5, 1.2510);
    run(&job, &report);
    assert_null(step_at(&report, FIELD_inspection_part_temperature));
}

static const struct assumption *
assumed(const struct report *report, enum job_field at)
{
    for (size_t i = 0; i < report->assumption_count; i++) {
        if (report->assumption[i].at == at) {
            return &report->assumption[i];
        }
    }
    return NULL;
}

static void
lists_the_growth_it_assumed(void **state)
{
    (void)state;
    struct job job;
    struct report report;

    /* At 20 degC with a given uncertainty nothing grows. */
    start(&job);
    read_at(&job, 0.5, 1.2493);
    run(&job, &report);
    assert_null(assumed(&report, FIELD_pin_steel));
    assert_null(assumed(&report, FIELD_running_fit_hole_metal));
    assert_non_null(assumed(&report, FIELD_inspection_part_temperature));

    for (int hole = 0; hole < 2; hole++) {
        start(&job);
        job.inspection.part = hole ? CHOICE_part_HOLE : CHOICE_part_PIN;
        job.state[FIELD_inspection_part] = FIELD_GIVEN;
        job.inspection.part_temperature_degC = 30.0;
        job.state[FIELD_inspection_part_temperature] = FIELD_GIVEN;
        read_at(&job, 0.5, hole ? 1.2506 : 1.2493);
        run(&job, &report);
        assert_int_equal(assumed(&report, FIELD_pin_steel) != NULL, !hole);
        assert_int_equal(assumed(&report, FIELD_running_fit_hole_metal) != NULL, hole);
        assert_null(assumed(&report, FIELD_inspection_part_temperature));
    }
}

/* Inside its limits, and yet loose in this worn hole. */
static void
tells_the_clearance_that_an_accepted_part_makes(void **state)
{
    (void)state;
    struct job job;
    struct report report;

    start(&job);
    give_limits(&job, FIELD_running_fit_hole, &job.running_fit.hole, 1.2550 * inch_m, 1.2550 * inch_m);
    read_at(&job, 0.5, 1.2493);
    run(&job, &report);
    assert_string_equal(decision_of(&report), "accept");
    const struct next_step *last = &report.next_step[report.next_step_count - 1];
    assert_close(last->text.value[0].si / inch_m, 0.0057, 1e-6);
    /* Worn beyond 0.003 of the size (judgement). */
    assert_string_equal(last->text.word[1], "worn out, do not run it");
}

static void
a_hole_is_rejected_large_and_reworked_small(void **state)
{
    (void)state;
    struct job job;
    struct report report;

    for (int large = 0; large < 2; large++) {
        start(&job);
        job.inspection.part = CHOICE_part_HOLE;
        job.state[FIELD_inspection_part] = FIELD_GIVEN;
        read_at(&job, 0.5, large ? 1.2515 : 1.2500);
        run(&job, &report);
        assert_string_equal(decision_of(&report), large ? "reject" : "rework");
        assert_true(report.station[0].to_remove_m > 0.0 || large);
        /* Smallest hole less largest pin. */
        assert_close(result_in(&report, RESULT_inspection_clearance_min), (large ? 1.2515 : 1.2500) - 1.2495, 1e-6);
    }
}

static void
leaves_the_doubtful_undecided(void **state)
{
    (void)state;
    struct job job;
    struct report report;

    start(&job);
    read_at(&job, 0.5, 1.2490);
    run(&job, &report);
    assert_string_equal(decision_of(&report), "undecided");
    assert_int_equal(report.verdict, VERDICT_MARGINAL);

    /* Half the width of the limits is 0.00025 in. */
    start(&job);
    give_uncertainty(&job, 2.5 * tenth_m);
    read_at(&job, 0.5, 1.24925);
    run(&job, &report);
    assert_string_equal(decision_of(&report), "undecided");
    assert_int_equal(finding_of(&report, "size_in_limits")->fix, FIELD_inspection_uncertainty);
}

static void
one_reading_says_nothing_of_form(void **state)
{
    (void)state;
    struct job job;
    struct report report;

    start(&job);
    read_at(&job, 0.5, 1.2493);
    run(&job, &report);
    assert_non_null(finding_of(&report, "taper")->not_applicable);
    assert_non_null(finding_of(&report, "out_of_round")->not_applicable);
    assert_false(report.result[RESULT_inspection_taper].known);
    assert_false(report.result[RESULT_inspection_form].known);
    assert_string_equal(decision_of(&report), "accept");
}

static void
a_limit_of_zero_is_allowed(void **state)
{
    (void)state;
    struct job job;
    struct report report;

    start(&job);
    job.inspection.accept_taper_m = 0.0;
    job.state[FIELD_inspection_accept_taper] = FIELD_GIVEN;
    read_at(&job, 0.5, 1.2493);
    read_at(&job, 3.5, 1.2493);
    run(&job, &report);
    assert_int_equal(finding_of(&report, "taper")->verdict, VERDICT_OK);
    start(&job);
    job.inspection.accept_taper_m = 0.0;
    job.state[FIELD_inspection_accept_taper] = FIELD_GIVEN;
    read_at(&job, 0.5, 1.2493);
    read_at(&job, 3.5, 1.2494);
    run(&job, &report);
    assert_int_equal(finding_of(&report, "taper")->verdict, VERDICT_FAILS);
    assert_string_equal(decision_of(&report), "rework");
}

/* 38 mm read at 40 degC with plain steel and an instrument at 20 degC:
 * -8.88992 um (worked out by hand, 11.7 um/m/K). */
static void
corrects_a_warm_reading(void **state)
{
    (void)state;
    struct job job;
    struct report report;

    job_init(&job);
    job.inspection.part_temperature_degC = 40.0;
    job.state[FIELD_inspection_part_temperature] = FIELD_GIVEN;
    read_at(&job, 0.5, 38.0e-3 / inch_m);
    run(&job, &report);
    assert_close(report.result[RESULT_inspection_correction].si, -8.889919758779286e-6, 1e-5);
    assert_close(report.result[RESULT_inspection_size_mean].si, 37.99111008024122e-3, 1e-8);
    assert_false(report.result[RESULT_inspection_decision].known);
    assert_int_equal(report.verdict, VERDICT_INCOMPLETE);
}

static void
works_the_uncertainty_out_where_none_is_given(void **state)
{
    (void)state;
    struct job job;

    job_init(&job);
    read_at(&job, 0.5, 1.25);
    job_complete(&job);
    /* GUM: 28.8675, 57.7350 and 1.25 in x 11.7e-6 x 2 K / sqrt 3 = 16.8875 uin,
     * together 66.7222 uin, k = 2. */
    assert_close(job.inspection.uncertainty_m / inch_m, 1.334444e-4, 1e-5);
    assert_int_equal(job.state[FIELD_inspection_uncertainty], FIELD_ASSUMED);
    assert_int_equal(job.state[FIELD_inspection_accept], FIELD_ABSENT);
    /* 60 mm: a micrometer of 50 to 100 mm may be 5 um out [ISO 3611 before 2010,
     * from memory]; 0.288675, 2.886751, 0.810600 um together, k = 2 (GUM) */
    job_init(&job);
    job.units = UNITS_METRIC;
    read_at(&job, 0.5, 60.0 / 25.4);
    job_complete(&job);
    assert_close(job.inspection.uncertainty_m, 6.024529e-6, 1e-5);
}

/* A bare size names no limits to accept a part by. */
static void
takes_no_limits_from_a_bare_size(void **state)
{
    (void)state;
    struct job job;
    struct report report;

    job_init(&job);
    give_limits(&job, FIELD_pin_diameter, &job.pin.diameter, 1.25 * inch_m, 1.25 * inch_m);
    read_at(&job, 0.5, 1.25);
    run(&job, &report);
    assert_int_equal(job.state[FIELD_inspection_accept], FIELD_ABSENT);
    assert_false(finding_of(&report, "size_in_limits")->judged);
    assert_true(report.next_step_count > 0);
    assert_int_equal(report.next_step[0].at, FIELD_inspection_accept);
}

/* Common practice, no source. */
static void
method_follows_the_amount(void **state)
{
    (void)state;
    static const double thou_m = 0.0254e-3;
    const double amounts[] = {6.0, 2.0, 0.5, 0.2};

    for (size_t i = 0; i < 4; i++) {
        for (size_t j = 0; j < i; j++) {
            assert_string_not_equal(inspection_method(false, amounts[i] * thou_m),
                                    inspection_method(false, amounts[j] * thou_m));
            assert_string_not_equal(inspection_method(true, amounts[i] * thou_m),
                                    inspection_method(true, amounts[j] * thou_m));
        }
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(accepts_a_pin_inside_its_limits),
        cmocka_unit_test(one_reading_is_accepted_for_its_size_alone),
        cmocka_unit_test(an_undecided_size_does_not_hide_a_form_that_fails),
        cmocka_unit_test(reports_taper_roundness_and_form),
        cmocka_unit_test(says_how_much_to_take_off_where),
        cmocka_unit_test(what_it_says_makes_the_part_pass),
        cmocka_unit_test(rejects_a_thin_pin_and_says_what_it_still_fits),
        cmocka_unit_test(a_part_that_varies_too_much_is_trued_up_before_its_mate_is_made),
        cmocka_unit_test(tells_what_the_dial_shows_on_a_warm_part),
        cmocka_unit_test(lists_the_growth_it_assumed),
        cmocka_unit_test(tells_the_clearance_that_an_accepted_part_makes),
        cmocka_unit_test(a_hole_is_rejected_large_and_reworked_small),
        cmocka_unit_test(leaves_the_doubtful_undecided),
        cmocka_unit_test(one_reading_says_nothing_of_form),
        cmocka_unit_test(a_limit_of_zero_is_allowed),
        cmocka_unit_test(corrects_a_warm_reading),
        cmocka_unit_test(works_the_uncertainty_out_where_none_is_given),
        cmocka_unit_test(takes_no_limits_from_a_bare_size),
        cmocka_unit_test(method_follows_the_amount),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
