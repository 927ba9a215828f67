#include "support/close.h"

#include <string.h>

#include "base/text.h"
#include "quantity/unit.h"

/*
 * One of each unit in SI, as GNU units 2.22 gives it with 15 digits (rpm, Hz
 * and deg as 2 pi / min, 2 pi / s and pi / 180; the temperatures as the
 * function tempF, and by the definition of the degree Celsius, SI Brochure,
 * 9th edition, 2.3.1).
 */
static const struct {
    const char *symbol;
    double si;
} reference[] = {
    {"in", 0.0254},
    {"thou", 2.54e-05},
    {"tenth", 2.54e-06},
    {"uin", 2.54e-08},
    {"ft", 0.3048},
    {"mm", 0.001},
    {"cm", 0.01},
    {"m", 1},
    {"um", 1e-06},
    {"lbf", 4.4482216152605},
    {"kip", 4448.2216152605},
    {"N", 1},
    {"kN", 1000},
    {"kgf", 9.80665},
    {"psi", 6894.75729316836},
    {"ksi", 6894757.29316836},
    {"Pa", 1},
    {"hPa", 100},
    {"kPa", 1000},
    {"MPa", 1000000},
    {"GPa", 1000000000},
    {"bar", 100000},
    {"atm", 101325},
    {"kgf/cm2", 98066.5},
    {"lb", 0.45359237},
    {"oz", 0.028349523125},
    {"kg", 1},
    {"g", 0.001},
    {"rpm", 0.10471975511966},
    {"Hz", 6.28318530717959},
    {"rad/s", 1},
    {"degF", -17.2222222222222},
    {"degC", 1},
    {"K", -272.15},
    {"lbf.ft", 1.3558179483314},
    {"lbf.in", 0.112984829027617},
    {"N.m", 1},
    {"N.mm", 0.001},
    {"kN.m", 1000},
    {"kgf.m", 9.80665},
    {"ft/min", 0.00508},
    {"ft/s", 0.3048},
    {"in/s", 0.0254},
    {"m/s", 1},
    {"m/min", 0.0166666666666667},
    {"mm/s", 0.001},
    {"psi.ft/min", 35.0253670492953},
    {"MPa.m/s", 1000000},
    {"bar.m/s", 100000},
    {"Pa.m/s", 1},
    {"in2", 0.00064516},
    {"mm2", 1e-06},
    {"cm2", 0.0001},
    {"m2", 1},
    {"in3", 1.6387064e-05},
    {"mm3", 1e-09},
    {"cm3", 1e-06},
    {"m3", 1},
    {"deg", 0.0174532925199433},
    {"rad", 1},
    {"lb/in3", 27679.9047102031},
    {"lb/ft3", 16.0184633739601},
    {"kg/m3", 1},
    {"g/cm3", 1000},
    {"uin/in/degF", 1.8e-06},
    {"um/m/K", 1e-06},
    {"1/degF", 1.8},
    {"1/K", 1},
    {"1", 1},
    {"%", 0.01},
};

enum { REFERENCE_COUNT = sizeof reference / sizeof reference[0] };

static const struct unit *
find_any(const char *text)
{
    return unit_find_any(text, strlen(text));
}

static const struct unit *
find(const char *text, enum dimension dimension)
{
    return unit_find(text, strlen(text), dimension);
}

static void
every_factor_agrees_with_an_independent_tool(void **state)
{
    (void)state;
    size_t count = 0;
    const struct unit *const units = unit_table(&count);

    assert_int_equal(count, REFERENCE_COUNT);
    for (size_t i = 0; i < count; i++) {
        assert_string_equal(units[i].symbol, reference[i].symbol);
        /* 15 digits. */
        assert_close(unit_to_si(&units[i], 1.0), reference[i].si, 1e-14);
    }
}

/* The fixed points: NIST SP 811, 2008, appendix B.9 (water freezes at 32 and boils at 212 degF). */
static void
temperatures_have_their_offsets(void **state)
{
    (void)state;
    const struct unit *const fahrenheit = find("degF", DIMENSION_TEMPERATURE);
    const struct unit *const kelvin = find("K", DIMENSION_TEMPERATURE);

    assert_close_or(unit_to_si(fahrenheit, 32.0), 0.0, 0.0, 1e-13);
    assert_close(unit_to_si(fahrenheit, 212.0), 100.0, 1e-14);
    assert_close(unit_to_si(fahrenheit, -40.0), -40.0, 1e-14);
    assert_close(unit_to_si(kelvin, 273.15 + 20.0), 20.0, 1e-13);
    assert_close(unit_from_si(fahrenheit, 20.0), 68.0, 1e-14);
}

