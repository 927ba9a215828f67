// Asks every operation for the answers it is there for, and judges each reply by the contract.

import crypto from "node:crypto";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";

import { EDGE_JOBS, JOINT, SEARCHES, fixtureJobs, sizeJob } from "./jobs.mjs";
import { Service } from "./service.mjs";
import { WAYS, pathOf, unreachable } from "./statuses.mjs";

const TOKEN = "a-token-of-the-contract-tests";
const STEPS = [12, 72, 1440];

export class Exercise {
  constructor({ contract, service, program, root, tally, landed }) {
    Object.assign(this, { contract, service, program, root, tally, landed });
    this.jobs = { ...fixtureJobs(root), ...EDGE_JOBS };
  }

  // One test: a reply, and what must hold of it.
  async test(name, operation, ask, status = 200, more = () => []) {
    await this.tally.test(name, async () => {
      const reply = await ask();
      const faults = this.contract.judge(operation, reply);
      if (reply.status !== status) {
        faults.push(`wanted ${status}, got ${reply.status}: ${reply.text.slice(0, 300)}`);
      }
      return faults.concat(more(reply));
    });
  }

  find(id) {
    return this.landed.find((operation) => operation.id === id);
  }

  // ---- calculations ----

  async call(post, link) {
    for (const [name, job] of Object.entries(this.jobs)) {
      await this.job(post, link, name, post.id === "size" ? sizeJob(job) : job);
    }
    for (const [index, search] of (post.id === "size" ? SEARCHES : []).entries()) {
      await this.job(post, link, `search ${index}`, { ...JOINT, find: search });
    }
    for (const steps of post.id === "load" ? STEPS : []) {
      const ask = () => this.service.post(`${post.path}?trace=${steps}`, JOINT);
      await this.test(`load with ${steps} steps`, post, ask, 200, (reply) =>
        reply.document.results.load.trace.pin_load.values.length === steps ? [] : ["not so many steps"]);
    }
    for (const operation of [post, link].filter(Boolean)) {
      await this.forms(operation);
    }
    if (link) {
      await this.wholeDocument(post, link);
    }
  }

  // A job by POST, held against the schema of requests; and the link that the answer tells, which must give the same.
  async job(post, link, name, job) {
    const schema = post.body.content["application/json"].schema;
    let reply;
    await this.test(`${post.path}: ${name}`, post, async () => (reply = await this.service.post(post.path, job)), 200,
      () => this.contract.faults(schema, job).map((fault) => `it was answered, and its schema refuses it: ${fault}`));
    const location = reply?.headers["content-location"];
    if (link && location) {
      await this.test(`${post.path}: ${name}, by its link`, link, () => this.service.ask("GET", location), 200,
        (linked) => linked.text === reply.text ? [] : ["the link gives another answer than the POST"]);
    }
  }

  // Every form that the contract promises, by Accept and by name.
  async forms(operation) {
    const words = { "application/json": "json", "text/markdown": "md", "text/plain": "txt", "text/html": "html",
      "image/svg+xml": "svg", "application/jose": "jws" };
    const job = this.jobs["pump-engine.json"];
    for (const mediaType of operation.forms) {
      const ask = (query, headers) => operation.method === "POST"
        ? this.service.post(operation.path + query, operation.id === "size" ? sizeJob(job) : job, headers)
        : this.service.ask("GET", `${operation.path}${query ? `${query}&` : "?"}${this.query(operation)}`, { headers });
      if (await this.isComing(operation, mediaType, ask)) {
        continue;
      }
      const right = (reply) => reply.mediaType === mediaType ? [] : [`came as ${reply.mediaType}`];
      await this.test(`${operation.id} as ${mediaType}`, operation, () => ask("", { Accept: mediaType }), 200, right);
      await this.test(`${operation.id} by format=${words[mediaType]}`, operation,
        () => ask(`?format=${words[mediaType]}`, {}), 200, right);
    }
  }

  query(operation) {
    const pairs = { "engine.bore": "5 1/4 in", "engine.stroke": "8 in", "engine.peak_pressure": "285 psi" };
    if (operation.id === "sizeLink") {
      pairs["find.what"] = "pin.diameter";
    }
    return operation.id.endsWith("Link") ? new URLSearchParams(pairs).toString() : "";
  }

  // True where the form is announced and the program refuses it as yet.
  async isComing(operation, mediaType, ask) {
    if (!this.tally.announcedForm(mediaType, operation.path)) {
      return false;
    }
    const coming = (await ask("", { Accept: mediaType })).status === 406;
    if (coming) {
      this.tally.skip(`${operation.id} as ${mediaType}`, "announced, and not in the program yet");
      this.contract.seenForms.add(`${operation.id} ${mediaType}`);
    }
    return coming;
  }

