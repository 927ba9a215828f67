// A front end in TypeScript: every call of the contract through a client that is generated from it, every answer typed.

import createClient from "openapi-fetch";
import type { components, paths } from "./api.js";
import { measured, pump, screwed, unsized, unturned } from "./jobs.js";
import type { Job } from "./jobs.js";

type Answer = components["schemas"]["Answer"]; // of any call: each call's own goes where this one goes
type KeySet = components["schemas"]["KeySet"];
type Problem = components["schemas"]["Problem"];
type JobQuery = components["schemas"]["JobQuery"];
type Query = { members?: JobQuery; job?: string };
type Reply<T> = { data?: T; error?: unknown; response: Response };
export type Check = (what: string, holds: boolean, found?: unknown) => void;

// The media types that are JSON: by them the client knows what answers and refusals hold.
type Json = "application/json" | "application/problem+json" | "application/jwk-set+json";

function newClient(baseUrl: string) {
  return createClient<paths, Json>({
    baseUrl,
    querySerializer: { object: { style: "form", explode: true } },
  });
}
type Client = ReturnType<typeof newClient>;

function close(value: number | undefined, wanted: number, share = 1e-6): boolean {
  return value !== undefined && Math.abs(value - wanted) <= share * Math.abs(wanted);
}

// ---- calls ----

interface Call {
  job: Job;
  post(job: Job): Promise<Reply<Answer>>;
  get(query: Query): Promise<Reply<Answer>>;
  // What is known of the answer without this service.
  holds(results: Answer["results"]): boolean;
}

const boreArea = (Math.PI / 4) * 5.25 ** 2;
const chord = (diameter: number, depth: number) => 2 * Math.sqrt(depth * (diameter - depth));

function callsOf(client: Client): Record<string, Call> {
  return {
    load: {
      job: pump,
      post: (body) => client.POST("/v1/load", { body }),
      get: (query) => client.GET("/v1/load", { params: { query } }),
      holds: ({ load }) => close(load?.gas_force_peak?.value, boreArea * 285) && load?.pin_load_max?.unit === "lbf",
    },
    strength: {
      job: pump,
      post: (body) => client.POST("/v1/strength", { body }),
      get: (query) => client.GET("/v1/strength", { params: { query } }),
      holds: ({ load, strength }) =>
        close(strength?.boss_pressure?.value, (load?.pin_load_max?.value ?? NaN) / (2 * 1.3125 * 1.3747)),
    },
    slot: {
      job: pump,
      post: (body) => client.POST("/v1/slot", { body }),
      get: (query) => client.GET("/v1/slot", { params: { query } }),
      holds: ({ slot }) => close(slot?.slot_chord?.value, chord(1.375, 0.13), 1e-3),
    },
    "set-screw": {
      job: screwed,
      post: (body) => client.POST("/v1/set-screw", { body }),
      get: (query) => client.GET("/v1/set-screw", { params: { query } }),
      holds: ({ set_screw }) => close(set_screw?.flat_width?.value, chord(1.25, 0.06), 1e-3),
    },
    fit: {
      job: pump,
      post: (body) => client.POST("/v1/fit", { body }),
      get: (query) => client.GET("/v1/fit", { params: { query } }),
      holds: ({ fit }) =>
        close(fit?.clearance_min?.value, 1.3757 - 1.375) && close(fit?.clearance_max?.value, 1.3762 - 1.3747),
    },
    material: {
      job: pump,
      post: (body) => client.POST("/v1/material", { body }),
      get: (query) => client.GET("/v1/material", { params: { query } }),
      holds: ({ material }) =>
        material?.chosen?.id === "8620-carb" && (material.ranking ?? []).some((row) => row.id === "8620-carb"),
    },
    turning: {
      job: unturned,
      post: (body) => client.POST("/v1/turning", { body }),
      get: (query) => client.GET("/v1/turning", { params: { query } }),
      holds: ({ turning }) =>
        close(turning?.passes?.[0]?.diameter_before?.value, 1.5) &&
        (turning?.passes ?? []).every(
          (pass) => (pass.diameter_after?.value ?? NaN) < (pass.diameter_before?.value ?? NaN),
        ),
    },
    size: {
      job: unsized,
      post: (body) =>
        client.POST("/v1/size", { body: { ...body, find: { ...body.find, what: body.find?.what ?? "" } } }),
      get: (query) => client.GET("/v1/size", { params: { query } }),
      holds: ({ size }) => size?.what === "slot.depth" && ["limit", "window"].includes(size.outcome),
    },
    inspection: {
      job: measured,
      post: (body) => client.POST("/v1/inspection", { body }),
      get: (query) => client.GET("/v1/inspection", { params: { query } }),
      holds: ({ inspection }) => inspection?.decision === "rework" && close(inspection.size_max?.value, 1.2498),
    },
    check: {
      job: pump,
      post: (body) => client.POST("/v1/check", { body }),
      get: (query) => client.GET("/v1/check", { params: { query } }),
      holds: (results) => ["load", "strength", "slot", "fit", "material"].every((section) => section in results),
    },
  };
}

