/*
 * The arithmetic on its own: a job of any values that the reader could hand
 * over (joint_bytes.h), through every call, and the rules that every report
 * keeps (joint_rules.h). Sizing runs the others some hundred times over, so it
 * is asked for by one value of the first byte in four.
 */

#include "fuzz/harness.h"
#include "fuzz/joint_bytes.h"
#include "fuzz/joint_rules.h"
#include "joint/joint.h"
#include "joint/size.h"
#include "wire/report_write.h"

/* They are large, and one input runs at a time. */
static struct report report;

static void
answer(const struct job *job)
{
    for (int call = 0; call < CALL_COUNT; call++) {
        if (call == CALL_size) {
            continue;
        }
        joint_run(job, (enum call)call, &report);
        hold_report(job, &report);
        if (call == CALL_load) {
            hold_trace(job, &report);
        }
    }
}

static void
size(const struct job *job)
{
    struct job solved;
    struct fault_list faults;
    fault_list_init(&faults);
    if (!size_accepts(job, &faults)) {
        HOLDS(faults.count > 0, "refused without a fault");
        hold_faults(&faults);
        return;
    }
    size_run(job, &solved, &report);
    hold_report(&solved, &report);
    HOLDS(report.size.searched && report.size.passing_count <= SIZE_PASSING_MAX, "no search");
    HOLDS(!report.size.range_known || report.size.found_low <= report.size.found_high, "%g to %g", report.size.found_low,
          report.size.found_high);
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t length)
{
    struct bytes bytes = {data, length};
    struct job job;
    struct fault_list faults;
    const unsigned sizing = bytes_take(&bytes);
    job_from_bytes(&bytes, &job);
    if (sizing % 4 == 3) {
        size(&job);
        return 0;
    }
    fault_list_init(&faults);
    job_complete(&job);
    job_validate(&job, &faults);
    if (faults.count > 0) {
        hold_faults(&faults);
        return 0;
    }
    answer(&job);
    return 0;
}