  async wholeDocument(post, link) {
    const job = post.id === "size" ? sizeJob(JOINT) : JOINT;
    const word = Buffer.from(JSON.stringify(job)).toString("base64url");
    const posted = await this.service.post(post.path, job);
    await this.test(`${link.id} with job=`, link, () => this.service.ask("GET", `${link.path}?job=${word}`), 200,
      (reply) => reply.text === posted.text ? [] : ["gives another answer than the POST"]);
  }

  // ---- tables ----

  async table(list, one) {
    let ids = [];
    await this.test(list.id, list, async () => {
      const reply = await this.service.ask("GET", list.path);
      const rows = Object.values(reply.document).find((value) => Array.isArray(value) && typeof value[0] === "object");
      ids = rows.map((row) => row.id);
      return reply;
    });
    for (const id of one ? ids : []) {
      await this.test(`${one.id} ${id}`, one, () => this.service.ask("GET", pathOf(one, encodeURIComponent(id))), 200,
        (reply) => reply.document.id === id ? [] : [`gives the row ${reply.document.id}`]);
    }
  }

  // ---- the rest ----

  async batch(operation) {
    const entries = Object.entries(this.jobs)
      .flatMap(([id, job]) => [{ call: "check", id, job }, { call: "fit", job }]);
    const jobs = [...entries, { call: "load", job: { engine: { bore: "5,25 in" } } }, { call: "no-such-call", job: {} },
      { call: "check" }];
    await this.test("a batch", operation, () => this.service.post(operation.path, { jobs }), 200, (reply) => {
      const faults = this.contract.faults(operation.body.content["application/json"].schema, { jobs: entries });
      if (reply.document.answers.length !== jobs.length) {
        faults.push(`${reply.document.answers.length} answers to ${jobs.length} jobs`);
      }
      return faults;
    });
  }

  // The calls that the contract names for an entry are the calls that there are.
  async batchCalls(operation) {
    const { call } = this.contract.document.components.schemas.BatchEntry.properties;
    await this.test("each call of a batch", operation, () => this.service.post(operation.path,
      { jobs: call.enum.map((word) => ({ call: word, job: word === "size" ? sizeJob(JOINT) : JOINT })) }),
    200, (reply) => reply.document.answers.filter((answer) => answer.status !== 200)
      .map((answer) => `${answer.call} ${answer.status}: ${answer.problem?.detail}`));
    await this.test("no other call in a batch", operation, () => this.service.post(operation.path,
      { jobs: [{ call: "order", job: JOINT }] }), 200, ({ document: { answers: [{ problem }] } }) => {
      const expected = problem?.errors[0].expected ?? "";
      return expected === call.enum.map((word) => `"${word}"`).join(", ") ? [] : [`the program expects ${expected}`];
    });
  }

  // One batch at a time, and one that is slow to come.
  async tooManyBatches(operation) {
    const service = await Service.start(this.program, { MAX_BATCHES: "1" });
    await this.test("a batch while another is read", operation, async () => {
      const slow = service.hold(`POST ${operation.path} HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n` +
        "Content-Length: 100\r\n\r\n{");
      await new Promise((resolve) => setTimeout(resolve, 500));
      const reply = await service.post(operation.path, { jobs: [] });
      slow.destroy();
      return reply;
    }, 503);
    await service.stop();
  }

  // A service with a key and a token of its own.
  async orders(order, verify) {
    const folder = fs.mkdtempSync(path.join(os.tmpdir(), "contract-"));
    const key = crypto.generateKeyPairSync("ed25519").privateKey.export({ type: "pkcs8", format: "pem" });
    fs.writeFileSync(path.join(folder, "key.pem"), key, { mode: 0o600 });
    const hash = crypto.createHash("sha256").update(TOKEN).digest("hex");
    fs.writeFileSync(path.join(folder, "tokens"), `${hash}\n`, { mode: 0o600 });
    const service = await Service.start(this.program, { SIGNING_KEYS: path.join(folder, "key.pem"),
      TOKENS: path.join(folder, "tokens") });
    try {
      await this.ordersOf(service, order, verify);
    } finally {
      await service.stop();
      fs.rmSync(folder, { recursive: true });
    }
  }

