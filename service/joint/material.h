#ifndef SMALLEND_JOINT_MATERIAL_H
#define SMALLEND_JOINT_MATERIAL_H

/*
 * Steels for the pin, bearing metals for the bushings, structural metals of
 * rod and piston, bolt grades. The rows are in steel.def, bearing_metal.def,
 * structural_metal.def and bolt.def, in the units their sources print; here
 * every value is SI. Every figure keeps where it comes from.
 */

#include <stdbool.h>
#include <stddef.h>

enum provenance {
    PROVENANCE_READ,     /* the source was open when the figure was entered */
    PROVENANCE_MEMORY,   /* from memory of the source named */
    PROVENANCE_DERIVED,  /* worked out from other figures of the row */
    PROVENANCE_JUDGEMENT /* a judgement of ours, no source */
};

/* The word for a provenance on the wire: "read", "from memory", ... */
const char *provenance_text(enum provenance provenance);

/* One figure with its pedigree. given is false where no figure is known. */
struct figure {
    bool given;
    double si;
    double si_high;     /* upper end where the source gives a range, else si */
    enum provenance provenance;
    const char *source; /* key in source.def */
    const char *note;   /* "" = none */
};

enum strength_basis {
    BASIS_SPECIFICATION,     /* minimum that a specification demands */
    BASIS_ESTIMATED_MINIMUM, /* estimated or approximate minimum, low end of a range */
    BASIS_TYPICAL,           /* typical: designed on 0.85 of it */
    BASIS_CERTIFICATE        /* the user's mill certificate */
};
const char *strength_basis_text(enum strength_basis basis);

/* What a slotted, locked pin of this steel must fear. */
enum slot_suitability {
    SLOT_SUITS,      /* tough enough to be slotted as it is */
    SLOT_WITH_CARE,  /* can be slotted, with the care the note names */
    SLOT_UNSUITABLE  /* through-hard and notch-brittle: no slot */
};

struct steel {
    const char *id;        /* "4140-qt-bc", lower case */
    const char *grade;     /* "4140" */
    const char *condition;
    const char *uns;
    bool usual;            /* the condition meant when only the grade is named */
    bool case_hardened;    /* strengths are those of the core */
    enum strength_basis basis;
    const char *basis_text; /* as the source words it */
    struct figure tensile;      /* Pa */
    struct figure yield;        /* Pa */
    struct figure elongation;   /* ratio, 0.15 = 15 % */
    struct figure hardness_hb;  /* Brinell number (core where case hardened) */
    struct figure hardness_hrc; /* Rockwell C number (of the case, if any) */
    struct figure modulus;      /* Pa */
    struct figure density;      /* kg/m3 */
    struct figure expansion;    /* 1/K */
    struct figure machinability; /* ratio to 1212 cold drawn */
    enum slot_suitability slot;
    const char *hardening;
    const char *welding;
    const char *bronze_wear;
    const char *note;        /* suitability in a sentence, "" = none */
    const char *designation; /* what to write on the order */
    const char *near_equivalent;
    const char *bar_sizes;
    const char *pin_note;
    const char *other_values; /* other published values in words, "" = none */
};

const struct steel *steel_table(size_t *count);

/*
 * The steel of this id, or of this grade in its usual condition (then
 * *by_grade is true), case ignored; NULL if there is none.
 */
const struct steel *steel_find(const char *id, bool *by_grade);

/* A name by which steel_find gives this row as the usual condition of a grade,
 * *by_grade true; its id where there is none. */
const char *steel_grade_name(const struct steel *steel);

/* The id nearest to a misspelt one, or NULL. */
const char *steel_nearest(const char *id);

/* Minimum tensile and yield strength to design on, Pa: the printed minimum,
 * or 0.85 of a typical value (judgement). 0 where the row has none. */
double steel_tensile_minimum_Pa(const struct steel *steel);
double steel_yield_minimum_Pa(const struct steel *steel);

/* Strengths as printed of bar thicker than a size; those of one steel stand
 * together, from thin to thick. None where thickness does not matter. */
struct steel_section {
    const struct steel *steel;
    double over_m;
    double tensile_Pa, yield_Pa;
    const char *source;
};
const struct steel_section *steel_sections(const struct steel *steel, size_t *count);

/* The same for bar of this diameter: heat-treated steels are weaker in thick
 * bar (steel_section.def). That holds for a row of the table as it stands there:
 * a copy of one counts as a steel of the client's own, which is not weakened. */
void steel_strength_at(const struct steel *steel, double diameter_m, double *tensile_Pa, double *yield_Pa);

/* Brinell hardness of the running surface, the low end of a range; a
 * Rockwell C figure is converted. 0 where unknown. */
double steel_surface_hardness_HB(const struct steel *steel);

/* Brinell from Rockwell C (ASTM E140, interpolated; range 20 to 65 HRC, held
 * at the ends; above 739 HB the Brinell scale is not meant to be measured). */
double hardness_HB_from_HRC(double hrc);

enum metal_kind {
    METAL_BRONZE,
    METAL_BABBITT,
    METAL_GREY_IRON,      /* grey or malleable iron */
    METAL_ALUMINIUM,
    METAL_STEEL,
    METAL_BRASS
};
const char *metal_kind_text(enum metal_kind kind);

/* A bearing metal or a structural metal. */
struct metal {
    const char *id;
    const char *name;
    const char *form;
    enum metal_kind kind;
    bool bearing;                /* offered as a bushing */
    struct figure tensile;       /* Pa */
    struct figure yield;         /* Pa, minimum; crush strength of structural metals */
    struct figure elongation;    /* ratio */
    struct figure hardness_hb;
    struct figure modulus;       /* Pa */
    struct figure poisson;       /* ratio */
    struct figure density;       /* kg/m3 */
    struct figure expansion;     /* 1/K */
    struct figure pressure_max;  /* Pa, the lower of two suppliers */
    struct figure velocity_max;  /* m/s */
    struct figure pv_max;        /* Pa.m/s */
    struct figure temperature_max; /* degC */
    struct figure shaft_hardness_min; /* HB of the journal that runs on it */
    const char *designation;
    const char *near_equivalent;
    const char *note;
};

/* Bearing metals (served as /v1/bearing-metals) and structural metals. */
const struct metal *bearing_metal_table(size_t *count);
const struct metal *structural_metal_table(size_t *count);

/* Either kind by id, case ignored; NULL if there is none. */
const struct metal *metal_find(const char *id);
/* The same by an id spelled as in the table, as the words of choices are. */
const struct metal *metal_with_id(const char *id);
const char *metal_nearest(const char *id);

/* A bolt grade over a range of diameters. */
struct bolt_grade {
    const char *id;         /* "SAE 5", "8.8" */
    double diameter_max_m;  /* row applies up to and including this */
    double proof_Pa, yield_Pa, tensile_Pa;
    enum provenance provenance;
    const char *source;
    const char *note;
};
const struct bolt_grade *bolt_grade_table(size_t *count);

/* The row of a grade for a diameter (the last row beyond all); never NULL for
 * an id in the table. */
const struct bolt_grade *bolt_grade_find(const char *id, double diameter_m);

/* Publications: key, citation, and whether it was read or is remembered. */
struct source {
    const char *key;
    const char *citation;
    enum provenance provenance;
};
const struct source *source_table(size_t *count);
const struct source *source_find(const char *key);

#endif
