#include "joint/material.h"

#include <stddef.h>

#include "joint/name.h"
#include "joint/printed.h"

/* clang-format off */
static const struct bolt_grade grades[] = {
#define BOLT_ROW(id, diameter_m, proof_Pa, yield_Pa, tensile_Pa, how, key, note)                                       \
    {id, diameter_m, proof_Pa, yield_Pa, tensile_Pa, PROVENANCE_##how, key, note},
#define BOLT_SAE(id, inch, proof, yield, tensile, how, key, note)                                                      \
    BOLT_ROW(id, (inch) * SI_PER_INCH, (proof) * SI_PER_KSI, (yield) * SI_PER_KSI, (tensile) * SI_PER_KSI, how, key,   \
             note)
#define BOLT_ISO(id, mm, proof, yield, tensile, how, key, note)                                                        \
    BOLT_ROW(id, (mm) * SI_PER_MM, (proof) * SI_PER_MPA, (yield) * SI_PER_MPA, (tensile) * SI_PER_MPA, how, key, note)
#include "joint/bolt.def"
};
/* clang-format on */

enum { GRADE_COUNT = sizeof grades / sizeof grades[0] };

/* A diameter in m is off by rounding where it was typed in inches. */
static const double SAME_DIAMETER_m = 1e-9;

const struct bolt_grade *
bolt_grade_table(size_t *count)
{
    *count = GRADE_COUNT;
    return grades;
}

const struct bolt_grade *
bolt_grade_find(const char *id, double diameter_m)
{
    const struct bolt_grade *found = NULL;

    for (size_t i = 0; i < GRADE_COUNT; i++) {
        if (name_same(grades[i].id, id)) {
            found = &grades[i];
            if (diameter_m <= found->diameter_max_m + SAME_DIAMETER_m) {
                break;
            }
        }
    }
    return found;
}
