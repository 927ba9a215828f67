#include "picture_look.h"

#include <dirent.h>

#include <jansson.h>

#include "picture_jobs.h"
#include "joint/check.h"
#include "joint/joint.h"
#include "quantity/quantity.h"
#include "support/job_sample.h"
#include "wire/job_read.h"
#include "wire/json_text.h"
#include "wire/sketch.h"
#include "wire/sketch_axis.h"
#include "wire/sketch_joint.h"

static struct report report;
static struct look look;
static struct look_tag tag;
static char words[LOOK_TAG_SIZE];

/* The picture of a job's answer; the caller clears it. */
static const char *
picture_of(const struct job *job, enum call call, struct buffer *out)
{
    joint_run(job, call, &report);
    assert_null(report.defect);
    buffer_init(out);
    sketch_write(out, job, &report);
    assert_false(out->failed);
    return out->at;
}

/* A job read from text, completed. */
static void
read_job(const char *text, size_t length, struct job *job)
{
    struct json_text_fault fault;
    struct fault_list faults;
    json_t *root = json_text_read(text, length, &fault);
    assert_non_null(root);
    fault_list_init(&faults);
    const bool good = job_read(root, job, &faults);
    json_decref(root);
    assert_true(good);
    job_complete(job);
    job_validate(job, &faults);
    assert_int_equal(faults.count, 0);
}

static void
sample(struct job *job)
{
    job_sample(job);
    job_complete(job);
}

static const char *
words_of(const struct job *job, enum call call)
{
    struct buffer out;
    picture_of(job, call, &out);
    look_at(out.at, &look);
    look_words(out.at, words, sizeof words);
    buffer_clear(&out);
    return words;
}

/* ---- every answer gives a sound picture ---- */

static void
draws_every_job_of_the_fixtures(void **state)
{
    (void)state;
    static char text[16384];
    size_t drawn = 0;
    DIR *folder = opendir(SMALLEND_FIXTURES "/jobs");
    assert_non_null(folder);
    for (struct dirent *entry = readdir(folder); entry != NULL; entry = readdir(folder)) {
        char path[1024];
        struct job job;
        struct buffer out;
        if (strstr(entry->d_name, ".json") == NULL) {
            continue;
        }
        snprintf(path, sizeof path, "%s/jobs/%s", SMALLEND_FIXTURES, entry->d_name);
        FILE *file = fopen(path, "r");
        assert_non_null(file);
        const size_t length = fread(text, 1, sizeof text, file);
        fclose(file);
        read_job(text, length, &job);
        for (int call = 0; call < CALL_check + 1; call++) {
            look_at(picture_of(&job, (enum call)call, &out), &look);
            assert_true(look.tags > 100);
            buffer_clear(&out);
            drawn++;
        }
    }
    closedir(folder);
    assert_true(drawn >= 70);
}

/* look_at fails at what is no number, outside of the picture, or covers a text.
 * Among the first jobs are two whose figures once covered others: the depth of
 * the slot in its detail, and the offset of the bolt beside the eye's diameter. */
static void
draws_whatever_passes_the_validation(void **state)
{
    (void)state;
    static const enum call calls[] = {CALL_check, CALL_slot, CALL_fit};
    static const uint64_t seeds[] = {63352, 158380};
    for (size_t k = 0; k < 2; k++) {
        uint64_t seed = seeds[k];
        size_t drawn = 0;
        for (size_t i = 0; i < 6000 && drawn < 600; i++) {
            struct job job;
            struct buffer out;
            if (random_job(&seed, &job)) {
                picture_of(&job, calls[drawn % 3], &out);
                look_at(out.at, &look);
                assert_true(look.height < 1400.0);
                assert_true(out.length < 120000);
                buffer_clear(&out);
                drawn++;
            }
        }
        assert_int_equal(drawn, 600);
    }
}

static void
same_answer_gives_the_same_bytes(void **state)
{
    (void)state;
    struct job job;
    struct buffer once, again;
    sample(&job);
    picture_of(&job, CALL_check, &once);
    picture_of(&job, CALL_check, &again);
    assert_int_equal(once.length, again.length);
    assert_memory_equal(once.at, again.at, once.length);
    buffer_clear(&once);
    buffer_clear(&again);
}

/* ---- what it says ---- */

