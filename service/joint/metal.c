#include "joint/material.h"

#include <stddef.h>
#include <string.h>

#include "joint/name.h"
#include "joint/printed.h"

/* Bearing metals first, structural metals behind them in the same array. */
enum {
#define METAL(tag, id, kind, bearing, name, form) AT_##tag,
#define METAL_STRENGTH(tag, tensile, yield, elongation, hb)
#define METAL_ELASTIC(tag, modulus, poisson, density, expansion)
#define METAL_RUNNING(tag, pressure, velocity, pv, temperature, journal)
#define METAL_ORDER(tag, designation, near_equivalent, note)
#define METAL_BOUNDARY BEARING_COUNT, AT_BOUNDARY = BEARING_COUNT - 1,
#include "joint/metal.def"
    METAL_COUNT
};

/* The words of the column `bearing`. */
enum { IS_NO_BUSHING = false, IS_BUSHING = true };

static const struct metal metals[METAL_COUNT] = {
#define METAL(tag, id_, kind_, bearing_, name_, form_)                                                                 \
    [AT_##tag].id = (id_), [AT_##tag].kind = METAL_##kind_, [AT_##tag].bearing = IS_##bearing_,                        \
    [AT_##tag].name = (name_), [AT_##tag].form = (form_),
#define METAL_STRENGTH(tag, tensile_, yield_, elongation_, hb)                                                         \
    [AT_##tag].tensile = FIGURE(SI_PER_KSI, tensile_), [AT_##tag].yield = FIGURE(SI_PER_KSI, yield_),                  \
    [AT_##tag].elongation = FIGURE(SI_PER_PERCENT, elongation_), [AT_##tag].hardness_hb = FIGURE(1.0, hb),
#define METAL_ELASTIC(tag, modulus_, poisson_, density_, expansion_)                                                   \
    [AT_##tag].modulus = FIGURE(SI_PER_GPA, modulus_), [AT_##tag].poisson = FIGURE(1.0, poisson_),                     \
    [AT_##tag].density = FIGURE(1.0, density_), [AT_##tag].expansion = FIGURE(SI_PER_UM_M_K, expansion_),
#define METAL_RUNNING(tag, pressure, velocity, pv, temperature, journal)                                               \
    [AT_##tag].pressure_max = FIGURE(SI_PER_PSI, pressure), [AT_##tag].velocity_max = FIGURE(SI_PER_FT_MIN, velocity), \
    [AT_##tag].pv_max = FIGURE(SI_PER_PSI_FT_MIN, pv),                                                                 \
    [AT_##tag].temperature_max = FIGURE_AFFINE(DEGC_PER_DEGF, DEGC_AT_0_DEGF, temperature),                            \
    [AT_##tag].shaft_hardness_min = FIGURE(1.0, journal),
#define METAL_ORDER(tag, designation_, near_equivalent_, note_)                                                        \
    [AT_##tag].designation = (designation_), [AT_##tag].near_equivalent = (near_equivalent_), [AT_##tag].note = (note_),
#define METAL_BOUNDARY
#include "joint/metal.def"
};

const struct metal *
bearing_metal_table(size_t *count)
{
    *count = BEARING_COUNT;
    return metals;
}

const struct metal *
structural_metal_table(size_t *count)
{
    *count = METAL_COUNT - BEARING_COUNT;
    return metals + BEARING_COUNT;
}

const struct metal *
metal_with_id(const char *id)
{
    for (size_t i = 0; i < METAL_COUNT; i++) {
        if (metals[i].id[0] == id[0] && strcmp(metals[i].id, id) == 0) {
            return &metals[i];
        }
    }
    return NULL;
}

const struct metal *
metal_find(const char *id)
{
    for (size_t i = 0; i < METAL_COUNT; i++) {
        if (name_same(metals[i].id, id)) {
            return &metals[i];
        }
    }
    return NULL;
}

const char *
metal_nearest(const char *id)
{
    struct name_search search;

    name_search_init(&search, id);
    for (size_t i = 0; i < METAL_COUNT; i++) {
        name_search_offer(&search, metals[i].id, metals[i].id);
    }
    return search.nearest;
}
