#ifndef SMALLEND_WIRE_BATCH_ENTRY_H
#define SMALLEND_WIRE_BATCH_ENTRY_H

/* One entry of a batch, but for its job: {"call": "check", "id": "A-17", "job": {...}}. */

#include "wire/answer.h"
#include "wire/json_outline.h"

enum { BATCH_ID_CHARACTERS = 120, BATCH_CALL_SIZE = 64 };

struct batch_entry {
    enum call call;
    char call_text[BATCH_CALL_SIZE];      /* as it was given, cut where it is longer; "" = not given as text */
    char id[4 * BATCH_ID_CHARACTERS + 1]; /* "" = none */
    struct json_part job;                 /* borrowed, not yet read; length 0 = none */
};

/* Read entry number `index`. False: refused, and the reply filled; what could be
 * read of it stands in *entry all the same. */
bool batch_entry_read(const struct json_part *part, size_t index, const char *path, struct batch_entry *entry,
                      struct reply *reply);

#endif
