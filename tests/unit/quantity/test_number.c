#include "support/close.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "quantity/number.h"

/* Values by arithmetic; `used` is how many bytes belong to the number. */
static void
reads_numbers(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        double value;
        size_t used;
    } rows[] = {
        {"5", 5.0, 1},
        {"005", 5.0, 3},
        {"1.3745", 1.3745, 6},
        {".5", 0.5, 2},
        {"5.", 5.0, 2},
        {"5. in", 5.0, 2},
        {"5.in", 5.0, 2},
        {"+5", 5.0, 2},
        {"-5", -5.0, 2},
        {"- 5", -5.0, 3},
        {"  7", 7.0, 3},
        {"1e3", 1000.0, 3},
        {"1.5E-3", 0.0015, 6},
        {"2e+2mm", 200.0, 4},
        {"5e", 5.0, 1},
        {"5e in", 5.0, 1},
        {"5e-in", 5.0, 1},
        {"5/8", 0.625, 3},
        {"5/8in", 0.625, 3},
        {"-5/8", -0.625, 4},
        {"9/8", 1.125, 3},
        {"5 1/4", 5.25, 5},
        {"5   1/4 in", 5.25, 7},
        {"5-1/4\"", 5.25, 5},
        {"-5-1/4", -5.25, 6},
        {"5 1/K", 5.0, 1},
        {"5 0/4", 5.0, 5},
        {"5 1", 5.0, 1},
        {"5-1", 5.0, 1},
        {"5 - 1/4", 5.0, 1},
        {"1.5 1/2", 1.5, 3},
        {"1/2 1/2", 0.5, 3},
        {"0", 0.0, 1},
        {"-0", 0.0, 2},
        {"0e999", 0.0, 5},
        {"1e0000000000000000000002", 100.0, 24},
        {"0.000000000000000000000000000000000000000000000000000001", 1e-54, 56},
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char buffer[256];
        struct text why;
        struct number number = {-1.0, 99};
        text_init(&why, buffer, sizeof buffer);
        if (!number_read(rows[i].text, &number, &why)) {
            fail_msg("\"%s\" is refused: %s", rows[i].text, buffer);
        }
        /* The parse rounds once, a fraction or a sum once more. */
        assert_close(number.value, rows[i].value, 4.5e-16);
        assert_false(signbit(number.value) && number.value == 0.0);
        assert_int_equal(number.used, rows[i].used);
    }
}

static void
refuses_what_is_no_number_and_says_why(void **state)
{
    (void)state;
    static const struct {
        const char *text, *words;
    } rows[] = {
        {"", "empty"},
        {"   ", "empty"},
        {"-", "empty"},
        {"in", "begins with a number"},
        {"nan", "begins with a number"},
        {"NaN in", "begins with a number"},
        {"inf", "begins with a number"},
        {"-Infinity", "begins with a number"},
        {".", "begins with a number"},
        {"--5", "begins with a number"},
        {"+-5", "begins with a number"},
        {"/4", "begins with a number"},
        {"e5", "begins with a number"},
        {"0x10", "Hexadecimal"},
        {"0X1p3", "Hexadecimal"},
        {"1e309", "too large"},
        {"1e999999999999", "too large"},
        {"1e-310", "too small"},
        {"1/0", "must not be zero"},
        {"5 1/0", "must not be zero"},
        {"0/0", "must not be zero"},
        {"1/-4", "without signs"},
        {"1/+4", "without signs"},
        {"1/2/3", "one whole number over another"},
        {"1.5/2", "one whole number over another"},
        {"1 / 4", "one whole number over another"},
        {"5 1/4/2", "one whole number over another"},
        {"1/4.5", "one decimal point"},
        {"1.2.3", "one decimal point"},
        {"5 3/2", "less than one"},
        {"5-4/4", "less than one"},
        {"34,92", "write 34.92."},
        {"34,92 mm", "write 34.92."},
        {"1,000", "write 1.000, or 1000 if thousands were meant."},
        {"1,234.5", "nothing between thousands"},
        {"1,234,567", "nothing between thousands"},
        {"1.234,5", "nothing between thousands"},
        {",5", "comma"},
        {"34 ,92", "comma"},
        {"5,in", "comma"},
        {"5 1/4, 3", "comma"},
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char buffer[256];
        struct text why;
        struct number number = {-1.0, 99};
        text_init(&why, buffer, sizeof buffer);
        if (number_read(rows[i].text, &number, &why)) {
            fail_msg("\"%s\" is read as %g", rows[i].text, number.value);
        }
        if (strstr(buffer, rows[i].words) == NULL) {
            fail_msg("\"%s\" is refused with \"%s\", wanted \"%s\"", rows[i].text, buffer, rows[i].words);
        }
        assert_false(why.cut);
        assert_close(number.value, -1.0, 0.0);
    }
}

/* The C library reads the same bytes to the same double: decimals of 1 to 20
 * digits with the point anywhere, from a fixed sequence. */
static void
reads_decimals_as_strtod_does(void **state)
{
    (void)state;
    uint64_t random = 1;
    for (int round = 0; round < 200000; round++) {
        char decimal[32];
        size_t length = 0;
        random = random * 6364136223846793005u + 1442695040888963407u; /* Knuth, MMIX */
        const size_t digits = 1 + (size_t)(random >> 33) % 20, point = (size_t)(random >> 40) % (digits + 1);
        for (size_t i = 0; i < digits; i++) {
            random = random * 6364136223846793005u + 1442695040888963407u;
            if (i == point) {
                decimal[length++] = '.';
            }
            decimal[length++] = (char)('0' + (random >> 33) % 10);
        }
        decimal[length] = '\0';
        char buffer[256];
        struct text why;
        struct number number = {-1.0, 99};
        text_init(&why, buffer, sizeof buffer);
        const double expected = strtod(decimal, NULL);
        if (!number_read(decimal, &number, &why) || number.value < expected || number.value > expected) {
            fail_msg("\"%s\" is read as %.17g, by strtod as %.17g", decimal, number.value, expected);
        }
        assert_int_equal(number.used, length);
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_numbers),
        cmocka_unit_test(refuses_what_is_no_number_and_says_why),
        cmocka_unit_test(reads_decimals_as_strtod_does),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