static void
shows_the_label_escaped_and_cut(void **state)
{
    (void)state;
    struct job job;
    struct buffer out;
    sample(&job);
    text_copy(job.label, sizeof job.label, "<script>alert('x')</script> & \"\xF0\x9F\x9A\x82\"");
    picture_of(&job, CALL_check, &out);
    assert_null(strstr(out.at, "<script"));
    assert_non_null(strstr(out.at, "&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt; &amp; &quot;\xF0\x9F\x9A\x82&quot;"));
    look_at(out.at, &look);
    buffer_clear(&out);
    for (size_t i = 0; i + 1 < sizeof job.label; i++) {
        job.label[i] = 'W';
        job.label[i + 1] = '\0';
    }
    assert_non_null(strstr(words_of(&job, CALL_check), "WW\xE2\x80\xA6"));
}

static void
shows_every_caution_in_full(void **state)
{
    (void)state;
    struct job job;
    sample(&job);
    const char *shown = words_of(&job, CALL_check);
    assert_true(report.caution_count >= 5);
    for (size_t i = 0; i < report.caution_count; i++) {
        if (strstr(shown, report.caution[i]) == NULL) {
            fail_msg("not in the picture: %s", report.caution[i]);
        }
    }
}

static void
says_verdict_and_figures_to_those_who_hear_it(void **state)
{
    (void)state;
    struct job job;
    struct buffer out;
    sample(&job);
    const char *at = picture_of(&job, CALL_check, &out);
    assert_true(look_find(&at, "title", "id", "smallend-sketch-title", &tag));
    assert_string_equal(tag.text, "Wrist pin joint: fails");
    assert_true(look_find(&at, "desc", "id", "smallend-sketch-desc", &tag));
    assert_non_null(strstr(tag.text, "fails"));
    assert_non_null(strstr(tag.text, " Pin: \xC3\x98 1 in."));
    assert_non_null(strstr(tag.text, " Eye: 2 in."));
    assert_non_null(strstr(tag.text, " Bore of the cylinder: 4 1/2 in."));
    buffer_clear(&out);
}

static void
an_empty_job_says_what_to_give(void **state)
{
    (void)state;
    struct job job;
    job_init(&job);
    job_complete(&job);
    const char *shown = words_of(&job, CALL_check);
    assert_non_null(strstr(shown, "engine.bore"));
    assert_non_null(strstr(shown, "pin.diameter"));
    assert_non_null(strstr(shown, "Verdict: incomplete"));
    assert_true(look.height < 300.0);
}

static void
assumed_sizes_carry_an_asterisk_and_stand_ins_no_figure(void **state)
{
    (void)state;
    struct job job;
    job_init(&job);
    SET(&job, engine, bore, bore_m, 0.127);
    job_complete(&job);
    const char *shown = words_of(&job, CALL_check);
    assert_non_null(strstr(shown, "pin 4 1/2 in* "));
    assert_non_null(strstr(shown, "bore 5 in "));
    assert_non_null(strstr(shown, "* Assumed, not given"));
    assert_non_null(strstr(shown, "Dashed outlines stand for sizes that were not given."));
    assert_null(strstr(shown, "\xC3\x98")); /* no diameter is known */
    sample(&job);
    assert_null(strstr(words_of(&job, CALL_check), "eye 2 in*"));
    assert_non_null(strstr(words_of(&job, CALL_check), "eye 2 in "));
}

static void
marks_the_worst_check_with_its_share(void **state)
{
    (void)state;
    struct job job;
    struct buffer out;
    char expected[160] = "";
    double worst = 0.0;
    sample(&job);
    job.slot.depth_m = 0.009;
    const char *at = picture_of(&job, CALL_check, &out);
    for (size_t i = 0; i < check_count(); i++) {
        const struct finding *finding = &report.finding[i];
        if (finding->judged && finding->verdict == VERDICT_FAILS && finding->utilization > worst) {
            worst = finding->utilization;
            snprintf(expected, sizeof expected, "%s, %.0f %%: fails", check_row(i)->name, 100.0 * worst);
        }
    }
    assert_string_equal(expected, "bending at the slot, 186 %: fails");
    assert_true(look_find(&at, "text", "class", "g", &tag));
    assert_string_equal(tag.text, expected);
    assert_true(look_find(&at, "ellipse", "class", "m", &tag)); /* the ring about the place */
    assert_close(look_coordinate(&tag, "cx"), 214.0, 1e-9); /* mid-length, at the slot */
    buffer_clear(&out);
}

/* A pin that is too long for its cylinder, play or not, is said to be so. */
static void
tells_of_a_pin_that_runs_into_the_wall(void **state)
{
    (void)state;
    struct job job;
    sample(&job);
    assert_non_null(strstr(words_of(&job, CALL_check), " to wall "));
    job.pin.length_m = 0.99 * job.engine.bore_m;
    assert_non_null(strstr(words_of(&job, CALL_check), " into the wall "));
    assert_null(strstr(words, " to wall "));
}

