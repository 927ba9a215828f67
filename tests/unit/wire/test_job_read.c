#include "ask.h"

/* Figures marked "exact" follow from 1 in = 25.4 mm, 1 lb = 0.45359237 kg and
 * standard gravity; the tolerance is that of double arithmetic. */
#define EXACT 1e-12

/* ---- single values ---- */

static void
reads_numbers_in_the_documents_units(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    assert_true(read_job("{\"engine\":{\"bore\":5.25,\"peak_pressure\":285,\"speed\":400}}", &job, &faults));
    assert_close(job.engine.bore_m, 0.13335, EXACT);                                        /* exact */
    assert_close(job.engine.peak_pressure_Pa, 285.0 * 4.4482216152605 / 0.00064516, EXACT); /* exact */
    assert_close(job.engine.speed_rad_s, 41.8879020478639, EXACT);                          /* 400 x 2 pi / 60 */
    assert_true(read_job("{\"engine\":{\"bore\":133,\"peak_pressure\":2},\"units\":\"metric\"}", &job, &faults));
    assert_close(job.engine.bore_m, 0.133, EXACT);
    assert_close(job.engine.peak_pressure_Pa, 2.0e6, EXACT);
}

/* "units" stands last in the document and still decides. */
static void
reads_units_wherever_they_stand(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    assert_true(read_job("{\"engine\":{\"bore\":100},\"units\":\"Metric\"}", &job, &faults));
    assert_int_equal(job.units, UNITS_METRIC);
    assert_true(job.units_given);
    assert_close(job.engine.bore_m, 0.1, EXACT);
}

static void
reads_text_with_its_own_unit(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    assert_true(read_job("{\"units\":\"metric\",\"engine\":{\"bore\":\"5 1/4 in\",\"speed\":\"7.1 Hz\"},"
                         "\"pin\":{\"roughness\":\"0.4 um\"},\"running_fit\":{\"pin_temperature\":\"180 degF\"}}",
                         &job, &faults));
    assert_close(job.engine.bore_m, 0.13335, EXACT);                      /* exact */
    assert_close(job.engine.speed_rad_s, 7.1 * 6.283185307179586, EXACT); /* 2 pi rad in a revolution */
    assert_close(job.pin.roughness_m, 4.0e-7, EXACT);
    assert_close(job.running_fit.pin_temperature_degC, 82.2222222222222, EXACT); /* (180 - 32) / 1.8 */
    assert_false(job.bare_numbers);
}

static void
notes_numbers_whose_unit_was_taken_from_the_document(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    assert_true(read_job("{\"engine\":{\"bore\":5}}", &job, &faults));
    assert_true(job.bare_numbers);
    assert_true(read_job("{\"engine\":{\"bore\":\"5\"}}", &job, &faults));
    assert_true(job.bare_numbers);
    /* A ratio and a speed of rotation are the same in both systems. */
    assert_true(read_job("{\"engine\":{\"compression_ratio\":4,\"speed\":400}}", &job, &faults));
    assert_false(job.bare_numbers);
}

static void
takes_null_and_absent_alike(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    assert_true(read_job("{\"engine\":null,\"label\":null,\"units\":null,\"pin\":{\"diameter\":null}}", &job, &faults));
    assert_false(job_given(&job, FIELD_pin_diameter));
    assert_false(job.units_given);
}

static void
marks_what_was_given_and_nothing_else(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    assert_true(read_job("{\"engine\":{\"bore\":5,\"cycle\":\"two_stroke\"}}", &job, &faults));
    for (int i = 0; i < FIELD_COUNT; i++) {
        const bool expected = i == FIELD_engine_bore || i == FIELD_engine_cycle;
        assert_int_equal(job_given(&job, (enum job_field)i), expected);
    }
    assert_int_equal(job.engine.cycle, CHOICE_cycle_TWO_STROKE);
}

static void
refuses_a_value_out_of_range_in_the_documents_units(void **state)
{
    (void)state;
    struct fault_list faults;
    const struct fault *fault = only_fault("{\"units\":\"metric\",\"engine\":{\"bore\":5000}}", &faults);
    assert_int_equal(fault->code, FAULT_OUT_OF_RANGE);
    assert_string_equal(fault->pointer, "/engine/bore");
    assert_string_equal(fault->expected, "from 10 to 2000 mm"); /* job.def: 0.010 to 2.0 m */
    assert_string_equal(fault->got, "5000");
    fault = only_fault("{\"engine\":{\"bore\":1e308}}", &faults);
    assert_int_equal(fault->code, FAULT_OUT_OF_RANGE);
}

