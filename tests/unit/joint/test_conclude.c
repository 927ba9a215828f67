/* What an answer tells to do next, and what it took for granted. */

#include "support/close.h"
#include "support/job_sample.h"

#include <string.h>

#include "joint/check.h"
#include "joint/joint.h"

static bool
asks_for(const struct report *report, enum job_field field)
{
    for (size_t i = 0; i < report->next_step_count; i++) {
        if (report->next_step[i].at == field) {
            return true;
        }
    }
    return false;
}

static void
an_incomplete_answer_says_what_is_missing(void **state)
{
    struct job job;
    struct report report;

    (void)state;
    for (int call = 0; call < CALL_COUNT; call++) {
        if (call == CALL_size) { /* refused without find.what */
            continue;
        }
        job_init(&job);
        job_complete(&job);
        joint_run(&job, (enum call)call, &report);
        assert_int_equal(report.verdict, VERDICT_INCOMPLETE);
        assert_true(report.next_step_count > 0);
        assert_int_not_equal(report.next_step[0].at, FIELD_NONE);
        assert_null(strstr(report.next_step[0].text.text, "No change"));
    }
}

static void
the_choice_of_a_steel_asks_for_what_ranks_steels_and_for_the_steel(void **state)
{
    struct job job;
    struct report report;

    (void)state;
    job_init(&job);
    SET(&job, engine, bore, bore_m, 0.1334);
    SET(&job, engine, stroke, stroke_m, 0.2032);
    SET(&job, engine, peak_pressure, peak_pressure_Pa, 1.965e6);
    job_complete(&job);
    joint_run(&job, CALL_material, &report);
    assert_true(asks_for(&report, FIELD_pin_diameter));
    assert_true(asks_for(&report, FIELD_pin_steel));
    assert_false(asks_for(&report, FIELD_engine_bore));
    assert_false(asks_for(&report, FIELD_slot_depth));
}

static void
nothing_is_asked_for_twice(void **state)
{
    struct job job;
    struct report report;

    (void)state;
    job_init(&job);
    job_complete(&job);
    joint_run(&job, CALL_check, &report);
    for (size_t i = 0; i < report.next_step_count; i++) {
        for (size_t k = 0; k < i; k++) {
            assert_true(report.next_step[i].at == FIELD_NONE || report.next_step[i].at != report.next_step[k].at);
        }
    }
}

static bool
assumes(const struct report *report, enum job_field field)
{
    for (size_t i = 0; i < report->assumption_count; i++) {
        if (report->assumption[i].at == field) {
            return true;
        }
    }
    return false;
}

static void
the_place_of_a_slot_is_taken_for_granted_only_where_there_is_one(void **state)
{
    struct job job;
    struct report report;

    (void)state;
    job_sample(&job);
    job_complete(&job);
    joint_run(&job, CALL_check, &report);
    assert_true(assumes(&report, FIELD_slot_angle));
    job_sample(&job);
    DROP(&job, slot, depth);
    DROP(&job, slot, cutter_diameter);
    job_complete(&job);
    joint_run(&job, CALL_check, &report);
    assert_true(report.finding[check_index("steel_strength")].judged);
    assert_false(assumes(&report, FIELD_slot_angle));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_incomplete_answer_says_what_is_missing),
        cmocka_unit_test(the_choice_of_a_steel_asks_for_what_ranks_steels_and_for_the_steel),
        cmocka_unit_test(nothing_is_asked_for_twice),
        cmocka_unit_test(the_place_of_a_slot_is_taken_for_granted_only_where_there_is_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
