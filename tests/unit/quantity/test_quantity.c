#include "support/close.h"

#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "quantity/quantity.h"

static bool
read_text(const char *text, enum dimension dimension, enum unit_system system, struct quantity_reading *reading)
{
    return quantity_read(text, strlen(text), dimension, system, reading);
}

struct accepted {
    const char *text;
    enum dimension dimension;
    double si;
};

static void
assert_accepted(const struct accepted *rows, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        struct quantity_reading reading;
        if (!read_text(rows[i].text, rows[i].dimension, UNITS_INCH, &reading)) {
            fail_msg("\"%s\" is refused: %s", rows[i].text, reading.detail);
        }
        if (!is_close(reading.si, rows[i].si, 1e-14, 1e-300)) {
            fail_msg("\"%s\" is read as %.15g, wanted %.15g", rows[i].text, reading.si, rows[i].si);
        }
        assert_string_equal(reading.detail, "");
        assert_string_equal(reading.nearest, "");
    }
}

/*
 * Every string in the section Quantities of the contract. Values by exact
 * definitions: 1 in = 25.4 mm, 1 lb = 0.45359237 kg (1959 agreement); psi,
 * lbf.ft and rpm from GNU units 2.22.
 */
static void
reads_the_strings_of_the_contract(void **state)
{
    (void)state;
    static const struct accepted rows[] = {
        {"5 1/4 in", DIMENSION_LENGTH, 0.13335},
        {"5-1/4\"", DIMENSION_LENGTH, 0.13335},
        {"5-1/4\u201D", DIMENSION_LENGTH, 0.13335},
        {"5-1/4\u2033", DIMENSION_LENGTH, 0.13335},
        {"5\u00BC in", DIMENSION_LENGTH, 0.13335},
        {"1.3745", DIMENSION_LENGTH, 0.0349123},
        {"0.8 thou", DIMENSION_LENGTH, 2.032e-5},
        {"3 tenths", DIMENSION_LENGTH, 7.62e-6},
        {"34.92 mm", DIMENSION_LENGTH, 0.03492},
        {"12 um", DIMENSION_LENGTH, 1.2e-5},
        {"285 psi", DIMENSION_PRESSURE, 285 * 6894.75729316836},
        {"1.9 MPa", DIMENSION_PRESSURE, 1.9e6},
        {"19 bar", DIMENSION_PRESSURE, 1.9e6},
        {"22 kg", DIMENSION_MASS, 22.0},
        {"48 lb", DIMENSION_MASS, 21.77243376},
        {"180 degF", DIMENSION_TEMPERATURE, 740.0 / 9.0}, /* (180 - 32) / 1.8 */
        {"30 lbf.ft", DIMENSION_TORQUE, 30 * 1.3558179483314},
        {"360 lbf.in", DIMENSION_TORQUE, 30 * 1.3558179483314},
        {"425 rpm", DIMENSION_ROTATION, 425 * 0.10471975511966},
        {"7.1 Hz", DIMENSION_ROTATION, 7.1 * 6.28318530717959},
    };
    assert_accepted(rows, sizeof rows / sizeof rows[0]);
}

