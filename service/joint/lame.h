#ifndef SMALLEND_JOINT_LAME_H
#define SMALLEND_JOINT_LAME_H

/*
 * A thick-walled bushing pressed into a thick-walled housing, after Lame:
 * elastic, plane stress, both as long as each other, pressure uniform round
 * and along. Not covered: a split eye, a boss that is thick on one side only,
 * yielding, loss of interference by the roughness pressed flat.
 */

#include <stdbool.h>

struct lame_rings {
    double bore_m;      /* of the bushing, diameter */
    double interface_m; /* where both meet, diameter */
    double outside_m;   /* of the housing, diameter */
    double bushing_modulus_Pa, bushing_poisson_ratio;
    double housing_modulus_Pa, housing_poisson_ratio;
};

/* All magnitudes on the diameter; hoop stresses positive in tension. */
struct lame_press {
    double pressure_Pa;
    double bushing_bore_hoop_Pa; /* the largest stress of the bushing */
    double bushing_interface_hoop_Pa;
    double housing_bore_hoop_Pa;
    double bore_closure_m;   /* the bore of the bushing gets smaller by */
    double bushing_shrink_m; /* its outside gets smaller by */
    double housing_growth_m; /* the bore of the housing gets larger by */
};

/*
 * Press for an interference on the diameter; zero or less makes no pressure
 * and all values zero. False, *press untouched, if the rings are none: needs
 * 0 < bore < interface < outside, positive moduli, Poisson's ratios in -1..0.5.
 */
bool lame_press(const struct lame_rings *rings, double interference_m, struct lame_press *press)
    __attribute__((warn_unused_result));

#endif
