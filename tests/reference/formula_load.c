#include "reference/formula.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "joint/cycle.h"
#include "joint/joint.h"
#include "quantity/quantity.h"

#define PI 3.14159265358979323846

/* ---- quantity ---- */

static enum dimension
dimension(json_t *inputs)
{
    static const char *const names[] = {
#define DIMENSION(id, name, inch, metric) #id,
#include "quantity/dimension.def"
    };
    char text[FORMULA_WORD_SIZE] = "";

    formula_word(inputs, "dimension", text);
    for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++) {
        if (strcmp(names[i], text) == 0) {
            return (enum dimension)i;
        }
    }
    fail_msg("no dimension %s", text);
    return DIMENSION_RATIO;
}

void
formula_unit_to_si(json_t *inputs, struct formula_results *results)
{
    char symbol[FORMULA_WORD_SIZE] = "";
    const struct unit *unit;

    formula_word(inputs, "unit", symbol);
    unit = unit_find(symbol, strlen(symbol), dimension(inputs));
    assert_non_null(unit);
    formula_give(results, "si", unit_to_si(unit, formula_number(inputs, "value")));
}

void
formula_quantity_read(json_t *inputs, struct formula_results *results)
{
    char text[FORMULA_WORD_SIZE] = "";
    struct quantity_reading reading;

    formula_word(inputs, "text", text);
    assert_true(quantity_read(text, strlen(text), dimension(inputs), UNITS_INCH, &reading));
    formula_give(results, "si", reading.si);
}

/* ---- cycle ---- */

void
formula_slider_crank(json_t *inputs, struct formula_results *results)
{
    struct cycle cycle = {
        .crank_m = formula_number(inputs, "crank_m"), .rod_m = formula_number(inputs, "rod_m"), .period_rad = 4.0 * PI};
    const double angle = formula_number(inputs, "angle_rad");

    cycle.lambda = cycle.crank_m / cycle.rod_m;
    cycle.speed_rad_s = formula_number(inputs, "speed_rad_s");
    formula_give(results, "travel_m", cycle_travel_m(&cycle, angle));
    formula_give(results, "velocity_m_s", cycle_velocity_m_s(&cycle, angle));
    formula_give(results, "acceleration_m_s2", cycle_acceleration_m_s2(&cycle, angle));
    formula_give(results, "rod_angle_rad", cycle_rod_angle_rad(&cycle, angle));
}

static void
read_cycle(json_t *inputs, struct cycle *cycle)
{
    const double bore_m = formula_number(inputs, "bore_m");

    memset(cycle, 0, sizeof(*cycle));
    cycle->crank_m = formula_number(inputs, "crank_m");
    cycle->rod_m = formula_number(inputs, "rod_m");
    cycle->lambda = cycle->crank_m / cycle->rod_m;
    cycle->piston_area_m2 = PI / 4.0 * bore_m * bore_m;
    cycle->peak_gauge_Pa = formula_number(inputs, "peak_gauge_Pa");
    cycle->ambient_Pa = formula_number(inputs, "ambient_Pa");
    cycle->intake_Pa = formula_number(inputs, "intake_Pa");
    cycle->exponent = formula_number(inputs, "exponent");
    cycle->compression_ratio = formula_number(inputs, "compression_ratio");
    cycle->period_rad = 4.0 * PI;
}

void
formula_ideal_cycle(json_t *inputs, struct formula_results *results)
{
    struct cycle cycle;
    const double angle = formula_number(inputs, "angle_rad");

    read_cycle(inputs, &cycle);
    formula_give(results, "pressure_Pa", cycle_pressure_Pa(&cycle, angle));
    formula_give(results, "pin_load_N", cycle_pin_load_N(&cycle, angle));
}

/*
 * Work of expansion less work of compression over the volume swept, the
 * integral of pressure over travel by the midpoint rule. Atmosphere cancels.
 */
void
formula_mean_effective_pressure(json_t *inputs, struct formula_results *results)
{
    enum { STEPS = 20000 };
    const double step = PI / STEPS;
    struct cycle cycle;
    double sum = 0.0;

    read_cycle(inputs, &cycle);
    for (int i = 0; i < STEPS; i++) {
        const double out = i * step, back = 3.0 * PI + out, half = step / 2.0;

        sum +=
            cycle_pressure_Pa(&cycle, out + half) * (cycle_travel_m(&cycle, out + step) - cycle_travel_m(&cycle, out));
        sum += cycle_pressure_Pa(&cycle, back + half) *
               (cycle_travel_m(&cycle, back + step) - cycle_travel_m(&cycle, back));
    }
    formula_give(results, "imep_Pa", sum / (2.0 * cycle.crank_m));
}

/* From the job down, so that the curve a client gets is tested. */
void
formula_side_thrust_ratio(json_t *inputs, struct formula_results *results)
{
    struct job job;
    struct trace_point point = {.crank_angle_rad = formula_number(inputs, "angle_rad")};

    job_init(&job);
    job.engine.bore_m = formula_number(inputs, "bore_m");
    job.engine.stroke_m = formula_number(inputs, "stroke_m");
    job.engine.rod_length_m = formula_number(inputs, "rod_m");
    job.engine.peak_pressure_Pa = formula_number(inputs, "peak_gauge_Pa");
    job.state[FIELD_engine_bore] = job.state[FIELD_engine_stroke] = FIELD_GIVEN;
    job.state[FIELD_engine_rod_length] = job.state[FIELD_engine_peak_pressure] = FIELD_GIVEN;
    job_complete(&job);
    assert_true(joint_trace(&job, &point, 1));
    formula_give(results, "rod_angle_rad", atan(fabs(point.side_thrust_N) / point.pin_load_N));
    formula_give(results, "ratio", fabs(point.side_thrust_N) / point.pin_load_N);
}

void
formula_polytropic_compression_Pa(json_t *inputs, struct formula_results *results)
{
    const double intake_Pa = formula_number(inputs, "intake_Pa"), ratio = formula_number(inputs, "ratio");

    formula_give(results, "pressure_Pa",
                 polytropic_compression_Pa(intake_Pa, ratio, formula_number(inputs, "exponent")));
}

void
formula_cycle_rubbing_speed_m_s(json_t *inputs, struct formula_results *results)
{
    const double pin_m = formula_number(inputs, "pin_m"), lambda = formula_number(inputs, "lambda");

    formula_give(results, "speed_m_s", cycle_rubbing_speed_m_s(pin_m, lambda, formula_number(inputs, "speed_rad_s")));
}