/* One inch is 25.4 mm; fractions by arithmetic. */
static void
reads_inches_however_they_are_typed(void **state)
{
    (void)state;
    static const struct accepted rows[] = {
        {"5.25in", DIMENSION_LENGTH, 0.13335},
        {"5\u00BC", DIMENSION_LENGTH, 0.13335},
        {"5 \u00BC\"", DIMENSION_LENGTH, 0.13335},
        {"5-\u00BC\u2033", DIMENSION_LENGTH, 0.13335},
        {"5 1\u20444 in", DIMENSION_LENGTH, 0.13335},
        {"5\u00A01/4\u2009in", DIMENSION_LENGTH, 0.13335},
        {"5\u20131/4 in.", DIMENSION_LENGTH, 0.13335},
        {"5 1/4''", DIMENSION_LENGTH, 0.13335},
        {"5 1/4\u201C", DIMENSION_LENGTH, 0.13335},
        {"5 1/4\u02EE", DIMENSION_LENGTH, 0.13335},
        {"5-1/4-inch", DIMENSION_LENGTH, 0.13335},
        {"\t5 1/4 Inches ", DIMENSION_LENGTH, 0.13335},
        {"21/4", DIMENSION_LENGTH, 0.13335},
        {"525e-2 IN", DIMENSION_LENGTH, 0.13335},
        {"-5 1/4 in", DIMENSION_LENGTH, -0.13335},
        {"\u22125 1/4 in", DIMENSION_LENGTH, -0.13335},
        {"\u215E", DIMENSION_LENGTH, 0.022225},
        {"5'", DIMENSION_LENGTH, 1.524},
        {"5 ft", DIMENSION_LENGTH, 1.524},
        {"0", DIMENSION_LENGTH, 0.0},
    };
    assert_accepted(rows, sizeof rows / sizeof rows[0]);
}

/* The fractions as The Unicode Standard names them, in inches. */
static void
reads_every_vulgar_fraction(void **state)
{
    (void)state;
    static const struct accepted rows[] = {
        {"\u00BC", DIMENSION_LENGTH, 0.0254 / 4},     {"\u00BD", DIMENSION_LENGTH, 0.0254 / 2},
        {"\u00BE", DIMENSION_LENGTH, 0.0254 * 3 / 4}, {"\u2150", DIMENSION_LENGTH, 0.0254 / 7},
        {"\u2151", DIMENSION_LENGTH, 0.0254 / 9},     {"\u2152", DIMENSION_LENGTH, 0.0254 / 10},
        {"\u2153", DIMENSION_LENGTH, 0.0254 / 3},     {"\u2154", DIMENSION_LENGTH, 0.0254 * 2 / 3},
        {"\u2155", DIMENSION_LENGTH, 0.0254 / 5},     {"\u2156", DIMENSION_LENGTH, 0.0254 * 2 / 5},
        {"\u2157", DIMENSION_LENGTH, 0.0254 * 3 / 5}, {"\u2158", DIMENSION_LENGTH, 0.0254 * 4 / 5},
        {"\u2159", DIMENSION_LENGTH, 0.0254 / 6},     {"\u215A", DIMENSION_LENGTH, 0.0254 * 5 / 6},
        {"\u215B", DIMENSION_LENGTH, 0.0254 / 8},     {"\u215C", DIMENSION_LENGTH, 0.0254 * 3 / 8},
        {"\u215D", DIMENSION_LENGTH, 0.0254 * 5 / 8}, {"\u215E", DIMENSION_LENGTH, 0.0254 * 7 / 8},
    };
    assert_accepted(rows, sizeof rows / sizeof rows[0]);
}

/* 6.5e-6 per degF is 11.7e-6 per K, a factor of 1.8; the others are exact. */
static void
reads_units_that_begin_with_digits(void **state)
{
    (void)state;
    static const struct accepted rows[] = {
        {"11.7 um/m/K", DIMENSION_EXPANSION, 11.7e-6},     {"11.7e-6 1/K", DIMENSION_EXPANSION, 11.7e-6},
        {"11.7e-6/K", DIMENSION_EXPANSION, 11.7e-6},       {"11.7 1e-6/K", DIMENSION_EXPANSION, 11.7e-6},
        {"12 10-6/K", DIMENSION_EXPANSION, 12e-6},         {"6.5 uin/in/degF", DIMENSION_EXPANSION, 11.7e-6},
        {"6.5e-6 in/in/F", DIMENSION_EXPANSION, 11.7e-6},  {"5:1", DIMENSION_RATIO, 5.0},
        {"4.5 to 1", DIMENSION_RATIO, 4.5},                {"50 %", DIMENSION_RATIO, 0.5},
        {"0.5 1", DIMENSION_RATIO, 0.5},                   {"2", DIMENSION_COUNT, 2.0},
        {"60 1/min", DIMENSION_ROTATION, 6.28318530717959},
    };
    assert_accepted(rows, sizeof rows / sizeof rows[0]);
}

