#include "reference/formula.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "joint/clamp.h"
#include "joint/clearance_rule.h"
#include "joint/lame.h"
#include "joint/material.h"
#include "joint/thermal.h"
#include "joint/thread.h"

/* ---- bolts ---- */

void
formula_thread_stress_area(json_t *inputs, struct formula_results *results)
{
    char designation[FORMULA_WORD_SIZE] = "";
    struct thread thread;

    formula_word(inputs, "designation", designation);
    assert_true(thread_read(designation, &thread));
    formula_give(results, "area_m2", thread_stress_area_m2(&thread));
}

void
formula_bolt_grade_find(json_t *inputs, struct formula_results *results)
{
    char id[FORMULA_WORD_SIZE] = "";
    const struct bolt_grade *grade;

    formula_word(inputs, "id", id);
    grade = bolt_grade_find(id, formula_number(inputs, "diameter_m"));
    assert_non_null(grade);
    formula_give(results, "proof_Pa", grade->proof_Pa);
    formula_give(results, "yield_Pa", grade->yield_Pa);
    formula_give(results, "tensile_Pa", grade->tensile_Pa);
}

void
formula_bolt_load(json_t *inputs, struct formula_results *results)
{
    char id[FORMULA_WORD_SIZE] = "", designation[FORMULA_WORD_SIZE] = "";
    const struct bolt_grade *grade;
    struct thread thread;

    formula_word(inputs, "id", id);
    formula_word(inputs, "designation", designation);
    assert_true(thread_read(designation, &thread));
    grade = bolt_grade_find(id, thread.diameter_m);
    assert_non_null(grade);
    formula_give(results, "proof_N", grade->proof_Pa * thread_stress_area_m2(&thread));
    formula_give(results, "tensile_N", grade->tensile_Pa * thread_stress_area_m2(&thread));
}

void
formula_clamp_grip_of(json_t *inputs, struct formula_results *results)
{
    const double preload_N = formula_number(inputs, "preload_N"), friction = formula_number(inputs, "friction");
    const double bolt_m = formula_number(inputs, "bolt_offset_m"), hinge_m = formula_number(inputs, "hinge_offset_m");
    struct clamp_grip grip;

    clamp_grip_of(preload_N, friction, bolt_m, hinge_m, formula_number(inputs, "pin_radius_m"), &grip);
    formula_give(results, "axial_N", grip.axial_N);
    formula_give(results, "torque_Nm", grip.torque_Nm);
    formula_give(results, "axial_high_N", grip.axial_high_N);
    formula_give(results, "torque_high_Nm", grip.torque_high_Nm);
}

/* ---- fits ---- */

void
formula_lame_press(json_t *inputs, struct formula_results *results)
{
    const struct lame_rings rings = {
        .bore_m = formula_number(inputs, "bore_m"),
        .interface_m = formula_number(inputs, "interface_m"),
        .outside_m = formula_number(inputs, "outside_m"),
        .bushing_modulus_Pa = formula_number(inputs, "bushing_modulus_Pa"),
        .bushing_poisson_ratio = formula_number(inputs, "bushing_poisson_ratio"),
        .housing_modulus_Pa = formula_number(inputs, "housing_modulus_Pa"),
        .housing_poisson_ratio = formula_number(inputs, "housing_poisson_ratio"),
    };
    struct lame_press press;

    assert_true(lame_press(&rings, formula_number(inputs, "interference_m"), &press));
    formula_give(results, "pressure_Pa", press.pressure_Pa);
    formula_give(results, "housing_bore_hoop_Pa", press.housing_bore_hoop_Pa);
    formula_give(results, "bushing_interface_hoop_Pa", press.bushing_interface_hoop_Pa);
    formula_give(results, "bushing_bore_hoop_Pa", press.bushing_bore_hoop_Pa);
    formula_give(results, "bore_closure_m", press.bore_closure_m);
    formula_give(results, "bushing_shrink_m", press.bushing_shrink_m);
    formula_give(results, "housing_growth_m", press.housing_growth_m);
}

void
formula_thermal_size_m(json_t *inputs, struct formula_results *results)
{
    const double size_m = formula_number(inputs, "size_m"), expansion = formula_number(inputs, "expansion_per_K");

    formula_give(results, "size_m", thermal_size_m(size_m, expansion, formula_number(inputs, "temperature_degC")));
}

void
formula_thermal_size_from_reading_m(json_t *inputs, struct formula_results *results)
{
    const double reading_m = formula_number(inputs, "reading_m"), part = formula_number(inputs, "part_expansion_per_K");
    const double part_degC = formula_number(inputs, "part_degC"),
                 own = formula_number(inputs, "instrument_expansion_per_K");

    formula_give(
        results, "size_m",
        thermal_size_from_reading_m(reading_m, part, part_degC, own, formula_number(inputs, "instrument_degC")));
}

void
formula_clearance_rule_aim(json_t *inputs, struct formula_results *results)
{
    const struct clearance_rule rule = clearance_rule_aim(formula_number(inputs, "diameter_m"));

    formula_give(results, "min_m", rule.min_m);
    formula_give(results, "max_m", rule.max_m);
}
