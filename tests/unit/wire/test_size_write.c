#include "ask.h"

/* How what was sought is written; that it is right is for test_size.c. */

#define FIND(what) "\"find\":{\"what\":\"" what "\"}"

/* The demo engine's job, whose checks all pass, with more members. */
static json_t *
sought(const char *find, const char *more)
{
    char text[8192];
    FILE *file = fopen(SMALLEND_FIXTURES "/jobs/pump-engine.json", "rb");
    assert_non_null(file);
    const size_t begin = (size_t)snprintf(text, sizeof text, "{%s%s,", find, more);
    char job[4096] = "";
    const size_t length = fread(job, 1, sizeof job - 1, file);
    fclose(file);
    assert_int_equal(job[0], '{');
    assert_true(begin + length < sizeof text);
    memcpy(text + begin, job + 1, length); /* the rest of the object, its end too */
    return ask(CALL_size, text, 200);
}

static void
a_number_comes_with_its_ends_its_practical_size_and_what_moves_it(void **state)
{
    (void)state;
    json_t *root = sought(FIND("engine.peak_pressure"), "");
    const double found = look_number(root, "/results/size/found/value");
    assert_string_equal(look_text(root, "/results/size/found/unit"), "psi");
    assert_close(look_number(root, "/results/size/found_high/value"), found, 1e-9);
    assert_true(look_number(root, "/results/size/found_low/value") < found);
    assert_close(look_number(root, "/results/size/next_practical/value"), 5.0 * floor(found / 5.0), 1e-6);
    assert_true(json_array_size(look(root, "/results/size/sensitivities")) > 0);
    assert_true(look_text(root, "/results/size/sensitivities/0/at")[0] == '/');
    assert_true(look_number(root, "/results/size/sensitivities/0/utilization_per_percent") != 0.0);
    assert_string_equal(look_text(root, "/results/size/outcome"), "limit");
    json_decref(root);
}

static void
a_steel_comes_with_all_that_pass(void **state)
{
    (void)state;
    json_t *root = sought(FIND("pin.steel"), "");
    json_t *passing = look(root, "/results/size/passing");
    assert_true(json_array_size(passing) > 1);
    assert_string_equal(look_text(root, "/results/size/found"), json_string_value(json_array_get(passing, 0)));
    json_decref(root);
}

/* Factors that nothing, and that everything, keeps. */
static void
steels_that_all_pass_or_all_fail_are_told_so(void **state)
{
    (void)state;
    json_t *root = sought("\"find\":{\"what\":\"pin.steel\",\"among\":[\"4140-bc\",\"4340-qt1000\"]}",
                          ",\"limits\":{\"fatigue_factor\":9}");
    assert_string_equal(look_text(root, "/results/size/outcome"), "none_passes");
    assert_non_null(strstr(look_text(root, "/summary"), "None of these steels passes: fatigue"));
    json_decref(root);
    root = sought("\"find\":{\"what\":\"pin.steel\",\"among\":[\"4340-qt1000\"]}", "");
    assert_string_equal(look_text(root, "/results/size/outcome"), "all_pass");
    assert_non_null(strstr(look_text(root, "/summary"), "Every one of these steels passes"));
    json_decref(root);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_number_comes_with_its_ends_its_practical_size_and_what_moves_it),
        cmocka_unit_test(a_steel_comes_with_all_that_pass),
        cmocka_unit_test(steels_that_all_pass_or_all_fail_are_told_so),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