static void
refuses_wrong_units_and_bad_numbers(void **state)
{
    (void)state;
    struct fault_list faults;
    assert_int_equal(only_fault("{\"engine\":{\"bore\":\"400 rpm\"}}", &faults)->code, FAULT_WRONG_UNIT);
    assert_int_equal(only_fault("{\"engine\":{\"bore\":\"5 furlong\"}}", &faults)->code, FAULT_WRONG_UNIT);
    assert_int_equal(only_fault("{\"engine\":{\"bore\":\"5 mil\"}}", &faults)->code, FAULT_WRONG_UNIT);
    assert_string_equal(only_fault("{\"engine\":{\"bore\":\"5 tho\"}}", &faults)->nearest, "thou");
    assert_string_equal(only_fault("{\"engine\":{\"bore\":\"5 xyzzyx\"}}", &faults)->nearest, "");
    assert_int_equal(only_fault("{\"engine\":{\"bore\":\"5,25\"}}", &faults)->code, FAULT_BAD_NUMBER);
    assert_int_equal(only_fault("{\"engine\":{\"bore\":\"five\"}}", &faults)->code, FAULT_BAD_NUMBER);
    assert_int_equal(only_fault("{\"clamp_bolt\":{\"shear_planes\":1.5}}", &faults)->code, FAULT_BAD_NUMBER);
}

static void
refuses_text_too_long_for_a_number(void **state)
{
    (void)state;
    struct fault_list faults;
    char text[4096] = "{\"engine\":{\"bore\":\"";
    memset(text + strlen(text), '1', 3000);
    memcpy(text + strlen("{\"engine\":{\"bore\":\"") + 3000, "\"}}", 4);
    assert_int_equal(only_fault(text, &faults)->code, FAULT_BAD_NUMBER);
}

static void
refuses_every_wrong_type(void **state)
{
    (void)state;
    static const char *const values[] = {"true", "[]", "{}", "[1]", "{\"value\":1}"};
    struct fault_list faults;
    for (size_t i = 0; i < sizeof values / sizeof values[0]; i++) {
        char text[128];
        snprintf(text, sizeof text, "{\"engine\":{\"bore\":%s}}", values[i]);
        assert_int_equal(only_fault(text, &faults)->code, FAULT_WRONG_TYPE);
    }
    assert_int_equal(only_fault("{\"engine\":[]}", &faults)->code, FAULT_WRONG_TYPE);
    assert_int_equal(only_fault("{\"order\":{\"accept_marginal\":1}}", &faults)->code, FAULT_WRONG_TYPE);
    assert_int_equal(only_fault("{\"find\":{\"what\":1}}", &faults)->code, FAULT_WRONG_TYPE);
    assert_int_equal(only_fault("{\"find\":{\"from\":[]}}", &faults)->code, FAULT_WRONG_TYPE);
    assert_int_equal(only_fault("{\"turning\":{\"spindle_speeds\":5}}", &faults)->code, FAULT_WRONG_TYPE);
    assert_int_equal(only_fault("{\"pin\":{\"steel\":5}}", &faults)->code, FAULT_WRONG_TYPE);
    assert_int_equal(only_fault("{\"eye\":{\"bushing\":5}}", &faults)->code, FAULT_WRONG_TYPE);
    assert_int_equal(only_fault("[]", &faults)->code, FAULT_WRONG_TYPE);
    assert_string_equal(faults.fault[0].pointer, "");
}

/* ---- names ---- */

