#include "ask.h"

#include "joint/check.h"
#include "wire/text_part.h"
#include "wire/text_write.h"

/* A job's answer in a text form; freed by the caller through the reply. */
static const char *
text_of(const char *job, enum answer_format format, const char *path, struct reply *reply)
{
    const struct answer_request request = {
        .call = CALL_check, .format = format, .body = job, .length = strlen(job),
        .path = path, .public_url = "https://pins.example"};
    answer_request(&request, reply, NULL);
    assert_int_equal(reply->status, 200);
    assert_int_equal(strlen(reply->body), reply->length);
    return reply->body;
}

static size_t
count_of(const char *text, const char *part)
{
    size_t count = 0;
    for (const char *at = strstr(text, part); at != NULL; at = strstr(at + 1, part)) {
        count++;
    }
    return count;
}

static void
markdown_gives_the_verdict_first_and_the_cautions_last(void **state)
{
    (void)state;
    struct reply reply;
    const char *text = text_of(ORDINARY_JOB, ANSWER_MD, NULL, &reply);
    assert_int_equal(strncmp(text, "**", 2), 0);
    const char *table = strstr(text, "\n| Check | Value |");
    const char *steps = strstr(text, "\n**What to do**\n");
    const char *figures = strstr(text, "\n**Figures**\n");
    const char *assumptions = strstr(text, "\n**Taken for granted**\n");
    const char *cautions = strstr(text, "\n**Cautions**\n");
    assert_true(table != NULL && table < steps && steps < figures && figures < assumptions && assumptions < cautions);
    assert_null(strstr(cautions + strlen("\n**Cautions**\n"), "**"));
    reply_clear(&reply);
}

static void
the_table_has_at_most_eight_rows_of_six_cells(void **state)
{
    (void)state;
    struct reply reply;
    const char *text = text_of(ORDINARY_JOB, ANSWER_MD, NULL, &reply);
    size_t rows = 0;
    for (const char *at = strstr(text, "\n|"); at != NULL; at = strstr(at + 1, "\n|")) {
        char line[512];
        const size_t length = strcspn(at + 1, "\n");
        assert_true(length < sizeof line);
        memcpy(line, at + 1, length);
        line[length] = '\0';
        assert_int_equal(count_of(line, "|"), 7);
        rows++;
    }
    assert_true(rows >= 3 && rows <= 2 + 8); /* head, rule, checks */
    reply_clear(&reply);
}

static void
markdown_writes_trade_units(void **state)
{
    (void)state;
    struct reply reply;
    const char *text = text_of(ORDINARY_JOB, ANSWER_MD, NULL, &reply);
    assert_non_null(strstr(text, " psi"));
    assert_non_null(strstr(text, " thou"));
    assert_null(strstr(text, "nan"));
    assert_null(strstr(text, "inf "));
    reply_clear(&reply);
}

static void
a_hostile_label_calls_nobody_and_links_nowhere(void **state)
{
    (void)state;
    static const char job[] = "{\"label\":\"@everyone <script>x</script> [a](https://b.c) `**_| #1\"}";
    static const char *const parts[] = {"@", "<script", "](", "://"};
    for (int format = ANSWER_MD; format <= ANSWER_TXT; format++) {
        struct reply reply;
        const char *text = text_of(job, (enum answer_format)format, NULL, &reply);
        char line[512];
        const size_t length = strcspn(text, "\n");
        assert_true(length < sizeof line);
        memcpy(line, text, length);
        line[length] = '\0';
        for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
            assert_null(strstr(line, parts[i]));
        }
        /* Markdown shows the label as code, so that its other marks are none. */
        assert_int_equal(count_of(line, "`"), format == ANSWER_MD ? 2 : 0);
        assert_non_null(strstr(line, "(at)everyone"));
        reply_clear(&reply);
    }
}

static void
the_longest_label_fits_when_made_harmless(void **state)
{
    (void)state;
    char label[121], whole[JOB_LABEL_SIZE];
    memset(label, '@', 120);
    label[120] = '\0';
    struct text text;
    text_init(&text, whole, sizeof whole);
    text_part_label(&text, label);
    assert_false(text.cut);
    assert_int_equal(text.length, 4 * 120);
}

