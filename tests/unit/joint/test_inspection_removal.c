#include "support/close.h"

#include <string.h>

#include "joint/check.h"
#include "joint/inspection.h"
#include "joint/joint.h"

/* What to take off where: the promises that the plan keeps whatever was read. */

static const double inch_m = 0.0254;
static const double tenth_m = 0.0254e-4;

static void
read_at(struct job *job, double at_in, double size_m)
{
    job->inspection.readings[job->inspection.readings_count++] =
        (struct reading){.has_at = true, .at_m = at_in * inch_m, .size_m = size_m};
    job->state[FIELD_inspection_readings] = FIELD_GIVEN;
}

/* A part of 1.2490 to 1.2495 in, read to a tenth and sure to half of one. */
static void
start(struct job *job, int part)
{
    job_init(job);
    job->inspection.part = part;
    job->inspection.accept = (struct limits){.min_m = 12490.0 * tenth_m, .max_m = 12495.0 * tenth_m};
    job->inspection.uncertainty_m = 0.5 * tenth_m;
    job->state[FIELD_inspection_part] = FIELD_GIVEN;
    job->state[FIELD_inspection_accept] = FIELD_GIVEN;
    job->state[FIELD_inspection_uncertainty] = FIELD_GIVEN;
}

static void
run(struct job *job, struct report *report)
{
    job_complete(job);
    joint_run(job, CALL_inspection, report);
    assert_null(report->defect);
}

static bool
decided(const struct report *report, const char *decision)
{
    return strcmp(report->result[RESULT_inspection_decision].word, decision) == 0;
}

/* Knuth's generator of 64 bits (MMIX), from memory: the same readings each run. */
static double
random_between(uint64_t *seed, double low, double high)
{
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return low + (high - low) * (double)(*seed >> 40) / (double)(1u << 24);
}

/* Three stations of two readings, most of them too large (or a hole too small)
 * by up to a thou and out of round by up to six tenths. */
static void
invent(struct job *job, int part, uint64_t *seed)
{
    const double sign = part == CHOICE_part_HOLE ? -1.0 : 1.0;
    const double above_m = random_between(seed, 0.0, 10.0) * tenth_m,
                 uneven_m = random_between(seed, 0.0, 6.0) * tenth_m;

    start(job, part);
    for (size_t i = 0; i < 6; i++) {
        const double off_m = random_between(seed, 0.0, above_m) + random_between(seed, 0.0, uneven_m);

        read_at(job, 0.5 + (double)(i / 2), 12492.5 * tenth_m + sign * (off_m - 1.9 * tenth_m));
    }
}

/* The readings once done as told: a station that is trued up is round, another
 * as uneven as it was. */
static void
do_as_told(const struct job *job, const struct report *report, struct job *after)
{
    const double sign = job->inspection.part == CHOICE_part_HOLE ? -1.0 : 1.0;

    start(after, job->inspection.part);
    for (size_t i = 0; i < job->inspection.readings_count; i++) {
        const struct station *station = &report->station[i / 2];
        const double size_m = job->inspection.readings[i].size_m;

        read_at(after, 0.5 + (double)(i / 2),
                station->true_up ? station->leave_m : size_m - sign * station->to_remove_m);
    }
}

static void
a_part_reworked_as_told_is_accepted(void **state)
{
    (void)state;
    uint64_t seed = 1;
    size_t reworked = 0, trued = 0;

    for (size_t i = 0; i < 2000; i++) {
        struct job job, after;
        struct report report;

        invent(&job, i % 2 == 0 ? CHOICE_part_PIN : CHOICE_part_HOLE, &seed);
        run(&job, &report);
        if (!decided(&report, "rework")) {
            continue;
        }
        reworked++;
        trued += report.station[0].true_up;
        do_as_told(&job, &report, &after);
        run(&after, &report);
        if (!decided(&report, "accept")) {
            fail_msg("invented part %zu is to %s", i, report.result[RESULT_inspection_decision].word);
        }
    }
    assert_true(reworked > 400);
    assert_true(trued > 100);
}

/* Metal is only ever taken away: what is left is no more than stood there, by
 * what comes off. */
static void
leaves_what_it_says_it_leaves(void **state)
{
    (void)state;
    uint64_t seed = 2;

    for (size_t i = 0; i < 500; i++) {
        struct job job;
        struct report report;

        invent(&job, CHOICE_part_PIN, &seed);
        run(&job, &report);
        for (size_t s = 0; s < report.station_count; s++) {
            const struct station *station = &report.station[s];
            const double from_m = station->true_up ? station->size_max_m : station->size_mean_m;

            assert_true(station->to_remove_m >= 0.0);
            assert_close(station->leave_m, from_m - station->to_remove_m, 1e-12);
            assert_true(!station->true_up || station->leave_m <= station->size_min_m + 1e-12);
            assert_true(decided(&report, "rework") || station->to_remove_m <= 0.0);
        }
    }
}

/* A hole's readings mirrored about the middle of the limits. */
static void
a_hole_is_the_mirror_of_a_pin(void **state)
{
    (void)state;
    uint64_t seed = 3;

    for (size_t i = 0; i < 500; i++) {
        struct job pin, hole;
        struct report of_pin, of_hole;

        invent(&pin, CHOICE_part_PIN, &seed);
        start(&hole, CHOICE_part_HOLE);
        for (size_t r = 0; r < pin.inspection.readings_count; r++) {
            read_at(&hole, 0.5 + (double)(r / 2), 24985.0 * tenth_m - pin.inspection.readings[r].size_m);
        }
        run(&pin, &of_pin);
        run(&hole, &of_hole);
        assert_string_equal(of_pin.result[RESULT_inspection_decision].word,
                            of_hole.result[RESULT_inspection_decision].word);
        for (size_t s = 0; s < of_pin.station_count; s++) {
            assert_close_or(of_hole.station[s].to_remove_m, of_pin.station[s].to_remove_m, 0.0, 1e-9);
        }
    }
}