static void
refuses_an_unknown_member_with_the_nearest_name(void **state)
{
    (void)state;
    struct fault_list faults;
    const struct fault *fault = only_fault("{\"engine\":{\"storke\":8}}", &faults);
    assert_int_equal(fault->code, FAULT_UNKNOWN_MEMBER);
    assert_string_equal(fault->pointer, "/engine/storke");
    assert_string_equal(fault->nearest, "stroke");
    assert_string_equal(only_fault("{\"pins\":{}}", &faults)->nearest, "pin");
    assert_string_equal(only_fault("{\"engine\":{\"peakPressure\":8}}", &faults)->nearest, "peak_pressure");
    assert_string_equal(only_fault("{\"engine\":{\"bore_mm\":8}}", &faults)->nearest, "bore");
    assert_string_equal(only_fault("{\"turning\":{\"machine_taper\":{\"amont\":1}}}", &faults)->nearest, "amount");
    assert_string_equal(only_fault("{\"engine\":{\"xyzzy\":null}}", &faults)->nearest, "");
}

static void
names_the_group_where_a_misplaced_member_belongs(void **state)
{
    (void)state;
    struct fault_list faults;
    assert_string_equal(only_fault("{\"bore\":5}", &faults)->nearest, "engine.bore");
    assert_string_equal(only_fault("{\"pin\":{\"cutter_diameter\":5}}", &faults)->nearest, "slot.cutter_diameter");
    assert_string_equal(only_fault("{\"machine_taper\":{}}", &faults)->nearest, "turning/machine_taper");
}

static void
escapes_the_pointer_of_an_unknown_member(void **state)
{
    (void)state;
    struct fault_list faults;
    assert_string_equal(only_fault("{\"engine\":{\"a/b~c\":1}}", &faults)->pointer, "/engine/a~1b~0c"); /* RFC 6901 */
}

static void
collects_every_fault(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    assert_false(read_job("{\"units\":\"imperial\",\"engine\":{\"bore\":-1,\"speed\":\"x\",\"foo\":1},\"slot\":[],"
                          "\"pin\":{\"steel\":\"nosuchsteel\",\"diameter\":{\"min\":2,\"max\":1}}}",
                          &job, &faults));
    assert_int_equal(faults.count, 7);
    assert_int_equal(fault_at(&faults, "/units")->code, FAULT_OUT_OF_RANGE);
    assert_int_equal(fault_at(&faults, "/engine/bore")->code, FAULT_OUT_OF_RANGE);
    assert_int_equal(fault_at(&faults, "/engine/speed")->code, FAULT_BAD_NUMBER);
    assert_int_equal(fault_at(&faults, "/engine/foo")->code, FAULT_UNKNOWN_MEMBER);
    assert_int_equal(fault_at(&faults, "/slot")->code, FAULT_WRONG_TYPE);
    assert_int_equal(fault_at(&faults, "/pin/steel")->code, FAULT_OUT_OF_RANGE);
    assert_int_equal(fault_at(&faults, "/pin/diameter")->code, FAULT_CONTRADICTION);
}

static void
a_flood_of_faults_is_bounded(void **state)
{
    (void)state;
    char text[8192] = "{";
    size_t length = 1;
    for (int i = 0; i < 500; i++) {
        length += (size_t)snprintf(text + length, sizeof text - length, "\"k%d\":1,", i);
    }
    snprintf(text + length, sizeof text - length, "\"k\":1}");
    struct job job;
    struct fault_list faults;
    assert_false(read_job(text, &job, &faults));
    assert_int_equal(faults.count, FAULT_MAX);
    assert_true(faults.dropped >= 1);
}

static void
words_are_matched_without_case(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    assert_true(read_job("{\"pin\":{\"hardness\":58,\"hardness_scale\":\"hrc\",\"steel\":\"4140-BC\"},"
                         "\"clamp_bolt\":{\"grade\":\"sae 5\"}}",
                         &job, &faults));
    assert_int_equal(job.pin.hardness_scale, CHOICE_hardness_scale_HRC);
    assert_int_equal(job.clamp_bolt.grade, CHOICE_bolt_grade_SAE_5);
    assert_string_equal(job.pin.steel.row->id, "4140-bc");
}

static void
refuses_an_unknown_word_and_lists_the_known_ones(void **state)
{
    (void)state;
    struct fault_list faults;
    const struct fault *fault = only_fault("{\"engine\":{\"cycle\":\"four-strok\"}}", &faults);
    assert_int_equal(fault->code, FAULT_OUT_OF_RANGE);
    assert_string_equal(fault->expected, "\"four_stroke\", \"two_stroke\"");
    assert_string_equal(fault->nearest, "four_stroke");
    /* A grade that looks like a number is still a word. */
    fault = only_fault("{\"clamp_bolt\":{\"grade\":8.8}}", &faults);
    assert_int_equal(fault->code, FAULT_WRONG_TYPE);
    assert_string_equal(fault->nearest, "8.8");
}

