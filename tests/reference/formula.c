#include "reference/formula.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static const struct {
    const char *name;
    formula_function *function;
} formulas[] = {
#define FORMULA(name) {#name, formula_##name},
#include "reference/formula.def"
};

formula_function *
formula_find(const char *name)
{
    for (size_t i = 0; i < sizeof(formulas) / sizeof(formulas[0]); i++) {
        if (strcmp(formulas[i].name, name) == 0) {
            return formulas[i].function;
        }
    }
    return NULL;
}

double
formula_number(json_t *inputs, const char *name)
{
    const json_t *value = json_object_get(inputs, name);
    const double number = json_number_value(value);

    if (!json_is_number(value)) {
        fail_msg("the row gives no %s", name);
    }
    json_object_del(inputs, name);
    return number;
}

void
formula_word(json_t *inputs, const char *name, char text[FORMULA_WORD_SIZE])
{
    const char *value = json_string_value(json_object_get(inputs, name));

    if (!value || strlen(value) >= FORMULA_WORD_SIZE) {
        fail_msg("the row gives no %s", name);
        return;
    }
    memcpy(text, value, strlen(value) + 1);
    json_object_del(inputs, name);
}

void
formula_give(struct formula_results *results, const char *name, double value)
{
    assert_true(results->count < FORMULA_RESULT_MAX);
    results->result[results->count].name = name;
    results->result[results->count].value = value;
    results->count++;
}

double
formula_result(const struct formula_results *results, const char *name)
{
    for (size_t i = 0; i < results->count; i++) {
        if (strcmp(results->result[i].name, name) == 0) {
            return results->result[i].value;
        }
    }
    fail_msg("the function gives no %s", name);
    return 0.0;
}
