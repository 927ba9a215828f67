#include "support/close.h"

#include <string.h>

#include "joint/job.h"
#include "joint/material.h"
#include "joint/name.h"
#include "joint/printed.h"
#include "quantity/unit.h"

static const double KSI_Pa = 6894757.293168361; /* 1000 lbf/in2, exact definitions */

static const struct steel *
steel(const char *id)
{
    bool by_grade = true;
    const struct steel *found = steel_find(id, &by_grade);

    if (found == NULL || by_grade) {
        fail_msg("no steel has the id %s", id);
    }
    return found;
}

/* ---- conversion ---- */

static double
si_of(const char *symbol, enum dimension dimension)
{
    const struct unit *unit = unit_find(symbol, strlen(symbol), dimension);

    if (unit == NULL) {
        fail_msg("no unit %s", symbol);
        return 0.0;
    }
    return unit_to_si(unit, 1.0);
}

/* The tables' constants and unit.def state the same definitions. */
static void
printed_units_agree_with_the_unit_table(void **state)
{
    (void)state;
    assert_close(SI_PER_INCH, si_of("in", DIMENSION_LENGTH), 1e-15);
    assert_close(SI_PER_MM, si_of("mm", DIMENSION_LENGTH), 1e-15);
    assert_close(SI_PER_THOU, si_of("thou", DIMENSION_LENGTH), 1e-15);
    assert_close(SI_PER_UM, si_of("um", DIMENSION_LENGTH), 1e-15);
    assert_close(SI_PER_LBF, si_of("lbf", DIMENSION_FORCE), 1e-14);
    assert_close(SI_PER_LBF_IN, si_of("lbf.in", DIMENSION_TORQUE), 1e-14);
    assert_close(SI_PER_PSI, si_of("psi", DIMENSION_PRESSURE), 1e-14);
    assert_close(SI_PER_KSI, si_of("ksi", DIMENSION_PRESSURE), 1e-14);
    assert_close(SI_PER_MPA, si_of("MPa", DIMENSION_PRESSURE), 1e-15);
    assert_close(SI_PER_GPA, si_of("GPa", DIMENSION_PRESSURE), 1e-15);
    assert_close(SI_PER_FT_MIN, si_of("ft/min", DIMENSION_VELOCITY), 1e-14);
    assert_close(SI_PER_PSI_FT_MIN, si_of("psi.ft/min", DIMENSION_PV), 1e-14);
    assert_close(SI_PER_UM_M_K, si_of("um/m/K", DIMENSION_EXPANSION), 1e-15);
    assert_close(DEGC_PER_DEGF + DEGC_AT_0_DEGF, si_of("degF", DIMENSION_TEMPERATURE), 1e-14);
    assert_close(MPA(470) * SI_PER_KSI, 470e6, 1e-14);
    assert_close(MPA_IN_PSI(13.7) * SI_PER_PSI, 13.7e6, 1e-14);
}

/* ---- names ---- */

static void
finds_steels_whatever_the_case_and_blanks(void **state)
{
    (void)state;
    assert_ptr_equal(steel("4140-bc"), steel("4140-BC"));
    assert_ptr_equal(steel("o1-hard"), steel("O1-Hard"));
    assert_ptr_equal(steel("12l14-cd"), steel(" 12 L14-CD "));
    assert_ptr_equal(metal_find("C93200"), metal_find("c93200"));
    assert_non_null(metal_find("grey_iron"));
    assert_ptr_equal(bolt_grade_find("sae 5", 0.01), bolt_grade_find("SAE5", 0.01));
    assert_false(name_same("414", "4140"));
    assert_false(name_same("4140", "414"));
    assert_true(name_same(" ", ""));
}

/* The usual conditions are reasoned in steel.def. */
/* Boss and eye name their metal by a word of a choice. */
static void
every_metal_of_a_choice_stands_in_the_table(void **state)
{
    static const enum choice_set sets[] = {CHOICE_SET_boss_metal, CHOICE_SET_eye_metal};

    (void)state;
    for (size_t s = 0; s < sizeof sets / sizeof sets[0]; s++) {
        size_t count;
        const struct choice_row *row = choice_table(sets[s], &count);

        for (size_t i = 0; i < count; i++) {
            assert_non_null(metal_with_id(row[i].text));
            assert_ptr_equal(metal_with_id(row[i].text), metal_find(row[i].text));
        }
    }
    assert_null(metal_with_id("Grey_Iron"));
}

