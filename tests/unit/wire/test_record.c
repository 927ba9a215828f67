/*
 * Release records as documents. The notary here is a stand-in that hashes with
 * FNV-1a and signs with a mark: the real one is tested in tests/unit/seal.
 */

#include "ask.h"

#include <stdio.h>

#include "wire/notary.h"
#include "wire/part_text.h"

/* The museum's pump engine with everything given, in parts to leave out or replace. */
#define ENGINE                                                                                                         \
    "\"engine\":{\"bore\":\"5 1/4 in\",\"stroke\":\"8 in\",\"rod_length\":\"19 in\",\"speed\":\"380 rpm\","            \
    "\"peak_pressure\":\"285 psi\",\"reciprocating_mass\":\"21 lb\"},"
#define PIN                                                                                                            \
    "\"pin\":{\"held_in\":\"rod\",\"diameter\":{\"min\":\"1.3747 in\",\"max\":\"1.3750 in\"},\"length\":\"4 3/4 in\"," \
    "\"steel\":\"8620-carb\",\"finish\":\"ground\"},"
#define JOINT                                                                                                          \
    "\"eye\":{\"width\":\"2 in\",\"outside\":\"2 1/4 in\"},"                                                           \
    "\"boss\":{\"length\":\"1 5/16 in\",\"gap\":\"1/16 in\",\"bushing\":\"c93200\"},"                                  \
    "\"slot\":{\"depth\":\"0.130 in\",\"cutter_diameter\":\"7/16 in\"},"                                               \
    "\"clamp_bolt\":{\"thread\":\"3/8-16 UNC\",\"grade\":\"SAE 5\",\"offset\":\"0.760 in\","                           \
    "\"hinge_offset\":\"0.90 in\",\"torque\":\"28 lbf.ft\"},"                                                          \
    "\"running_fit\":{\"hole\":{\"min\":\"1.3757 in\",\"max\":\"1.3762 in\"},\"pin_temperature\":\"200 degF\","        \
    "\"hole_temperature\":\"180 degF\"},"                                                                              \
    "\"held_fit\":{\"hole\":{\"min\":\"1.3750 in\",\"max\":\"1.3753 in\"}}"
#define PUMP_ENGINE "{\"units\":\"inch\"," ENGINE PIN JOINT "}"

static bool
stand_in_digest(const char *bytes, size_t length, char id[ORDER_ID_SIZE])
{
    uint64_t hash = UINT64_C(14695981039346656037);
    for (size_t i = 0; i < length; i++) {
        hash = (hash ^ (unsigned char)bytes[i]) * UINT64_C(1099511628211);
    }
    snprintf(id, ORDER_ID_SIZE, "%016llx%048d", (unsigned long long)hash, 0);
    return true;
}

static bool
stand_in_sign(const void *context, const char *payload, size_t length, struct buffer *jws)
{
    buffer_format(jws, "%s.", (const char *)context);
    buffer_add_bytes(jws, payload, length);
    return true;
}

static const struct notary plain = {.digest = stand_in_digest};
static const struct notary signing = {
    .context = "mark", .digest = stand_in_digest, .sign = stand_in_sign, .key_id = "key-1"};

static void
order_in(const char *text, enum answer_format format, const struct notary *notary, int status, struct reply *reply)
{
    const struct answer_request request = {
        .call = CALL_order, .format = format, .body = text, .length = strlen(text), .path = "/v1/order", .notary = notary};
    answer_request(&request, reply, NULL);
    assert_int_equal(reply->status, status);
}

static json_t *
order(const char *text, const struct notary *notary)
{
    struct reply reply;
    order_in(text, ANSWER_JSON, notary, 200, &reply);
    assert_null(reply.location); /* no link asks for an order */
    return reply_json(&reply);
}

/* ---- the record ---- */