static void
takes_the_unit_of_the_document_if_none_is_written(void **state)
{
    (void)state;
    struct quantity_reading reading;

    /* Exact: 1 in = 0.0254 m. */
    assert_true(read_text("2", DIMENSION_LENGTH, UNITS_INCH, &reading));
    assert_true(reading.bare);
    assert_close(reading.si, 0.0508, 1e-15);
    assert_true(read_text("2", DIMENSION_LENGTH, UNITS_METRIC, &reading));
    assert_true(reading.bare);
    assert_close(reading.si, 0.002, 1e-15);
    assert_true(read_text("2 in", DIMENSION_LENGTH, UNITS_METRIC, &reading));
    assert_false(reading.bare);
    assert_close(reading.si, 0.0508, 1e-15);
    /* 212 degF boils water: NIST SP 811, 2008, appendix B.9. */
    assert_true(read_text("212", DIMENSION_TEMPERATURE, UNITS_INCH, &reading));
    assert_close(reading.si, 100.0, 1e-14);
}

static void
reads_only_the_length_given(void **state)
{
    (void)state;
    struct quantity_reading reading;

    assert_true(quantity_read("12 mmXYZ", 5, DIMENSION_LENGTH, UNITS_INCH, &reading));
    assert_close(reading.si, 0.012, 1e-15);
    assert_false(quantity_read("12 mm", 0, DIMENSION_LENGTH, UNITS_INCH, &reading));
    assert_int_equal(reading.code, FAULT_BAD_NUMBER);
}

struct refusal {
    const char *text;
    enum dimension dimension;
    enum fault_code code;
    const char *words; /* in the detail */
};

static void
assert_refused(const struct refusal *rows, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        struct quantity_reading reading;
        if (read_text(rows[i].text, rows[i].dimension, UNITS_INCH, &reading)) {
            fail_msg("\"%s\" is read as %g", rows[i].text, reading.si);
        }
        if (reading.code != rows[i].code || strstr(reading.detail, rows[i].words) == NULL) {
            fail_msg("\"%s\" is refused with %s, \"%s\"; wanted %s, \"%s\"", rows[i].text,
                     fault_code_text(reading.code), reading.detail, fault_code_text(rows[i].code), rows[i].words);
        }
    }
}

static void
refuses_what_is_no_number(void **state)
{
    (void)state;
    static const struct refusal rows[] = {
        {"", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "empty"},
        {" \u00A0", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "empty"},
        {"34,92 mm", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "write 34.92."},
        {"1/0 in", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "must not be zero"},
        {"1/-4", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "without signs"},
        {"1/\u00BC", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "one whole number over another"},
        {"\u00BC\u00BD in", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "second number"},
        {"\u00BC2", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "second number"},
        {"5 3 in", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "second number"},
        {"5 1", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "second number"},
        {"1 000 mm", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "second number"},
        {"5 -1/4 in", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "second number"},
        {"1.374 to 1.375", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "second number"},
        {"1.374-1.375 in", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "second number"},
        {"1.374 in \u00B1 0.001", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "second number"},
        {"3/8-16 UNC", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "second number"},
        {"5' 3\"", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "Feet and inches"},
        {"5\u2032 3\u2033", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "Feet and inches"},
        {"5 ft 3 in", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "Feet and inches"},
        {"0x10", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "Hexadecimal"},
        {"nan", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "begins with a number"},
        {"inf in", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "begins with a number"},
        {"1e999", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "too large"},
        {"1e308 kip", DIMENSION_FORCE, FAULT_BAD_NUMBER, "too large"},
        {"5 ; in", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "not read"},
        {"5..", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "not read"},
        {"5_000 in", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "not read"},
        {"5 \n", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "control character"},
        {"5 \xFF", DIMENSION_LENGTH, FAULT_BAD_NUMBER, "not UTF-8"},
    };
    assert_refused(rows, sizeof rows / sizeof rows[0]);
}