static void
takes_the_usual_condition_of_a_bare_grade(void **state)
{
    (void)state;
    static const char *const usual[][2] = {
        {"1018", "1018-cd"},   {"12L14", "12l14-cd"},    {"1144", "1144-cd"},        {"4140", "4140-ann"},
        {"8620", "8620-norm"}, {"52100", "52100-ann"},   {"O1", "o1-ann"},           {"w1", "w1-ann"},
        {"416", "416-ann"},    {"17-4PH", "17-4-h1025"}, {"17-4", "17-4-h1025"},     {"17-4 ph", "17-4-h1025"},
        {"G10180", "1018-cd"}, {"4140 HT", "4140-bc"},   {"o1 drill rod", "o1-ann"},
    };

    for (size_t i = 0; i < sizeof usual / sizeof usual[0]; i++) {
        bool by_grade = false;
        const struct steel *found = steel_find(usual[i][0], &by_grade);

        assert_non_null(found);
        assert_string_equal(found->id, usual[i][1]);
        assert_true(by_grade);
    }
}

static void
knows_no_steel_of_another_name(void **state)
{
    (void)state;
    static const char *const strange[] = {"", " ", "17", "4140-", "4141", "steel", "c93200", "1018-cdx"};

    for (size_t i = 0; i < sizeof strange / sizeof strange[0]; i++) {
        bool by_grade = true;

        assert_null(steel_find(strange[i], &by_grade));
        assert_false(by_grade);
    }
    assert_null(metal_find("c9320"));
    assert_null(metal_find("1018"));
    assert_null(bolt_grade_find("12.9", 0.01));
}

static void
offers_the_nearest_name_to_a_slip(void **state)
{
    (void)state;
    char endless[400];

    assert_string_equal(steel_nearest("1018-dc"), "1018-cd");
    assert_string_equal(steel_nearest("8620 carbd"), "8620-carb");
    assert_string_equal(steel_nearest("4104"), "4140-ann");
    assert_string_equal(steel_nearest("12L41"), "12l14-cd");
    assert_string_equal(metal_nearest("C93002"), "c93200");
    assert_string_equal(metal_nearest("gray_iron"), "grey_iron");
    assert_null(steel_nearest("unobtainium"));
    assert_null(steel_nearest(""));
    assert_null(metal_nearest("x"));
    memset(endless, '4', sizeof endless - 1);
    endless[sizeof endless - 1] = '\0';
    assert_null(steel_nearest(endless));
}

/* ---- figures ---- */

/* Shigley table A-20; Mott appendix 3; ASTM A434-04 table 1: all as printed. */
static void
gives_the_printed_strengths(void **state)
{
    (void)state;
    static const struct {
        const char *id;
        double tensile_ksi, yield_ksi, elongation;
    } printed[] = {
        {"1018-cd", 64, 54, 0.15},  {"1018-hr", 58, 32, 0.25},   {"1045-cd", 91, 77, 0.12},
        {"1045-hr", 82, 45, 0.16},  {"1137-cd", 98, 82, 0.10},   {"4130-qt1000", 143, 132, 0.16},
        {"4140-bb", 110, 90, 0.20}, {"4140-bc", 130, 110, 0.16}, {"4140-bd", 155, 130, 0.14},
    };

    for (size_t i = 0; i < sizeof printed / sizeof printed[0]; i++) {
        const struct steel *row = steel(printed[i].id);

        assert_close(row->tensile.si, printed[i].tensile_ksi * KSI_Pa, 1e-12);
        assert_close(row->yield.si, printed[i].yield_ksi * KSI_Pa, 1e-12);
        assert_close(row->elongation.si, printed[i].elongation, 1e-12);
        assert_int_equal(row->tensile.provenance, PROVENANCE_READ);
    }
}

