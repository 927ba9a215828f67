#include "joint/lame.h"

static bool
rings_sound(const struct lame_rings *rings)
{
    return rings->bore_m > 0.0 && rings->interface_m > rings->bore_m && rings->outside_m > rings->interface_m &&
           rings->bushing_modulus_Pa > 0.0 && rings->housing_modulus_Pa > 0.0 && rings->bushing_poisson_ratio > -1.0 &&
           rings->bushing_poisson_ratio <= 0.5 && rings->housing_poisson_ratio > -1.0 &&
           rings->housing_poisson_ratio <= 0.5;
}

/*
 * (D^2 + d^2) / (D^2 - d^2) of a ring: hoop stress per unit of pressure at the
 * surface that the pressure acts on. 1 for a solid disc, large for a thin ring.
 */
static double
ring_ratio(double outside_m, double inside_m)
{
    return (outside_m * outside_m + inside_m * inside_m) / ((outside_m - inside_m) * (outside_m + inside_m));
}

bool
lame_press(const struct lame_rings *rings, double interference_m, struct lame_press *press)
{
    if (!rings_sound(rings)) {
        return false;
    }
    /*
     * a, b, c: squares of bore, interface and outside. Interference = shrinkage
     * of the bushing plus growth of the housing, so with d the interface
     *   p = delta / {d [((c+b)/(c-b) + nu_o)/E_o + ((b+a)/(b-a) - nu_i)/E_i]}
     * [Shigley, press and shrink fits; Mott, force fits].
     */
    const double d = rings->interface_m;
    const double housing = ring_ratio(rings->outside_m, d);
    const double bushing = ring_ratio(d, rings->bore_m);
    const double housing_compliance = d * (housing + rings->housing_poisson_ratio) / rings->housing_modulus_Pa;
    const double bushing_compliance = d * (bushing - rings->bushing_poisson_ratio) / rings->bushing_modulus_Pa;
    const double tight_m = interference_m > 0.0 ? interference_m : 0.0;
    const double p = tight_m / (housing_compliance + bushing_compliance);

    press->pressure_Pa = p;
    press->housing_bore_hoop_Pa = p * housing;
    press->bushing_interface_hoop_Pa = -p * bushing;
    /* At a free bore the only stress is hoop, -2 p b/(b-a) = -p ((b+a)/(b-a) + 1),
     * so the bore closes by its own diameter times hoop strain. */
    press->bushing_bore_hoop_Pa = -p * (bushing + 1.0);
    press->bore_closure_m = -press->bushing_bore_hoop_Pa * rings->bore_m / rings->bushing_modulus_Pa;
    press->bushing_shrink_m = p * bushing_compliance;
    press->housing_growth_m = p * housing_compliance;
    return true;
}
