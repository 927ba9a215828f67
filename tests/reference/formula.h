#ifndef SMALLEND_TESTS_FORMULA_H
#define SMALLEND_TESTS_FORMULA_H

/*
 * Functions of the core that a reference row can name (formula.def): each
 * takes its inputs out of a JSON object, by the names of the C parameters, and
 * gives named results. An input that is missing or left over fails the test.
 */

#include <stddef.h>

#include <jansson.h>

enum { FORMULA_RESULT_MAX = 12, FORMULA_WORD_SIZE = 64 };

struct formula_results {
    size_t count;
    struct {
        const char *name;
        double value;
    } result[FORMULA_RESULT_MAX];
};

typedef void formula_function(json_t *inputs, struct formula_results *results);

/* The function of that name, or NULL. */
formula_function *formula_find(const char *name);

/* Take a number or a word out of the inputs; the test fails without it. */
double formula_number(json_t *inputs, const char *name);
void formula_word(json_t *inputs, const char *name, char text[FORMULA_WORD_SIZE]);

/* Add a result; `name` is borrowed for as long as the results live. */
void formula_give(struct formula_results *results, const char *name, double value);

/* The value of a result; the test fails if there is none of that name. */
double formula_result(const struct formula_results *results, const char *name);

#define FORMULA(name) formula_function formula_##name;
#include "reference/formula.def"

#endif
