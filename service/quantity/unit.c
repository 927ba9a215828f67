#include "quantity/unit.h"

#include <string.h>

#include "base/text.h"
#include "quantity/plain.h"

static const struct unit units[] = {
#define UNIT(id, symbol, dimension, factor, offset, ucum, source)                                                          \
    {symbol, DIMENSION_##dimension, factor, offset, ucum, source},
#define ALIAS(spelling, symbol)
#include "quantity/unit.def"
};

static const struct unit_alias aliases[] = {
#define UNIT(id, symbol, dimension, factor, offset, ucum, source)
#define ALIAS(spelling, symbol) {spelling, symbol},
#include "quantity/unit.def"
};

enum unit_id {
#define UNIT(id, symbol, dimension, factor, offset, ucum, source) UNIT_##id,
#define ALIAS(spelling, symbol)
#include "quantity/unit.def"
};

enum { UNIT_COUNT = sizeof units / sizeof units[0], ALIAS_COUNT = sizeof aliases / sizeof aliases[0] };

static const struct {
    const char *name;
    enum unit_id unit[2]; /* by enum unit_system */
} dimensions[] = {
#define DIMENSION(id, name, inch, metric) {name, {UNIT_##inch, UNIT_##metric}},
#include "quantity/dimension.def"
};

const char *
dimension_name(enum dimension dimension)
{
    return dimensions[dimension].name;
}

static const struct unit *
unit_by_symbol(const char *symbol)
{
    for (size_t i = 0; i < UNIT_COUNT; i++) {
        if (strcmp(units[i].symbol, symbol) == 0) {
            return &units[i];
        }
    }
    return NULL;
}

const struct unit *
unit_of(enum dimension dimension, enum unit_system system)
{
    return &units[dimensions[dimension].unit[system]];
}

const struct unit *
unit_table(size_t *count)
{
    *count = UNIT_COUNT;
    return units;
}

const struct unit_alias *
unit_alias_table(size_t *count)
{
    *count = ALIAS_COUNT;
    return aliases;
}

bool
unit_measures(const struct unit *unit, enum dimension dimension)
{
    switch (dimension) {
    case DIMENSION_ROUGHNESS:
        return unit->dimension == DIMENSION_LENGTH;
    case DIMENSION_CUTTING_SPEED:
        return unit->dimension == DIMENSION_VELOCITY;
    case DIMENSION_COUNT: /* nobody counts in per cent */
        return strcmp(unit->symbol, "1") == 0;
    default:
        return unit->dimension == dimension;
    }
}

enum { SPELLING_SIZE = 48 };

/* A text's spelling of a unit: as it stands, and, once it has been folded, in
 * the form of the table; "" where that cannot be. */
struct spelling {
    const char *text;
    size_t length;
    char folded[SPELLING_SIZE];
};

/*
 * Fold separators of plain text: a space, hyphen, star or dot between letters
 * is a dot, beside a slash it is nothing; a raised exponent stands on the line.
 */
static void
fold_separators(const char *plain, struct text *folded)
{
    bool parted = false; /* a separator waits for what follows it */

    for (; *plain != '\0'; plain++) {
        if (*plain == '^') {
            continue;
        }
        if (strchr(" -*.", *plain) != NULL) {
            parted = true;
            continue;
        }
        const bool beside_slash = *plain == '/' || (folded->length > 0 && folded->at[folded->length - 1] == '/');
        if (parted && !beside_slash) {
            text_add(folded, ".");
        }
        parted = false;
        text_add_bytes(folded, plain, 1);
    }
    /* "lbs." is abbreviated; "lb-" is unfinished, and the dot kept spoils it. */
    if (parted && plain[-1] != '.' && plain[-1] != ' ') {
        text_add(folded, ".");
    }
}

static void
fold(struct spelling *spelling)
{
    char plain_buffer[SPELLING_SIZE];
    struct text plain, folded;

    text_init(&plain, plain_buffer, sizeof plain_buffer);
    text_init(&folded, spelling->folded, sizeof spelling->folded);
    if (!plain_add(&plain, spelling->text, spelling->length)) {
        return;
    }
    fold_separators(plain.at, &folded);
    for (char *per = strstr(folded.at, ".per."); per != NULL; per = strstr(per, ".per.")) {
        *per = '/';
        memmove(per + 1, per + 5, strlen(per + 5) + 1);
    }
}

static bool
stands_as(const struct spelling *spelling, const char *form)
{
    return strlen(form) == spelling->length && memcmp(spelling->text, form, spelling->length) == 0;
}

static bool
is_m(char c)
{
    return c == 'm' || c == 'M';
}

/*
 * Upper and lower case alike, except in the m that a form begins with: m is
 * milli where M is mega. Words are free: five letters are no SI symbol.
 */
static bool
folds_to(const struct spelling *spelling, const char *form)
{
    static const char letters[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";

    if (!text_same_ignoring_case(spelling->folded, form)) {
        return false;
    }
    for (size_t i = 0; is_m(form[i]) && strspn(form, letters) < 5; i++) {
        if (form[i] != spelling->folded[i]) {
            return false;
        }
    }
    return true;
}

/* The unit that `matches` the spelling by symbol, UCUM code or alias; of any
 * dimension if `wanted` is NULL. */
static const struct unit *
look_up(const struct spelling *spelling, const enum dimension *wanted,
        bool (*matches)(const struct spelling *spelling, const char *form))
{
    for (size_t i = 0; i < UNIT_COUNT; i++) {
        if ((wanted == NULL || unit_measures(&units[i], *wanted)) &&
            (matches(spelling, units[i].symbol) || stands_as(spelling, units[i].ucum))) {
            return &units[i];
        }
    }
    for (size_t i = 0; i < ALIAS_COUNT; i++) {
        if (matches(spelling, aliases[i].spelling)) {
            const struct unit *const unit = unit_by_symbol(aliases[i].symbol);
            if (unit != NULL && (wanted == NULL || unit_measures(unit, *wanted))) {
                return unit;
            }
        }
    }
    return NULL;
}

static const struct unit *
find(const char *text, size_t length, const enum dimension *wanted)
{
    struct spelling spelling = {.text = text, .length = length};
    const struct unit *const exact = look_up(&spelling, wanted, stands_as);

    if (exact != NULL) {
        return exact;
    }
    fold(&spelling);
    return spelling.folded[0] == '\0' ? NULL : look_up(&spelling, wanted, folds_to);
}

const struct unit *
unit_find(const char *text, size_t length, enum dimension dimension)
{
    return find(text, length, &dimension);
}

const struct unit *
unit_find_any(const char *text, size_t length)
{
    return find(text, length, NULL);
}

/* How far a form is from what was written: 0 if only case differs, else twice
 * the edits, and one less where the form goes on from it ("kg", "kgf"). */
static unsigned
remoteness(const char *written, const char *form)
{
    if (text_same_ignoring_case(written, form)) {
        return 0;
    }
    return 2 * text_edit_distance(written, form) - (strncmp(form, written, strlen(written)) == 0);
}

const struct unit *
unit_nearest(const char *text, size_t length, enum dimension dimension)
{
    struct spelling spelling = {.text = text, .length = length};
    fold(&spelling);
    const size_t edits = strlen(spelling.folded) / 2; /* more than half of it, and more than 2, is not near */
    unsigned least = 2 * (edits < 2 ? (unsigned)edits : 2) + 1;
    const struct unit *nearest = NULL;

    for (size_t i = 0; i < UNIT_COUNT + ALIAS_COUNT; i++) {
        const bool is_symbol = i < UNIT_COUNT;
        const char *const form = is_symbol ? units[i].symbol : aliases[i - UNIT_COUNT].spelling;
        const struct unit *const unit = is_symbol ? &units[i] : unit_by_symbol(aliases[i - UNIT_COUNT].symbol);
        if (unit == NULL || !unit_measures(unit, dimension)) {
            continue;
        }
        const unsigned away = remoteness(spelling.folded, form);
        if (away < least) {
            least = away;
            nearest = unit;
        }
    }
    return nearest;
}

double
unit_to_si(const struct unit *unit, double value)
{
    return value * unit->factor + unit->offset;
}

double
unit_from_si(const struct unit *unit, double si)
{
    return (si - unit->offset) / unit->factor;
}
