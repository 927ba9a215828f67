#ifndef SMALLEND_WIRE_SCHEMA_TABLE_H
#define SMALLEND_WIRE_SCHEMA_TABLE_H

/* The tables of the service. */

#include "wire/schema_part.h"

/*
 * Definitions: for each table its row ("Steel"), the whole table ("SteelTable")
 * and a row as a document of its own ("SteelDocument"), named after the row.
 */
void schema_table(struct writer *writer);

/* "Steel" of "steels", "FitClass" of "fit-classes". */
void schema_row_name(char name[SCHEMA_NAME_SIZE], const char *table, const char *suffix);

#endif