static void
is_an_answer_like_others_with_the_record_in_it(void **state)
{
    (void)state;
    json_t *root = order(PUMP_ENGINE, &plain);
    assert_string_equal(look_text(root, "/verdict"), "ok");
    assert_string_equal(look_text(root, "/results/order/release"), "release");
    assert_string_equal(look_text(root, "/results/order/reasons/0/code"), "judged");
    assert_string_equal(look_text(root, "/results/order/action"), "new");
    assert_int_equal(strlen(look_text(root, "/results/order/record_id")), ORDER_ID_LENGTH);
    assert_int_equal(strlen(look_text(root, "/results/order/part_id")), ORDER_ID_LENGTH);
    assert_null(look(root, "/results/order/jws"));
    assert_string_equal(look_text(root, "/results/order/job/pin/steel"), "8620-carb");
    assert_true(json_array_size(look(root, "/checks")) > 20);
    assert_true(json_array_size(look(root, "/cautions")) > 10);
    assert_true(look_number(root, "/results/strength/fatigue_factor/value") > 1.0);
    json_decref(root);
}

static void
tells_the_size_in_inches_and_in_millimeters(void **state)
{
    (void)state;
    json_t *root = order(PUMP_ENGINE, &plain);
    /* 1 in = 25.4 mm. */
    assert_close(look_number(root, "/results/order/part/diameter_inch/min/value"), 1.3747, 1e-9);
    assert_close(look_number(root, "/results/order/part/diameter_metric/min/value"), 1.3747 * 25.4, 1e-7);
    assert_close(look_number(root, "/results/order/part/diameter_metric/max/value"), 34.925, 1e-9);
    assert_string_equal(look_text(root, "/results/order/part/diameter_metric/max/unit"), "mm");
    assert_close(look_number(root, "/results/order/part/at_temperature/value"), 68.0, 1e-9);
    json_decref(root);
}

/* What passes the inspection is within the limits, and the same as what is to
 * be made. */
