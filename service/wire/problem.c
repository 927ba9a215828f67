#include "wire/problem.h"

#include "base/text.h"
#include "wire/writer.h"

/* Path under which the problems stand. */
#define PROBLEM_PATH "/v1/problems/"

static const struct problem_row rows[PROBLEM_COUNT] = {
#define PROBLEM(id, name, status, title, meaning) {name, status, title, meaning},
#include "wire/problem.def"
};

const struct problem_row *
problem_row(enum problem problem)
{
    return &rows[problem];
}

void
problem_type(enum problem problem, char *type)
{
    struct text text;
    text_init(&text, type, PROBLEM_TYPE_SIZE);
    text_add(&text, PROBLEM_PATH);
    text_add(&text, rows[problem].name);
}

enum problem
problem_of_status(int status)
{
    enum problem found = status < 500 ? PROBLEM_bad_request : PROBLEM_internal;
    for (int i = 0; i < PROBLEM_COUNT; i++) {
        if (rows[i].status == status) {
            found = (enum problem)i;
        }
    }
    return found;
}

void
problem_place(char *place, const char *pointer, enum fault_place as)
{
    struct text text;
    if (as == PLACE_POINTER) {
        text_copy(place, FAULT_POINTER_SIZE, pointer);
        return;
    }
    text_init(&text, place, FAULT_POINTER_SIZE);
    for (const char *at = pointer + (pointer[0] == '/'); *at != '\0'; at++) {
        if (at[0] == '~' && (at[1] == '0' || at[1] == '1')) { /* RFC 6901 section 3 */
            at++;
            text_add(&text, *at == '0' ? "~" : "/");
        } else {
            text_add_bytes(&text, *at == '/' ? "." : at, 1);
        }
    }
}

static void
write_fault(struct writer *writer, const struct fault *fault, enum fault_place as)
{
    char place[FAULT_POINTER_SIZE];
    problem_place(place, fault->pointer, as);
    writer_object(writer, NULL);
    writer_text(writer, as == PLACE_POINTER ? "pointer" : "parameter", place);
    writer_text(writer, "code", fault_code_text(fault->code));
    writer_text(writer, "detail", fault->detail);
    writer_text_if(writer, "got", fault->got);
    writer_text_if(writer, "expected", fault->expected);
    writer_text_if(writer, "nearest", fault->nearest);
    writer_object_end(writer);
}

void
problem_write(struct buffer *out, enum problem problem, const char *detail, const char *instance,
              const struct fault_list *faults, enum fault_place as)
{
    const struct problem_row *row = &rows[problem];
    char type[PROBLEM_TYPE_SIZE];
    problem_type(problem, type);

    struct writer writer;
    writer_init(&writer, out);
    writer_object(&writer, NULL);
    writer_text(&writer, "type", type);
    writer_text(&writer, "title", row->title);
    writer_count(&writer, "status", (size_t)row->status);
    writer_text(&writer, "detail", detail != NULL ? detail : row->meaning);
    writer_text_if(&writer, "instance", instance);
    if (faults != NULL && faults->count > 0) {
        writer_list(&writer, "errors");
        for (size_t i = 0; i < faults->count; i++) {
            write_fault(&writer, &faults->fault[i], as);
        }
        writer_list_end(&writer);
    }
    writer_cautions_always(&writer);
    writer_object_end(&writer);
    buffer_add(out, "\n");
}
