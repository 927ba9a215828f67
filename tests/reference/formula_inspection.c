#include "reference/formula.h"

#include "joint/measure.h"

void
formula_measure_uncertainty_m(json_t *inputs, struct formula_results *results)
{
    const struct measure_budget budget = {
        .resolution_m = formula_number(inputs, "resolution_m"),
        .instrument_m = formula_number(inputs, "instrument_m"),
        .temperature_K = formula_number(inputs, "temperature_K"),
        .expansion_per_K = formula_number(inputs, "expansion_per_K"),
        .size_m = formula_number(inputs, "size_m"),
    };

    formula_give(results, "expanded_m", measure_uncertainty_m(&budget));
    formula_give(results, "standard_m", measure_uncertainty_m(&budget) / 2.0);
}

void
formula_measure_pass(json_t *inputs, struct formula_results *results)
{
    const struct measure_window window = {
        .low_m = formula_number(inputs, "low_m"),
        .high_m = formula_number(inputs, "high_m"),
        .uncertainty_m = formula_number(inputs, "uncertainty_m"),
    };
    const struct limits pass = measure_pass(&window);

    formula_give(results, "min_m", pass.min_m);
    formula_give(results, "max_m", pass.max_m);
}
