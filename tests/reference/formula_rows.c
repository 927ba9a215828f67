/*
 * Runs every row of fixtures/reference that names a function: one test
 * a row, named by the row's id.
 */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <dirent.h>

#include <cmocka.h>

#include "reference/formula.h"
#include "support/close.h"

enum { ROW_MAX = 1000, FILE_MAX = 64 };

static void
run_row(json_t *row, struct formula_results *results)
{
    const char *name = json_string_value(json_object_get(row, "function"));
    formula_function *function = name ? formula_find(name) : NULL;
    json_t *inputs = json_deep_copy(json_object_get(row, "inputs"));

    if (!function || !inputs) {
        fail_msg("unknown function %s, or no inputs", name ? name : "(none)");
        return;
    }
    results->count = 0;
    function(inputs, results);
    if (json_object_size(inputs) != 0) {
        fail_msg("%s does not take %s", name, json_object_iter_key(json_object_iter(inputs)));
    }
    json_decref(inputs);
}

static void
agrees_with_its_source(void **state)
{
    json_t *row = *state, *expected;
    struct formula_results results;
    size_t index;

    assert_non_null(json_string_value(json_object_get(row, "source")));
    assert_non_null(json_string_value(json_object_get(row, "provenance")));
    assert_true(json_array_size(json_object_get(row, "expect")) > 0);
    run_row(row, &results);
    json_array_foreach(json_object_get(row, "expect"), index, expected)
    {
        const char *name = json_string_value(json_object_get(expected, "name"));
        const double wanted = json_number_value(json_object_get(expected, "value"));
        const double relative = json_number_value(json_object_get(expected, "rel_tol"));
        const double absolute = json_number_value(json_object_get(expected, "abs_tol"));
        double actual;

        assert_non_null(name);
        assert_true(json_is_number(json_object_get(expected, "value")));
        assert_true(relative > 0.0 || absolute > 0.0);
        actual = formula_result(&results, name);
        if (!is_close(actual, wanted, relative, absolute)) {
            fail_msg("%s is %.12g, wanted %.12g within %g relative, %g absolute [%s]", name, actual, wanted, relative,
                     absolute, json_string_value(json_object_get(row, "source")));
        }
    }
}

/* A row adds itself to the tests if it names a function. */
static void
add_row(json_t *row, struct CMUnitTest *tests, size_t *count)
{
    const char *id = json_string_value(json_object_get(row, "id"));

    if (!json_object_get(row, "function") || *count == ROW_MAX) {
        return;
    }
    tests[*count] = (struct CMUnitTest){id ? id : "(a row without id)", agrees_with_its_source, NULL, NULL, row};
    (*count)++;
}

static json_t *
load_file(const char *name)
{
    char path[1024];
    json_error_t error;
    json_t *rows;

    snprintf(path, sizeof(path), "%s/reference/%s", SMALLEND_FIXTURES, name);
    rows = json_load_file(path, JSON_REJECT_DUPLICATES, &error);
    if (!json_is_array(rows)) {
        fprintf(stderr, "%s:%d: %s\n", path, error.line, rows ? "not a list of rows" : error.text);
        exit(1);
    }
    return rows;
}

int
main(void)
{
    static struct CMUnitTest tests[ROW_MAX];
    json_t *files[FILE_MAX];
    size_t file_count = 0, count = 0;
    struct dirent **names;
    const int found = scandir(SMALLEND_FIXTURES "/reference", &names, NULL, alphasort);
    int failed;

    for (int i = 0; i < found; i++) {
        const char *end = strrchr(names[i]->d_name, '.');

        if (end && strcmp(end, ".json") == 0 && file_count < FILE_MAX) {
            json_t *row;
            size_t index;

            files[file_count] = load_file(names[i]->d_name);
            json_array_foreach(files[file_count], index, row)
            {
                add_row(row, tests, &count);
            }
            file_count++;
        }
        free(names[i]);
    }
    if (count == 0) {
        fprintf(stderr, "no rows in %s/reference\n", SMALLEND_FIXTURES);
        return 1;
    }
    free(names);
    failed = _cmocka_run_group_tests("reference rows", tests, count, NULL, NULL);
    for (size_t i = 0; i < file_count; i++) {
        json_decref(files[i]);
    }
    return failed;
}