static void
writes_small_clearances_in_thou_and_large_ones_as_sizes(void **state)
{
    (void)state;
    struct job job;
    sample(&job);
    SET(&job, running_fit, hole, hole.min_m, 0.0254 + 0.001 * 0.0254);
    job.running_fit.hole.max_m = 0.0254 + 0.002 * 0.0254;
    assert_non_null(strstr(words_of(&job, CALL_fit), "clearance 1.00 to 2.00 thou"));
    job.running_fit.hole = (struct limits){.min_m = 1.25 * 0.0254, .max_m = 1.5 * 0.0254};
    assert_non_null(strstr(words_of(&job, CALL_fit), "clearance 0.2500 to 0.5000 in"));
}

/* ---- it is to scale ---- */

/* Corners of the pin's outline: the only closed path of four corners. */
static bool
find_pin(const char *picture, double *length, double *diameter)
{
    const char *at = strstr(picture, "</defs>\n") + strlen("</defs>\n");
    while (look_next(&at, &tag)) {
        const char *d = strcmp(tag.name, "path") == 0 && !tag.ends ? look_attribute(&tag, "d") : NULL;
        double x[4], y[4];
        size_t corners = 0;
        while (d != NULL && (*d == 'M' || *d == 'L') && corners < 4) {
            x[corners] = look_number_at(d + 1, &d);
            y[corners] = look_number_at(d + 1, &d);
            corners++;
        }
        if (corners == 4 && *d == 'Z') {
            *length = x[2] - x[1];
            *diameter = y[0] - y[1];
            return true;
        }
    }
    return false;
}

static void
the_pin_is_drawn_to_scale(void **state)
{
    (void)state;
    static const double lengths_m[] = {0.08, 0.1, 0.11}, diameters_m[] = {0.016, 0.0254, 0.04};
    for (size_t i = 0; i < 3; i++) {
        for (size_t k = 0; k < 3; k++) {
            struct job job;
            struct buffer out;
            double length = 0.0, diameter = 1.0;
            sample(&job);
            DROP(&job, slot, depth);
            set_diameter(&job, diameters_m[k], diameters_m[k]);
            job.eye.outside_m = 1.6 * diameters_m[k];
            job.pin.length_m = lengths_m[i];
            job.boss.length_m = (job.pin.length_m - job.eye.width_m) / 2.0 - job.boss.gap_m;
            picture_of(&job, CALL_check, &out);
            assert_true(find_pin(out.at, &length, &diameter));
            assert_close(length / diameter, lengths_m[i] / diameters_m[k], 0.002);
            buffer_clear(&out);
        }
    }
}

/* Along the axis every place keeps its scale, unless it says that it does not. */
static void
one_scale_holds_along_and_across(void **state)
{
    (void)state;
    uint64_t seed = 99;
    size_t seen = 0;
    for (size_t i = 0; i < 4000 && seen < 200; i++) {
        struct job job;
        struct sketch_joint joint;
        struct sketch_axis axis;
        if (!random_job(&seed, &job)) {
            continue;
        }
        joint_run(&job, CALL_check, &report);
        if (!sketch_joint_of(&job, &report, &joint)) {
            continue;
        }
        sketch_axis_fit(&axis, &joint, 150.0, 80.0);
        assert_true(axis.out[axis.count - 1] <= 150.1);
        if (!axis.shortened && !(axis.lengthened > 1.0)) {
            assert_close(sketch_axis_x(&axis, joint.length.m / 2.0), axis.scale * joint.length.m / 2.0, 1e-9);
            assert_close(sketch_axis_x(&axis, -joint.eye_width.m / 3.0), -axis.scale * joint.eye_width.m / 3.0, 1e-9);
            seen++;
        }
    }
    assert_int_equal(seen, 200);
}

static void
a_long_thin_pin_is_broken_and_it_says_so(void **state)
{
    (void)state;
    struct job job;
    sample(&job);
    job.engine.bore_m = 2.0;
    job.pin.length_m = 1.6;
    job.eye.width_m = 0.6;
    job.boss.length_m = 0.49;
    assert_non_null(strstr(words_of(&job, CALL_check), "shortened at the break lines"));
    sample(&job);
    assert_null(strstr(words_of(&job, CALL_check), "break lines"));
}

/* ---- load and moment ---- */

/* Shear and moment added up along the pin from its end, step by step: another
 * way to the same curve. */
