#include "ask.h"

/* How a measured part is written, as JSON and as a table. */

#define LIMITS "\"pin\":{\"diameter\":{\"min\":1.249,\"max\":1.2495}},"

/* Two readings at one place, one at another. */
static const char uneven[] = "{" LIMITS "\"inspection\":{\"uncertainty\":\"0.5 tenths\",\"readings\":["
                             "{\"at\":0.5,\"around\":0,\"size\":1.25},{\"at\":0.5,\"around\":90,\"size\":1.2502},"
                             "{\"at\":3.5,\"size\":1.2493}]}}";

static void
a_station_of_one_reading_has_no_roundness(void **state)
{
    (void)state;
    json_t *root = ask(CALL_inspection, uneven, 200);
    assert_int_equal(json_array_size(look(root, "/results/inspection/stations")), 2);
    assert_close(look_number(root, "/results/inspection/stations/0/out_of_round/value"), 0.0002, 1e-6);
    assert_null(look(root, "/results/inspection/stations/1/out_of_round"));
    assert_close(look_number(root, "/results/inspection/stations/1/at/value"), 3.5, 1e-9);
    assert_string_equal(look_text(root, "/results/inspection/decision"), "rework");
    json_decref(root);
}

static void
the_text_of_a_call(const char *job, enum answer_format format, char text[4096])
{
    struct reply reply;

    answer_call(CALL_inspection, job, strlen(job), format, "/v1/test", &reply, NULL);
    assert_int_equal(reply.status, 200);
    assert_true(reply.length < 4096);
    memcpy(text, reply.body, reply.length);
    text[reply.length] = '\0';
    reply_clear(&reply);
}

/* Sizes keep their last digit, 1.2500, and are no fraction of an inch. */
static void
sizes_are_written_as_the_dial_shows_them(void **state)
{
    (void)state;
    char text[4096];

    the_text_of_a_call(uneven, ANSWER_MD, text);
    assert_non_null(strstr(text, "| 1/2 in | 1.2501 in | 0.20 thou | 0.80 thou |"));
    assert_non_null(strstr(text, "| 3 1/2 in | 1.2493 in | one reading | nothing |"));
    assert_non_null(strstr(text, "decision rework; size mean 1.2497 in"));
    the_text_of_a_call("{\"inspection\":{\"readings\":[{\"size\":1.25}]}}", ANSWER_MD, text);
    assert_non_null(strstr(text, "size mean 1.2500 in"));
    assert_null(strstr(text, "Take off the diameter"));
}

static void
metal_comes_off_a_pin_and_out_of_a_hole(void **state)
{
    (void)state;
    char text[4096];

    the_text_of_a_call(uneven, ANSWER_MD, text);
    assert_non_null(strstr(text, "| Take off the diameter |"));
    the_text_of_a_call("{\"inspection\":{\"part\":\"hole\",\"accept\":{\"min\":1.251,\"max\":1.252},"
                       "\"uncertainty\":\"0.5 tenths\",\"readings\":[{\"size\":1.2504}]}}",
                       ANSWER_MD, text);
    assert_non_null(strstr(text, "| Take out, on the diameter |"));
}

/* Half a micrometer is told: 37.9935 mm comes down to 37.985 mm. */
static void
a_metric_table_tells_differences_in_micrometers(void **state)
{
    (void)state;
    char text[4096];

    the_text_of_a_call("{\"units\":\"metric\",\"inspection\":{\"accept\":{\"min\":37.975,\"max\":37.991},"
                       "\"uncertainty\":0.003,\"readings\":[{\"at\":6,\"size\":37.994},{\"at\":6,\"size\":37.993},"
                       "{\"at\":95,\"size\":37.985}]}}",
                       ANSWER_MD, text);
    assert_non_null(strstr(text, "| 1 um | 8.5 um |"));
}

/* 1.24905 and 1.24945 in: what is written of them passes. */
static void
advised_sizes_are_rounded_inward(void **state)
{
    (void)state;
    char text[4096];

    the_text_of_a_call(uneven, ANSWER_MD, text);
    assert_non_null(strstr(text, "| 1.2491 in to 1.2494 in | 1.2490 in to 1.2495 in |"));
}

static void
the_plain_answer_names_decision_and_next_cut(void **state)
{
    (void)state;
    char text[4096];

    the_text_of_a_call(uneven, ANSWER_TXT, text);
    assert_non_null(strstr(text, "Rework: take up to "));
    assert_non_null(strstr(text, "Next: Take up to "));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_station_of_one_reading_has_no_roundness),
        cmocka_unit_test(sizes_are_written_as_the_dial_shows_them),
        cmocka_unit_test(metal_comes_off_a_pin_and_out_of_a_hole),
        cmocka_unit_test(a_metric_table_tells_differences_in_micrometers),
        cmocka_unit_test(advised_sizes_are_rounded_inward),
        cmocka_unit_test(the_plain_answer_names_decision_and_next_cut),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
