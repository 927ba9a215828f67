#include "support/close.h"
#include "support/job_sample.h"

#include <string.h>

#include "joint/check.h"
#include "joint/joint.h"
#include "joint/turning.h"

/*
 * The turning section through the core's public call. Expected figures are
 * worked by hand from the rules in turning.h (common practice, no source) and
 * the speeds printed in the Ferrous Metals Data Book.
 */

#define PI 3.14159265358979323846

static const double inch_m = 0.0254;
static const double ft_min_m_s = 0.3048 / 60.0;
static const double rpm_rad_s = 2.0 * PI / 60.0;

/* 1 1/4 in pin, 4 in long, of 1144: 170 ft/min printed. */
static void
start(struct job *job)
{
    job_init(job);
    set_diameter(job, 1.2490 * inch_m, 1.2500 * inch_m);
    SET(job, pin, length, length_m, 4.0 * inch_m);
    SET(job, pin, finish, finish, CHOICE_finish_TURNED);
    set_steel(job, "1144-cd");
}

static void
give_stock(struct job *job, double diameter_in)
{
    SET(job, turning, stock_diameter, stock_diameter_m, diameter_in * inch_m);
}

static void
give_speeds(struct job *job, const double rpm[], size_t count)
{
    job->state[FIELD_turning_spindle_speeds] = FIELD_GIVEN;
    job->turning.spindle_speeds_count = count;
    for (size_t i = 0; i < count; i++) {
        job->turning.spindle_speeds_rad_s[i] = rpm[i] * rpm_rad_s;
    }
}

static void
give_taper(struct job *job, double amount_in, double over_in)
{
    SET(job, machine_taper, amount, amount_m, amount_in * inch_m);
    SET(job, machine_taper, over, over_m, over_in * inch_m);
}

/* The report of a job, which is completed and must be valid. */
static void
run(struct job *job, struct report *report)
{
    struct fault_list faults;

    fault_list_init(&faults);
    job_complete(job);
    job_validate(job, &faults);
    assert_int_equal(faults.count, 0);
    joint_run(job, CALL_turning, report);
    assert_null(report->defect);
}

static double
result_in(const struct report *report, enum result result)
{
    assert_true(report->result[result].known);
    return report->result[result].si / inch_m;
}

static const struct finding *
stock_finding(const struct report *report)
{
    return &report->finding[check_index("stock_enough")];
}

static bool
says(const struct report *report, const char *part)
{
    for (size_t i = 0; i < report->next_step_count; i++) {
        if (strstr(report->next_step[i].text.text, part) != NULL) {
            return true;
        }
    }
    return false;
}

/* ---- the bar ---- */

/* 1.2495 in + 0.060 in: 1 5/16 in; 4 in + 2/16 + 1/8 + 1 in to saw off. */
static void
buys_the_next_bar_that_clears_the_skin(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    run(&job, &report);
    assert_close(result_in(&report, RESULT_turning_finish_diameter), 1.2495, 1e-9);
    assert_close(result_in(&report, RESULT_turning_blank_diameter), 1.3125, 1e-9);
    assert_close(result_in(&report, RESULT_turning_blank_length), 5.25, 1e-9);
    assert_int_equal(report.verdict, VERDICT_OK);
    assert_true(report.assumption_count > 0);
}

static void
works_in_metric_sizes_for_a_metric_document(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    job.units = UNITS_METRIC;
    set_diameter(&job, 0.034984, 0.035);
    SET(&job, pin, length, length_m, 0.124);
    run(&job, &report);
    assert_close(report.result[RESULT_turning_blank_diameter].si, 0.038, 1e-9);
    assert_close(report.result[RESULT_turning_blank_length].si, 0.155, 1e-9);
    assert_close(report.result[RESULT_turning_turn_to].si, 0.035012, 1e-9);
}

/* Limits of the check, from its rule: 0.060 in advised; 4 x 0.005 + 0.00075 in
 * needed to polish, 4 x 0.005 + 0.012 in to grind. */