static double
moment_by_steps_Nm(const struct sketch_beam *beam, double z_m)
{
    enum { STEPS = 200000 };
    const double inner = beam->eye_m / 2.0 + beam->gap_m, outer = inner + beam->bearing_m;
    const double step = (outer - z_m) / STEPS;
    double shear = 0.0, moment = 0.0;
    for (int i = 0; i < STEPS; i++) {
        const double at = outer - (i + 0.5) * step;
        const double load = at > inner ? beam->force_N / 2.0 / beam->bearing_m : at < beam->eye_m / 2.0 ? -beam->force_N / beam->eye_m : 0.0;
        moment += (shear + 0.5 * load * step) * step;
        shear += load * step;
    }
    return moment;
}

static void
the_moment_follows_from_the_loads(void **state)
{
    (void)state;
    const struct sketch_beam beam = {.force_N = 20000.0, .eye_m = 0.05, .gap_m = 0.003, .bearing_m = 0.02};
    const double places_m[] = {0.0, 0.01, 0.025, 0.027, 0.028, 0.04};
    for (size_t i = 0; i < sizeof places_m / sizeof places_m[0]; i++) {
        assert_close(sketch_beam_moment_Nm(&beam, places_m[i]), moment_by_steps_Nm(&beam, places_m[i]), 1e-4);
        assert_close(sketch_beam_moment_Nm(&beam, -places_m[i]), sketch_beam_moment_Nm(&beam, places_m[i]), 1e-12);
    }
    assert_close_or(sketch_beam_moment_Nm(&beam, 0.048), 0.0, 0.0, 1e-9);
}

/* Greatest moment of the drawing's own beam against the result of the answer. */
static void
the_greatest_moment_is_the_one_of_the_answer(void **state)
{
    (void)state;
    uint64_t seed = 7;
    size_t seen = 0;
    for (size_t i = 0; i < 6000 && seen < 200; i++) {
        struct job job;
        struct sketch_joint joint;
        if (!random_job(&seed, &job)) {
            continue;
        }
        joint_run(&job, CALL_check, &report);
        const struct result_value *moment = &report.result[RESULT_strength_bending_moment];
        if (!sketch_joint_of(&job, &report, &joint) || !moment->known) {
            continue;
        }
        assert_true(joint.load_known);
        assert_close(sketch_beam_moment_Nm(&joint.beam, 0.0), moment->si, 1e-9);
        seen++;
    }
    assert_int_equal(seen, 200);
}

static void
writes_the_moment_of_the_answer_beside_its_diagram(void **state)
{
    (void)state;
    struct job job;
    char number[64], sentence[128];
    sample(&job);
    const char *shown = words_of(&job, CALL_check);
    quantity_write(number, sizeof number, report.result[RESULT_strength_bending_moment].si, DIMENSION_TORQUE, UNITS_INCH);
    snprintf(sentence, sizeof sentence, "Bending moment: greatest at mid-length, %s", number);
    assert_non_null(strstr(shown, sentence));
    /* The call slot reports no strength; the diagram is there all the same. */
    assert_non_null(strstr(words_of(&job, CALL_slot), sentence));
    assert_null(strstr(words_of(&job, CALL_fit), "Bending moment"));
}

static void
draws_no_load_where_none_is_known(void **state)
{
    (void)state;
    struct job job;
    sample(&job);
    DROP(&job, engine, peak_pressure);
    const char *shown = words_of(&job, CALL_check);
    assert_null(strstr(shown, "Bending moment:"));
    assert_non_null(strstr(shown, "give bore, stroke and a pressure"));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(draws_every_job_of_the_fixtures),
        cmocka_unit_test(draws_whatever_passes_the_validation),
        cmocka_unit_test(same_answer_gives_the_same_bytes),
        cmocka_unit_test(shows_the_label_escaped_and_cut),
        cmocka_unit_test(shows_every_caution_in_full),
        cmocka_unit_test(says_verdict_and_figures_to_those_who_hear_it),
        cmocka_unit_test(an_empty_job_says_what_to_give),
        cmocka_unit_test(assumed_sizes_carry_an_asterisk_and_stand_ins_no_figure),
        cmocka_unit_test(marks_the_worst_check_with_its_share),
        cmocka_unit_test(tells_of_a_pin_that_runs_into_the_wall),
        cmocka_unit_test(writes_small_clearances_in_thou_and_large_ones_as_sizes),
        cmocka_unit_test(the_pin_is_drawn_to_scale),
        cmocka_unit_test(one_scale_holds_along_and_across),
        cmocka_unit_test(a_long_thin_pin_is_broken_and_it_says_so),
        cmocka_unit_test(the_moment_follows_from_the_loads),
        cmocka_unit_test(the_greatest_moment_is_the_one_of_the_answer),
        cmocka_unit_test(writes_the_moment_of_the_answer_beside_its_diagram),
        cmocka_unit_test(draws_no_load_where_none_is_known),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