/* ASTM A434-04 table 1, class BC over 1.5 to 2.5 in: 125/105 ksi, 16 %. */
static void
tells_of_thicker_prehard_bar(void **state)
{
    (void)state;
    assert_non_null(strstr(steel("4140-bc")->other_values, "over 1.5 to 2.5 in: 125/105 ksi, 16 %"));
}

/* Figures that their sources print in MPa come back as printed. */
static void
keeps_figures_printed_in_megapascals(void **state)
{
    (void)state;
    assert_close(steel("8620-carb")->tensile.si, 780e6, 1e-12);
    assert_close(steel("8620-carb")->yield.si, 590e6, 1e-12);
    assert_close(steel("4340-ann")->yield.si, 470e6, 1e-12);
    assert_close(steel("17-4-h900")->yield.si, 1170e6, 1e-12);
}

/* 0.85 of a typical value is our judgement; a printed minimum stands. */
static void
designs_on_minimum_strengths(void **state)
{
    (void)state;
    struct steel certified = *steel("4140-ann");

    assert_close(steel_tensile_minimum_Pa(steel("1018-cd")), 64 * KSI_Pa, 1e-12);
    assert_close(steel_yield_minimum_Pa(steel("4140-bc")), 110 * KSI_Pa, 1e-12);
    assert_close(steel_tensile_minimum_Pa(steel("4140-ann")), 0.85 * 95 * KSI_Pa, 1e-12);
    assert_close(steel_yield_minimum_Pa(steel("4140-ann")), 0.85 * 54 * KSI_Pa, 1e-12);
    certified.basis = BASIS_CERTIFICATE;
    assert_close(steel_tensile_minimum_Pa(&certified), 95 * KSI_Pa, 1e-12);
}

/* A yield printed in compression is no strength of a pin in bending. */
static void
gives_no_strength_where_none_is_published(void **state)
{
    (void)state;
    assert_false(steel("o1-hard")->tensile.given);
    assert_false(steel("o1-hard")->yield.given);
    assert_false(steel("w1-hard")->tensile.given);
    assert_true(steel_tensile_minimum_Pa(steel("o1-hard")) == 0.0);
    assert_true(steel_yield_minimum_Pa(steel("w1-hard")) == 0.0);
    assert_true(steel("o1-hard")->yield.si == 0.0);
}

/* ASTM E140 table 1: 60 HRC = 654 HB, 55 = 560, 40 = 371, 35 = 327 as read in
 * two copies; 28 = 271 and 20 = 226 from memory of it. */
static void
converts_rockwell_to_brinell(void **state)
{
    (void)state;
    static const double pairs[][2] = {{60, 654}, {55, 560}, {40, 371}, {35, 327}, {28, 271}, {20, 226}, {65, 739}};

    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++) {
        assert_close(hardness_HB_from_HRC(pairs[i][0]), pairs[i][1], 1e-12);
    }
    assert_close(hardness_HB_from_HRC(35.5), (327 + 336) / 2.0, 1e-12); /* halfway between two rows */
    assert_close(hardness_HB_from_HRC(5), 226, 1e-12);                  /* held at the ends */
    assert_close(hardness_HB_from_HRC(70), 739, 1e-12);
    assert_close(hardness_HB_from_HRC(nan("")), 226, 1e-12);
    for (double hrc = 20.0; hrc < 65.0; hrc += 0.125) {
        assert_true(hardness_HB_from_HRC(hrc + 0.125) > hardness_HB_from_HRC(hrc));
    }
}

static void
knows_the_hardness_of_the_running_surface(void **state)
{
    (void)state;
    struct steel unknown = *steel("o1-hard");

    assert_close(steel_surface_hardness_HB(steel("1018-cd")), 126, 1e-12); /* Shigley A-20 */
    assert_close(steel_surface_hardness_HB(steel("4140-bc")), 269, 1e-12); /* low end of BS 970 U */
    /* The case, 58 HRC = 615 HB in E140, not the core of 185 HB. */
    assert_close(steel_surface_hardness_HB(steel("1018-carb")), 615, 1e-12);
    assert_close(steel_surface_hardness_HB(steel("o1-hard")), 595, 1e-12); /* 57 HRC in E140 */
    unknown.hardness_hrc.given = false;
    assert_true(steel_surface_hardness_HB(&unknown) == 0.0);
}