static void
judges_the_stock_by_what_comes_off_it(void **state)
{
    (void)state;
    static const struct {
        double over_in;
        int finish;
        enum verdict verdict;
    } cases[] = {
        {0.0601, CHOICE_finish_TURNED, VERDICT_OK},       {0.0599, CHOICE_finish_TURNED, VERDICT_MARGINAL},
        {0.0208, CHOICE_finish_TURNED, VERDICT_MARGINAL}, {0.0207, CHOICE_finish_TURNED, VERDICT_FAILS},
        {0.0321, CHOICE_finish_GROUND, VERDICT_MARGINAL}, {0.0319, CHOICE_finish_GROUND, VERDICT_FAILS},
        {-0.010, CHOICE_finish_GROUND, VERDICT_FAILS},
    };

    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct job job;
        struct report report;
        start(&job);
        job.pin.finish = cases[i].finish;
        give_stock(&job, 1.2495 + cases[i].over_in);
        run(&job, &report);
        assert_true(stock_finding(&report)->judged);
        assert_int_equal(stock_finding(&report)->verdict, cases[i].verdict);
        assert_int_equal(report.verdict, cases[i].verdict);
    }
}

static void
names_the_bar_to_take_instead_and_plans_no_cut(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    give_stock(&job, 1.2550);
    run(&job, &report);
    assert_int_equal(report.verdict, VERDICT_FAILS);
    assert_int_equal(report.next_step[0].at, FIELD_turning_stock_diameter);
    assert_true(report.next_step[0].has_to);
    assert_close(report.next_step[0].to / inch_m, 1.3125, 1e-9);
    assert_int_equal(report.pass_count, 0);
    assert_int_equal(report.next_step_count, 1);
}

/* 4 in + 2 x 1/16 in at the least, 5 1/4 in with parting and grip. */
static void
judges_the_length_where_it_is_given(void **state)
{
    (void)state;
    static const struct {
        double length_in;
        enum verdict verdict;
    } cases[] = {{5.26, VERDICT_OK}, {5.24, VERDICT_MARGINAL}, {4.13, VERDICT_MARGINAL}, {4.12, VERDICT_FAILS}};

    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct job job;
        struct report report;
        start(&job);
        SET(&job, turning, stock_length, stock_length_m, cases[i].length_in * inch_m);
        run(&job, &report);
        assert_int_equal(report.verdict, cases[i].verdict);
        if (cases[i].verdict != VERDICT_OK) {
            assert_close(stock_finding(&report)->value / inch_m, cases[i].length_in, 1e-9);
            assert_int_equal(stock_finding(&report)->fix, FIELD_turning_stock_length);
        }
    }
}

/* A bar too thin fails even where the pin's length was taken from the bore. */
static void
does_not_excuse_a_thin_bar_by_an_assumed_length(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    DROP(&job, pin, length);
    SET(&job, engine, bore, bore_m, 5.0 * inch_m);
    give_stock(&job, 1.2550);
    run(&job, &report);
    assert_int_equal(report.verdict, VERDICT_FAILS);
}

static void
has_nothing_to_turn_where_the_bar_is_at_size(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    job.pin.finish = CHOICE_finish_GROUND;
    give_stock(&job, 1.2496);
    run(&job, &report);
    assert_int_equal(report.verdict, VERDICT_OK);
    assert_int_equal(report.pass_count, 0);
    assert_close(result_in(&report, RESULT_turning_blank_length), 4.125, 1e-9);

    start(&job);
    job.pin.finish = CHOICE_finish_DRAWN;
    run(&job, &report);
    assert_int_equal(report.verdict, VERDICT_OK);
    assert_int_equal(report.pass_count, 0);
}

/* ---- the cuts ---- */

/* 1 1/2 in bar to 1.2495 + 0.00075 = 1.25025 in: 0.124875 in on the radius, of
 * which 0.010 in to finish; four cuts of 0.028 in (0.0287 in whole lines of the
 * dial), the two finishing cuts share the rest. */
