#include "support/close.h"

#include <string.h>

#include "joint/material.h"
#include "joint/thread.h"

static struct thread
thread(const char *text)
{
    struct thread read = {0};

    if (!thread_read(text, &read)) {
        fail_msg("%s is not read", text);
    }
    return read;
}

static void
reads_as(const char *text, const char *designation)
{
    const struct thread read = thread(text);

    if (strcmp(read.designation, designation) != 0) {
        fail_msg("%s is read as %s, wanted %s", text, read.designation, designation);
    }
}

/* ---- designations ---- */

static void
reads_unified_threads_however_written(void **state)
{
    (void)state;
    static const char *const written[] = {
        "3/8-16 UNC",
        "3/8-16",
        "3/8 UNC",
        "3/8 unc",
        "3/8\"-16",
        "3/8 - 16 UNC",
        "3/8-16 UNC-2A",
        "3/8-16UNC",
        "3/8-16 NC",
        "0.375-16",
        ".375-16 UNC 2B",
        "3/8 x 16",
        "3/8 in-16",
        " 3/8 - 16 tpi ",
        "\xE2\x85\x9C\xE2\x80\x9D-16", /* vulgar 3/8, closing quote */
        "3/8\342\200\22316 UNC",       /* en dash */
        "3\342\201\2048-16",           /* fraction slash */
        "3/8 \xC3\x97 16",             /* multiplication sign */
    };

    for (size_t i = 0; i < sizeof written / sizeof written[0]; i++) {
        const struct thread read = thread(written[i]);

        reads_as(written[i], "3/8-16 UNC");
        assert_close(read.diameter_m, 0.375 * 0.0254, 1e-12);
        assert_close(read.pitch_m, 0.0254 / 16.0, 1e-12);
        assert_false(read.metric);
    }
}

/* ASME B1.1 sizes, from memory; BS 84 read in a gauge maker's list. */
static void
knows_the_series(void **state)
{
    (void)state;
    reads_as("\xC2\xBD-13", "1/2-13 UNC");
    reads_as("1/2-20", "1/2-20 UNF");
    reads_as("1/2-12", "1/2-12 UN");
    reads_as("1/2 bsw", "1/2-12 BSW");
    reads_as("1/2 Whitworth", "1/2-12 BSW");
    reads_as("3/8 BSF", "3/8-20 BSF");
    reads_as("3/16 BSW", "3/16-24 BSW");
    reads_as("3/4 BSF", "3/4-12 BSF");
    reads_as("#6 UNC", "#6-32 UNC");
    reads_as("M3", "M3x0.5");
    reads_as("M18", "M18x2.5");
    reads_as("1-8", "1-8 UNC");
    reads_as("1 UNF", "1-12 UNF");
    reads_as("1-14 NS", "1-14 UN");
    reads_as("1-1/4-7", "1 1/4-7 UNC");
    reads_as("1 1/4 UNF", "1 1/4-12 UNF");
    reads_as("1\xC2\xBC-7", "1 1/4-7 UNC");
    reads_as("2-4.5", "2-4.5 UNC");
    reads_as("2-4 1/2", "2-4.5 UNC");
}

static void
reads_machine_screw_numbers(void **state)
{
    (void)state;
    static const char *const written[] = {"#10-24",  "10-24",   "# 10 - 24 UNC", "No. 10-24",
                                          "no10-24", "#10 UNC", "10 UNC"};

    for (size_t i = 0; i < sizeof written / sizeof written[0]; i++) {
        reads_as(written[i], "#10-24 UNC");
        assert_close(thread(written[i]).diameter_m, 0.190 * 0.0254, 1e-12); /* 0.060 + 0.013 n in */
    }
    reads_as("8-32", "#8-32 UNC");
    reads_as("10-32", "#10-32 UNF");
    reads_as("2-56", "#2-56 UN");
}

/* ISO 261 coarse pitches, from memory, M3 and up also read. */
static void
reads_metric_threads(void **state)
{
    (void)state;
    static const char *const written[] = {"M10x1.5", "M10",        "m10 x 1.5", "M 10 X 1.5 mm", "M10\303\2271.5",
                                          "M10-1.5", "M10x1.5-6g", "M10-6g",    "M10*1.5"};

    for (size_t i = 0; i < sizeof written / sizeof written[0]; i++) {
        const struct thread read = thread(written[i]);

        reads_as(written[i], "M10x1.5");
        assert_close(read.diameter_m, 0.010, 1e-12);
        assert_close(read.pitch_m, 0.0015, 1e-12);
        assert_true(read.metric);
    }
    reads_as("M10x1.25", "M10x1.25");
    reads_as("M9x1", "M9x1");
    reads_as("M1.6", "M1.6x0.35");
    reads_as("M48", "M48x5");
    reads_as("M100x6", "M100x6");
}