  async ordersOf(service, order, verify) {
    const bearer = { Authorization: `Bearer ${TOKEN}` };
    const job = this.jobs["pump-engine.json"];
    await this.test("an order without a token", order, () => service.post(order.path, job), 401);
    for (const [name, of] of Object.entries(this.jobs)) {
      await this.test(`an order: ${name}`, order, () => service.post(order.path, of, bearer));
    }
    for (const mediaType of order.forms) {
      const ask = () => service.post(order.path, job, { ...bearer, Accept: mediaType });
      await this.test(`an order as ${mediaType}`, order, ask, 200, (reply) =>
        reply.mediaType === mediaType ? [] : [`came as ${reply.mediaType}`]);
    }
    const signed = await service.post(order.path, job, { ...bearer, Accept: "application/jose" });
    const types = { "Content-Type": "application/jose" };
    const is = (valid) => (reply) => reply.document.valid === valid ? [] : [`valid is ${reply.document.valid}`];
    await this.test("verify a record", verify, () => service.post(verify.path, signed.text, types), 200, is(true));
    await this.test("verify a record as a member", verify,
      () => service.post(verify.path, { jws: signed.text.trim() }), 200, is(true));
    const forged = signed.text.replace(/\.[^.]*$/, (end) => end.replace(/[A-Za-z]/, (c) => (c === "A" ? "B" : "A")));
    await this.test("verify a forged record", verify, () => service.post(verify.path, forged, types), 200, is(false));
  }

  async draining(operation) {
    const service = await Service.start(this.program, { DRAIN_DELAY_MS: "4000" });
    await this.test("ask while draining", operation, async () => {
      const stopped = service.stop();
      await new Promise((resolve) => setTimeout(resolve, 500));
      const reply = await service.ask("GET", operation.path);
      await stopped;
      return reply;
    }, 503);
  }

  async catalogWithPublicUrl(operation) {
    const service = await Service.start(this.program, { PUBLIC_URL: "https://pins.example" });
    await this.test("the catalog of a service with a public address", operation,
      () => service.ask("GET", operation.path), 200, (reply) => {
        const [entry] = reply.document.linkset;
        const absolute = entry.anchor === "https://pins.example/" &&
          entry["service-desc"][0].href === "https://pins.example/openapi.json";
        return absolute ? [] : [`not absolute: ${reply.text}`];
      });
    await service.stop();
  }

  // ---- statuses ----

  async status(operation, status) {
    const found = unreachable(operation, status);
    if (found) {
      this.tally.skip(`${operation.id} ${status}`, found.because);
    } else if (Number(status) === 304) {
      await this.test(`${operation.id} 304`, operation, async () => {
        const id = operation.path.startsWith("/v1/problems") ? "not-json" : this.firstId(operation);
        const at = `${pathOf(operation, await id)}?${this.query(operation)}`.replace(/\?$/, "");
        const first = await this.service.ask("GET", at);
        return this.service.ask("GET", at, { headers: { "If-None-Match": first.headers.etag } });
      }, 304);
    } else if (WAYS[status] && !this.contract.seen.has(`${operation.id} ${status}`)) {
      const ask = () => WAYS[status](this.service, operation);
      await this.test(`${operation.id} ${status}`, operation, ask, Number(status));
    }
  }

  // A status that is not documented must not come either, however hard it is asked for.
  async undocumentedStatuses(operation) {
    for (const status of Object.keys(WAYS).filter((of) => !(of in operation.responses) && of !== "408")) {
      await this.tally.test(`${operation.id} never answers ${status}`, async () =>
        this.contract.judge(operation, await WAYS[status](this.service, operation)));
    }
  }

  async firstId(operation) {
    if (!operation.path.includes("{id}")) {
      return "";
    }
    const table = await this.service.ask("GET", operation.path.replace("/{id}", ""));
    return Object.values(table.document).find((value) => Array.isArray(value))[0].id;
  }

  // HEAD is implied: the same head, no body.
  async head(operation) {
    const at = `${pathOf(operation, await this.firstId(operation))}?${this.query(operation)}`.replace(/\?$/, "");
    await this.tally.test(`HEAD ${operation.path}`, async () => {
      const [get, head] = [await this.service.ask("GET", at), await this.service.ask("HEAD", at)];
      const faults = this.contract.judge(operation, head, true);
      for (const name of ["content-type", "content-length", "etag", "cache-control"]) {
        if (get.headers[name] !== head.headers[name] && !(name === "content-length" && operation.path === "/metrics")) {
          faults.push(`${name} is ${head.headers[name]}, of GET ${get.headers[name]}`);
        }
      }
      return head.status === get.status ? faults : faults.concat([`status ${head.status}, of GET ${get.status}`]);
    });
  }
}