static void
shares_the_radius_out_in_whole_lines_of_the_dial(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    give_stock(&job, 1.5);
    SET(&job, turning, dial, dial, CHOICE_dial_RADIUS);
    run(&job, &report);
    assert_int_equal(report.pass_count, 6);
    assert_close(report.result[RESULT_turning_rough_passes].si, 4.0, 1e-9);
    for (size_t i = 0; i < 4; i++) {
        assert_string_equal(report.pass[i].purpose, "rough");
        assert_close(report.pass[i].depth_m / inch_m, 0.028, 1e-9);
        assert_close(report.pass[i].dial_m / inch_m, 0.028, 1e-9);
        assert_close(report.pass[i].after_m / inch_m, 1.5 - 0.056 * (double)(i + 1), 1e-9);
    }
    assert_string_equal(report.pass[4].purpose, "semi-finish");
    assert_string_equal(report.pass[5].purpose, "finish");
    assert_close(report.pass[4].depth_m / inch_m, (0.124875 - 0.112) / 2.0, 1e-9);
    assert_close(report.pass[5].after_m / inch_m, 1.25025, 1e-9);
}

static void
a_dial_of_diameter_shows_twice_the_depth(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    give_stock(&job, 1.4375);
    SET(&job, turning, dial, dial, CHOICE_dial_DIAMETER);
    run(&job, &report);
    for (size_t i = 0; i < report.pass_count; i++) {
        assert_close(report.pass[i].dial_m, 2.0 * report.pass[i].depth_m, 1e-12);
        assert_close(report.pass[i].before_m - report.pass[i].after_m, report.pass[i].dial_m, 1e-9);
    }
    assert_true(report.pass_count >= 3);
}

/* A small generator of our own, so that a failure can be repeated. */
static double
chance(unsigned long *seed)
{
    *seed = (*seed * 1103515245UL + 12345UL) % 2147483648UL;
    return (double)*seed / 2147483648.0;
}

/* Whatever the job: cuts follow each other without a gap, take what stands
 * between stock and the diameter to turn to, none deeper than allowed, all at a
 * speed the machine has. */
static void
cuts_add_up_to_what_comes_off(void **state)
{
    (void)state;
    static const double speeds_rpm[] = {520.0, 45.0, 190.0, 72.0, 320.0, 115.0};
    unsigned long seed = 20261125UL;
    size_t planned = 0;

    for (int i = 0; i < 2000; i++) {
        struct job job;
        struct report report;
        start(&job);
        job.units = chance(&seed) < 0.5 ? UNITS_INCH : UNITS_METRIC;
        const double size_m = 0.008 + 0.07 * chance(&seed), limit_m = 2e-5 + 2e-3 * chance(&seed);
        set_diameter(&job, size_m, size_m + 2e-5 * chance(&seed));
        SET(&job, turning, depth_of_cut, depth_of_cut_m, limit_m);
        SET(&job, turning, stock_diameter, stock_diameter_m, size_m + 0.02 * chance(&seed));
        job.pin.finish = chance(&seed) < 0.5 ? CHOICE_finish_TURNED : CHOICE_finish_GROUND;
        SET(&job, turning, dial, dial, chance(&seed) < 0.5 ? CHOICE_dial_DIAMETER : CHOICE_dial_RADIUS);
        give_speeds(&job, speeds_rpm, 6);
        run(&job, &report);
        double off_m = 0.0, at_m = job.turning.stock_diameter_m;
        for (size_t k = 0; k < report.pass_count; k++) {
            const struct turning_pass *pass = &report.pass[k];
            bool has = false;
            assert_close(pass->before_m, at_m, 1e-12);
            assert_true(pass->depth_m > 0.0 && pass->depth_m <= limit_m * (1.0 + 1e-9));
            assert_true(pass->feed_m > 0.0 && pass->feed_m <= report.pass[0].feed_m);
            for (size_t n = 0; n < 6; n++) {
                has = has || is_close(pass->spindle_rad_s, speeds_rpm[n] * rpm_rad_s, 1e-12, 0.0);
            }
            assert_true(has);
            off_m += 2.0 * pass->depth_m;
            at_m = pass->after_m;
        }
        if (report.pass_count > 0) {
            planned++;
            assert_close(at_m, report.result[RESULT_turning_turn_to].si, 1e-12);
            assert_close_or(off_m, job.turning.stock_diameter_m - at_m, 0.0, 1e-12);
        }
    }
    assert_true(planned > 1000); /* so that the above says something */
}

