#include "wire/own_material.h"

static const struct figure unknown = {false, 0.0, 0.0, PROVENANCE_JUDGEMENT, "", ""};

/* A figure usual for the kind of metal, assumed. */
static struct figure
assumed(double si)
{
    return (struct figure){true, si, si, PROVENANCE_JUDGEMENT, "", "usual for the kind of metal, assumed"};
}

struct figure
own_figure(double si)
{
    return (struct figure){true, si, si, PROVENANCE_READ, OWN_MATERIAL_ID, ""};
}

void
own_steel_init(struct steel *steel)
{
    *steel = (struct steel){
        .id = OWN_MATERIAL_ID,
        .grade = "own figures",
        .condition = "as certified",
        .uns = "",
        .basis = BASIS_CERTIFICATE,
        .basis_text = "figures of the user's own",
        .tensile = unknown,
        .yield = unknown,
        .elongation = unknown,
        .hardness_hb = unknown,
        .hardness_hrc = unknown,
        /* The same round figures that the checks use where no steel is named. */
        .modulus = assumed(207.0e9),
        .density = assumed(7850.0),
        .expansion = assumed(11.7e-6),
        .machinability = unknown,
        .slot = SLOT_SUITS,
        .hardening = "",
        .welding = "",
        .bronze_wear = "",
        .note = "",
        .designation = "",
        .near_equivalent = "",
        .bar_sizes = "",
        .pin_note = "",
        .other_values = "",
    };
}

/*
 * Judgement, in keeping with the rows of the table: steels as strong as
 * quenched and tempered bar of about 40 HRC want care where they are slotted,
 * those beyond about 48 HRC throughout are notch-brittle.
 */
void
own_steel_judge_slot(struct steel *steel)
{
    const double hrc = steel->hardness_hrc.given ? steel->hardness_hrc.si : 0.0;
    const double hb = steel->hardness_hb.given ? steel->hardness_hb.si : 0.0;
    const double tensile_Pa = steel->tensile.given ? steel->tensile.si : 0.0;
    if (hrc > 48.0 || hb > 455.0 || tensile_Pa > 1.55e9) {
        steel->slot = SLOT_UNSUITABLE;
        steel->note = "through-hard by the figures given: notch-brittle at a slot (judgement)";
    } else if (hrc > 40.0 || hb > 370.0 || tensile_Pa > 1.25e9) {
        steel->slot = SLOT_WITH_CARE;
        steel->note = "strong by the figures given: polish the slot and ask for its notch toughness (judgement)";
    }
}

/*
 * Elastic figures by kind. Modulus, Poisson's ratio and expansion of iron,
 * aluminium and steel as in structural_metal.def; those of bronze, brass and
 * babbitt are round handbook values from memory.
 */
static const struct {
    enum metal_kind kind;
    double modulus_Pa, poisson_ratio, expansion_per_K, density_kg_m3;
} usual[] = {
    {METAL_BRONZE, 100.0e9, 0.34, 18.0e-6, 8800.0},    {METAL_BABBITT, 50.0e9, 0.33, 24.0e-6, 7400.0},
    {METAL_GREY_IRON, 100.0e9, 0.26, 11.4e-6, 7200.0}, {METAL_ALUMINIUM, 72.4e9, 0.33, 21.5e-6, 2700.0},
    {METAL_STEEL, 207.0e9, 0.29, 11.7e-6, 7850.0},     {METAL_BRASS, 105.0e9, 0.34, 20.5e-6, 8500.0},
};

void
own_metal_init(struct metal *metal, enum metal_kind kind)
{
    *metal = (struct metal){
        .id = OWN_MATERIAL_ID,
        .name = "own figures",
        .form = "",
        .kind = kind,
        .bearing = true,
        .tensile = unknown,
        .yield = unknown,
        .elongation = unknown,
        .hardness_hb = unknown,
        .modulus = unknown,
        .poisson = unknown,
        .density = unknown,
        .expansion = unknown,
        .pressure_max = unknown,
        .velocity_max = unknown,
        .pv_max = unknown,
        .temperature_max = unknown,
        .shaft_hardness_min = unknown,
        .designation = "",
        .near_equivalent = "",
        .note = "",
    };
    for (size_t i = 0; i < sizeof usual / sizeof usual[0]; i++) {
        if (usual[i].kind == kind) {
            metal->modulus = assumed(usual[i].modulus_Pa);
            metal->poisson = assumed(usual[i].poisson_ratio);
            metal->density = assumed(usual[i].density_kg_m3);
            metal->expansion = assumed(usual[i].expansion_per_K);
        }
    }
}