static void
every_unit_converts_there_and_back(void **state)
{
    (void)state;
    static const double values[] = {1.0, -2.5, 0.001, 12345.678, 0.0};
    size_t count = 0;
    const struct unit *const units = unit_table(&count);

    for (size_t i = 0; i < count; i++) {
        for (size_t j = 0; j < sizeof values / sizeof values[0]; j++) {
            /* Two roundings, and those of the largest offset in use, 460 of a unit. */
            assert_close_or(unit_from_si(&units[i], unit_to_si(&units[i], values[j])), values[j], 4e-16, 2e-13);
        }
    }
}

static void
every_dimension_has_a_unit_in_both_systems(void **state)
{
    (void)state;
    for (int i = 0; i < DIMENSION_UNIT_COUNT; i++) {
        const enum dimension dimension = (enum dimension)i;
        const struct unit *const inch = unit_of(dimension, UNITS_INCH);
        const struct unit *const metric = unit_of(dimension, UNITS_METRIC);
        assert_non_null(inch);
        assert_non_null(metric);
        assert_true(unit_measures(inch, dimension));
        assert_true(unit_measures(metric, dimension));
        assert_true(strlen(dimension_name(dimension)) > 0);
        /* Its own symbol finds it again. */
        assert_ptr_equal(find(inch->symbol, dimension), inch);
        assert_ptr_equal(find(metric->symbol, dimension), metric);
    }
}

/* The contract's table of units. */
static void
documents_use_the_units_of_the_contract(void **state)
{
    (void)state;
    static const struct {
        enum dimension dimension;
        const char *inch, *metric;
    } rows[] = {
        {DIMENSION_LENGTH, "in", "mm"},
        {DIMENSION_FORCE, "lbf", "N"},
        {DIMENSION_PRESSURE, "psi", "MPa"},
        {DIMENSION_MASS, "lb", "kg"},
        {DIMENSION_ROTATION, "rpm", "rpm"},
        {DIMENSION_TEMPERATURE, "degF", "degC"},
        {DIMENSION_TORQUE, "lbf.ft", "N.m"},
        {DIMENSION_ROUGHNESS, "uin", "um"},
        {DIMENSION_VELOCITY, "ft/min", "m/s"},
        {DIMENSION_CUTTING_SPEED, "ft/min", "m/min"},
        {DIMENSION_PV, "psi.ft/min", "MPa.m/s"},
        {DIMENSION_AREA, "in2", "mm2"},
        {DIMENSION_MODULUS, "in3", "mm3"},
        {DIMENSION_ANGLE, "deg", "deg"},
        {DIMENSION_RATIO, "1", "1"},
        {DIMENSION_COUNT, "1", "1"},
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        assert_string_equal(unit_of(rows[i].dimension, UNITS_INCH)->symbol, rows[i].inch);
        assert_string_equal(unit_of(rows[i].dimension, UNITS_METRIC)->symbol, rows[i].metric);
    }
}

/* Symbols are ids in the served table, and UCUM codes must not mix units up. */
static void
symbols_and_ucum_codes_are_unique(void **state)
{
    (void)state;
    size_t count = 0;
    const struct unit *const units = unit_table(&count);

    for (size_t i = 0; i < count; i++) {
        for (size_t j = 0; j < i; j++) {
            assert_string_not_equal(units[i].symbol, units[j].symbol);
            assert_string_not_equal(units[i].ucum, units[j].ucum);
        }
    }
}

static void
every_row_is_complete(void **state)
{
    (void)state;
    size_t count = 0;
    const struct unit *const units = unit_table(&count);

    for (size_t i = 0; i < count; i++) {
        assert_true(strlen(units[i].symbol) > 0);
        assert_true(strlen(units[i].ucum) > 0);
        assert_true(strlen(units[i].source) > 0);
        assert_true(isfinite(units[i].factor) && units[i].factor > 0.0);
        assert_true(units[i].offset == 0.0 || units[i].dimension == DIMENSION_TEMPERATURE);
    }
}

static void
every_spelling_finds_its_unit(void **state)
{
    (void)state;
    size_t unit_count = 0, alias_count = 0;
    const struct unit *const units = unit_table(&unit_count);
    const struct unit_alias *const aliases = unit_alias_table(&alias_count);

    assert_true(alias_count > 100);
    for (size_t i = 0; i < unit_count; i++) {
        assert_ptr_equal(find_any(units[i].symbol), &units[i]);
        assert_ptr_equal(find_any(units[i].ucum), &units[i]);
        assert_ptr_equal(find(units[i].symbol, units[i].dimension), &units[i]);
        assert_ptr_equal(find(units[i].ucum, units[i].dimension), &units[i]);
    }
    for (size_t i = 0; i < alias_count; i++) {
        const struct unit *const unit = find_any(aliases[i].spelling);
        assert_non_null(unit);
        assert_string_equal(unit->symbol, aliases[i].symbol);
        assert_ptr_equal(find(aliases[i].spelling, unit->dimension), unit);
    }
}