static void
a_smaller_bar_or_deeper_cut_never_takes_more_cuts(void **state)
{
    (void)state;
    double before = 1e9;
    for (double depth_in = 0.004; depth_in < 0.2; depth_in *= 1.1) {
        struct job job;
        struct report report;
        start(&job);
        give_stock(&job, 1.75);
        SET(&job, turning, depth_of_cut, depth_of_cut_m, depth_in * inch_m);
        run(&job, &report);
        assert_true(report.result[RESULT_turning_rough_passes].si <= before);
        before = report.result[RESULT_turning_rough_passes].si;
    }
    before = 0.0;
    for (double stock_in = 1.28; stock_in < 2.0; stock_in += 0.01) {
        struct job job;
        struct report report;
        start(&job);
        give_stock(&job, stock_in);
        run(&job, &report);
        assert_true(report.result[RESULT_turning_rough_passes].si >= before);
        before = report.result[RESULT_turning_rough_passes].si;
    }
}

/* More cuts than the list holds are counted, not listed. */
static void
counts_more_cuts_than_it_lists(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    give_stock(&job, 3.0);
    SET(&job, turning, depth_of_cut, depth_of_cut_m, 1.0e-5);
    run(&job, &report);
    assert_int_equal(report.pass_count, 0);
    assert_true(report.result[RESULT_turning_rough_passes].si > PASS_MAX);
    assert_true(says(&report, "give a deeper cut or thinner stock"));
}

/* ---- speeds and feeds ---- */

/* 0.6 x 170 ft/min = 102 ft/min; 1 1/2 in bar: 12 x 102/(pi 1.5) = 259.74
 * rev/min. */
static void
runs_at_six_tenths_of_the_printed_speed(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    give_stock(&job, 1.5);
    run(&job, &report);
    assert_close(report.result[RESULT_turning_printed_cutting_speed].si / ft_min_m_s, 170.0, 1e-9);
    assert_close(report.result[RESULT_turning_cutting_speed].si / ft_min_m_s, 102.0, 1e-9);
    assert_close(report.result[RESULT_turning_spindle_speed].si / rpm_rad_s, 259.7409, 1e-6);
    assert_close(report.pass[0].spindle_rad_s / rpm_rad_s, 259.7409, 1e-6);
}

static void
takes_the_fastest_of_the_machines_speeds_that_is_not_above(void **state)
{
    (void)state;
    static const double rpm[] = {520.0, 45.0, 190.0, 259.0, 261.0, 320.0};
    struct job job;
    struct report report;
    start(&job);
    give_stock(&job, 1.5);
    give_speeds(&job, rpm, 6);
    run(&job, &report);
    assert_close(report.pass[0].spindle_rad_s / rpm_rad_s, 259.0, 1e-9);
}

static void
takes_the_slowest_where_all_are_too_fast_and_says_so(void **state)
{
    (void)state;
    static const double rpm[] = {900.0, 600.0, 1200.0};
    struct job job;
    struct report report;
    start(&job);
    give_speeds(&job, rpm, 3);
    run(&job, &report);
    assert_close(report.pass[0].spindle_rad_s / rpm_rad_s, 600.0, 1e-9);
    assert_true(says(&report, "back gear"));
}

static void
a_smaller_diameter_never_turns_slower(void **state)
{
    (void)state;
    static const double rpm[] = {45.0, 72.0, 115.0, 190.0, 320.0, 520.0};
    for (int own = 0; own <= 1; own++) {
        struct job job;
        struct report report;
        start(&job);
        give_stock(&job, 2.0);
        if (own) {
            give_speeds(&job, rpm, 6);
        }
        run(&job, &report);
        assert_true(report.pass_count > 6);
        for (size_t i = 1; i < report.pass_count; i++) {
            assert_true(report.pass[i].spindle_rad_s >= report.pass[i - 1].spindle_rad_s);
        }
    }
}