static void
refuses_what_is_no_thread(void **state)
{
    (void)state;
    static const char *const strange[] = {"0-2.8", "0 in-10", 
        "",
        " ",
        "M",
        "Mx1",
        "UNC",
        "3/8",
        "0.375",
        "1",
        "#10",
        "bolt",
        "3/8-",
        "3/8--16",
        "3/8-16 UNX",
        "3/8-16 UNC 4A",
        "3/8-16 UNC!",
        "3/7-16",
        "8/3-16",
        "3/0-16",
        "0/8-16",
        "3/8-0",
        "3/8-0 UNC",
        "3/8-1",
        "3/8-200",
        "M10x0",
        "M10x9",
        "M10x0.01",
        "M9",
        "M10,5",
        "M10x1,5",
        "M200x6",
        "M0.5x0.1",
        "6-4 UN",
        "#13-24",
        "#10.5-24",
        "M10x1.5 x 20",
        "1e3-8",
        "nan-8",
        "inf UNC",
        "0x10-8",
        "M1e1",
        "M10x",
        "99999-8",
        "M10\xFF",
        "\xE2\x85",
        "3/8-16 UNC-2A-extra",
        "3/8-16-16",
        "three eighths",
        "3/8-16 UNC and a text that goes on far beyond what any thread can need",
    };
    struct thread untouched = {.diameter_m = 42.0};

    for (size_t i = 0; i < sizeof strange / sizeof strange[0]; i++) {
        if (thread_read(strange[i], &untouched)) {
            fail_msg("%s is read as %s", strange[i], untouched.designation);
        }
    }
    assert_true(untouched.diameter_m == 42.0);
}

static void
refuses_a_series_and_a_pitch_that_disagree(void **state)
{
    (void)state;
    struct thread untouched = {.diameter_m = 42.0};

    assert_false(thread_read("3/8-24 UNC", &untouched));
    assert_false(thread_read("1/2-13 BSW", &untouched));
    assert_false(thread_read("0.40 UNC", &untouched)); /* no such size */
    assert_false(thread_read("3/8 UN", &untouched));   /* any pitch: it must be said */
    assert_true(untouched.diameter_m == 42.0);
}

static void
reads_back_what_it_writes(void **state)
{
    (void)state;
    static const char *const written[] = {"3/8-16", "1/2-12", "10-32",   "2-56",  "1-1/4-7", "2-4.5", "0.41-24",
                                          "M10",    "M9x1",   "3/8 BSF", "1 BSW", "1/2-13",  "M1.6",  "2\"-48"};

    for (size_t i = 0; i < sizeof written / sizeof written[0]; i++) {
        const struct thread once = thread(written[i]), twice = thread(once.designation);

        assert_string_equal(once.designation, twice.designation);
        assert_close(once.diameter_m, twice.diameter_m, 1e-12);
        assert_close(once.pitch_m, twice.pitch_m, 1e-12);
    }
}

/* ---- stress area ---- */

/* ASME B1.1 / Shigley table 8-2, from memory, three to four figures; 1/2-13
 * and 1/4-20 also worked back from a clamp-load table that was read. */
static void
unified_stress_areas_are_those_printed(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        double in2;
    } printed[] = {{"1/4-20", 0.0318}, {"5/16-18", 0.0524}, {"3/8-16", 0.0775}, {"7/16-14", 0.1063},
                   {"1/2-13", 0.1419}, {"5/8-11", 0.226},   {"3/4-10", 0.334}};

    for (size_t i = 0; i < sizeof printed / sizeof printed[0]; i++) {
        const struct thread read = thread(printed[i].text);

        assert_close(thread_stress_area_m2(&read), printed[i].in2 * 0.0254 * 0.0254, 0.004);
    }
}

/* ISO 898-1, coarse thread loads read in a supplier's copy, class
 * 8.8: proof 580 MPa, tensile 800 MPa on the area; N, three figures. */
static void
metric_stress_areas_give_the_loads_printed(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        double proof_N, tensile_N;
    } printed[] = {{"M8", 21200, 29200}, {"M10", 33700, 46400}, {"M12", 48900, 67400}};

    for (size_t i = 0; i < sizeof printed / sizeof printed[0]; i++) {
        const struct thread read = thread(printed[i].text);
        const struct bolt_grade *grade = bolt_grade_find("8.8", read.diameter_m);

        assert_non_null(grade);
        assert_close(thread_stress_area_m2(&read) * grade->proof_Pa, printed[i].proof_N, 0.003);
        assert_close(thread_stress_area_m2(&read) * grade->tensile_Pa, printed[i].tensile_N, 0.003);
    }
}

/* SAE J429 torque table read on a supplier's page: 1/2-13 grade 2 at 75 % of
 * proof, 5,853 lb and 48.8 lbf.ft at K = 0.20; four and three figures. */
static void
half_inch_grade_two_is_tightened_as_tabled(void **state)
{
    (void)state;
    const double lbf_N = 4.4482216152605;
    const struct thread read = thread("1/2-13");
    const struct bolt_grade *grade = bolt_grade_find("SAE 2", read.diameter_m);
    double preload_N;

    assert_non_null(grade);
    preload_N = 0.75 * grade->proof_Pa * thread_stress_area_m2(&read);
    assert_close(preload_N, 5853 * lbf_N, 2e-4);
    assert_close(0.20 * preload_N * read.diameter_m, 48.8 * lbf_N * 0.3048, 1.1e-3);
}

