#include "reference/formula.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "joint/machining.h"
#include "joint/stock.h"
#include "joint/turn_formula.h"

void
formula_turn_spindle_rad_s(json_t *inputs, struct formula_results *results)
{
    const double speed_m_s = formula_number(inputs, "speed_m_s");

    formula_give(results, "spindle_rad_s", turn_spindle_rad_s(speed_m_s, formula_number(inputs, "diameter_m")));
}

void
formula_machining_find(json_t *inputs, struct formula_results *results)
{
    char id[FORMULA_WORD_SIZE] = "", tool[FORMULA_WORD_SIZE] = "";
    struct machining machining = {0};
    bool by_grade;

    formula_word(inputs, "steel", id);
    formula_word(inputs, "tool", tool);
    const struct steel *steel = steel_find(id, &by_grade);
    assert_non_null(steel);
    assert_true(machining_find(steel, strcmp(tool, "carbide") == 0 ? CHOICE_tool_CARBIDE : CHOICE_tool_HSS,
                               formula_number(inputs, "depth_m"), &machining));
    formula_give(results, "speed_m_s", machining.speed_m_s);
    formula_give(results, "spindle_rad_s",
                 turn_spindle_rad_s(machining.speed_m_s, formula_number(inputs, "diameter_m")));
}

void
formula_turn_roughness_m(json_t *inputs, struct formula_results *results)
{
    const double feed_m = formula_number(inputs, "feed_m");

    formula_give(results, "roughness_m", turn_roughness_m(feed_m, formula_number(inputs, "nose_radius_m")));
}

void
formula_turn_feed_m(json_t *inputs, struct formula_results *results)
{
    const double roughness_m = formula_number(inputs, "roughness_m");

    formula_give(results, "feed_m", turn_feed_m(roughness_m, formula_number(inputs, "nose_radius_m")));
}

void
formula_turn_tailstock_offset_m(json_t *inputs, struct formula_results *results)
{
    const double taper_m = formula_number(inputs, "taper_m"), over_m = formula_number(inputs, "over_m");

    formula_give(results, "offset_m",
                 turn_tailstock_offset_m(taper_m, over_m, formula_number(inputs, "between_centres_m")));
}

void
formula_turn_passes(json_t *inputs, struct formula_results *results)
{
    const double total_m = formula_number(inputs, "total_m");
    const double count = turn_passes(total_m, formula_number(inputs, "greatest_m"));

    formula_give(results, "count", count);
    formula_give(results, "depth_m", total_m / count);
}

void
formula_turn_ball_diameter_m(json_t *inputs, struct formula_results *results)
{
    const double cutter_m = formula_number(inputs, "cutter_m");

    formula_give(results, "diameter_m", turn_ball_diameter_m(cutter_m, formula_number(inputs, "depth_m")));
}

void
formula_stock_next_m(json_t *inputs, struct formula_results *results)
{
    char units[FORMULA_WORD_SIZE] = "";

    formula_word(inputs, "units", units);
    formula_give(
        results, "diameter_m",
        stock_next_m(formula_number(inputs, "least_m"), strcmp(units, "metric") == 0 ? UNITS_METRIC : UNITS_INCH));
}
