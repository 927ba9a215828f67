-- For wrk: every request posts the file that BENCH_BODY names. The last line tells requests, microseconds, median, 99th
-- percentile, answers with an error status, and requests without an answer.
wrk.method = "POST"
wrk.headers["Content-Type"] = "application/json"
local file = assert(io.open(os.getenv("BENCH_BODY"), "rb"))
wrk.body = file:read("*a")
file:close()
function done(summary, latency)
  local errors = summary.errors
  io.write(string.format("RESULT %d %d %d %d %d %d\n", summary.requests, summary.duration, latency:percentile(50),
    latency:percentile(99), errors.status, errors.connect + errors.read + errors.write + errors.timeout))
end