/* Read in any case, a spelling must still mean one unit; "MM" alone is a twin on purpose. */
static void
no_two_units_share_a_spelling(void **state)
{
    (void)state;
    size_t unit_count = 0, alias_count = 0;
    const struct unit *const units = unit_table(&unit_count);
    const struct unit_alias *const aliases = unit_alias_table(&alias_count);

    for (size_t i = 0; i < alias_count; i++) {
        for (size_t j = 0; j < unit_count; j++) {
            if (text_same_ignoring_case(aliases[i].spelling, units[j].symbol)) {
                assert_string_equal(aliases[i].spelling, "MM");
                assert_string_equal(aliases[i].symbol, units[j].symbol);
            }
        }
        for (size_t j = 0; j < i; j++) {
            assert_false(text_same_ignoring_case(aliases[i].spelling, aliases[j].spelling));
        }
    }
    for (size_t i = 0; i < unit_count; i++) {
        for (size_t j = 0; j < i; j++) {
            assert_false(text_same_ignoring_case(units[i].symbol, units[j].symbol));
        }
    }
}

/* Common practice of the trade, no source. */
static void
reads_units_in_the_dress_of_the_trade(void **state)
{
    (void)state;
    static const struct {
        const char *spelling, *symbol;
    } rows[] = {
        {"IN", "in"},           {"In.", "in"},        {"inch", "in"},          {"\"", "in"},
        {"\u2033", "in"},       {"\u201D", "in"},     {"\u201C", "in"},        {"\u02EE", "in"},
        {"''", "in"},           {"\u2032\u2032", "in"}, {"'", "ft"},           {"\u2032", "ft"},
        {"Thou", "thou"},       {"tenths", "tenth"},  {"microns", "um"},       {"Micron", "um"},
        {"\u00B5m", "um"},      {"\u03BCm", "um"},    {"\u00B5in", "uin"},     {"MM", "mm"},
        {"PSI", "psi"},         {"lb/in\u00B2", "psi"}, {"lbs/in^2", "psi"},   {"lb. per sq. in.", "psi"},
        {"Bar", "bar"},         {"BAR", "bar"},       {"MPA", "MPa"},          {"Mpa", "MPa"},
        {"KPa", "kPa"},         {"N/mm\u00B2", "MPa"}, {"kg/cm2", "kgf/cm2"},  {"kgf/cm\u00B2", "kgf/cm2"},
        {"LBS", "lb"},          {"lbs.", "lb"},       {"lbm", "lb"},           {"KG", "kg"},
        {"RPM", "rpm"},         {"r.p.m.", "rpm"},    {"rev/min", "rpm"},      {"rev. per min.", "rpm"},
        {"r/min", "rpm"},       {"hz", "Hz"},         {"\u00B0F", "degF"},     {"\u00B0 F", "degF"},
        {"deg F", "degF"},      {"F", "degF"},        {"\u2109", "degF"},      {"\u00B0C", "degC"},
        {"\u00BAC", "degC"},    {"C", "degC"},        {"\u2103", "degC"},      {"Celsius", "degC"},
        {"ft-lb", "lbf.ft"},    {"lb-ft", "lbf.ft"},  {"ft-lbf", "lbf.ft"},    {"lbf-ft", "lbf.ft"},
        {"lb ft", "lbf.ft"},    {"ft\u00B7lb", "lbf.ft"}, {"ft.-lbs.", "lbf.ft"}, {"FT-LBS", "lbf.ft"},
        {"in-lb", "lbf.in"},    {"lb-in", "lbf.in"},  {"in lbs", "lbf.in"},    {"N m", "N.m"},
        {"N-m", "N.m"},         {"Nm", "N.m"},        {"N\u22C5m", "N.m"},     {"NM", "N.m"},
        {"fpm", "ft/min"},      {"SFM", "ft/min"},    {"ft. per min.", "ft/min"}, {"ft / min", "ft/min"},
        {"psi ft/min", "psi.ft/min"}, {"psi-fpm", "psi.ft/min"}, {"MPa m/s", "MPa.m/s"}, {"N/mm2 m/s", "MPa.m/s"},
        {"in^2", "in2"},        {"in\u00B2", "in2"},  {"sq in", "in2"},        {"mm^2", "mm2"},
        {"cu. in.", "in3"},     {"mm\u00B3", "mm3"},  {"lb/in^3", "lb/in3"},   {"g/cm\u00B3", "g/cm3"},
        {"\u00B5m/m\u00B7K", "um/m/K"}, {"\u00B5m/(m\u00B7K)", "um/m/K"}, {"1e-6/K", "um/m/K"},
        {"10^-6/K", "um/m/K"},  {"\u00B5in/in-\u00B0F", "uin/in/degF"}, {"uin/in/degF", "uin/in/degF"},
        {"\u00B0", "deg"},      {"Degrees", "deg"},   {":1", "1"},             {"%", "%"},
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct unit *const unit = find_any(rows[i].spelling);
        if (unit == NULL || strcmp(unit->symbol, rows[i].symbol) != 0) {
            fail_msg("\"%s\" is read as %s, wanted %s", rows[i].spelling, unit == NULL ? "nothing" : unit->symbol,
                     rows[i].symbol);
        }
    }
}

