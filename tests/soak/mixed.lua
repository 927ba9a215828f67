-- For wrk: the requests of the file that SOAK_REQUESTS names, one after the other, each thread from a place of its own. The
-- file has a line "LENGTH STATUS" before the bytes of each. The last lines tell how often each status was due and came.
local requests, due = {}, {}
local at = 0

local function load()
  local file = assert(io.open(os.getenv("SOAK_REQUESTS"), "rb"))
  while true do
    local line = file:read("*l")
    if not line then break end
    local length, status = line:match("^(%d+) (%d+)$")
    requests[#requests + 1] = { text = file:read(tonumber(length)), status = tonumber(status) }
  end
  file:close()
end

local threads = {}
function setup(thread)
  thread:set("offset", #threads)
  threads[#threads + 1] = thread
end

function init()
  load()
  at = offset * 37
  sent, came = {}, {}
end

function request()
  at = at % #requests + 1
  local one = requests[at]
  sent[one.status] = (sent[one.status] or 0) + 1
  return one.text
end

function response(status)
  came[status] = (came[status] or 0) + 1
end

local function add(into, from)
  for status, count in pairs(from) do
    into[status] = (into[status] or 0) + count
  end
end

function done(summary)
  local errors, sums, arrivals = summary.errors, {}, {}
  for _, thread in ipairs(threads) do
    add(sums, thread:get("sent"))
    add(arrivals, thread:get("came"))
  end
  for status, count in pairs(sums) do
    io.write(string.format("DUE %d %d %d\n", status, count, arrivals[status] or 0))
    arrivals[status] = nil
  end
  for status, count in pairs(arrivals) do
    io.write(string.format("DUE %d 0 %d\n", status, count))
  end
  io.write(string.format("LOST %d %d %d %d\n", errors.connect, errors.read, errors.write, errors.timeout))
end
