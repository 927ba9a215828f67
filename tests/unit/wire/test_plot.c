#include "picture_look.h"

#include "picture_jobs.h"
#include "joint/joint.h"
#include "quantity/quantity.h"
#include "support/job_sample.h"
#include "wire/plot.h"
#include "wire/plot_panel.h"

enum { TRACE_MAX = 1440 };

static struct report report;
static struct trace_point trace[TRACE_MAX];
static struct look look;
static struct look_tag tag;
static char words[LOOK_TAG_SIZE];

/* The plot of a job with so many points; the caller clears it. */
static const char *
plot_of(const struct job *job, size_t count, struct buffer *out)
{
    const double turns = job->engine.cycle == CHOICE_cycle_FOUR_STROKE ? 2.0 : 1.0;
    for (size_t i = 0; i < count; i++) {
        trace[i].crank_angle_rad = turns * 6.283185307179586 * (double)i / (double)count;
    }
    joint_run(job, CALL_load, &report);
    struct report_curves curves = {trace, joint_trace(job, trace, count) ? count : 0};
    buffer_init(out);
    plot_write(out, job, &report, &curves);
    assert_false(out->failed);
    look_at(out->at, &look);
    return out->at;
}

static void
sample(struct job *job)
{
    job_sample(job);
    SET(job, engine, speed, speed_rad_s, 42.0);
    job_complete(job);
}

static const char *
words_of(const struct job *job)
{
    struct buffer out;
    look_words(plot_of(job, 360, &out), words, sizeof words);
    buffer_clear(&out);
    return words;
}

static void
draws_whatever_passes_the_validation(void **state)
{
    (void)state;
    uint64_t seed = 4711;
    size_t drawn = 0;
    for (size_t i = 0; i < 6000 && drawn < 300; i++) {
        struct job job;
        struct buffer out;
        if (random_job(&seed, &job)) {
            plot_of(&job, 144, &out);
            buffer_clear(&out);
            drawn++;
        }
    }
    assert_int_equal(drawn, 300);
}

static void
marks_peak_and_least_load_with_the_values_of_the_answer(void **state)
{
    (void)state;
    struct job job;
    char number[64], sentence[128];
    sample(&job);
    const char *shown = words_of(&job);
    quantity_write(number, sizeof number, report.result[RESULT_load_pin_load_max].si, DIMENSION_FORCE, UNITS_INCH);
    snprintf(sentence, sizeof sentence, "greatest %s at ", number);
    assert_non_null(strstr(shown, sentence));
    quantity_write(number, sizeof number, report.result[RESULT_load_pin_load_min].si, DIMENSION_FORCE, UNITS_INCH);
    snprintf(sentence, sizeof sentence, "least %s at 360 deg", number);
    assert_non_null(strstr(shown, sentence));
    assert_non_null(strstr(shown, "greatest 300 psi at 0 deg"));
}

static void
writes_axes_in_the_units_of_the_document(void **state)
{
    (void)state;
    struct job job;
    sample(&job);
    assert_non_null(strstr(words_of(&job), "Cylinder pressure, gauge, psi"));
    assert_non_null(strstr(words, "Forces, lbf; + toward the crank"));
    assert_non_null(strstr(words, " 0 90 180 270 360 450 540 630 720 "));
    job.units = UNITS_METRIC;
    job.engine.cycle = CHOICE_cycle_TWO_STROKE;
    assert_non_null(strstr(words_of(&job), "Cylinder pressure, gauge, MPa"));
    assert_non_null(strstr(words, "Forces, N; + toward the crank"));
    assert_non_null(strstr(words, " 0 90 180 270 360 "));
    assert_null(strstr(words, " 720 "));
    assert_null(strstr(words, "suction"));
}

static void
curves_differ_by_their_dashes(void **state)
{
    (void)state;
    static const char *const dashes[] = {"9 4", "1.5 3", "9 3 2 3"};
    struct job job;
    struct buffer out;
    sample(&job);
    plot_of(&job, 360, &out);
    for (size_t i = 0; i < 3; i++) {
        const char *at = out.at;
        assert_true(look_find(&at, "path", "stroke-dasharray", dashes[i], &tag)); /* the curve */
        at = out.at;
        assert_true(look_find(&at, "line", "stroke-dasharray", dashes[i], &tag)); /* its sample */
    }
    buffer_clear(&out);
}