static void
plans_the_cuts_without_speeds_where_the_steel_is_not_named(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    DROP(&job, pin, steel);
    run(&job, &report);
    assert_false(report.result[RESULT_turning_spindle_speed].known);
    assert_true(report.pass_count > 0);
    assert_true(report.pass[0].spindle_rad_s <= 0.0);
    assert_true(says(&report, "Name the steel"));
}

/* sqrt(32 x 0.8 mm x 0.4 um) = 0.10119 mm a turn. */
static void
finishing_feed_gives_the_wanted_roughness(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    SET(&job, turning, nose_radius, nose_radius_m, 0.8e-3);
    SET(&job, turning, roughness, roughness_m, 0.4e-6);
    run(&job, &report);
    assert_close(report.result[RESULT_turning_finish_feed].si, 0.10119288e-3, 1e-7);
    assert_close(report.result[RESULT_turning_roughness].si, 0.4e-6, 1e-9);
    assert_close(report.pass[report.pass_count - 1].feed_m, 0.10119288e-3, 1e-7);
}

/* Judgement: no finer than 0.002 in a turn, no coarser than roughing, roughing
 * at half the nose radius at most. */
static void
finishing_feed_stays_between_rubbing_and_roughing(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    SET(&job, turning, roughness, roughness_m, 1e-8);
    run(&job, &report);
    assert_close(result_in(&report, RESULT_turning_finish_feed), 0.002, 1e-9);
    assert_true(report.result[RESULT_turning_roughness].si > 1e-8);
    assert_true(says(&report, "hone a larger nose"));

    start(&job);
    SET(&job, turning, roughness, roughness_m, 1e-4);
    run(&job, &report);
    assert_close(result_in(&report, RESULT_turning_finish_feed), 0.007, 1e-9);

    start(&job);
    SET(&job, turning, nose_radius, nose_radius_m, 0.002 * inch_m);
    run(&job, &report);
    assert_close(result_in(&report, RESULT_turning_feed), 0.001, 1e-9);
    assert_true(result_in(&report, RESULT_turning_finish_feed) <= 0.001);
}

static void
leaves_a_grinding_allowance_on_what_is_hardened_later(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    run(&job, &report);
    assert_close(result_in(&report, RESULT_turning_finishing_allowance), 0.00075, 1e-9);
    start(&job);
    set_steel(&job, "8620-carb");
    run(&job, &report);
    assert_close(result_in(&report, RESULT_turning_finishing_allowance), 0.012, 1e-9);
    start(&job);
    SET(&job, pin, hardness, hardness_number, 58.0);
    run(&job, &report);
    assert_close(result_in(&report, RESULT_turning_turn_to), 1.2495 + 0.012, 1e-9);
}

/* ---- taper ---- */

/* 0.0012 in over 3.5 in, 7 in between centers: 0.0012 in toward the operator
 * (derived); over a 4 in pin 0.00137143 in. */
static void
sets_the_tailstock_over_toward_the_larger_end(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    give_taper(&job, 0.0012, 3.5);
    SET(&job, turning, between_centres, between_centres_m, 7.0 * inch_m);
    run(&job, &report);
    assert_close(result_in(&report, RESULT_turning_tailstock_offset), 0.0012, 1e-9);
    assert_close(result_in(&report, RESULT_turning_taper_correction), -0.0012 / 3.5 * 4.0, 1e-9);
    assert_true(says(&report, "toward the operator"));
    job.machine_taper.amount_m = -job.machine_taper.amount_m;
    run(&job, &report);
    assert_close(result_in(&report, RESULT_turning_tailstock_offset), -0.0012, 1e-9);
    assert_true(says(&report, "away from the operator"));
}

/* Without a distance between centers the dial follows: the whole taper on a dial
 * of diameter, half of it on one of radius. */
