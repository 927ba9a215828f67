#include "joint/check.h"

#include "joint/turning.h"

/*
 * Does the stock hold the pin? Its diameter must leave what clears the skin of
 * the bar and trues it up, its length what faces the ends and holds it while it
 * is turned. Not covered: bar that is bent, or oval beyond its tolerance.
 */

static bool
length_is_judged(const struct job *job, const struct turning *turning)
{
    return turning->length_known && job_given(job, FIELD_turning_stock_length) && job_given(job, FIELD_pin_length);
}

static void
advise_diameter(const struct job *job, const struct turning *turning, struct finding *finding)
{
    const double bar_m = turning_bar_m(job);

    finding_advise_value(finding, 0, turning->stock_allowance_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 1, finding->verdict == VERDICT_FAILS ? finding->limit : finding->advised,
                         DIMENSION_LENGTH);
    finding_advise_value(finding, 2, bar_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 3, job->turning.stock_diameter_m, DIMENSION_LENGTH);
    if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, "{0.} comes off the diameter: enough to clear the skin of cold drawn bar ({1.}). Hot "
                                "rolled bar wants twice that.");
        return;
    }
    finding_fix_to(finding, FIELD_turning_stock_diameter, bar_m);
    if (finding->verdict == VERDICT_MARGINAL) {
        finding_advise(finding,
                       "Only {0.} comes off the diameter, where {1.} clears scale, seams and bow of cold drawn "
                       "bar. Run it true within a thou or two in a four-jaw chuck before the first cut, or take "
                       "{2} bar.");
    } else if (turning->stock_allowance_m <= 0.0) {
        finding_advise(finding, "{3} bar holds no pin of this size. Take {2} bar.");
    } else {
        finding_advise(finding,
                       "{3} bar is too thin: {0.} on the diameter, where truing up, the finishing cuts and the "
                       "finishing allowance take {1.} at the least. Take {2} bar.");
    }
}

static void
judge_diameter(const struct job *job, const struct turning *turning, struct finding *finding)
{
    finding_floor(finding, turning->stock_allowance_m, turning->stock_allowance_wanted_m,
                  turning->stock_allowance_least_m);
    advise_diameter(job, turning, finding);
}

static void
judge_length(const struct job *job, const struct turning *turning, struct finding *finding)
{
    finding_floor(finding, job->turning.stock_length_m, turning->blank_length_m, turning->length_least_m);
    finding_advise_value(finding, 0, job->turning.stock_length_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 1, turning->length_least_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 2, turning->blank_length_m, DIMENSION_LENGTH);
    if (finding->verdict == VERDICT_OK) {
        return; /* the diameter has more to say */
    }
    finding_fix_to(finding, FIELD_turning_stock_length, turning->blank_length_m);
    finding_advise(finding,
                   finding->verdict == VERDICT_MARGINAL
                       ? "{0} of bar makes the pin and faces its ends, but leaves nothing to hold it by: turn it "
                         "end for end between centers, or take {2}."
                       : "{0} of bar is too short: the pin and facing its ends take {1}, and {2} leaves a grip to "
                         "hold it by.");
}

static void
judge_stock(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct turning *turning = &derived->turning;
    struct finding length = *finding;

    if (!turning->known || !turning->stock_known) {
        return;
    }
    if (turning->at_size) {
        finding->judged = finding->has_value = true;
        finding->verdict = VERDICT_OK;
        finding->value = turning->stock_allowance_m;
        finding_advise(finding, "The bar is at the pin's size already: nothing to turn but its ends.");
    } else {
        judge_diameter(job, turning, finding);
    }
    if (length_is_judged(job, turning)) {
        judge_length(job, turning, &length);
        if (length.verdict > finding->verdict) {
            *finding = length;
        }
    }
}

static const enum job_field stock_reads[] = {FIELD_turning_stock_diameter,
                                             FIELD_turning_stock_length,
                                             FIELD_pin_diameter,
                                             FIELD_pin_length,
                                             FIELD_pin_finish,
                                             FIELD_pin_steel};
static const struct need stock_needs[] = {NEED1(pin_diameter), NEED1(turning_stock_diameter)};

const struct check check_stock_enough = {
    .id = "stock_enough",
    .name = "size of the bar",
    .section = SECTION_turning,
    .sense = SENSE_FLOOR,
    .dimension = DIMENSION_LENGTH,
    .asks = "Does the bar hold the pin, with what turning takes off?",
    .basis = "stock diameter - middle of the pin's limits, on the diameter; or the stock's length, where that is what "
             "falls short",
    .limit_rule =
        "diameter: advised 0.060 in (metric 1.5 mm) to clear scale, seams and bow of cold drawn bar; limit two "
        "finishing cuts of 0.005 in (0.125 mm) on the radius and the finishing allowance (0.00075 in or 0.02 mm to "
        "polish, 0.012 in or 0.3 mm to grind). Length, where given: limit the pin and 1/16 in (1.5 mm) off each "
        "end, advised also a parting cut of 1/8 in (3 mm) and 1 in (25 mm) to hold it by",
    .source = "common practice, no source",
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(stock_reads),
    .needs = CHECK_LIST(stock_needs),
    .judge = judge_stock,
};
