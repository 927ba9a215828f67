#include "wire/problem.h"

/*
 * The document is put together by the preprocessor out of the same texts as
 * any other. A caution that goes with a section stands in no problem, so each
 * section's name selects an empty text here.
 */
#define CAUTION_IN_ALWAYS(text) ",\"" text "\""
#define CAUTION_IN_load(text)
#define CAUTION_IN_strength(text)
#define CAUTION_IN_slot(text)
#define CAUTION_IN_set_screw(text)
#define CAUTION_IN_fit(text)
#define CAUTION_IN_material(text)
#define CAUTION_IN_inspection(text)
#define CAUTION_IN_turning(text)
#define CAUTION_IN_order(text)
#define CAUTION(id, when, text) CAUTION_IN_##when(text)

const char problem_no_memory[] =
    "{\"type\":\"/v1/problems/unavailable\",\"title\":\"Not available for the moment\",\"status\":503,"
    "\"detail\":\"The service has no memory left for this answer. Send it again a little later.\","
    "\"cautions\":[\"Nothing was computed.\""
#include "joint/caution.def"
    "]}\n";

const size_t problem_no_memory_length = sizeof problem_no_memory - 1;