/* Milli is not mega; SI Brochure, 9th edition, table 7. */
static void
keeps_the_case_of_a_prefix(void **state)
{
    (void)state;
    static const char *const wrong[] = {"mPa", "mpa", "Mm", "mM", "M", "M/s", "M2", "mPa.m/s", "Mm2"};

    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        assert_null(find_any(wrong[i]));
    }
}

static void
refuses_spellings_that_are_no_unit(void **state)
{
    (void)state;
    static const char *const wrong[] = {
        "",      " ",      "mil",   "mils", "psig", "psia", "barg", "in-",  "-in", ".in", "in lb ft", "xin",
        "in x",  "inn",    "lb ft/", "/",    "..",   "^",    "2",    "in2 2", "\xFF", "in\x01",
        "a very long text that is certainly not the name of a unit",
    };

    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        if (find_any(wrong[i]) != NULL) {
            fail_msg("\"%s\" is read as %s", wrong[i], find_any(wrong[i])->symbol);
        }
    }
    assert_null(unit_find_any("in\0", 3));
}

static void
reads_only_the_length_given(void **state)
{
    (void)state;
    assert_string_equal(unit_find("inches", 2, DIMENSION_LENGTH)->symbol, "in");
    assert_string_equal(unit_find("mmx", 2, DIMENSION_LENGTH)->symbol, "mm");
}

static void
refuses_units_of_another_dimension(void **state)
{
    (void)state;
    assert_null(find("lb", DIMENSION_FORCE));
    assert_null(find("kg", DIMENSION_FORCE));
    assert_null(find("lbs", DIMENSION_PRESSURE));
    assert_null(find("in", DIMENSION_FORCE));
    assert_null(find("%", DIMENSION_COUNT));
    assert_null(find("deg", DIMENSION_TEMPERATURE));
    assert_int_equal(find_any("lb")->dimension, DIMENSION_MASS);
}

static void
roughness_and_cutting_speed_share_units(void **state)
{
    (void)state;
    assert_ptr_equal(find("um", DIMENSION_ROUGHNESS), find("um", DIMENSION_LENGTH));
    assert_ptr_equal(find("m/min", DIMENSION_CUTTING_SPEED), find("m/min", DIMENSION_VELOCITY));
    assert_ptr_equal(find("1", DIMENSION_COUNT), find("1", DIMENSION_RATIO));
}

static void
names_the_nearest_unit(void **state)
{
    (void)state;
    assert_string_equal(unit_nearest("psy", 3, DIMENSION_PRESSURE)->symbol, "psi");
    assert_string_equal(unit_nearest("mpa", 3, DIMENSION_PRESSURE)->symbol, "MPa");
    assert_string_equal(unit_nearest("Mm", 2, DIMENSION_LENGTH)->symbol, "mm");
    assert_string_equal(unit_nearest("inhces", 6, DIMENSION_LENGTH)->symbol, "in");
    assert_string_equal(unit_nearest("kg", 2, DIMENSION_FORCE)->symbol, "kgf");
    assert_string_equal(unit_nearest("lb", 2, DIMENSION_FORCE)->symbol, "lbf");
    assert_null(unit_nearest("parsec", 6, DIMENSION_LENGTH));
    assert_null(unit_nearest("x", 1, DIMENSION_LENGTH));
    assert_null(unit_nearest("", 0, DIMENSION_LENGTH));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_factor_agrees_with_an_independent_tool),
        cmocka_unit_test(temperatures_have_their_offsets),
        cmocka_unit_test(every_unit_converts_there_and_back),
        cmocka_unit_test(every_dimension_has_a_unit_in_both_systems),
        cmocka_unit_test(documents_use_the_units_of_the_contract),
        cmocka_unit_test(symbols_and_ucum_codes_are_unique),
        cmocka_unit_test(every_row_is_complete),
        cmocka_unit_test(every_spelling_finds_its_unit),
        cmocka_unit_test(no_two_units_share_a_spelling),
        cmocka_unit_test(reads_units_in_the_dress_of_the_trade),
        cmocka_unit_test(keeps_the_case_of_a_prefix),
        cmocka_unit_test(refuses_spellings_that_are_no_unit),
        cmocka_unit_test(reads_only_the_length_given),
        cmocka_unit_test(refuses_units_of_another_dimension),
        cmocka_unit_test(roughness_and_cutting_speed_share_units),
        cmocka_unit_test(names_the_nearest_unit),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
