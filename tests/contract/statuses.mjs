// How to bring about each status that the contract documents. A status has one way for every operation; the exceptions
// stand with it. What cannot be brought about from outside stands in UNREACHABLE.

const SLOW_MS = 12000; // the service waits 5 s for a body

// Pairs that cannot be brought about from outside, and why. "*" is every operation.
export const UNREACHABLE = [
  { operation: "*", status: 429, because: "only a proxy before the service counts requests" },
  { operation: "*", status: 414, because: "only a proxy answers so; the service takes the whole head, or answers 400" },
  { operation: "*", status: 500, because: "would be a fault of ours, which no request is known to cause" },
  { operation: "*", status: 503, except: ["getReadiness", "batch"],
    because: "takes a service that has run out of memory, which no request can do" },
];

export function unreachable(operation, status) {
  return UNREACHABLE.find((entry) => entry.status === Number(status) &&
    (entry.operation === "*" || entry.operation === operation.id) && !(entry.except ?? []).includes(operation.id));
}

// A path that the operation answers.
export function pathOf(operation, id = "nothing-like-this") {
  return operation.path.replace("{id}", id);
}

function head(operation, lines, version = "HTTP/1.1") {
  return [`${operation.method} ${pathOf(operation)} ${version}`, "Host: x", ...lines, "", ""].join("\r\n");
}

const JSON_TYPE = "Content-Type: application/json";

// Status -> (service, operation) -> promise of a reply.
export const WAYS = {
  400: (service, operation) => operation.method === "POST"
    ? service.post(pathOf(operation), "{\"engine\": {")
    : service.raw(head(operation, ["Host: y"])),
  404: (service, operation) => operation.method === "POST"
    ? service.post(pathOf(operation), {})
    : service.ask("GET", pathOf(operation)),
  405: (service, operation) => service.ask("DELETE", pathOf(operation)),
  406: (service, operation) => operation.method === "POST"
    ? service.post(pathOf(operation), {}, { Accept: "application/pdf" })
    : service.ask("GET", pathOf(operation), { headers: { Accept: "application/pdf" } }),
  408: (service, operation) => Promise.race([
    service.raw(head(operation, [JSON_TYPE, "Content-Length: 10"])),
    new Promise((_, reject) => setTimeout(() => reject(new Error("no 408 in time")), SLOW_MS).unref()),
  ]),
  411: (service, operation) => service.raw(head(operation, [JSON_TYPE])),
  413: (service, operation) => service.raw(head(operation, [JSON_TYPE, "Content-Length: 99999999"])),
  415: (service, operation) => operation.method === "POST"
    ? service.post(pathOf(operation), "{}", { "Content-Type": "text/csv" })
    : service.ask("GET", pathOf(operation), { headers: { "Content-Type": "text/csv" } }),
  417: (service, operation) => service.raw(head(operation, [JSON_TYPE, "Content-Length: 2", "Expect: a-miracle"])),
  422: (service, operation) => operation.method === "POST"
    ? service.post(pathOf(operation), { nonsense: 1 })
    : service.ask("GET", `${pathOf(operation)}?engine.bore=5,25`),
  431: (service, operation) => service.raw(
    head(operation, [...Array.from({ length: 70 }, (_, i) => `X-${i}: x`), "Content-Length: 0"])),
  505: (service, operation) => service.raw(head(operation, [], "HTTP/1.7")),
};
