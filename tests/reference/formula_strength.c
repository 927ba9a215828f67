#include "reference/formula.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "joint/fatigue.h"
#include "joint/oval.h"
#include "joint/section.h"

/* ---- section ---- */

void
formula_round_modulus_m3(json_t *inputs, struct formula_results *results)
{
    const double outside_m = formula_number(inputs, "outside_m");

    formula_give(results, "modulus_m3", round_modulus_m3(outside_m, formula_number(inputs, "inside_m")));
}

void
formula_cut_section_of(json_t *inputs, struct formula_results *results)
{
    const double outside_m = formula_number(inputs, "outside_m"), inside_m = formula_number(inputs, "inside_m");
    struct cut_section section;

    cut_section_of(outside_m, inside_m, formula_number(inputs, "depth_m"), &section);
    formula_give(results, "area_m2", section.area_m2);
    formula_give(results, "floor_m", section.floor_m);
    formula_give(results, "shift_m", section.shift_m);
    formula_give(results, "second_moment_m4", section.second_moment_m4);
    formula_give(results, "modulus_floor_m3", section.modulus_floor_m3);
    formula_give(results, "modulus_far_m3", section.modulus_far_m3);
    formula_give(results, "second_moment_side_m4", section.second_moment_side_m4);
    formula_give(results, "half_chord_m", section.half_chord_m);
}

void
formula_segment(json_t *inputs, struct formula_results *results)
{
    const double radius_m = formula_number(inputs, "radius_m"), height_m = formula_number(inputs, "height_m");

    formula_give(results, "area_m2", segment_area_m2(radius_m, height_m));
    formula_give(results, "half_chord_m", segment_half_chord_m(radius_m, height_m));
}

/* A moment whose plane stands at an angle to the axis of symmetry of the cut
 * section: stress in the middle of the floor and at the corner. */
void
formula_oblique_bending(json_t *inputs, struct formula_results *results)
{
    const double moment_Nm = formula_number(inputs, "moment_Nm"), angle = formula_number(inputs, "angle_rad");
    const double outside_m = formula_number(inputs, "outside_m");
    struct cut_section section;
    double floor_Pa;

    cut_section_of(outside_m, 0.0, formula_number(inputs, "depth_m"), &section);
    floor_Pa = moment_Nm * cos(angle) / section.modulus_floor_m3;
    formula_give(results, "floor_Pa", floor_Pa);
    formula_give(results, "corner_Pa",
                 floor_Pa + moment_Nm * sin(angle) * section.half_chord_m / section.second_moment_side_m4);
    formula_give(results, "second_moment_side_m4", section.second_moment_side_m4);
}

/* ---- strength ---- */

void
formula_oval_of(json_t *inputs, struct formula_results *results)
{
    const double force_N = formula_number(inputs, "force_N"), length_m = formula_number(inputs, "length_m");
    const double outside_m = formula_number(inputs, "outside_m"), inside_m = formula_number(inputs, "inside_m");
    struct oval oval;

    oval_of(force_N, length_m, outside_m, inside_m, formula_number(inputs, "modulus_Pa"), &oval);
    formula_give(results, "factor_ratio", oval.factor_ratio);
    formula_give(results, "growth_m", oval.growth_m);
    formula_give(results, "outer_side_Pa", oval.outer_side_Pa);
    formula_give(results, "inner_side_Pa", oval.inner_side_Pa);
    formula_give(results, "outer_top_Pa", oval.outer_top_Pa);
    formula_give(results, "inner_top_Pa", oval.inner_top_Pa);
}

void
formula_fatigue_goodman(json_t *inputs, struct formula_results *results)
{
    const double amplitude_Pa = formula_number(inputs, "amplitude_Pa"), mean_Pa = formula_number(inputs, "mean_Pa");
    const double endurance_Pa = formula_number(inputs, "endurance_Pa");

    formula_give(results, "factor",
                 fatigue_goodman(amplitude_Pa, mean_Pa, endurance_Pa, formula_number(inputs, "tensile_Pa")));
}

void
formula_fatigue_surface_factor(json_t *inputs, struct formula_results *results)
{
    char surface[FORMULA_WORD_SIZE] = "";

    formula_word(inputs, "surface", surface);
    assert_true(strcmp(surface, "machined") == 0 || strcmp(surface, "ground") == 0);
    formula_give(results, "factor",
                 fatigue_surface_factor(strcmp(surface, "ground") == 0 ? SURFACE_GROUND : SURFACE_MACHINED,
                                        formula_number(inputs, "tensile_Pa")));
}

void
formula_fatigue_size_factor(json_t *inputs, struct formula_results *results)
{
    formula_give(results, "factor", fatigue_size_factor(formula_number(inputs, "diameter_m")));
}

void
formula_notch_sensitivity(json_t *inputs, struct formula_results *results)
{
    const double tensile_Pa = formula_number(inputs, "tensile_Pa");
    const double sensitivity = fatigue_notch_sensitivity(tensile_Pa, formula_number(inputs, "notch_radius_m"));

    formula_give(results, "sensitivity", sensitivity);
    formula_give(results, "fatigue_notch_factor",
                 fatigue_notch_factor(sensitivity, formula_number(inputs, "notch_factor")));
}