static void
follows_the_taper_with_the_dial_where_centers_are_not_given(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    give_taper(&job, 0.0035, 3.5);
    run(&job, &report);
    assert_close(result_in(&report, RESULT_turning_dial_correction), 0.004, 1e-9);
    assert_false(report.result[RESULT_turning_tailstock_offset].known);
    assert_true(says(&report, "further in"));
    SET(&job, turning, dial, dial, CHOICE_dial_RADIUS);
    job.machine_taper.amount_m = -job.machine_taper.amount_m;
    run(&job, &report);
    assert_close(result_in(&report, RESULT_turning_dial_correction), -0.002, 1e-9);
    assert_true(says(&report, "further out"));
}

/* Half the width of the limits, 0.0005 in here, is left alone (judgement). */
static void
leaves_a_taper_alone_that_the_limits_allow(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    give_taper(&job, 0.00049, 4.0);
    run(&job, &report);
    assert_true(says(&report, "leave the tailstock alone"));
    give_taper(&job, 0.00051, 4.0);
    run(&job, &report);
    assert_false(says(&report, "leave the tailstock alone"));
}

static void
leaves_alone_a_lathe_that_turns_parallel(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    give_taper(&job, 0.0, 4.0);
    run(&job, &report);
    assert_true(says(&report, "turns parallel"));
    assert_false(says(&report, "makes {0}"));
}

/* ---- grinding ---- */

/* Two limits that are one size are no range to work in. */
static void
grinds_down_to_a_single_size(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    job.pin.finish = CHOICE_finish_GROUND;
    run(&job, &report);
    assert_true(says(&report, "from {12:} is right"));
    job.pin.diameter.min_m = job.pin.diameter.max_m;
    run(&job, &report);
    assert_true(says(&report, "with light passes, down to {1.}"));
    assert_false(says(&report, "from {12:} is right"));
    SET(&job, pin, hardness, hardness_number, 58.0);
    job.pin.hardness_scale = CHOICE_hardness_scale_HRC;
    run(&job, &report);
    assert_true(says(&report, "Harden it"));
    assert_false(says(&report, "from {12:} is right"));
}

/* ---- slot ---- */

/* 1/2 in ball nose, 0.100 in deep: 4 cuts of 0.025 in; at the full depth it cuts
 * at 0.4 in (exact geometry), so 12 x 102/(pi 0.4) = 974.03 rev/min. */
static void
mills_the_slot_at_the_diameter_that_cuts(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    SET(&job, slot, depth, depth_m, 0.100 * inch_m);
    SET(&job, slot, cutter_diameter, cutter_diameter_m, 0.5 * inch_m);
    SET(&job, turning, tool, tool, CHOICE_tool_CARBIDE); /* of the lathe, not of the mill */
    run(&job, &report);
    assert_int_equal(report.slot_pass_count, 4);
    for (size_t i = 0; i < 4; i++) {
        const struct slot_pass *pass = &report.slot_pass[i];
        assert_close(pass->step_m / inch_m, 0.025, 1e-9);
        assert_close(pass->depth_m / inch_m, 0.025 * (double)(i + 1), 1e-9);
        assert_true(i == 0 || pass->spindle_rad_s < report.slot_pass[i - 1].spindle_rad_s);
    }
    assert_close(report.slot_pass[3].effective_diameter_m / inch_m, 0.4, 1e-9);
    assert_close(report.slot_pass[3].spindle_rad_s / rpm_rad_s, 974.0283, 1e-6);
    assert_close(report.result[RESULT_turning_slot_spindle_speed].si, report.slot_pass[3].spindle_rad_s, 1e-12);
}

/* What the grinder takes off each side is milled in addition, 0.006 in, by the
 * cuts listed as by the step; the cutter then cuts at 2 sqrt(0.106 x 0.394) =
 * 0.408725 in (exact geometry). */
