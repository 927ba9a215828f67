/*
 * A job written and read again is the same job: compared by what it is written
 * as, by every state and value, and by the answers that it gets.
 */

#include "ask.h"

#include <stdio.h>

#include "wire/job_write.h"

struct written {
    struct buffer text;
};

static void
write(const struct job *job, struct written *written)
{
    struct writer writer;
    buffer_init(&written->text);
    writer_init(&writer, &written->text);
    job_write(&writer, NULL, job);
    assert_false(writer.defect);
    assert_false(written->text.failed);
}

/* The members of both, one by one: bytes between them need not be equal. */
static void
assert_same_values(const struct job *a, const struct job *b)
{
    assert_int_equal(a->units, b->units);
    assert_int_equal(a->units_given, b->units_given);
    assert_string_equal(a->label, b->label);
    assert_memory_equal(a->state, b->state, sizeof a->state);
#define SAME(group, name) assert_memory_equal(&a->group.name, &b->group.name, sizeof a->group.name);
#define GROUP(group, path, meaning)
#define NUMBER(group, name, suffix, dimension, min, max, meaning) SAME(group, name##_##suffix)
#define LIMITS(group, name, side, min, max, meaning)                                                                   \
    assert_true(a->group.name.min_m == b->group.name.min_m && a->group.name.max_m == b->group.name.max_m &&            \
                a->group.name.nominal_m == b->group.name.nominal_m);                                                   \
    assert_string_equal(a->group.name.class_name, b->group.name.class_name);
#define CHOICE_OF(group, name, set, meaning) SAME(group, name)
#define TEXT(group, name, size, meaning) assert_string_equal(a->group.name, b->group.name);
#define FLAG(group, name, meaning) SAME(group, name)
#define STEEL(group, name, meaning)                                                                                    \
    assert_ptr_equal(a->group.name.row, b->group.name.row);                                                            \
    assert_int_equal(a->group.name.by_grade, b->group.name.by_grade);                                                  \
    assert_true(a->group.name.own.tensile.si == b->group.name.own.tensile.si);                                         \
    assert_true(a->group.name.own.yield.si == b->group.name.own.yield.si);                                             \
    assert_true(a->group.name.own.hardness_hrc.si == b->group.name.own.hardness_hrc.si);                               \
    assert_true(a->group.name.own.hardness_hb.si == b->group.name.own.hardness_hb.si);                                 \
    assert_string_equal(a->group.name.basis, b->group.name.basis);
#define METAL(group, name, meaning)                                                                                    \
    assert_ptr_equal(a->group.name.row, b->group.name.row);                                                            \
    assert_int_equal(a->group.name.own.kind, b->group.name.own.kind);                                                  \
    assert_true(a->group.name.own.yield.si == b->group.name.own.yield.si);                                             \
    assert_true(a->group.name.own.modulus.si == b->group.name.own.modulus.si);                                         \
    assert_string_equal(a->group.name.basis, b->group.name.basis);
#define THREAD(group, name, meaning)                                                                                   \
    assert_string_equal(a->group.name.designation, b->group.name.designation);                                         \
    assert_true(a->group.name.diameter_m == b->group.name.diameter_m && a->group.name.pitch_m == b->group.name.pitch_m);
#define NUMBERS(group, name, suffix, dimension, size, min, max, meaning)                                               \
    SAME(group, name##_count) SAME(group, name##_##suffix)
#define NAMES(group, name, count, size, meaning) SAME(group, name##_count) SAME(group, name)
#define RAW(group, name, meaning)                                                                                      \
    assert_true(a->group.name.number == b->group.name.number);                                                         \
    assert_string_equal(a->group.name.text, b->group.name.text);
#define READINGS(group, name, size, meaning)                                                                           \
    SAME(group, name##_count)                                                                                          \
    for (size_t i = 0; i < a->group.name##_count; i++) {                                                               \
        assert_true(a->group.name[i].at_m == b->group.name[i].at_m);                                                   \
        assert_true(a->group.name[i].around_rad == b->group.name[i].around_rad);                                       \
        assert_true(a->group.name[i].size_m == b->group.name[i].size_m);                                               \
        assert_int_equal(a->group.name[i].has_at, b->group.name[i].has_at);                                            \
        assert_int_equal(a->group.name[i].has_around, b->group.name[i].has_around);                                    \
    }
#define GROUP_END(group)
#include "joint/job.def"
}

/* Read, complete if asked, write, read, complete, compare, write, compare. */
static void
assert_survives(const char *text, bool complete)
{
    struct job first, second;
    struct fault_list faults;
    struct written once, twice;
    if (!read_job(text, &first, &faults)) {
        fail_msg("%s: %s in %s", faults.fault[0].pointer, faults.fault[0].detail, text);
    }
    if (complete) {
        job_complete(&first);
    }
    write(&first, &once);
    if (!read_job(once.text.at, &second, &faults)) {
        fail_msg("%s: %s in %s", faults.fault[0].pointer, faults.fault[0].detail, once.text.at);
    }
    if (complete) {
        job_complete(&second);
    }
    write(&second, &twice);
    assert_string_equal(once.text.at, twice.text.at);
    /* Where the document says in which, it does not matter. */
    if (!first.units_given && first.bare_numbers != second.bare_numbers) {
        fail_msg("numbers without a unit, or none: %s gave %s", text, once.text.at);
    }
    assert_same_values(&first, &second);
    buffer_clear(&once.text);
    buffer_clear(&twice.text);
}

/* The documents of the wire tests and such as spell the same thing in every
 * way that the reader takes. */
static const char *const documents[] = {
    "{}",
    ORDINARY_JOB,
    "{\"units\":\"inch\",\"label\":\"M\xC3\xBChle \\\"3\\\" \\\\ \\u2153\",\"engine\":{\"bore\":\"5 1/4 in\",\"peak_pressure\":\"19 bar\"}}",
    "{\"units\":\"metric\",\"engine\":{\"bore\":\"5-1/4\\\"\",\"stroke\":\"8 in\",\"speed\":\"6.5 Hz\",\"reciprocating_mass\":\"48 lb\"}}",
    "{\"engine\":{\"bore\":\"133.35 mm\",\"speed\":400},\"running_fit\":{\"pin_temperature\":\"180 degF\"}}",
    "{\"engine\":{\"bore\":5.3333333333333331},\"pin\":{\"diameter\":\"34.925 mm\"}}",
    "{\"engine\":{\"bore\":1.9685039370078741}}",
    "{\"pin\":{\"diameter\":{\"nominal\":35,\"class\":\"h6\"}},\"units\":\"metric\"}",
    "{\"pin\":{\"diameter\":{\"nominal\":\"1 1/4 in\",\"upper\":\"0 in\",\"lower\":\"-0.5 thou\"}}}",
    "{\"pin\":{\"diameter\":{\"nominal\":1.25,\"upper\":\"3 tenths\",\"lower\":\"-12 um\"}}}",
    "{\"running_fit\":{\"hole\":{\"nominal\":1.375,\"class\":\"RC4\"},\"wanted\":{\"min\":\"0.8 thou\",\"max\":\"2 thou\"}}}",
    "{\"pin\":{\"steel\":\"12L14\"}}",
    "{\"pin\":{\"steel\":\"4140 HT\",\"finish\":\"GROUND\",\"hardness\":58,\"roughness\":16}}",
    "{\"pin\":{\"steel\":\"8620-CARB\",\"roughness\":\"0.4 um\"}}",
    "{\"pin\":{\"steel\":{\"tensile\":\"95 ksi\",\"yield\":61000,\"hardness\":28,\"hardness_scale\":\"HRC\",\"basis\":\"heat 4711\"}}}",
    "{\"units\":\"metric\",\"pin\":{\"steel\":{\"tensile\":650,\"yield\":\"400 MPa\",\"hardness\":190,\"basis\":\"certificate\"}}}",
    "{\"eye\":{\"bushing\":{\"yield\":\"18 ksi\",\"kind\":\"babbitt\",\"pressure_max\":\"7 MPa\",\"pv_max\":\"50000 psi.ft/min\",\"expansion\":\"18 um/m/K\",\"basis\":\"maker\"}}}",
    "{\"boss\":{\"bushing\":\"C93200\"},\"running_fit\":{\"hole_metal\":\"grey_iron\"}}",
    "{\"clamp_bolt\":{\"diameter\":\"3/8-16 UNC\",\"grade\":\"sae 5\",\"offset\":\"0.775 in\",\"torque\":\"30 lbf.ft\"}}",
    "{\"clamp_bolt\":{\"thread\":0.375}}",
    "{\"clamp_bolt\":{\"thread\":\"9.525 mm\",\"diameter\":\"3/8 in\"}}",
    "{\"units\":\"metric\",\"clamp_bolt\":{\"thread\":\"M10x1.25\",\"shear_planes\":1,\"torque\":42}}",
    "{\"units\":\"metric\",\"slot\":{\"depth\":3.4,\"cutter_diameter\":\"7/16 in\",\"angle\":\"1.2 rad\"}}",
    "{\"slot\":{\"angle\":33.3}}",
    "{\"set_screw\":{\"thread\":\"#10-24\",\"count\":2,\"torque\":\"290 lbf.in\",\"flat_depth\":\"0.04 in\",\"point\":\"dog\"}}",
    "{\"limits\":{\"edge_slope\":0.0011,\"boss_pressure\":\"15 MPa\",\"wall_clearance\":\"1/32 in\"},\"demand\":{\"axial\":\"1 kN\"}}",
    "{\"find\":{\"what\":\"pin.diameter\",\"aim\":\"smallest\",\"from\":1,\"to\":\"40 mm\",\"among\":[\"1144-cd\",\"4140\"]}}",
    "{\"find\":{\"what\":\"pin.diameter\",\"from\":\"1 in\"}}",
    "{\"inspection\":{\"part\":\"pin\",\"readings\":[{\"at\":\"1/4 in\",\"around\":90,\"size\":\"1.2498 in\"},{\"size\":1.2497}]}}",
    "{\"inspection\":{\"accept\":{\"min\":1.249,\"max\":1.2495},\"part_temperature\":\"30 degC\"}}",
    "{\"inspection\":{\"readings\":[{\"around\":\"-90 deg\",\"size\":\"31.7451 mm\"}]}}",
    "{\"turning\":{\"spindle_speeds\":[45,72.5,\"2 Hz\"],\"machine_taper\":{\"amount\":\"-0.0012 in\",\"over\":3.5}}}",
    "{\"turning\":{\"machine_taper\":{\"amount\":0.0003,\"over\":\"80 mm\"}}}",
    "{\"order\":{\"action\":\"replace\",\"supersedes\":\"ab\",\"quantity\":2,\"reference\":\"W\xC3\xA4rter 7\",\"date\":\"1 May\",\"accept_marginal\":false}}",
};

static void
what_is_written_reads_back_to_the_same_job(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof documents / sizeof documents[0]; i++) {
        assert_survives(documents[i], false);
        assert_survives(documents[i], true);
    }
}

/* The members of every kind, and every id of the tables of materials. */
static void
every_steel_and_metal_survives(void **state)
{
    (void)state;
    char text[128];
    size_t count = 0;
    const struct steel *steel = steel_table(&count);
    for (size_t i = 0; i < count; i++) {
        snprintf(text, sizeof text, "{\"pin\":{\"steel\":\"%s\"}}", steel[i].id);
        assert_survives(text, false);
        snprintf(text, sizeof text, "{\"pin\":{\"steel\":\"%s\"}}", steel[i].grade);
        assert_survives(text, false);
    }
    const struct metal *metal = bearing_metal_table(&count);
    for (size_t i = 0; i < count; i++) {
        snprintf(text, sizeof text, "{\"eye\":{\"bushing\":\"%s\"}}", metal[i].id);
        assert_survives(text, false);
    }
}

static void
assert_written(const char *document, const char *wanted)
{
    struct job job;
    struct fault_list faults;
    struct written written;
    assert_true(read_job(document, &job, &faults));
    write(&job, &written);
    assert_string_equal(written.text.at, wanted);
    buffer_clear(&written.text);
}

static void
one_size_has_one_spelling(void **state)
{
    (void)state;
    static const char *const spellings[] = {"1.375", "\"1 3/8 in\"", "\"1-3/8\\\"\"", "\"34.925 mm\"", "\"1375 thou\""};
    for (size_t i = 0; i < sizeof spellings / sizeof spellings[0]; i++) {
        char text[96];
        snprintf(text, sizeof text, "{\"pin\":{\"diameter\":%s},\"units\":\"inch\"}", spellings[i]);
        assert_written(text, "{\"units\":\"inch\",\"pin\":{\"diameter\":1.375}}");
    }
}

/* A default that stands in must stay a default. */
static void
what_was_not_given_is_not_written(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    struct written written;
    assert_true(read_job("{\"units\":\"metric\",\"engine\":{\"bore\":100,\"stroke\":120}}", &job, &faults));
    job_complete(&job);
    assert_int_equal(job.state[FIELD_engine_rod_length], FIELD_ASSUMED);
    write(&job, &written);
    assert_string_equal(written.text.at, "{\"units\":\"metric\",\"engine\":{\"bore\":100,\"stroke\":120}}");
    buffer_clear(&written.text);
}

/* Which unit is meant stays said, or unsaid. */
static void
units_are_said_as_they_were(void **state)
{
    (void)state;
    assert_written("{\"engine\":{\"bore\":5}}", "{\"engine\":{\"bore\":5}}");
    assert_written("{\"engine\":{\"bore\":\"5 in\"}}", "{\"engine\":{\"bore\":\"5 in\"}}");
    assert_written("{\"engine\":{\"bore\":\"5 in\",\"stroke\":8}}", "{\"engine\":{\"bore\":5,\"stroke\":8}}");
    assert_written("{\"units\":\"metric\",\"engine\":{\"bore\":\"5 in\"}}", "{\"units\":\"metric\",\"engine\":{\"bore\":127}}");
    assert_written("{\"clamp_bolt\":{\"thread\":0.375}}", "{\"clamp_bolt\":{\"thread\":0.375}}");
    assert_written("{\"clamp_bolt\":{\"thread\":\"3/8 in\"}}", "{\"clamp_bolt\":{\"thread\":\"3/8-16 UNC\"}}");
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_written_reads_back_to_the_same_job),
        cmocka_unit_test(every_steel_and_metal_survives),
        cmocka_unit_test(one_size_has_one_spelling),
        cmocka_unit_test(what_was_not_given_is_not_written),
        cmocka_unit_test(units_are_said_as_they_were),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