static void
reads_64_bytes_and_no_more(void **state)
{
    (void)state;
    struct quantity_reading reading;
    char text[66];

    memset(text, '0', sizeof text - 1);
    text[sizeof text - 1] = '\0';
    text[1] = '.';
    memcpy(text + 63, "5", 2);
    assert_true(read_text(text, DIMENSION_LENGTH, UNITS_INCH, &reading));
    memcpy(text + 63, "05", 3);
    assert_false(read_text(text, DIMENSION_LENGTH, UNITS_INCH, &reading));
    assert_int_equal(reading.code, FAULT_BAD_NUMBER);
    assert_non_null(strstr(reading.detail, "64 bytes"));
}

static void
refuses_wrong_units(void **state)
{
    (void)state;
    static const struct refusal rows[] = {
        {"22 lb", DIMENSION_FORCE, FAULT_WRONG_UNIT,
         "\"lb\" measures mass; force is wanted here (lbf, kip, N, kN or kgf)."},
        {"5 psi", DIMENSION_LENGTH, FAULT_WRONG_UNIT, "\"psi\" measures pressure or stress; length is wanted"},
        {"180 deg", DIMENSION_TEMPERATURE, FAULT_WRONG_UNIT, "measures angle; temperature is wanted"},
        {"50 %", DIMENSION_COUNT, FAULT_WRONG_UNIT, "count is wanted"},
        {"5 1/K", DIMENSION_LENGTH, FAULT_WRONG_UNIT, "measures expansion"},
        {"5 inn", DIMENSION_LENGTH, FAULT_WRONG_UNIT,
         "(in, thou, tenth, uin, ft, mm, cm, m or um). The nearest is in."},
        {"1.9 mPa", DIMENSION_PRESSURE, FAULT_WRONG_UNIT, "The nearest is MPa."},
        {"5 furlong", DIMENSION_LENGTH, FAULT_WRONG_UNIT, "\"furlong\" is not known as a unit of length"},
        {"5 in junk", DIMENSION_LENGTH, FAULT_WRONG_UNIT, "\"in junk\" is not known"},
        {"5 mil", DIMENSION_LENGTH, FAULT_WRONG_UNIT, "say thou or mm"},
        {"5 Mils", DIMENSION_LENGTH, FAULT_WRONG_UNIT, "say thou or mm"},
        {"285 psig", DIMENSION_PRESSURE, FAULT_WRONG_UNIT, "Say psi"},
        {"14.7 PSIA", DIMENSION_PRESSURE, FAULT_WRONG_UNIT, "Say psi"},
        {"1 bar(a)", DIMENSION_PRESSURE, FAULT_WRONG_UNIT, "Say bar"},
        {"10 degF difference", DIMENSION_TEMPERATURE, FAULT_WRONG_UNIT, "difference of temperatures"},
        {"10 delta degF", DIMENSION_TEMPERATURE, FAULT_WRONG_UNIT, "difference of temperatures"},
        {"10 \u0394\u00B0C", DIMENSION_TEMPERATURE, FAULT_WRONG_UNIT, "difference of temperatures"},
    };
    assert_refused(rows, sizeof rows / sizeof rows[0]);
}

static void
names_the_nearest_unit_apart(void **state)
{
    (void)state;
    struct quantity_reading reading;

    assert_false(read_text("5 psy", DIMENSION_PRESSURE, UNITS_INCH, &reading));
    assert_string_equal(reading.nearest, "psi");
    assert_false(read_text("22 lbs", DIMENSION_FORCE, UNITS_INCH, &reading));
    assert_string_equal(reading.nearest, "lbf");
    assert_false(read_text("5 furlong", DIMENSION_LENGTH, UNITS_INCH, &reading));
    assert_string_equal(reading.nearest, "");
}