/* The drawn curve, read off the picture: the load at 90 degrees. */
static void
the_curve_passes_through_its_values(void **state)
{
    (void)state;
    struct job job;
    struct buffer out;
    struct trace_point point = {.crank_angle_rad = 1.5707963267948966};
    sample(&job);
    plot_of(&job, 360, &out);
    const char *at = out.at;
    assert_true(look_find(&at, "path", "stroke-width", "2", &tag)); /* pressure */
    assert_true(look_find(&at, "path", "stroke-width", "2", &tag)); /* load on the pin */
    const char *d = look_attribute(&tag, "d");
    double x[361], y[361];
    size_t count = 0;
    while (*d != '"' && count < 361) {
        x[count] = look_number_at(d + 1, &d);
        y[count] = look_number_at(d + 1, &d);
        count++;
    }
    assert_int_equal(count, 361); /* closed at the end of the cycle */
    assert_close(y[360], y[0], 1e-9);
    assert_close(x[45] - x[0], (x[360] - x[0]) / 8.0, 0.001);
    /* Two known heights give the scale, a third must fit it. */
    const double at_0_N = trace[0].pin_load_N, at_360_N = trace[180].pin_load_N;
    assert_true(joint_trace(&job, &point, 1));
    const double wanted = y[0] + (y[180] - y[0]) * (point.pin_load_N - at_0_N) / (at_360_N - at_0_N);
    assert_close_or(y[45], wanted, 0.0, 0.02);
    buffer_clear(&out);
}

static void
thins_out_more_points_than_can_be_told_apart(void **state)
{
    (void)state;
    struct job job;
    struct buffer coarse, fine;
    sample(&job);
    plot_of(&job, 360, &coarse);
    plot_of(&job, 1440, &fine);
    assert_true(fine.length < coarse.length + coarse.length / 5);
    buffer_clear(&coarse);
    buffer_clear(&fine);
}

static void
without_a_speed_the_gas_alone_is_drawn(void **state)
{
    (void)state;
    struct job job;
    job_sample(&job);
    job_complete(&job);
    const char *shown = words_of(&job);
    assert_non_null(strstr(shown, "No speed is given, so the gas alone loads the pin."));
    assert_null(strstr(shown, "inertia"));
    assert_null(strstr(shown, "least "));
}

static void
says_what_is_missing_where_there_are_no_curves(void **state)
{
    (void)state;
    struct job job;
    job_init(&job);
    job_complete(&job);
    const char *shown = words_of(&job);
    assert_non_null(strstr(shown, "engine.stroke"));
    assert_non_null(strstr(shown, "engine.peak_pressure"));
    assert_true(look.height < 300.0);
    for (size_t i = 0; i < report.caution_count; i++) {
        assert_non_null(strstr(shown, report.caution[i]));
    }
}

static void
limits_of_an_axis_are_round_and_hold_all_values(void **state)
{
    (void)state;
    uint64_t seed = 5;
    for (size_t i = 0; i < 500; i++) {
        struct plot_panel panel = {.left = 0.0, .right = 1.0, .top = 0.0, .bottom = 1.0, .angle_end = 1.0};
        const double least = -random_between(&seed, 1e-4, 1e7), most = random_between(&seed, 1e-4, 1e7);
        plot_panel_fit(&panel, least, most);
        assert_true(panel.low < least && panel.high > most);
        assert_close_or(panel.low / panel.step, round(panel.low / panel.step), 0.0, 1e-6);
        const double leading = panel.step / pow(10.0, floor(log10(panel.step) + 1e-9));
        assert_true(fabs(leading - 1.0) < 1e-6 || fabs(leading - 2.0) < 1e-6 || fabs(leading - 5.0) < 1e-6);
        const double ticks = (panel.high - panel.low) / panel.step;
        assert_true(ticks > 1.5 && ticks < 9.5);
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(draws_whatever_passes_the_validation),
        cmocka_unit_test(marks_peak_and_least_load_with_the_values_of_the_answer),
        cmocka_unit_test(writes_axes_in_the_units_of_the_document),
        cmocka_unit_test(curves_differ_by_their_dashes),
        cmocka_unit_test(the_curve_passes_through_its_values),
        cmocka_unit_test(thins_out_more_points_than_can_be_told_apart),
        cmocka_unit_test(without_a_speed_the_gas_alone_is_drawn),
        cmocka_unit_test(says_what_is_missing_where_there_are_no_curves),
        cmocka_unit_test(limits_of_an_axis_are_round_and_hold_all_values),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
