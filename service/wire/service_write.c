#include "wire/service_write.h"

#include "base/text.h"
#include "base/version.h"
#include "joint/report.h"
#include "wire/catalogue_write.h"

enum { ADDRESS_SIZE = 64 };

void
service_write(struct writer *writer)
{
    writer_object(writer, "service");
    writer_text(writer, "name", SMALLEND_NAME);
    writer_text(writer, "version", SMALLEND_VERSION);
    writer_text(writer, "rules", SMALLEND_RULES);
    writer_object_end(writer);
}

static void
write_address(struct writer *writer, const char *path, const char *name)
{
    char address[ADDRESS_SIZE];
    struct text text;
    text_init(&text, address, sizeof address);
    text_add(&text, path);
    text_add(&text, name);
    writer_text(writer, "href", address);
}

static void
write_call(struct writer *writer, const char *id, const char *word, const char *summary)
{
    writer_object(writer, NULL);
    writer_text(writer, "id", id);
    writer_text(writer, "method", "POST");
    write_address(writer, "/v1/", word);
    writer_text(writer, "summary", summary);
    writer_object_end(writer);
}

/* The calls of call.def, and what is asked of a record afterwards. */
static void
write_calls(struct writer *writer)
{
    writer_list(writer, "calls");
    for (int i = 0; i < CALL_COUNT; i++) {
        const struct call_row *call = call_row((enum call)i);
        write_call(writer, call->id, call->word, call->summary);
    }
    write_call(writer, "batch", "batch", "any of these for many jobs in one request, each answered in its place");
    write_call(writer, "verify", "order/verify",
               "whether a signed record is ours and unaltered, and what today's rules make of it; the keys are at "
               "/.well-known/jwks.json");
    writer_list_end(writer);
}

static void
write_tables(struct writer *writer)
{
    writer_list(writer, "tables");
    for (size_t i = 0; i < catalogue_count(); i++) {
        writer_object(writer, NULL);
        writer_text(writer, "id", catalogue_at(i)->name);
        writer_text(writer, "method", "GET");
        write_address(writer, "/v1/", catalogue_at(i)->name);
        writer_text(writer, "summary", catalogue_at(i)->summary);
        writer_object_end(writer);
    }
    writer_list_end(writer);
}

static void
write_documents(struct writer *writer)
{
    static const struct {
        const char *id, *href, *summary;
    } documents[] = {
        {"openapi", "/openapi.json", "the contract: every address, request and answer (OpenAPI 3.1)"},
        {"api-catalog", "/.well-known/api-catalog", "where the descriptions are (RFC 9727)"},
    };
    writer_list(writer, "documents");
    for (size_t i = 0; i < sizeof documents / sizeof documents[0]; i++) {
        writer_object(writer, NULL);
        writer_text(writer, "id", documents[i].id);
        writer_text(writer, "method", "GET");
        writer_text(writer, "href", documents[i].href);
        writer_text(writer, "summary", documents[i].summary);
        writer_object_end(writer);
    }
    writer_list_end(writer);
}

void
service_write_index(struct buffer *out)
{
    struct writer writer;
    writer_init(&writer, out);
    writer_object(&writer, NULL);
    service_write(&writer);
    writer_text(
        &writer, "about",
        "Load, strength, slot, fits and steel of the wrist pin in an old stationary engine: POST a job to a call "
        "and read the verdict. {} is a job too; the answer says what it needs.");
    write_calls(&writer);
    write_tables(&writer);
    write_documents(&writer);
    writer_cautions_always(&writer);
    writer_object_end(&writer);
    buffer_add(out, "\n");
}