/* ---- the whole table ---- */

/* A value, in metric units, that a member of this row takes. */
static json_t *
sample(const struct job_field_row *row)
{
    size_t count = 0;
    switch (row->kind) {
    case KIND_NUMBER:
        /* A count is whole; other numbers stay clear of the end by rounding. */
        return json_real(row->dimension == DIMENSION_COUNT
                             ? row->maximum
                             : unit_from_si(unit_of(row->dimension, UNITS_METRIC), row->maximum) * (1.0 - 1e-9));
    case KIND_LIMITS:
        return json_pack("{s:f,s:f}", "min", row->minimum * 1000.0 + 0.5, "max", row->maximum * 1000.0 - 0.5);
    case KIND_CHOICE:
        return json_string(choice_table(row->choices, &count)[0].text);
    case KIND_TEXT:
        return json_string("a");
    case KIND_FLAG:
        return json_true();
    case KIND_STEEL:
        return json_string(steel_table(&count)[0].id);
    case KIND_METAL:
        return json_string(bearing_metal_table(&count)[0].id);
    case KIND_THREAD:
        return json_string("M10");
    case KIND_NUMBERS:
        return json_pack("[f]", 100.0);
    case KIND_NAMES:
        return json_pack("[s]", steel_table(&count)[0].id);
    case KIND_RAW:
        return json_real(1.0);
    case KIND_READINGS:
        return json_pack("[{s:f}]", "size", 35.0);
    }
    return NULL;
}

/* A job with this one member, its group's path made object by object. */
static json_t *
job_with(const struct job_field_row *row, json_t *value)
{
    json_t *root = json_pack("{s:s}", "units", "metric");
    json_t *object = root;
    char path[FAULT_POINTER_SIZE];
    snprintf(path, sizeof path, "%s", job_group_row(row->group)->path);
    char *at = path;
    char *end = NULL;
    do {
        end = strchr(at, '/');
        if (end != NULL) {
            *end = '\0';
        }
        json_object_set_new(object, at, json_object());
        object = json_object_get(object, at);
        at = end != NULL ? end + 1 : at;
    } while (end != NULL);
    json_object_set_new(object, row->name, value);
    return root;
}

static void
reads_every_member_that_is_defined(void **state)
{
    (void)state;
    for (int i = 0; i < FIELD_COUNT; i++) {
        const struct job_field_row *row = job_field_row((enum job_field)i);
        json_t *root = job_with(row, sample(row));
        struct job job;
        struct fault_list faults;
        if (!job_read(root, &job, &faults)) {
            fail_msg("%s refused: %s", row->pointer, faults.fault[0].detail);
        }
        assert_true(job_given(&job, (enum job_field)i));
        json_decref(root);
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_numbers_in_the_documents_units),
        cmocka_unit_test(reads_units_wherever_they_stand),
        cmocka_unit_test(reads_text_with_its_own_unit),
        cmocka_unit_test(notes_numbers_whose_unit_was_taken_from_the_document),
        cmocka_unit_test(takes_null_and_absent_alike),
        cmocka_unit_test(marks_what_was_given_and_nothing_else),
        cmocka_unit_test(refuses_a_value_out_of_range_in_the_documents_units),
        cmocka_unit_test(refuses_wrong_units_and_bad_numbers),
        cmocka_unit_test(refuses_text_too_long_for_a_number),
        cmocka_unit_test(refuses_every_wrong_type),
        cmocka_unit_test(refuses_an_unknown_member_with_the_nearest_name),
        cmocka_unit_test(names_the_group_where_a_misplaced_member_belongs),
        cmocka_unit_test(escapes_the_pointer_of_an_unknown_member),
        cmocka_unit_test(collects_every_fault),
        cmocka_unit_test(a_flood_of_faults_is_bounded),
        cmocka_unit_test(words_are_matched_without_case),
        cmocka_unit_test(refuses_an_unknown_word_and_lists_the_known_ones),
        cmocka_unit_test(reads_every_member_that_is_defined),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