static void
tells_every_accepted_unit_in_full(void **state)
{
    (void)state;
    /* The longest spelling that is shown, for the dimension with the longest list. */
    for (int dimension = 0; dimension < DIMENSION_UNIT_COUNT; dimension++) {
        struct quantity_reading reading;
        assert_false(
            read_text("5 abcdefghijklmnopqrstuvwxyzabcdefghi", (enum dimension)dimension, UNITS_INCH, &reading));
        assert_string_equal(reading.detail + strlen(reading.detail) - 2, ").");
    }
}

static void
every_unit_survives_writing_and_reading(void **state)
{
    (void)state;
    static const double values[] = {1.0, -0.125, 1234.5678, 3.3e-7};
    size_t count = 0;
    const struct unit *const units = unit_table(&count);

    for (size_t i = 0; i < 2 * count; i++) {
        const struct unit *const unit = &units[i / 2];
        for (size_t j = 0; j < sizeof values / sizeof values[0]; j++) {
            char buffer[64];
            struct text text;
            struct quantity_reading reading;
            text_init(&text, buffer, sizeof buffer);
            text_format(&text, "%.17g %s", values[j], i % 2 == 0 ? unit->symbol : unit->ucum);
            if (!read_text(buffer, unit->dimension, UNITS_METRIC, &reading)) {
                fail_msg("\"%s\" is refused: %s", buffer, reading.detail);
            }
            assert_close(reading.si, unit_to_si(unit, values[j]), 0.0);
            assert_false(reading.bare);
        }
    }
}

/* Knuth's generator, The Art of Computer Programming 2, 3rd edition, 3.3.4, line 26 (from memory). */
static unsigned
next_random(uint64_t *random)
{
    *random = *random * 6364136223846793005u + 1442695040888963407u;
    return (unsigned)(*random >> 33);
}

/* Fill `bytes` with what quantities are made of, or with anything. */
static size_t
random_text(uint64_t *random, char bytes[80])
{
    static const char *const pieces[] = {
        "1",  "25", "0",      "5",      "/",      "-",      ".",      ",",      " ",   "e",    "+",      "\"",
        "'",  "in", "mm",     "psi",    "lbf.ft", "/K",     "%",      "ft",     "per", "e-",   "\u00BC", "\u2033",
        "\t", "^2", "\u00B5", "\u2212", "\u2044", "\u00A0", "degF",   "1e-6/K", "E9",  "\xC2", "\xFF",   "\x01",
    };
    const size_t wanted = next_random(random) % (next_random(random) % 2 == 0 ? 72 : 8);
    const bool any = next_random(random) % 4 == 0;
    size_t length = 0;

    while (length < wanted) {
        if (any) {
            bytes[length++] = (char)next_random(random);
            continue;
        }
        const char *const piece = pieces[next_random(random) % (sizeof pieces / sizeof pieces[0])];
        memcpy(bytes + length, piece, strlen(piece));
        length += strlen(piece);
    }
    return length;
}

static bool
is_utf8(const char *string)
{
    size_t left = strlen(string);
    while (left > 0) {
        uint32_t code = 0;
        const size_t size = text_character(string, left, &code);
        if (size == 0) {
            return false;
        }
        string += size;
        left -= size;
    }
    return true;
}

static void
stands_any_bytes(void **state)
{
    (void)state;
    uint64_t random = 20261125;
    unsigned accepted = 0;

    for (int round = 0; round < 100000; round++) {
        char bytes[80];
        const size_t length = random_text(&random, bytes);
        /* To the byte on the heap, so that the address sanitizer sees a read past the end. */
        char *const text = malloc(length > 0 ? length : 1);
        assert_non_null(text);
        memcpy(text, bytes, length);
        struct quantity_reading reading;
        const enum dimension dimension = (enum dimension)(next_random(&random) % DIMENSION_UNIT_COUNT);
        if (quantity_read(text, length, dimension, UNITS_INCH, &reading)) {
            accepted++;
            assert_true(isfinite(reading.si));
        } else {
            assert_true(reading.code == FAULT_BAD_NUMBER || reading.code == FAULT_WRONG_UNIT);
            assert_true(strlen(reading.detail) > 0);
            assert_true(is_utf8(reading.detail));
        }
        free(text);
    }
    assert_true(accepted > 1000); /* else the pieces no longer make quantities */
}