static void
plain_text_is_verdict_step_link_and_cautions(void **state)
{
    (void)state;
    struct reply reply;
    const char *text = text_of(ORDINARY_JOB, ANSWER_TXT, "/v1/check", &reply);
    const char *step = strstr(text, "\nNext: ");
    const char *link = strstr(text, "\nhttps://pins.example/v1/check?");
    const char *cautions = strstr(text, "\nCautions:\n- ");
    assert_true(step != NULL && step < link && link < cautions);
    reply_clear(&reply);
    text = text_of(ORDINARY_JOB, ANSWER_TXT, NULL, &reply);
    assert_null(strstr(text, "http"));
    reply_clear(&reply);
}

static void
the_verdict_line_never_exceeds_three_hundred_characters(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    job_init(&job);
    memset(job.label, 'x', 120);
    memset(&report, 0, sizeof report);
    report.call = CALL_check;
    report.summary.text = "A sentence that goes on and on, as sentences in reports like to do, one clause after the "
                          "other, until nobody remembers how it began, and then some more of it, for good measure, "
                          "because the line must be cut somewhere and this is how it is made long enough.";
    struct buffer out;
    buffer_init(&out);
    text_write_plain(&out, &job, &report, NULL);
    assert_int_equal(strcspn(out.at, "\n"), 300);
    assert_int_equal(strncmp(out.at + 297, "...\n", 4), 0);
    buffer_clear(&out);
}

static void
the_worst_checks_come_first(void **state)
{
    (void)state;
    struct report report;
    memset(&report, 0, sizeof report);
    report.call = CALL_check;
    report.finding[1] = (struct finding){.judged = true, .has_utilization = true, .utilization = 0.9};
    report.finding[2] =
        (struct finding){.judged = true, .verdict = VERDICT_MARGINAL, .has_utilization = true, .utilization = 0.5};
    report.finding[3] = (struct finding){.judged = true, .verdict = VERDICT_FAILS};
    report.finding[4] = (struct finding){.judged = true, .has_utilization = true, .utilization = 0.95};
    size_t index[3];
    assert_int_equal(text_part_worst(&report, index, 3), 3);
    assert_int_equal(index[0], 3);
    assert_int_equal(index[1], 2);
    assert_int_equal(index[2], 4);
    size_t all[8];
    assert_int_equal(text_part_worst(&report, all, 8), 4);
    assert_int_equal(all[3], 1);
}

static void
words_show_the_sense_of_a_limit(void **state)
{
    (void)state;
    char text[TEXT_PART_SIZE];
    struct finding finding = {0};
    finding_ceiling(&finding, 5.0e6, 8.0e6, 10.0e6);
    text_part_limit(text, sizeof text, check_row(check_index("boss_pressure")), &finding, UNITS_METRIC);
    assert_string_equal(text, "at most 10 MPa");
    text_part_share(text, sizeof text, &finding);
    assert_string_equal(text, "50 %");
    finding_floor(&finding, 2.5, 1.5, 1.0);
    text_part_advised(text, sizeof text, check_row(check_index("fatigue")), &finding, UNITS_METRIC);
    assert_string_equal(text, "at least 1.5");
    finding.utilization = UTILIZATION_MAX;
    text_part_share(text, sizeof text, &finding);
    assert_string_equal(text, "over 1000 %");
    text_part_name(text, sizeof text, "pin_load_max");
    assert_string_equal(text, "pin load max");
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(markdown_gives_the_verdict_first_and_the_cautions_last),
        cmocka_unit_test(the_table_has_at_most_eight_rows_of_six_cells),
        cmocka_unit_test(markdown_writes_trade_units),
        cmocka_unit_test(a_hostile_label_calls_nobody_and_links_nowhere),
        cmocka_unit_test(the_longest_label_fits_when_made_harmless),
        cmocka_unit_test(plain_text_is_verdict_step_link_and_cautions),
        cmocka_unit_test(the_verdict_line_never_exceeds_three_hundred_characters),
        cmocka_unit_test(the_worst_checks_come_first),
        cmocka_unit_test(words_show_the_sense_of_a_limit),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