// { "engine.bore": "5 1/4 in", ... }: the job as a link names it.
function flat(value: unknown, path = ""): JobQuery {
  if (typeof value !== "object" || value === null) {
    return { [path]: String(value) } as JobQuery;
  }
  return Object.assign(
    {},
    ...Object.entries(value).map(([name, inner]) => flat(inner, path ? `${path}.${name}` : name)),
  );
}

// base64url of the JSON, as a browser makes it
function packed(job: Job): string {
  const bytes = new TextEncoder().encode(JSON.stringify(job));
  return btoa(String.fromCharCode(...bytes))
    .replaceAll("+", "-")
    .replaceAll("/", "_")
    .replaceAll("=", "");
}

async function driveCall(name: string, call: Call, check: Check): Promise<void> {
  const { data, error, response } = await call.post(call.job);
  check(`${name}: answers 200`, response.status === 200 && data !== undefined, error);
  if (!data) {
    return;
  }
  check(`${name}: holds what is known`, call.holds(data.results), data.results);
  check(
    `${name}: judges`,
    data.checks.length > 0 && data.checks.every((one) => (one.utilization ?? 0) >= 0 && one.basis !== ""),
    data.checks,
  );
  check(`${name}: cautions`, data.cautions.length > 0);
  const text = JSON.stringify(data);
  const byName = await call.get({ members: flat(call.job) });
  check(`${name}: the link by names gives the same`, JSON.stringify(byName.data) === text, byName.error ?? byName.data);
  const byJob = await call.get({ job: packed(call.job) });
  check(
    `${name}: the link by the whole job gives the same`,
    JSON.stringify(byJob.data) === text,
    byJob.error ?? byJob.data,
  );
  const etag = byJob.response.headers.get("ETag");
  check(`${name}: a link has an ETag`, etag !== null);
  const link = response.headers.get("Content-Location");
  check(`${name}: a POST tells its link`, link?.startsWith(`/v1/${name}?`) === true, link);
}

// ---- the rest ----

async function driveTables(client: Client, check: Check): Promise<void> {
  const steels = (await client.GET("/v1/steels")).data?.steels ?? [];
  check(
    "steels: there are some, each with its strength",
    steels.length > 20 && steels.every((steel) => steel.grade !== ""),
    steels.length,
  );
  const steel = (await client.GET("/v1/steels/{id}", { params: { path: { id: "8620-CARB" } } })).data;
  check("steels: one, matched without case", steel?.id === "8620-carb" && steel.case_hardened, steel);
  const metals = (await client.GET("/v1/bearing-metals")).data?.bearing_metals ?? [];
  check(
    "bearing metals",
    metals.some((metal) => metal.id === "c93200"),
  );
  const metal = (await client.GET("/v1/bearing-metals/{id}", { params: { path: { id: "c93200" } } })).data;
  check("bearing metals: one", metal?.bearing === true, metal);
  check(
    "bolts",
    ((await client.GET("/v1/bolts")).data?.bolts ?? []).some((bolt) => bolt.sizes.length > 0),
  );
  check(
    "fit classes",
    ((await client.GET("/v1/fit-classes")).data?.fit_classes ?? []).some((row) => row.steps.length > 0),
  );
  const inch = (await client.GET("/v1/units")).data?.units.find((unit) => unit.id === "in");
  check("units: the inch", inch?.factor === 0.0254 && inch.ucum === "[in_i]", inch);
  check(
    "sources",
    ((await client.GET("/v1/sources")).data?.sources ?? []).every((source) => source.citation !== ""),
  );
  check(
    "checks",
    ((await client.GET("/v1/checks")).data?.checks ?? []).some((row) => row.id === "fatigue" && row.basis !== ""),
  );
}

async function driveProblems(client: Client, check: Check): Promise<void> {
  const problems = (await client.GET("/v1/problems")).data?.problems ?? [];
  const kind = problems.find((problem) => problem.id === "invalid-job");
  check("problems: the catalog", kind?.status === 422, problems);
  check(
    "problems: one",
    (await client.GET("/v1/problems/{id}", { params: { path: { id: "invalid-job" } } })).data?.type === kind?.type,
  );

  const { error, response } = await client.POST("/v1/check", { body: { engine: { bore: "5,25", stroke: "8 psi" } } });
  const problem: Problem | undefined = error;
  const faults = problem?.errors ?? [];
  check("a refusal is a problem of the catalog", response.status === 422 && problem?.type === kind?.type, error);
  check(
    "it has every fault",
    faults
      .map((fault) => `${fault.pointer} ${fault.code}`)
      .sort()
      .join(", ") === "/engine/bore bad_number, /engine/stroke wrong_unit",
    faults,
  );
  const none = await client.GET("/v1/steels/{id}", { params: { path: { id: "1046" } } });
  check("an unknown id is 404", none.response.status === 404 && none.error !== undefined, none.error);
  const unsaid = await client.POST("/v1/size", { body: { find: { what: "" } } });
  check("a size of nothing is refused", unsaid.response.status === 422, unsaid.error);
}

