#include "ask.h"

/* How the cuts of a turning answer are written, as JSON and as a table. */

/* A job with or without the steel; the text is the caller's. */
static const char *
job_text(char text[512], const char *pin, const char *rest)
{
    snprintf(text, 512, "{\"units\":\"inch\",\"pin\":{\"diameter\":1.25,\"length\":4,\"finish\":\"turned\"%s}%s}", pin,
             rest);
    return text;
}

/* 1 1/2 in bar to 1.25075 in (derived): 0.124625 in on the radius, four cuts of
 * 0.0285 in as a dial of diameter shows 0.057. */
static void
every_cut_is_written_with_its_dial_reading(void **state)
{
    (void)state;
    char text[512];
    json_t *root =
        ask(CALL_turning, job_text(text, ",\"steel\":\"1144\"", ",\"turning\":{\"stock_diameter\":1.5}"), 200);
    assert_int_equal(json_array_size(look(root, "/results/turning/passes")), 6);
    assert_string_equal(look_text(root, "/results/turning/passes/0/purpose"), "rough");
    assert_close(look_number(root, "/results/turning/passes/0/diameter_before/value"), 1.5, 1e-6);
    assert_close(look_number(root, "/results/turning/passes/0/dial/value"), 0.057, 1e-6);
    assert_close(look_number(root, "/results/turning/passes/0/depth_of_cut/value"), 0.0285, 1e-6);
    assert_close(look_number(root, "/results/turning/passes/5/diameter_after/value"), 1.25075, 1e-6);
    assert_string_equal(look_text(root, "/results/turning/passes/0/spindle_speed/unit"), "rpm");
    assert_string_equal(look_text(root, "/results/turning/cutting_speed/unit"), "ft/min");
    json_decref(root);
}

static void
cutting_speed_of_a_metric_answer_is_per_minute(void **state)
{
    (void)state;
    json_t *root =
        ask(CALL_turning, "{\"units\":\"metric\",\"pin\":{\"diameter\":35,\"length\":100,\"steel\":\"1144\"}}", 200);
    assert_string_equal(look_text(root, "/results/turning/cutting_speed/unit"), "m/min");
    assert_close(look_number(root, "/results/turning/cutting_speed/value"), 102.0 * 0.3048, 1e-6);
    assert_string_equal(look_text(root, "/results/turning/passes/0/dial/unit"), "mm");
    json_decref(root);
}

static void
no_speed_is_written_where_the_steel_is_unknown(void **state)
{
    (void)state;
    char text[512];
    json_t *root = ask(CALL_turning, job_text(text, "", ",\"slot\":{\"depth\":0.1,\"cutter_diameter\":0.5}"), 200);
    assert_non_null(look(root, "/results/turning/passes/0/dial"));
    assert_null(look(root, "/results/turning/passes/0/spindle_speed"));
    assert_non_null(look(root, "/results/turning/slot_passes/0/effective_diameter"));
    assert_null(look(root, "/results/turning/slot_passes/0/spindle_speed"));
    assert_null(look(root, "/results/turning/slot_spindle_speed"));
    json_decref(root);
}

/* The answer rests on the speed that was shortened and on the allowance left. */
static void
the_share_of_the_printed_speed_is_an_assumption(void **state)
{
    (void)state;
    char text[512];
    json_t *root = ask(CALL_turning, job_text(text, ",\"steel\":\"1144\"", ""), 200);
    json_t *list = look(root, "/assumptions");
    bool speed = false, left = false;
    for (size_t i = 0; i < json_array_size(list); i++) {
        const char *because = json_string_value(json_object_get(json_array_get(list, i), "because"));
        speed = speed || strstr(because, "six tenths of the 170 ft/min printed for resulfurized steel") != NULL;
        left = left || strstr(because, "left on the diameter for file and cloth") != NULL;
    }
    assert_true(speed);
    assert_true(left);
    json_decref(root);
}

static void
the_engine_is_no_assumption_of_turning(void **state)
{
    (void)state;
    json_t *root = ask(CALL_turning, ORDINARY_JOB, 200);
    json_t *list = look(root, "/assumptions");
    assert_true(json_array_size(list) > 0);
    for (size_t i = 0; i < json_array_size(list); i++) {
        const char *at = json_string_value(json_object_get(json_array_get(list, i), "at"));
        assert_true(at == NULL || strncmp(at, "/engine/", 8) != 0);
    }
    json_decref(root);
}

static void
markdown_lists_the_cuts_in_digits_of_the_dial(void **state)
{
    (void)state;
    char text[512];
    struct reply reply;
    const char *job = job_text(text, ",\"steel\":\"1144\"",
                               ",\"turning\":{\"stock_diameter\":1.5,\"spindle_speeds\":[100,250,400]},"
                               "\"slot\":{\"depth\":0.1,\"cutter_diameter\":0.5}");
    answer_call(CALL_turning, job, strlen(job), ANSWER_MD, NULL, &reply, NULL);
    assert_int_equal(reply.status, 200);
    assert_non_null(strstr(reply.body, "\n| 1 rough | 57.00 thou | 1.5000 in | 1.4430 in | 250 rpm | 7 thou |\n"));
    assert_non_null(strstr(reply.body, "\n| 4 | 25.00 thou | 0.1000 in | 0.4000 in | 974 rpm |\n"));
    reply_clear(&reply);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_cut_is_written_with_its_dial_reading),
        cmocka_unit_test(cutting_speed_of_a_metric_answer_is_per_minute),
        cmocka_unit_test(no_speed_is_written_where_the_steel_is_unknown),
        cmocka_unit_test(the_share_of_the_printed_speed_is_an_assumption),
        cmocka_unit_test(the_engine_is_no_assumption_of_turning),
        cmocka_unit_test(markdown_lists_the_cuts_in_digits_of_the_dial),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
