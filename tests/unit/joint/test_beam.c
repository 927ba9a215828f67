#include "support/close.h"

#include "joint/beam.h"
#include "joint/section.h"

#define PI 3.14159265358979323846

static void
moments_of_the_three_models(void **state)
{
    (void)state;
    /* statics: 20 kN, eye 45, gap 2.5, boss 22 mm: 360, 247.5, 210.8333 N m */
    assert_close(beam_moment_concentrated_Nm(20000, 0.045, 0.0025, 0.022), 360.0, 1e-9);
    assert_close(beam_moment_uniform_Nm(20000, 0.045, 0.0025, 0.022), 247.5, 1e-9);
    assert_close(beam_moment_triangular_Nm(20000, 0.045, 0.0025, 0.022), 210.8333333, 1e-9);
}

static void
triangular_model_is_the_knuckle_joint_of_the_textbook(void **state)
{
    (void)state;
    /* Bhandari, Design of Machine Elements, ex. 4.5: (P/2)(b/4 + a/3) with
     * P 50 kN, eye 40, fork 25 mm: 458.333 N m, pin 38.79 mm at 80 MPa */
    const double moment = beam_moment_triangular_Nm(50000, 0.040, 0.0, 0.025);

    assert_close(moment, 458.3333333, 1e-9);
    assert_close(cbrt(32.0 * moment / (PI * 80.0e6)), 38.78798218e-3, 1e-8);
}

static void
uniform_model_is_the_pin_of_the_textbook(void **state)
{
    (void)state;
    /* Khurmi and Gupta sec. 32.13: M = P D / 8 when w + 4g + 2b = bore;
     * P 39,275 N, D 100 mm, 35/21 mm pin: 134.0 MPa */
    const double moment = beam_moment_uniform_Nm(39275, 0.040, 0.005, 0.020);

    assert_close(moment, 490.9375, 1e-9);
    assert_close(moment / round_modulus_m3(0.035, 0.021), 134.0e6, 1e-4);
}

static void
shear_of_solid_and_hollow_rounds(void **state)
{
    (void)state;
    /* VQ/It: 10 kN on 25.4 mm 26.31367 MPa; on 25/15 mm 61.16543 MPa */
    assert_close(beam_shear_max_Pa(10000, 0.0254, 0.0), 26.31366989e6, 1e-8);
    assert_close(beam_shear_max_Pa(10000, 0.025, 0.015), 61.16542911e6, 1e-8);
    assert_close(beam_shear_max_Pa(1.0, 1.0, 0.9999999) / (1.0 / round_area_m2(1.0, 0.9999999)), 2.0, 1e-6);
}

/* The deflection and slope by integrating the moment along the beam twice. */
static void
integrate(double force, double span, double eye, double stiffness, double *deflection, double *slope)
{
    const int steps = 200000;
    const double dx = span / 2.0 / steps;
    double angle = 0.0, height = 0.0; /* from mid-span outwards */

    for (int i = 0; i < steps; i++) {
        const double x = (i + 0.5) * dx; /* from mid-span */
        const double outer = span / 2.0 - x;
        double moment = force / 2.0 * outer;

        if (x < eye / 2.0) {
            moment -= force / eye * (eye / 2.0 - x) * (eye / 2.0 - x) / 2.0;
        }
        height += angle * dx + moment / stiffness * dx * dx / 2.0;
        angle += moment / stiffness * dx;
    }
    *deflection = height;
    *slope = angle;
}

static void
deflection_and_slope_match_integration(void **state)
{
    const double force = 20000, span = 0.072, eye = 0.045, d = 0.0254, modulus = 207.0e9;
    const double shear_modulus = modulus / 2.58, k = 6.0 * 1.29 / (7.0 + 6.0 * 0.29);
    double bending, slope;

    (void)state;
    integrate(force, span, eye, modulus * round_second_moment_m4(d, 0.0), &bending, &slope);
    assert_close(beam_edge_slope_rad(force, span, eye, d, 0.0, modulus), slope, 1e-6);
    /* shear: the mean over the eye of the shear force is a quarter of F */
    assert_close(beam_deflection_m(force, span, eye, d, 0.0, modulus, 0.29),
                 bending + (force / 2.0 * (span - eye) / 2.0 + force / 2.0 * eye / 4.0) / (k * shear_modulus * round_area_m2(d, 0.0)),
                 1e-6);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(moments_of_the_three_models),
        cmocka_unit_test(triangular_model_is_the_knuckle_joint_of_the_textbook),
        cmocka_unit_test(uniform_model_is_the_pin_of_the_textbook),
        cmocka_unit_test(shear_of_solid_and_hollow_rounds),
        cmocka_unit_test(deflection_and_slope_match_integration),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