/* Suppliers' sheets as named in the table: the lower of two is used. */
static void
takes_the_lower_of_two_suppliers(void **state)
{
    (void)state;
    const double psi_Pa = KSI_Pa / 1000.0, ft_min = 0.3048 / 60.0;

    assert_close(metal_find("c93200")->pressure_max.si, 3000 * psi_Pa, 1e-12);
    assert_close(metal_find("c93200")->velocity_max.si, 750 * ft_min, 1e-12);
    /* 75,000 psi.ft/min is 2.627 MPa.m/s by a units program. */
    assert_close(metal_find("c93200")->pv_max.si, 2.627e6, 2e-4);
    assert_close(metal_find("c93200")->temperature_max.si, 260.0, 1e-12); /* 500 degF */
    assert_close(metal_find("c95400")->velocity_max.si, 225 * ft_min, 1e-12);
    assert_close(metal_find("babbitt-tin")->pressure_max.si, 800 * psi_Pa, 1e-12);
    assert_close(metal_find("babbitt-tin")->pressure_max.si_high, 1500 * psi_Pa, 1e-12);
    assert_close(metal_find("babbitt-tin")->shaft_hardness_min.si, 130, 1e-12);
    assert_close(metal_find("ci30")->pressure_max.si, 3.43e6, 1e-12);
}

/* The figures settled for rod and piston: crush strength MPa, modulus GPa,
 * Poisson's ratio, expansion um/m/K. Judgement and handbook values as marked in
 * the table; ASTM A47 32510: 32.5 ksi; C93200 sand cast: 18 ksi. */
static void
gives_the_structural_metals(void **state)
{
    (void)state;
    static const struct {
        const char *id;
        double crush_MPa, modulus_GPa, poisson, expansion;
    } settled[] = {
        {"steel", 250, 207, 0.29, 11.7},          {"grey_iron", 207, 100, 0.26, 11.4},
        {"malleable_iron", 224, 172, 0.26, 11.9}, {"bronze", 124, 100, 0.34, 18.0},
        {"aluminium", 150, 72.4, 0.33, 21.5},
    };
    size_t count;
    const struct metal *table = structural_metal_table(&count);

    assert_int_equal(count, sizeof settled / sizeof settled[0]);
    for (size_t i = 0; i < count; i++) {
        assert_string_equal(table[i].id, settled[i].id);
        assert_close(table[i].yield.si, settled[i].crush_MPa * 1e6, 2e-3); /* three figures */
        assert_close(table[i].modulus.si, settled[i].modulus_GPa * 1e9, 1e-12);
        assert_close(table[i].poisson.si, settled[i].poisson, 1e-12);
        assert_close(table[i].expansion.si, settled[i].expansion * 1e-6, 1e-12);
        assert_false(table[i].bearing);
    }
}

/* ---- bolts ---- */

/* SAE J429, two copies; a size on the boundary is of the stronger row. */
static void
gives_the_bolts_of_j429(void **state)
{
    (void)state;
    static const struct {
        const char *id;
        double inch, proof, yield, tensile;
    } printed[] = {
        {"SAE 2", 0.5, 55, 57, 74},    {"SAE 2", 0.75, 55, 57, 74},   {"SAE 2", 0.875, 33, 36, 60},
        {"SAE 5", 1.0, 85, 92, 120},   {"SAE 5", 1.125, 74, 81, 105}, {"SAE 8", 1.5, 120, 130, 150},
        {"SAE 8", 3.0, 120, 130, 150}, /* beyond the table: its last row */
    };

    for (size_t i = 0; i < sizeof printed / sizeof printed[0]; i++) {
        const struct bolt_grade *grade = bolt_grade_find(printed[i].id, printed[i].inch * 0.0254);

        assert_non_null(grade);
        assert_close(grade->proof_Pa, printed[i].proof * KSI_Pa, 1e-12);
        assert_close(grade->yield_Pa, printed[i].yield * KSI_Pa, 1e-12);
        assert_close(grade->tensile_Pa, printed[i].tensile * KSI_Pa, 1e-12);
    }
}