/* By whole steps of the dial. */
static void
a_part_shifted_with_its_limits_is_judged_alike(void **state)
{
    (void)state;
    uint64_t seed = 4;

    for (size_t i = 0; i < 500; i++) {
        struct job job, shifted;
        struct report report, moved;

        invent(&job, CHOICE_part_PIN, &seed);
        shifted = job;
        shifted.inspection.accept.min_m += 37.0 * tenth_m;
        shifted.inspection.accept.max_m += 37.0 * tenth_m;
        for (size_t r = 0; r < shifted.inspection.readings_count; r++) {
            shifted.inspection.readings[r].size_m += 37.0 * tenth_m;
        }
        run(&job, &report);
        run(&shifted, &moved);
        assert_string_equal(report.result[RESULT_inspection_decision].word,
                            moved.result[RESULT_inspection_decision].word);
        for (size_t s = 0; s < report.station_count; s++) {
            assert_close_or(moved.station[s].to_remove_m, report.station[s].to_remove_m, 0.0, 1e-9);
        }
    }
}

/* 1.2491 and 1.2494 in where half of 0.0005 in is allowed (worked by hand):
 * round at the low side, 1.2491 in, which passes; 0.0003 in less all round would
 * be below the least. */
static void
trues_up_at_the_low_side(void **state)
{
    (void)state;
    struct job job;
    struct report report;

    start(&job, CHOICE_part_PIN);
    read_at(&job, 0.5, 12491.0 * tenth_m);
    read_at(&job, 0.5, 12494.0 * tenth_m);
    run(&job, &report);
    assert_true(decided(&report, "rework"));
    assert_true(report.station[0].true_up);
    assert_close(report.station[0].to_remove_m, 3.0 * tenth_m, 1e-6);
    assert_close(report.station[0].leave_m, 12491.0 * tenth_m, 1e-9);
    assert_string_equal(report.next_step[report.next_step_count - 1].text.word[0], inspection_method_to_true_up(false));
}

/* The readings differ by five tenths, more than the four that the limits leave:
 * as uneven as it is the station passes at no size (worked by hand). */
static void
trues_up_what_would_pass_at_no_size(void **state)
{
    (void)state;
    struct job job;
    struct report report;

    start(&job, CHOICE_part_PIN);
    job.inspection.accept_out_of_round_m = 6.0 * tenth_m;
    job.state[FIELD_inspection_accept_out_of_round] = FIELD_GIVEN;
    read_at(&job, 0.5, 12492.0 * tenth_m);
    read_at(&job, 0.5, 12497.0 * tenth_m);
    run(&job, &report);
    assert_true(decided(&report, "rework"));
    assert_true(report.station[0].true_up);
    assert_close(report.station[0].leave_m, 12492.0 * tenth_m, 1e-9);
}

/* The thin end lies on its limit, within the uncertainty: cutting the thick end
 * would be work on a part that may be scrap. */
static void
settles_doubt_before_cutting(void **state)
{
    (void)state;
    struct job job;
    struct report report;

    start(&job, CHOICE_part_PIN);
    read_at(&job, 0.5, 12510.0 * tenth_m);
    read_at(&job, 3.5, 12490.0 * tenth_m);
    run(&job, &report);
    assert_true(decided(&report, "undecided"));
    assert_close_or(report.station[0].to_remove_m, 0.0, 0.0, 0.0);
    assert_int_equal(report.next_step[0].at, FIELD_inspection_uncertainty);
    assert_non_null(strstr(report.next_step[0].text.text, "{a}"));
    assert_true(strlen(report.next_step[0].text.word[0]) > 0);
}

/* Limits of two tenths and an uncertainty of 1.5: only what lies above by more
 * than that is known to be too large, and comes down to the middle. */
static void
a_coarse_instrument_aims_at_the_middle(void **state)
{
    (void)state;
    struct job job;
    struct report report;

    start(&job, CHOICE_part_PIN);
    job.inspection.accept = (struct limits){.min_m = 12492.0 * tenth_m, .max_m = 12494.0 * tenth_m};
    job.inspection.uncertainty_m = 1.5 * tenth_m;
    read_at(&job, 0.5, 12500.0 * tenth_m);
    run(&job, &report);
    assert_true(decided(&report, "rework"));
    assert_close(report.station[0].leave_m, 12493.0 * tenth_m, 1e-9);
    assert_int_equal(report.next_step[0].at, FIELD_inspection_uncertainty);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_part_reworked_as_told_is_accepted),
        cmocka_unit_test(leaves_what_it_says_it_leaves),
        cmocka_unit_test(a_hole_is_the_mirror_of_a_pin),
        cmocka_unit_test(a_part_shifted_with_its_limits_is_judged_alike),
        cmocka_unit_test(trues_up_at_the_low_side),
        cmocka_unit_test(trues_up_what_would_pass_at_no_size),
        cmocka_unit_test(settles_doubt_before_cutting),
        cmocka_unit_test(a_coarse_instrument_aims_at_the_middle),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