async function driveForms(client: Client, check: Check): Promise<void> {
  const query = { members: flat(pump) };
  const post = await client.GET("/v1/check", { params: { query: { ...query, format: "md" } }, parseAs: "text" });
  check("an answer as Markdown", post.data?.startsWith("**OK") === true, post.data?.slice(0, 80));
  const page = await client.POST("/v1/check", { body: pump, params: { query: { format: "html" } }, parseAs: "text" });
  check("an answer as a page", page.data?.startsWith("<!DOCTYPE html>") === true);
  const traced = await client.POST("/v1/load", { body: pump, params: { query: { trace: 72 } } });
  const loads = traced.data?.results.load?.trace?.pin_load?.values ?? [];
  check(
    "a trace has its steps",
    loads.length === 72 && close(Math.max(...loads), traced.data?.results.load?.pin_load_max?.value ?? NaN, 0.05),
    loads,
  );
  const first = await client.GET("/v1/check", { params: { query } });
  const headers = { "If-None-Match": first.response.headers.get("ETag") ?? "" };
  const again = await client.GET("/v1/check", { params: { query }, headers });
  check("what is known already is not sent again", again.response.status === 304, again.response.status);
  const sketch = await client.GET("/v1/check", { params: { query: { ...query, format: "svg" } }, parseAs: "text" });
  check("an answer as a sketch", sketch.data?.includes("<svg") === true, sketch.data?.slice(0, 80));
}

async function driveBatch(client: Client, check: Check): Promise<void> {
  const { data, error } = await client.POST("/v1/batch", {
    body: {
      jobs: [
        { call: "check", job: pump, id: "pump" },
        { call: "size", job: {} },
        { call: "set-screw", job: screwed },
      ],
    },
  });
  const [first, second, third] = data?.answers ?? [];
  check("batch: an answer for each job", data?.answers.length === 3 && first?.id === "pump", error ?? data);
  const alone = await client.POST("/v1/check", { body: pump });
  check("batch: as the job alone is answered", JSON.stringify(first?.answer) === JSON.stringify(alone.data), first);
  check(
    "batch: an error in its place",
    second?.status === 422 && second.problem?.status === 422 && third?.status === 200,
    second,
  );
}

async function driveOrder(client: Client, check: Check): Promise<void> {
  const { data, error } = await client.POST("/v1/order", { body: pump });
  const order = data?.results.order;
  check("order: released", order?.release === "release" && /^[0-9a-f]{64}$/.test(order.record_id ?? ""), error ?? order);
  const jws = order?.jws ?? "";
  const found = await client.POST("/v1/order/verify", { body: { jws } });
  check("order: verified", found.data?.valid === true && found.data.signature === "good", found.error ?? found.data);
  const broken = await client.POST("/v1/order/verify", { body: { jws: `${jws.slice(0, -8)}AAAAAAAA` } });
  check(
    "order: an altered record is not",
    broken.data?.valid === false && broken.data.signature === "bad",
    broken.error ?? broken.data,
  );
  const { keys = [] }: Partial<KeySet> = (await client.GET("/.well-known/jwks.json")).data ?? {};
  check(
    "order: the key is published",
    keys.some((key) => key.kid === found.data?.kid),
    keys,
  );
}

async function driveOperations(client: Client, check: Check): Promise<void> {
  const index = (await client.GET("/")).data;
  check("index", index?.service.name === "smallend" && index.calls.length >= 10, index);
  check("livez", (await client.GET("/livez")).response.status === 200);
  check("readyz", (await client.GET("/readyz")).response.status === 200);
  const catalog = await client.GET("/.well-known/api-catalog", { parseAs: "text" });
  check("catalog", catalog.data?.includes("/openapi.json") === true, catalog.data);
  const contract = await client.GET("/openapi.json", { parseAs: "text" });
  check("contract", JSON.parse(contract.data ?? "{}").openapi === "3.1.0", contract.data?.slice(0, 80));
  check("metrics", (await client.GET("/metrics", { parseAs: "text" })).data?.includes("# HELP") === true);
}

// Names of the calls that are driven, as they stand in a path.
export function callNames(): string[] {
  return Object.keys(callsOf(newClient("http://127.0.0.1")));
}

export async function drive(baseUrl: string, check: Check): Promise<void> {
  const client = newClient(baseUrl);
  for (const [name, call] of Object.entries(callsOf(client))) {
    await driveCall(name, call, check);
  }
  await driveTables(client, check);
  await driveProblems(client, check);
  await driveForms(client, check);
  await driveOperations(client, check);
  await driveBatch(client, check);
  await driveOrder(client, check);
}