/* ISO 898-1, two copies of its table of properties. */
static void
gives_the_bolts_of_iso_898(void **state)
{
    (void)state;
    static const struct {
        const char *id;
        double mm, proof, yield, tensile;
    } printed[] = {
        {"4.6", 10, 225, 240, 400},
        {"8.8", 16, 580, 640, 800},
        {"8.8", 20, 600, 660, 830},
        {"10.9", 12, 830, 940, 1040},
    };

    for (size_t i = 0; i < sizeof printed / sizeof printed[0]; i++) {
        const struct bolt_grade *grade = bolt_grade_find(printed[i].id, printed[i].mm * 1e-3);

        assert_non_null(grade);
        assert_close(grade->proof_Pa, printed[i].proof * 1e6, 1e-12);
        assert_close(grade->yield_Pa, printed[i].yield * 1e6, 1e-12);
        assert_close(grade->tensile_Pa, printed[i].tensile * 1e6, 1e-12);
    }
}

static void
orders_the_rows_of_a_bolt_grade(void **state)
{
    (void)state;
    size_t count;
    const struct bolt_grade *table = bolt_grade_table(&count);

    for (size_t i = 0; i < count; i++) {
        assert_true(table[i].proof_Pa < table[i].yield_Pa && table[i].yield_Pa < table[i].tensile_Pa);
        assert_non_null(source_find(table[i].source));
        if (i > 0 && strcmp(table[i].id, table[i - 1].id) == 0) {
            assert_true(table[i].diameter_max_m > table[i - 1].diameter_max_m);
        }
    }
}

/* ---- words ---- */

static void
words_are_those_of_the_wire(void **state)
{
    (void)state;
    assert_string_equal(provenance_text(PROVENANCE_READ), "read");
    assert_string_equal(provenance_text(PROVENANCE_MEMORY), "from memory");
    assert_string_equal(provenance_text(PROVENANCE_DERIVED), "derived");
    assert_string_equal(provenance_text(PROVENANCE_JUDGEMENT), "judgement");
    assert_string_equal(strength_basis_text(BASIS_SPECIFICATION), "specification");
    assert_string_equal(strength_basis_text(BASIS_ESTIMATED_MINIMUM), "estimated minimum");
    assert_string_equal(strength_basis_text(BASIS_TYPICAL), "typical");
    assert_string_equal(strength_basis_text(BASIS_CERTIFICATE), "certificate");
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(printed_units_agree_with_the_unit_table),
        cmocka_unit_test(finds_steels_whatever_the_case_and_blanks),
        cmocka_unit_test(every_metal_of_a_choice_stands_in_the_table),
        cmocka_unit_test(takes_the_usual_condition_of_a_bare_grade),
        cmocka_unit_test(knows_no_steel_of_another_name),
        cmocka_unit_test(offers_the_nearest_name_to_a_slip),
        cmocka_unit_test(gives_the_printed_strengths),
        cmocka_unit_test(tells_of_thicker_prehard_bar),
        cmocka_unit_test(keeps_figures_printed_in_megapascals),
        cmocka_unit_test(designs_on_minimum_strengths),
        cmocka_unit_test(gives_no_strength_where_none_is_published),
        cmocka_unit_test(converts_rockwell_to_brinell),
        cmocka_unit_test(knows_the_hardness_of_the_running_surface),
        cmocka_unit_test(takes_the_lower_of_two_suppliers),
        cmocka_unit_test(gives_the_structural_metals),
        cmocka_unit_test(gives_the_bolts_of_j429),
        cmocka_unit_test(gives_the_bolts_of_iso_898),
        cmocka_unit_test(orders_the_rows_of_a_bolt_grade),
        cmocka_unit_test(words_are_those_of_the_wire),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
