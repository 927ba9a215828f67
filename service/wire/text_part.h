#ifndef SMALLEND_WIRE_TEXT_PART_H
#define SMALLEND_WIRE_TEXT_PART_H

/* Parts that every text form of an answer shares: the order of the checks, and
 * numbers and names in words. */

#include "base/text.h"
#include "joint/check.h"
#include "joint/job.h"
#include "joint/report.h"
#include "wire/buffer.h"

/* Longest number in words: two limits and what stands between. */
enum { TEXT_PART_SIZE = 160 };

/*
 * Indices of the judged checks of the call, the worst verdict first, and
 * within it the one nearest its limit. At most `capacity`; returns how many.
 */
size_t text_part_worst(const struct report *report, size_t *index, size_t capacity);

/* The id of a result in words: "pin_load_max" is "pin load max". */
void text_part_name(char *buffer, size_t capacity, const char *id);

/* What a check found, and its limits in words: "at most 2230 psi". */
void text_part_value(char *buffer, size_t capacity, const struct check *check, const struct finding *finding,
                     enum unit_system system);
void text_part_advised(char *buffer, size_t capacity, const struct check *check, const struct finding *finding,
                       enum unit_system system);
void text_part_limit(char *buffer, size_t capacity, const struct check *check, const struct finding *finding,
                     enum unit_system system);

/* How much of the limit is used, in percent; "" where it has no number. */
void text_part_share(char *buffer, size_t capacity, const struct finding *finding);

/* A result in words. */
void text_part_result(char *buffer, size_t capacity, enum result result, const struct result_value *value,
                      enum unit_system system);

/* The verdict as it opens a text: "Fails". */
const char *text_part_verdict(enum verdict verdict);

/*
 * Words that quote the user, made harmless where texts are shown to many:
 * nobody is called by them (@), nothing in them is an address, a tag or
 * markup, and none breaks a line or turns the direction of the text.
 */
void text_part_quote(struct text *text, const char *words);

/* The same for the user's own label, which is all theirs: a host name in it is
 * no link either. It fits wherever JOB_LABEL_SIZE bytes do. */
void text_part_label(struct text *text, const char *label);

/* The cautions that close what is no answer of a call, as Markdown. */
void text_part_cautions(struct buffer *out);

#endif