static void
what_is_made_and_inspected_has_the_same_limits(void **state)
{
    (void)state;
    static const struct {
        const char *diameter, *made, *inspected;
    } rows[] = {
        {"{\"min\":\"34.9173 mm\",\"max\":\"34.9252 mm\"}", "- diameter 34.918 mm to 34.925 mm (",
         "- Diameter 34.918 mm to 34.925 mm at 20 degC"},
        {"\"34.925 mm\"", "- diameter 34.925 mm (1.3750 in) at", "- Diameter 34.925 mm at 20 degC"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char job[2048];
        struct reply reply;
        snprintf(job, sizeof job, "{\"units\":\"metric\"," ENGINE "\"pin\":{\"diameter\":%s}," JOINT "}",
                 rows[i].diameter);
        order_in(job, ANSWER_TXT, &plain, 200, &reply);
        assert_non_null(strstr(reply.body, rows[i].made));
        assert_non_null(strstr(reply.body, rows[i].inspected));
        reply_clear(&reply);
    }
}

/* What is hashed and signed is the answer without record_id, jws and the line
 * break at its end. */
static void
the_id_and_the_signature_are_of_the_rest_of_the_answer(void **state)
{
    (void)state;
    static const char mark[] = ",\"record_id\":\"";
    struct reply reply, jws;
    char id[ORDER_ID_SIZE];
    order_in(PUMP_ENGINE, ANSWER_JSON, &plain, 200, &reply);
    order_in(PUMP_ENGINE, ANSWER_JWS, &signing, 200, &jws);
    assert_string_equal(jws.content_type, "application/jose");
    const char *cut = strstr(reply.body, mark);
    assert_non_null(cut);
    struct buffer payload;
    buffer_init(&payload);
    buffer_add_bytes(&payload, reply.body, (size_t)(cut - reply.body));
    buffer_add(&payload, cut + sizeof mark - 1 + ORDER_ID_LENGTH + 1);
    assert_true(payload.at[payload.length - 1] == '\n');
    assert_true(stand_in_digest(payload.at, payload.length - 1, id));
    assert_memory_equal(cut + sizeof mark - 1, id, ORDER_ID_LENGTH);
    assert_memory_equal(jws.body, "mark.", 5);
    assert_int_equal(jws.length, 5 + payload.length - 1);
    assert_memory_equal(jws.body + 5, payload.at, payload.length - 1);
    buffer_clear(&payload);
    reply_clear(&reply);
    reply_clear(&jws);
}

static void
a_signed_record_stands_in_the_answer_too(void **state)
{
    (void)state;
    json_t *without = order(PUMP_ENGINE, &plain), *with = order(PUMP_ENGINE, &signing);
    assert_string_equal(look_text(with, "/results/order/record_id"), look_text(without, "/results/order/record_id"));
    assert_memory_equal(look_text(with, "/results/order/jws"), "mark.{", 6);
    json_decref(without);
    json_decref(with);
}

/* The job in the record gives the record again, byte for byte. */
static void
assert_comes_back(const char *text)
{
    json_t *first = order(text, &plain);
    char *job = json_dumps(look(first, "/results/order/job"), JSON_COMPACT);
    json_t *second = order(job, &plain);
    assert_string_equal(look_text(second, "/results/order/record_id"), look_text(first, "/results/order/record_id"));
    free(job);
    json_decref(first);
    json_decref(second);
}

static void
the_job_of_a_record_gives_the_same_record(void **state)
{
    (void)state;
    assert_comes_back(PUMP_ENGINE);
    assert_comes_back(ORDINARY_JOB);
    assert_comes_back("{}");
    assert_comes_back("{\"units\":\"metric\"," ENGINE PIN JOINT "}");
    assert_comes_back("{" ENGINE PIN JOINT "}");
    assert_comes_back("{\"label\":\"No. 2\"," ENGINE JOINT
                      ",\"pin\":{\"diameter\":1.3333333333333333,\"steel\":\"4140 HT\",\"length\":\"120.65 mm\"}}");
}

static void
is_not_given_by_who_cannot_hash(void **state)
{
    (void)state;
    struct reply reply;
    order_in(PUMP_ENGINE, ANSWER_JSON, NULL, 400, &reply);
    json_t *root = reply_json(&reply);
    assert_string_equal(look_text(root, "/type"), "/v1/problems/bad-request");
    json_decref(root);
}

static void
is_not_signed_without_a_key(void **state)
{
    (void)state;
    struct reply reply;
    order_in(PUMP_ENGINE, ANSWER_JWS, &plain, 406, &reply);
    json_t *root = reply_json(&reply);
    assert_non_null(strstr(look_text(root, "/detail"), "no signing key"));
    json_decref(root);
}

static void
an_order_that_contradicts_itself_is_refused(void **state)
{
    (void)state;
    struct reply reply;
    order_in("{\"order\":{\"action\":\"cancel\"}}", ANSWER_JSON, &plain, 422, &reply);
    json_t *root = reply_json(&reply);
    assert_string_equal(look_text(root, "/errors/0/pointer"), "/order/supersedes");
    assert_string_equal(look_text(root, "/errors/0/code"), "missing");
    json_decref(root);
    /* Another call does not read the order. */
    json_decref(ask(CALL_check, "{\"order\":{\"action\":\"cancel\"}}", 200));
}

/* ---- the part ---- */

static char *
part_id_of(const char *text)
{
    json_t *root = order(text, &plain);
    char *id = strdup(look_text(root, "/results/order/part_id"));
    json_decref(root);
    assert_non_null(id);
    return id;
}

static void
assert_part(const char *text, bool same)
{
    char *one = part_id_of(PUMP_ENGINE), *other = part_id_of(text);
    if ((strcmp(one, other) == 0) != same) {
        fail_msg("the part is %s: %s", same ? "another" : "the same", text);
    }
    free(one);
    free(other);
}

static void
one_pin_has_one_part_id(void **state)
{
    (void)state;
    /* Another engine, another label, other units, other words, other fits round it. */
    assert_part("{\"units\":\"inch\",\"label\":\"another\"," PIN JOINT "}", true);
    assert_part("{\"units\":\"metric\",\"engine\":{\"bore\":140,\"stroke\":200},\"pin\":{\"diameter\":{\"min\":34.91738,"
                "\"max\":34.925},\"length\":120.65,\"steel\":\"8620-CARB\",\"inside_diameter\":0},"
                "\"slot\":{\"depth\":3.302,\"cutter_diameter\":11.1125}}",
                true);
    assert_part("{\"pin\":{\"diameter\":{\"nominal\":\"1 3/8 in\",\"upper\":\"0 in\",\"lower\":\"-3 tenths\"},\"length\":4.75,"
                "\"steel\":\"8620-carb\",\"finish\":\"turned\"},\"slot\":{\"depth\":\"130 thou\",\"cutter_diameter\":0.4375,"
                "\"angle\":90},\"order\":{\"quantity\":3}}",
                true); /* hardened after turning, so ground whatever it is called; the slot's place is the joint's */
    assert_part("{\"running_fit\":{\"pin\":{\"min\":1.3747,\"max\":1.375}},\"pin\":{\"diameter\":1.375,\"length\":4.75,"
                "\"steel\":\"8620-carb\"},\"slot\":{\"depth\":0.13,\"cutter_diameter\":0.4375}}",
                true);
}

static void
another_pin_has_another_part_id(void **state)
{
    (void)state;
#define LIKE(diameter, length, rest, slot)                                                                             \
    "{\"pin\":{\"diameter\":" diameter ",\"length\":" length "," rest "},\"slot\":" slot "}"
#define SIZE "{\"min\":1.3747,\"max\":1.375}"
#define STEEL_IS "\"steel\":\"8620-carb\""
#define SLOT "{\"depth\":0.13,\"cutter_diameter\":0.4375}"
    assert_part(LIKE(SIZE, "4.75", STEEL_IS, SLOT), true);
    assert_part(LIKE("{\"min\":1.3746,\"max\":1.375}", "4.75", STEEL_IS, SLOT), false);
    assert_part(LIKE(SIZE, "4.7501", STEEL_IS, SLOT), false);
    assert_part(LIKE(SIZE, "4.75", "\"steel\":\"8620-norm\"", SLOT), false);
    assert_part(LIKE(SIZE, "4.75", STEEL_IS ",\"inside_diameter\":0.5", SLOT), false);
    assert_part(LIKE(SIZE, "4.75", STEEL_IS ",\"hardness\":60", SLOT), false);
    assert_part(LIKE(SIZE, "4.75", STEEL_IS ",\"roughness\":8", SLOT), false);
    assert_part(LIKE(SIZE, "4.75", STEEL_IS, "{\"depth\":0.131,\"cutter_diameter\":0.4375}"), false);
    assert_part(LIKE(SIZE, "4.75", STEEL_IS, "{\"depth\":0.13,\"cutter_diameter\":0.5}"), false);
    assert_part(LIKE(SIZE, "4.75", STEEL_IS, "{}"), false);
}

/* Fractions of an inch down to 1/256 fall half-way between steps of their
 * metric size: both spellings must land on the same side. */
static void
half_way_sizes_are_not_torn_apart(void **state)
{
    (void)state;
    for (int n = 300; n < 400; n++) {
        char inch[160], metric[160];
        snprintf(inch, sizeof inch, "{\"pin\":{\"diameter\":{\"min\":\"%d/256 in\",\"max\":2}}}", n);
        snprintf(metric, sizeof metric, "{\"units\":\"metric\",\"pin\":{\"diameter\":{\"min\":%.17g,\"max\":50.8}}}",
                 25.4 * n / 256.0);
        char *one = part_id_of(inch), *other = part_id_of(metric);
        assert_string_equal(one, other);
        free(one);
        free(other);
    }
}

static void
the_text_of_a_part_is_as_documented(void **state)
{
    (void)state;
    struct job job;
    struct fault_list faults;
    static struct report report;
    struct buffer text;
    assert_true(read_job(PUMP_ENGINE, &job, &faults));
    job_complete(&job);
    report.order.part = (struct order_part){.known = true,
                                            .length_known = true,
                                            .diameter = job.pin.diameter,
                                            .length = {.min_m = 0.1204, .max_m = job.pin.length_m},
                                            .finish = CHOICE_finish_GROUND};
    report.order.part.slot.known = true;
    report.order.part.slot.cutter_diameter_m = job.slot.cutter_diameter_m;
    buffer_init(&text);
    part_text_write(&text, &job, &report);
    /* 1.3747 in = 34.91738 mm = 349,173,800 tenths of a nanometer, and so on. */
    assert_string_equal(text.at, "smallend wrist_pin 1\n"
                                 "diameter_min 349173800\n"
                                 "diameter_max 349250000\n"
                                 "inside_diameter 0\n"
                                 "length 1206500000\n"
                                 "steel 8620-carb\n"
                                 "finish ground\n"
                                 "slot_depth 33020000\n"
                                 "slot_cutter 111125000\n");
    buffer_clear(&text);
}

/* ---- in words ---- */

static void
assert_has(const struct reply *reply, const char *words)
{
    if (strstr(reply->body, words) == NULL) {
        fail_msg("no \"%s\" in\n%s", words, reply->body);
    }
}

static void
says_in_words_what_to_buy_and_make(void **state)
{
    (void)state;
    static const enum answer_format formats[] = {ANSWER_TXT, ANSWER_MD, ANSWER_HTML};
    static const char *const words[] = {"Released", "Buy",      "Make",     "Inspect, to pass",   "ASTM A29 Grade 8620",
                                        "1 7/16 in x 6 in",     "1.3747 in to 1.3750 in",
                                        "34.918 mm to 34.925 mm", "signed with the key key-1", "0.1260 in to 0.1340 in deep"};
    for (size_t i = 0; i < sizeof formats / sizeof formats[0]; i++) {
        struct reply reply;
        order_in(PUMP_ENGINE, formats[i], &signing, 200, &reply);
        for (size_t j = 0; j < sizeof words / sizeof words[0]; j++) {
            assert_has(&reply, words[j]);
        }
        reply_clear(&reply);
    }
}

static void
says_in_words_why_it_holds(void **state)
{
    (void)state;
    struct reply reply;
    order_in("{\"units\":\"inch\"," ENGINE PIN "\"order\":{\"reference\":\"@all [x](http://a.example)\"}}", ANSWER_TXT, &plain, 200,
             &reply);
    assert_has(&reply, "On hold because:");
    assert_has(&reply, "Assumed, not given: boss.gap.");
    assert_has(&reply, "not signed");
    assert_null(strstr(reply.body, "http://a.example")); /* the buyer's words call nobody and link nowhere */
    assert_null(strstr(reply.body, "@all"));
    reply_clear(&reply);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(is_an_answer_like_others_with_the_record_in_it),
        cmocka_unit_test(tells_the_size_in_inches_and_in_millimeters),
        cmocka_unit_test(what_is_made_and_inspected_has_the_same_limits),
        cmocka_unit_test(the_id_and_the_signature_are_of_the_rest_of_the_answer),
        cmocka_unit_test(a_signed_record_stands_in_the_answer_too),
        cmocka_unit_test(the_job_of_a_record_gives_the_same_record),
        cmocka_unit_test(is_not_given_by_who_cannot_hash),
        cmocka_unit_test(is_not_signed_without_a_key),
        cmocka_unit_test(an_order_that_contradicts_itself_is_refused),
        cmocka_unit_test(one_pin_has_one_part_id),
        cmocka_unit_test(another_pin_has_another_part_id),
        cmocka_unit_test(half_way_sizes_are_not_torn_apart),
        cmocka_unit_test(the_text_of_a_part_is_as_documented),
        cmocka_unit_test(says_in_words_what_to_buy_and_make),
        cmocka_unit_test(says_in_words_why_it_holds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