/* Common practice of the trade, no source; the examples are the rules of quantity.h by hand. */
static void
writes_as_a_person_would(void **state)
{
    (void)state;
    static const struct {
        const char *given;
        enum dimension dimension;
        enum unit_system system;
        const char *written;
    } rows[] = {
        {"0.0012 in", DIMENSION_LENGTH, UNITS_INCH, "1.2 thou"},
        {"-0.0012 in", DIMENSION_LENGTH, UNITS_INCH, "-1.2 thou"},
        {"0.00035 in", DIMENSION_LENGTH, UNITS_INCH, "3.5 tenths"},
        {"0.0001 in", DIMENSION_LENGTH, UNITS_INCH, "1 tenth"},
        {"0.00001 in", DIMENSION_LENGTH, UNITS_INCH, "0.1 tenths"},
        {"0.0000063 in", DIMENSION_LENGTH, UNITS_INCH, "6.3 uin"},
        {"0.00099999 in", DIMENSION_LENGTH, UNITS_INCH, "1 thou"},
        {"0.015 in", DIMENSION_LENGTH, UNITS_INCH, "15 thou"},
        {"0.015625 in", DIMENSION_LENGTH, UNITS_INCH, "15.6 thou"},
        {"0.021 in", DIMENSION_LENGTH, UNITS_INCH, "0.021 in"},
        {"1/32 in", DIMENSION_LENGTH, UNITS_INCH, "1/32 in"},
        {"1.375 in", DIMENSION_LENGTH, UNITS_INCH, "1 3/8 in"},
        {"-1.375 in", DIMENSION_LENGTH, UNITS_INCH, "-1 3/8 in"},
        {"1.37500009 in", DIMENSION_LENGTH, UNITS_INCH, "1 3/8 in"},
        {"1.3750002 in", DIMENSION_LENGTH, UNITS_INCH, "1.375 in"},
        {"1.3745 in", DIMENSION_LENGTH, UNITS_INCH, "1.3745 in"},
        {"1.37456 in", DIMENSION_LENGTH, UNITS_INCH, "1.3746 in"},
        {"12 47/64 in", DIMENSION_LENGTH, UNITS_INCH, "12 47/64 in"},
        {"5 in", DIMENSION_LENGTH, UNITS_INCH, "5 in"},
        {"0", DIMENSION_LENGTH, UNITS_INCH, "0 in"},
        {"-1e-12 in", DIMENSION_LENGTH, UNITS_INCH, "0 in"},
        {"0.0125 mm", DIMENSION_LENGTH, UNITS_METRIC, "12.5 um"},
        {"-0.05 mm", DIMENSION_LENGTH, UNITS_METRIC, "-50 um"},
        {"0.1 mm", DIMENSION_LENGTH, UNITS_METRIC, "0.1 mm"},
        {"34.925 mm", DIMENSION_LENGTH, UNITS_METRIC, "34.925 mm"},
        {"34.9256 mm", DIMENSION_LENGTH, UNITS_METRIC, "34.926 mm"},
        {"0", DIMENSION_LENGTH, UNITS_METRIC, "0 mm"},
        {"18231 psi", DIMENSION_PRESSURE, UNITS_INCH, "18230 psi"},
        {"18235.1 psi", DIMENSION_PRESSURE, UNITS_INCH, "18240 psi"},
        {"812.44 psi", DIMENSION_PRESSURE, UNITS_INCH, "812.4 psi"},
        {"99995 psi", DIMENSION_PRESSURE, UNITS_INCH, "100000 psi"},
        {"0.00012346 psi", DIMENSION_PRESSURE, UNITS_INCH, "0.0001235 psi"},
        {"5.25e6 N", DIMENSION_FORCE, UNITS_METRIC, "5250000 N"},
        {"-4771.3 lbf", DIMENSION_FORCE, UNITS_INCH, "-4771 lbf"},
        {"36.2 lbf.ft", DIMENSION_TORQUE, UNITS_INCH, "36.2 lbf.ft"},
        {"425 rpm", DIMENSION_ROTATION, UNITS_METRIC, "425 rpm"},
        {"180 degF", DIMENSION_TEMPERATURE, UNITS_INCH, "180 degF"},
        {"180 degF", DIMENSION_TEMPERATURE, UNITS_METRIC, "82.2 degC"},
        {"0 degF", DIMENSION_TEMPERATURE, UNITS_INCH, "0 degF"},
        {"-0.04 degC", DIMENSION_TEMPERATURE, UNITS_METRIC, "0 degC"},
        {"0.68123", DIMENSION_RATIO, UNITS_INCH, "0.6812"},
        {"2", DIMENSION_COUNT, UNITS_INCH, "2"},
        {"12.3456 deg", DIMENSION_ANGLE, UNITS_INCH, "12.35 deg"},
        {"32 uin", DIMENSION_ROUGHNESS, UNITS_INCH, "32 uin"},
        {"0.8 um", DIMENSION_ROUGHNESS, UNITS_METRIC, "0.8 um"},
        {"100 ft/min", DIMENSION_CUTTING_SPEED, UNITS_METRIC, "30.48 m/min"},
        {"6.5 uin/in/degF", DIMENSION_EXPANSION, UNITS_METRIC, "11.7 um/m/K"},
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct quantity_reading reading;
        char buffer[64];
        assert_true(read_text(rows[i].given, rows[i].dimension, rows[i].system, &reading));
        quantity_write(buffer, sizeof buffer, reading.si, rows[i].dimension, rows[i].system);
        assert_string_equal(buffer, rows[i].written);
    }
}