static void
mills_deeper_where_the_surface_is_ground_later(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    job.pin.finish = CHOICE_finish_GROUND;
    SET(&job, slot, depth, depth_m, 0.100 * inch_m);
    SET(&job, slot, cutter_diameter, cutter_diameter_m, 0.5 * inch_m);
    run(&job, &report);
    for (size_t i = 0; i < report.next_step_count; i++) {
        if (report.next_step[i].at == FIELD_slot_depth) {
            const struct slot_pass *last = &report.slot_pass[report.slot_pass_count - 1];
            assert_close(report.next_step[i].text.value[1].si / inch_m, 0.106, 1e-9);
            assert_int_equal(report.slot_pass_count, 4);
            assert_close(last->depth_m / inch_m, 0.106, 1e-9);
            assert_close(last->step_m / inch_m, 0.0265, 1e-9);
            assert_close(last->effective_diameter_m / inch_m, 0.408725, 1e-5);
            return;
        }
    }
    fail_msg("no step mills the slot");
}

/* ---- nothing known ---- */

static void
asks_for_the_diameter_of_the_pin(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    job_init(&job);
    run(&job, &report);
    assert_int_equal(report.verdict, VERDICT_INCOMPLETE);
    assert_int_equal(report.next_step[0].at, FIELD_pin_diameter);
}

/* So shallow that the width of a ball nose's cut underflows: no speed is told,
 * rather than one beyond all numbers. */
static void
a_slot_of_next_to_no_depth_has_no_spindle_speed(void **state)
{
    struct job job;
    struct report report;

    (void)state;
    start(&job);
    SET(&job, slot, depth, depth_m, 1e-320);
    SET(&job, slot, cutter_diameter, cutter_diameter_m, 1e-9);
    run(&job, &report);
    assert_null(report.defect);
    assert_int_equal(report.slot_pass_count, 1);
    assert_false(report.result[RESULT_turning_slot_spindle_speed].known);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(buys_the_next_bar_that_clears_the_skin),
        cmocka_unit_test(works_in_metric_sizes_for_a_metric_document),
        cmocka_unit_test(judges_the_stock_by_what_comes_off_it),
        cmocka_unit_test(names_the_bar_to_take_instead_and_plans_no_cut),
        cmocka_unit_test(judges_the_length_where_it_is_given),
        cmocka_unit_test(does_not_excuse_a_thin_bar_by_an_assumed_length),
        cmocka_unit_test(has_nothing_to_turn_where_the_bar_is_at_size),
        cmocka_unit_test(shares_the_radius_out_in_whole_lines_of_the_dial),
        cmocka_unit_test(a_dial_of_diameter_shows_twice_the_depth),
        cmocka_unit_test(cuts_add_up_to_what_comes_off),
        cmocka_unit_test(a_smaller_bar_or_deeper_cut_never_takes_more_cuts),
        cmocka_unit_test(counts_more_cuts_than_it_lists),
        cmocka_unit_test(runs_at_six_tenths_of_the_printed_speed),
        cmocka_unit_test(takes_the_fastest_of_the_machines_speeds_that_is_not_above),
        cmocka_unit_test(takes_the_slowest_where_all_are_too_fast_and_says_so),
        cmocka_unit_test(a_smaller_diameter_never_turns_slower),
        cmocka_unit_test(plans_the_cuts_without_speeds_where_the_steel_is_not_named),
        cmocka_unit_test(finishing_feed_gives_the_wanted_roughness),
        cmocka_unit_test(finishing_feed_stays_between_rubbing_and_roughing),
        cmocka_unit_test(leaves_a_grinding_allowance_on_what_is_hardened_later),
        cmocka_unit_test(sets_the_tailstock_over_toward_the_larger_end),
        cmocka_unit_test(follows_the_taper_with_the_dial_where_centers_are_not_given),
        cmocka_unit_test(leaves_a_taper_alone_that_the_limits_allow),
        cmocka_unit_test(leaves_alone_a_lathe_that_turns_parallel),
        cmocka_unit_test(grinds_down_to_a_single_size),
        cmocka_unit_test(mills_the_slot_at_the_diameter_that_cuts),
        cmocka_unit_test(a_slot_of_next_to_no_depth_has_no_spindle_speed),
        cmocka_unit_test(mills_deeper_where_the_surface_is_ground_later),
        cmocka_unit_test(asks_for_the_diameter_of_the_pin),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
