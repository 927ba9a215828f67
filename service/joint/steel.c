#include "joint/material.h"

#include <stddef.h>
#include <string.h>

#include "joint/name.h"
#include "joint/printed.h"

enum {
#define STEEL(tag, id, grade, uns, usual, case, slot, basis, basis_text, condition) STEEL_##tag,
#define STRENGTH(tag, tensile, yield, elongation, hb, hrc, other)
#define PHYSICAL(tag, modulus, density, expansion, machinability)
#define SHOP(tag, hardening, welding, bronze_wear, note)
#define ORDER(tag, designation, near_equivalent, bar_sizes, pin_note)
#define STEEL_ALIAS(name, id)
#include "joint/steel.def"
    STEEL_COUNT
};

/* The words of the columns `usual` and `case`. */
enum { IS_RARER = false, IS_USUAL = true, IS_UNCASED = false, IS_CASED = true };

static const struct steel steels[STEEL_COUNT] = {
#define STEEL(tag, id_, grade_, uns_, usual_, case_, slot_, basis_, basis_text_, condition_)                           \
    [STEEL_##tag].id = (id_), [STEEL_##tag].grade = (grade_), [STEEL_##tag].uns = (uns_),                              \
    [STEEL_##tag].usual = IS_##usual_, [STEEL_##tag].case_hardened = IS_##case_, [STEEL_##tag].slot = SLOT_##slot_,    \
    [STEEL_##tag].basis = BASIS_##basis_, [STEEL_##tag].basis_text = (basis_text_),                                    \
    [STEEL_##tag].condition = (condition_),
#define STRENGTH(tag, tensile_, yield_, elongation_, hb, hrc, other)                                                   \
    [STEEL_##tag].tensile = FIGURE(SI_PER_KSI, tensile_), [STEEL_##tag].yield = FIGURE(SI_PER_KSI, yield_),            \
    [STEEL_##tag].elongation = FIGURE(SI_PER_PERCENT, elongation_), [STEEL_##tag].hardness_hb = FIGURE(1.0, hb),       \
    [STEEL_##tag].hardness_hrc = FIGURE(1.0, hrc), [STEEL_##tag].other_values = (other),
#define PHYSICAL(tag, modulus_, density_, expansion_, machinability_)                                                  \
    [STEEL_##tag].modulus = FIGURE(SI_PER_GPA, modulus_), [STEEL_##tag].density = FIGURE(1.0, density_),               \
    [STEEL_##tag].expansion = FIGURE(SI_PER_UM_M_K, expansion_),                                                       \
    [STEEL_##tag].machinability = FIGURE(SI_PER_PERCENT, machinability_),
#define SHOP(tag, hardening_, welding_, bronze_wear_, note_)                                                           \
    [STEEL_##tag].hardening = (hardening_), [STEEL_##tag].welding = (welding_),                                        \
    [STEEL_##tag].bronze_wear = (bronze_wear_), [STEEL_##tag].note = (note_),
#define ORDER(tag, designation_, near_equivalent_, bar_sizes_, pin_note_)                                              \
    [STEEL_##tag].designation = (designation_), [STEEL_##tag].near_equivalent = (near_equivalent_),                    \
    [STEEL_##tag].bar_sizes = (bar_sizes_), [STEEL_##tag].pin_note = (pin_note_),
#define STEEL_ALIAS(name, id)
#include "joint/steel.def"
};

static const struct {
    const char *name;
    const char *id;
} aliases[] = {
#define STEEL(tag, id, grade, uns, usual, case, slot, basis, basis_text, condition)
#define STRENGTH(tag, tensile, yield, elongation, hb, hrc, other)
#define PHYSICAL(tag, modulus, density, expansion, machinability)
#define SHOP(tag, hardening, welding, bronze_wear, note)
#define ORDER(tag, designation, near_equivalent, bar_sizes, pin_note)
#define STEEL_ALIAS(name, id) {name, id},
#include "joint/steel.def"
};

enum { ALIAS_COUNT = sizeof aliases / sizeof aliases[0] };

const struct steel *
steel_table(size_t *count)
{
    *count = STEEL_COUNT;
    return steels;
}

static const struct steel *
of_id(const char *id)
{
    for (size_t i = 0; i < STEEL_COUNT; i++) {
        if (name_same(steels[i].id, id)) {
            return &steels[i];
        }
    }
    return NULL;
}

/* The usual condition of the grade of this name, number or alias. */
static const struct steel *
of_grade(const char *name)
{
    for (size_t i = 0; i < STEEL_COUNT; i++) {
        if (steels[i].usual && (name_same(steels[i].grade, name) || name_same(steels[i].uns, name))) {
            return &steels[i];
        }
    }
    for (size_t i = 0; i < ALIAS_COUNT; i++) {
        if (name_same(aliases[i].name, name)) {
            return of_id(aliases[i].id);
        }
    }
    return NULL;
}

const struct steel *
steel_find(const char *id, bool *by_grade)
{
    const struct steel *steel = of_id(id);

    *by_grade = false;
    if (steel == NULL) {
        steel = of_grade(id);
        *by_grade = steel != NULL;
    }
    return steel;
}

/* Does the name mean this steel by its grade, not by its id? */
static bool
names_by_grade(const char *name, const struct steel *steel)
{
    return of_id(name) == NULL && of_grade(name) == steel;
}

const char *
steel_grade_name(const struct steel *steel)
{
    if (names_by_grade(steel->grade, steel)) {
        return steel->grade;
    }
    for (size_t i = 0; i < ALIAS_COUNT; i++) {
        if (names_by_grade(aliases[i].name, steel)) {
            return aliases[i].name;
        }
    }
    return names_by_grade(steel->uns, steel) ? steel->uns : steel->id;
}

const char *
steel_nearest(const char *id)
{
    struct name_search search;

    name_search_init(&search, id);
    for (size_t i = 0; i < STEEL_COUNT; i++) {
        name_search_offer(&search, steels[i].id, steels[i].id);
    }
    for (size_t i = 0; i < STEEL_COUNT; i++) {
        if (steels[i].usual) {
            name_search_offer(&search, steels[i].grade, steels[i].id);
        }
    }
    return search.nearest;
}

#define TYPICAL_SHARE 0.85

/*
 * Typical values are averages: half the bars are weaker. 0.85 of them is taken
 * as the minimum (judgement, no source).
 */
static double
designed_on_Pa(const struct figure *strength, enum strength_basis basis)
{
    if (!strength->given) {
        return 0.0;
    }
    return basis == BASIS_TYPICAL ? TYPICAL_SHARE * strength->si : strength->si;
}

double
steel_tensile_minimum_Pa(const struct steel *steel)
{
    return designed_on_Pa(&steel->tensile, steel->basis);
}

double
steel_yield_minimum_Pa(const struct steel *steel)
{
    return designed_on_Pa(&steel->yield, steel->basis);
}

static const struct steel_section section_rows[] = {
#define STEEL_SECTION(tag, over, to, tensile, yield, source) \
    {&steels[STEEL_##tag], (over) * SI_PER_INCH, (tensile) * SI_PER_KSI, (yield) * SI_PER_KSI, source},
#include "joint/steel_section.def"
};

const struct steel_section *
steel_sections(const struct steel *steel, size_t *count)
{
    const struct steel_section *first = NULL;

    *count = 0;
    for (size_t i = 0; i < sizeof section_rows / sizeof section_rows[0]; i++) {
        if (section_rows[i].steel == steel) {
            first = first == NULL ? &section_rows[i] : first;
            (*count)++;
        }
    }
    return first;
}

void
steel_strength_at(const struct steel *steel, double diameter_m, double *tensile_Pa, double *yield_Pa)
{
    *tensile_Pa = steel_tensile_minimum_Pa(steel);
    *yield_Pa = steel_yield_minimum_Pa(steel);
    for (size_t i = 0; i < sizeof section_rows / sizeof section_rows[0]; i++) {
        const struct steel_section *row = &section_rows[i];

        /* 1e-9: a bar of just the size belongs to the thinner row */
        if (row->steel == steel && diameter_m > row->over_m * (1.0 + 1e-9)) {
            *tensile_Pa = row->tensile_Pa * (steel->basis == BASIS_TYPICAL ? TYPICAL_SHARE : 1.0);
            *yield_Pa = row->yield_Pa * (steel->basis == BASIS_TYPICAL ? TYPICAL_SHARE : 1.0);
        }
    }
}

double
steel_surface_hardness_HB(const struct steel *steel)
{
    /* Of a case hardened steel the Brinell figure is the core's. */
    if (!steel->case_hardened && steel->hardness_hb.given) {
        return steel->hardness_hb.si;
    }
    return steel->hardness_hrc.given ? hardness_HB_from_HRC(steel->hardness_hrc.si) : 0.0;
}