static void
writes_any_number_into_64_bytes(void **state)
{
    (void)state;
    uint64_t random = 7;

    for (int round = 0; round < 100000; round++) {
        const double mantissa = (double)next_random(&random) / 2147483648.0 - 0.5;
        const double si = ldexp(mantissa, (int)(next_random(&random) % 2100) - 1074);
        const enum dimension dimension = (enum dimension)(next_random(&random) % DIMENSION_UNIT_COUNT);
        const enum unit_system system = round % 2 == 0 ? UNITS_INCH : UNITS_METRIC;
        char buffer[64];
        memset(buffer, 'x', sizeof buffer);
        quantity_write(buffer, sizeof buffer, si, dimension, system);
        assert_true(strlen(buffer) < sizeof buffer - 1);
        assert_int_not_equal(strncmp(buffer, "-0 ", 3), 0);
        assert_string_not_equal(buffer, "-0");
        assert_null(strstr(buffer, "nan"));
    }
}

/* What is written for a person is read back as the same to the figures it has. */
static void
reads_what_it_writes(void **state)
{
    (void)state;
    uint64_t random = 11;

    for (int round = 0; round < 20000; round++) {
        const enum dimension dimension = (enum dimension)(next_random(&random) % DIMENSION_UNIT_COUNT);
        const enum unit_system system = round % 2 == 0 ? UNITS_INCH : UNITS_METRIC;
        const double value = pow(10.0, (double)next_random(&random) / 2147483648.0 * 10.0 - 4.0);
        const double si = unit_to_si(unit_of(dimension, system), value);
        char buffer[64];
        struct quantity_reading reading;
        quantity_write(buffer, sizeof buffer, si, dimension, system);
        if (!read_text(buffer, dimension, system, &reading)) {
            fail_msg("\"%s\" is refused: %s", buffer, reading.detail);
        }
        /* Half a unit in the third figure, or 0.05 degC. */
        assert_close_or(reading.si, si, 5.1e-3, dimension == DIMENSION_TEMPERATURE ? 0.0501 : 0.0);
    }
}