/* BS 84 form: pitch diameter D - 0.6403 P, minor D - 1.2806 P (3/8 BSW 0.3350
 * and 0.2950 in, read). The Unified figure is at most 2 % under their mean. */
static void
whitworth_stress_area_is_on_the_safe_side(void **state)
{
    (void)state;
    const struct thread read = thread("3/8 BSW");
    const double mean_m = (0.3350 + 0.2950) / 2.0 * 0.0254;
    const double area_m2 = 3.14159265358979 / 4.0 * mean_m * mean_m;

    assert_true(thread_stress_area_m2(&read) < area_m2);
    assert_close(thread_stress_area_m2(&read), area_m2, 0.02);
}

/* ---- the thread of a bare shank ---- */

static void
takes_the_nearest_coarse_thread_of_a_shank(void **state)
{
    (void)state;
    static const struct {
        double diameter_m;
        bool metric;
        const char *designation;
    } shanks[] = {
        {0.375 * 0.0254, false, "3/8-16 UNC"},
        {0.010, false, "3/8-16 UNC"},
        {0.010, true, "M10x1.5"},
        {0.375 * 0.0254, true, "M10x1.5"},
        {0.0001, false, "#4-40 UNC"},
        {0.0001, true, "M1.6x0.35"},
        {0.2, false, "2-4.5 UNC"},
        {0.2, true, "M48x5"},
        {0.011, true, "M10x1.5"},
        {1.0 * 0.0254, false, "1-8 UNC"},
        {0.40 * 0.0254, false, "3/8-16 UNC"},
    };

    for (size_t i = 0; i < sizeof shanks / sizeof shanks[0]; i++) {
        struct thread found;

        thread_coarse_near(shanks[i].diameter_m, shanks[i].metric, &found);
        assert_string_equal(found.designation, shanks[i].designation);
        assert_true(found.metric == shanks[i].metric);
        assert_true(thread_stress_area_m2(&found) > 0.0);
    }
}

static const struct {
    const char *text;
    double diameter_m, pitch_m;
} tabled[] = {
#define THREAD_INCH(series, size, diameter_in, per_inch) {size " " #series, (diameter_in)*0.0254, 0.0254 / (per_inch)},
#define THREAD_METRIC(diameter_mm, pitch_mm) {"M" #diameter_mm, (diameter_mm)*1e-3, (pitch_mm)*1e-3},
#include "joint/thread.def"
};

static void
reads_every_thread_of_the_table_by_size_and_series(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof tabled / sizeof tabled[0]; i++) {
        const struct thread read = thread(tabled[i].text);

        assert_close(read.diameter_m, tabled[i].diameter_m, 1e-9);
        assert_close(read.pitch_m, tabled[i].pitch_m, 1e-9);
    }
}

/* Within a series the threads get coarser as the bolt gets thicker, and by no
 * more than the standards' own steps (ISO 261 pitches, from memory). */
static void
pitches_rise_with_the_diameter(void **state)
{
    (void)state;
    static const double iso_mm[] = {0.35, 0.4, 0.45, 0.5, 0.6, 0.7, 0.8, 1, 1.25, 1.5, 1.75, 2, 2.5, 3, 3.5, 4, 4.5, 5};

    for (size_t i = 0; i < sizeof tabled / sizeof tabled[0]; i++) {
        const bool metric = tabled[i].text[0] == 'M';
        bool standard = !metric;

        for (size_t k = 0; k < sizeof iso_mm / sizeof iso_mm[0]; k++) {
            standard = standard || fabs(tabled[i].pitch_m * 1e3 - iso_mm[k]) < 1e-9;
        }
        assert_true(standard);
        if (i > 0 && tabled[i].diameter_m > tabled[i - 1].diameter_m) {
            const double rise = tabled[i].pitch_m / tabled[i - 1].pitch_m;

            assert_true(rise > 1.0 - 1e-9 && rise < 1.68); /* the largest: BSW 1/8-40 to 3/16-24 */
        }
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_unified_threads_however_written),
        cmocka_unit_test(knows_the_series),
        cmocka_unit_test(reads_machine_screw_numbers),
        cmocka_unit_test(reads_metric_threads),
        cmocka_unit_test(refuses_what_is_no_thread),
        cmocka_unit_test(refuses_a_series_and_a_pitch_that_disagree),
        cmocka_unit_test(reads_back_what_it_writes),
        cmocka_unit_test(unified_stress_areas_are_those_printed),
        cmocka_unit_test(metric_stress_areas_give_the_loads_printed),
        cmocka_unit_test(half_inch_grade_two_is_tightened_as_tabled),
        cmocka_unit_test(whitworth_stress_area_is_on_the_safe_side),
        cmocka_unit_test(takes_the_nearest_coarse_thread_of_a_shank),
        cmocka_unit_test(reads_every_thread_of_the_table_by_size_and_series),
        cmocka_unit_test(pitches_rise_with_the_diameter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
