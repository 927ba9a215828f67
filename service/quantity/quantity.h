#ifndef SMALLEND_QUANTITY_QUANTITY_H
#define SMALLEND_QUANTITY_QUANTITY_H

/*
 * Quantities as people write them: "5 1/4 in", "5-1/4\"", "1.3745", "0.8
 * thou", "3 tenths", "19 bar", with fractions, vulgar fraction characters,
 * typographic quotes and trade names of units.
 */

#include "base/fault.h"
#include "quantity/unit.h"

struct quantity_reading {
    double si;       /* value in the SI unit of the dimension */
    bool bare;       /* no unit was written: the document's was taken */
    enum fault_code code;          /* meaningful only on refusal */
    char detail[FAULT_TEXT_SIZE];  /* a plain sentence, only on refusal */
    char nearest[FAULT_SHORT_SIZE]; /* the unit probably meant, "" = none near enough */
};

/*
 * Read `length` bytes of `text` (need not be NUL-terminated, UTF-8) as a
 * quantity of `dimension`; a text without a unit takes the unit of `system`.
 * True and reading->si, ->bare on success; false with code and detail if it is
 * no number (FAULT_BAD_NUMBER: decimal comma, zero denominator, not finite,
 * stray text ...) or its unit is unknown or of another dimension
 * (FAULT_WRONG_UNIT; "mil" is refused: thou or mm must be said).
 */
bool quantity_read(const char *text, size_t length, enum dimension dimension, enum unit_system system,
                   struct quantity_reading *reading) __attribute__((warn_unused_result));

/*
 * Write a quantity as a knowledgeable person would, in the unit system's
 * trade units, into `buffer`: small lengths (under 0.020 in) in thousandths
 * ("1.2 thou"), tenths or microinches, metric ones in um; exact binary
 * fractions of an inch as such ("1 3/8 in"); at most four significant figures
 * otherwise, except lengths, which keep 0.0001 in or 0.001 mm.
 */
void quantity_write(char *buffer, size_t capacity, double si, enum dimension dimension, enum unit_system system);

/* Room for any quantity that quantity_write writes. */
enum { QUANTITY_TEXT_SIZE = 64 };

/*
 * The same for two limits: "0.69 to 2.06 thou". Both in one unit, that of the
 * larger, except lengths over 0.020 in or 0.1 mm, which are written each for
 * itself ("1 3/8 in to 1.4 in").
 */
void quantity_write_range(char *buffer, size_t capacity, double low_si, double high_si, enum dimension dimension,
                          enum unit_system system);

#endif
