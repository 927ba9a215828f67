#include "ask.h"

/* Figures marked "exact" follow from 1 in = 25.4 mm, 1 lb = 0.45359237 kg and
 * standard gravity; the tolerance is that of double arithmetic. */
#define EXACT 1e-12

/* ---- materials ---- */

static void
a_grade_alone_takes_its_usual_condition(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    assert_true(read_job("{\"pin\":{\"steel\":\"12L14\"}}", &job, &faults));
    assert_true(job.pin.steel.by_grade);
    assert_string_equal(job.pin.steel.row->grade, "12L14");
    assert_true(read_job("{\"pin\":{\"steel\":\"4140-bc\"}}", &job, &faults));
    assert_false(job.pin.steel.by_grade);
}

static void
reads_the_figures_of_a_certificate(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    assert_true(read_job("{\"pin\":{\"steel\":{\"tensile\":\"130 ksi\",\"yield\":110000,\"hardness\":28,"
                         "\"basis\":\"certificate 4711, heat A\"}}}",
                         &job, &faults));
    const struct steel *steel = job_steel(&job);
    assert_close(steel->tensile.si, 130000.0 * 4.4482216152605 / 0.00064516, EXACT); /* exact */
    assert_close(steel->yield.si, 110000.0 * 4.4482216152605 / 0.00064516, EXACT);
    assert_int_equal(steel->basis, BASIS_CERTIFICATE);
    assert_true(steel->hardness_hrc.given && !steel->hardness_hb.given); /* up to 70 it is Rockwell C */
    assert_string_equal(job.pin.steel.basis, "certificate 4711, heat A");
    assert_string_equal(steel->id, "certificate");
    assert_true(steel->modulus.given && steel->density.given && steel->expansion.given);
}

static void
refuses_figures_that_cannot_be_a_certificate(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    assert_false(read_job("{\"units\":\"metric\",\"pin\":{\"steel\":{\"tensile\":600,\"yield\":700,\"hardnes\":3}}}",
                          &job, &faults));
    assert_int_equal(faults.count, 3);
    assert_int_equal(fault_at(&faults, "/pin/steel/basis")->code, FAULT_MISSING);
    assert_string_equal(fault_at(&faults, "/pin/steel/hardnes")->nearest, "hardness");
    assert_int_equal(fault_at(&faults, "/pin/steel")->code, FAULT_CONTRADICTION);
    assert_false(job_given(&job, FIELD_pin_steel));
    const struct fault *fault = only_fault("{\"pin\":{\"steel\":{\"tensile\":90000,\"yield\":70000,\"hardness\":200,"
                                           "\"hardness_scale\":\"HRC\",\"basis\":\"b\"}}}",
                                           &faults);
    assert_string_equal(fault->pointer, "/pin/steel/hardness");
}

static void
reads_the_figures_of_a_bearing_metal(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    assert_true(
        read_job("{\"units\":\"metric\",\"eye\":{\"bushing\":{\"yield\":125,\"kind\":\"babbitt\",\"pressure_max\":10,"
                 "\"modulus\":50000,\"basis\":\"maker's sheet\"}}}",
                 &job, &faults));
    const struct metal *metal = job_metal(&job, FIELD_eye_bushing);
    assert_int_equal(metal->kind, METAL_BABBITT);
    assert_close(metal->yield.si, 125.0e6, EXACT);
    assert_close(metal->pressure_max.si, 10.0e6, EXACT);
    assert_close(metal->modulus.si, 50.0e9, EXACT);
    assert_true(metal->poisson.given && metal->expansion.given && metal->bearing);
    assert_false(metal->pv_max.given);
    assert_string_equal(
        only_fault("{\"eye\":{\"bushing\":{\"yield\":20000,\"kind\":\"bronce\",\"basis\":\"b\"}}}", &faults)->nearest,
        "bronze");
}

static void
refuses_an_unknown_id_with_the_nearest(void **state)
{
    (void)state;
    struct fault_list faults;
    const struct fault *fault = only_fault("{\"eye\":{\"bushing\":\"C93300\"}}", &faults);
    assert_int_equal(fault->code, FAULT_OUT_OF_RANGE);
    assert_string_equal(fault->nearest, "c93200");
    assert_string_equal(fault->got, "C93300");
    assert_string_equal(only_fault("{\"find\":{\"among\":[\"4140-bc\",\"4140-bx\"]}}", &faults)->pointer,
                        "/find/among/1");
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_grade_alone_takes_its_usual_condition),
        cmocka_unit_test(reads_the_figures_of_a_certificate),
        cmocka_unit_test(refuses_figures_that_cannot_be_a_certificate),
        cmocka_unit_test(reads_the_figures_of_a_bearing_metal),
        cmocka_unit_test(refuses_an_unknown_id_with_the_nearest),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