static void
writes_into_small_buffers_and_survives_non_finite_numbers(void **state)
{
    (void)state;
    for (size_t capacity = 1; capacity < 12; capacity++) {
        char *const buffer = malloc(capacity);
        assert_non_null(buffer);
        quantity_write(buffer, capacity, 0.034925, DIMENSION_LENGTH, UNITS_INCH);
        assert_true(strlen(buffer) < capacity);
        assert_memory_equal(buffer, "1 3/8 in", strlen(buffer));
        free(buffer);
    }
    char buffer[64];
    quantity_write(buffer, sizeof buffer, (double)NAN, DIMENSION_LENGTH, UNITS_INCH);
    assert_string_equal(buffer, "not known");
    quantity_write(buffer, sizeof buffer, -HUGE_VAL, DIMENSION_FORCE, UNITS_METRIC);
    assert_string_equal(buffer, "not known");
}

static void
limits_share_a_unit_where_they_are_small(void **state)
{
    (void)state;
    static const struct {
        double low, high;
        enum dimension dimension;
        enum unit_system system;
        const char *text;
    } cases[] = {
        {0.7e-3 * 0.0254, 2.06e-3 * 0.0254, DIMENSION_LENGTH, UNITS_INCH, "0.7 to 2.06 thou"},
        {2e-4 * 0.0254, 6e-4 * 0.0254, DIMENSION_LENGTH, UNITS_INCH, "2 to 6 tenths"},
        {6e-6 * 0.0254, 6e-4 * 0.0254, DIMENSION_LENGTH, UNITS_INCH, "0.06 to 6 tenths"},
        {0.0, 4e-3 * 0.0254, DIMENSION_LENGTH, UNITS_INCH, "0 to 4 thou"},
        {-1e-3 * 0.0254, 1e-3 * 0.0254, DIMENSION_LENGTH, UNITS_INCH, "-1 to 1 thou"},
        {1.375 * 0.0254, 1.4 * 0.0254, DIMENSION_LENGTH, UNITS_INCH, "1 3/8 in to 1.4 in"},
        {12e-6, 40e-6, DIMENSION_LENGTH, UNITS_METRIC, "12 to 40 um"},
        {0.02, 0.0201, DIMENSION_LENGTH, UNITS_METRIC, "20 mm to 20.1 mm"},
        {0.0, 0.0, DIMENSION_LENGTH, UNITS_METRIC, "0 mm to 0 mm"},
        {1e6, 2e6, DIMENSION_PRESSURE, UNITS_METRIC, "1 to 2 MPa"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[2 * QUANTITY_TEXT_SIZE];
        quantity_write_range(text, sizeof text, cases[i].low, cases[i].high, cases[i].dimension, cases[i].system);
        assert_string_equal(text, cases[i].text);
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_the_strings_of_the_contract),
        cmocka_unit_test(reads_inches_however_they_are_typed),
        cmocka_unit_test(reads_every_vulgar_fraction),
        cmocka_unit_test(reads_units_that_begin_with_digits),
        cmocka_unit_test(takes_the_unit_of_the_document_if_none_is_written),
        cmocka_unit_test(reads_only_the_length_given),
        cmocka_unit_test(refuses_what_is_no_number),
        cmocka_unit_test(reads_64_bytes_and_no_more),
        cmocka_unit_test(refuses_wrong_units),
        cmocka_unit_test(names_the_nearest_unit_apart),
        cmocka_unit_test(tells_every_accepted_unit_in_full),
        cmocka_unit_test(every_unit_survives_writing_and_reading),
        cmocka_unit_test(stands_any_bytes),
        cmocka_unit_test(writes_as_a_person_would),
        cmocka_unit_test(writes_any_number_into_64_bytes),
        cmocka_unit_test(reads_what_it_writes),
        cmocka_unit_test(writes_into_small_buffers_and_survives_non_finite_numbers),
        cmocka_unit_test(limits_share_a_unit_where_they_are_small),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
