#include "base/text.h"
#include "wire/answer.h"
#include "wire/catalogue_write.h"
#include "wire/reference_write.h"
#include "wire/service_write.h"

/* There is no row of this id; `nearest` is the nearest, or NULL. */
static void
refuse_id(const struct catalogue *catalogue, const char *id, const char *nearest, struct reply *reply)
{
    char instance[FAULT_POINTER_SIZE];
    char detail[FAULT_TEXT_SIZE];
    struct text text;
    text_init(&text, instance, sizeof instance);
    text_format(&text, "/v1/%s/%s", catalogue->name, id);
    text_init(&text, detail, sizeof detail);
    text_format(&text, "The table %s has no such id", catalogue->name);
    if (nearest != NULL) {
        text_format(&text, "; the nearest is %s", nearest);
    }
    text_add(&text, ".");
    reply_refuse(reply, &(struct refusal){.problem = PROBLEM_not_found, .detail = detail, .instance = instance},
                 ANSWER_JSON);
}

bool
answer_table(const char *name, const char *id, struct reply *reply)
{
    const struct catalogue *catalogue = catalogue_find(name);
    if (catalogue == NULL) {
        return false;
    }
    struct buffer out;
    buffer_init(&out);
    if (id == NULL) {
        catalogue_write(&out, catalogue);
    } else {
        const char *nearest = NULL;
        if (!catalogue_write_row(&out, catalogue, id, &nearest)) {
            refuse_id(catalogue, id, nearest, reply);
            return true;
        }
    }
    reply_deliver(reply, &out, 200, answer_form(ANSWER_JSON)->content_type);
    return true;
}

void
answer_index(enum answer_format format, struct reply *reply)
{
    struct buffer out;
    buffer_init(&out);
    if (format == ANSWER_HTML) {
        reference_write_page(&out);
    } else if (format == ANSWER_MD) {
        reference_write_markdown(&out);
    } else {
        service_write_index(&out);
    }
    reply_deliver(reply, &out, 200, answer_form(format)->content_type);
}
