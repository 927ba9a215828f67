// Runs the service and holds every answer against api/openapi.json: every operation, every documented status and form.
//
//   node run_contract.mjs --program build/smallend          CONTRACT_TOOLS says where ajv is (see run.sh)
//
// Ends with "N passed, N failed". An operation, or a status or form of one, that is documented and was never brought
// about is a failure, but for those that statuses.mjs names with a reason and what announced.json lists while it is not
// there.

import { execFileSync } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";

import { Agreement } from "./agreement.mjs";
import { Contract, loadContract } from "./contract.mjs";
import { Exercise } from "./exercise.mjs";
import { Service } from "./service.mjs";
import { unreachable } from "./statuses.mjs";

const HERE = path.dirname(fileURLToPath(import.meta.url));
const ROOT = path.resolve(HERE, "../..");
const MOST_LINES = 60;

class Tally {
  constructor(announced) {
    Object.assign(this, { announced, passed: 0, failed: 0, skipped: new Map() });
  }

  // `check` gives the list of what is wrong, or throws.
  async test(name, check) {
    let faults;
    try {
      faults = await check();
    } catch (error) {
      faults = [error.stack ?? String(error)];
    }
    if (faults.length === 0) {
      this.passed++;
      return;
    }
    this.failed++;
    if (this.failed <= MOST_LINES) {
      console.log(`FAILED ${name}`);
      faults.slice(0, 8).forEach((fault) => console.log(`       ${fault}`));
    }
  }

  skip(name, because) {
    this.skipped.set(because, [...(this.skipped.get(because) ?? []), name]);
  }

  announcedForm(mediaType, route) {
    return (this.announced.forms[mediaType] ?? []).includes(route);
  }

  tellSkipped() {
    for (const [because, names] of this.skipped) {
      const some = names.slice(0, 6).join(", ") + (names.length > 6 ? ", ..." : "");
      console.log(`note skipped ${names.length}: ${because} (${some})`);
    }
  }
}

// Operations that the program has a route for; the others must be announced.
function landedOperations(contract, routes, announced, tally) {
  return contract.operations.filter((operation) => {
    const name = `${operation.method} ${operation.path}`;
    const landed = routes.has(name);
    if (!landed && announced.routes.includes(name)) {
      tally.skip(name, "announced, and no route of the program yet");
    } else if (!landed) {
      tally.failed++;
      console.log(`FAILED ${name} is in the contract, but no route of the program`);
    }
    return landed;
  });
}

async function exerciseAll(exercise, landed) {
  const by = (method, route) => landed.find((operation) => operation.method === method && operation.path === route);
  for (const operation of landed.filter((of) => of.method === "POST" && of.forms.length > 1 && of.id !== "order")) {
    await exercise.call(operation, by("GET", operation.path));
  }
  for (const operation of landed.filter((of) => of.id.startsWith("list"))) {
    await exercise.table(operation, by("GET", `${operation.path}/{id}`));
  }
  for (const operation of landed.filter((of) => of.method === "GET" && !of.path.startsWith("/v1/"))) {
    await exercise.test(operation.id, operation, () => exercise.service.ask("GET", operation.path));
    if (operation.forms.length > 1) {
      await exercise.forms(operation);
    }
  }
  if (exercise.find("batch")) {
    await exercise.batch(exercise.find("batch"));
    await exercise.batchCalls(exercise.find("batch"));
    await exercise.tooManyBatches(exercise.find("batch"));
  }
  if (exercise.find("order") && exercise.find("verifyOrder")) {
    await exercise.orders(exercise.find("order"), exercise.find("verifyOrder"));
  }
  await exercise.draining(exercise.find("getReadiness"));
  await exercise.catalogWithPublicUrl(exercise.find("getCatalog"));
  for (const operation of landed.filter((of) => of.method === "GET")) {
    await exercise.head(operation);
  }
}

async function everyStatus(exercise, landed) {
  const waiting = [];
  for (const operation of landed) {
    await exercise.undocumentedStatuses(operation);
    for (const status of Object.keys(operation.responses).filter((of) => of !== "200")) {
      if (status === "408") {
        waiting.push(exercise.status(operation, status)); // each takes seconds, on a thread of its own
      } else {
        await exercise.status(operation, status);
      }
    }
  }
  await Promise.all(waiting);
}

// What is documented and was never seen.
async function nothingIsUntried(contract, landed, tally) {
  await tally.test("every documented status and form was brought about", async () => {
    const faults = [];
    for (const operation of landed) {
      for (const status of Object.keys(operation.responses)) {
        if (!contract.seen.has(`${operation.id} ${status}`) && !unreachable(operation, status)) {
          faults.push(`${operation.method} ${operation.path} never answered ${status}`);
        }
      }
      for (const mediaType of operation.forms) {
        if (!contract.seenForms.has(`${operation.id} ${mediaType}`)) {
          faults.push(`${operation.method} ${operation.path} never answered as ${mediaType}`);
        }
      }
    }
    return faults;
  });
}

async function examplesAreValid(contract, tally) {
  for (const operation of contract.operations) {
    const contents = [...Object.entries(operation.body?.content ?? {}),
      ...Object.values(operation.responses).flatMap((response) => Object.entries(response.content ?? {}))];
    await tally.test(`examples of ${operation.id}`, async () => contents.flatMap(([, content]) =>
      Object.entries(content.examples ?? {}).flatMap(([name, example]) => {
        const { value } = contract.resolve(example);
        return [...contract.faults(content.schema, value), ...contract.undocumented(content.schema, value)]
          .map((fault) => `${name}: ${fault}`);
      })));
  }
}

async function main() {
  const given = process.argv.indexOf("--program");
  const program = path.resolve(given > 0 ? process.argv[given + 1] : path.join(ROOT, "build/smallend"));
  const announced = JSON.parse(fs.readFileSync(path.join(HERE, "announced.json"), "utf8"));
  const printed = JSON.parse(execFileSync(program, ["--print", "routes"], { encoding: "utf8" }));
  const routes = new Set(printed.routes.map((route) => `${route.method} ${route.path}`));
  const tally = new Tally(announced);
  const contract = new Contract(loadContract(ROOT));
  const landed = landedOperations(contract, routes, announced, tally);
  const service = await Service.start(program);
  const exercise = new Exercise({ contract, service, program, root: ROOT, tally, landed });
  await examplesAreValid(contract, tally);
  await exerciseAll(exercise, landed);
  await everyStatus(exercise, landed);
  await new Agreement(contract, service, tally).run();
  await nothingIsUntried(contract, landed, tally);
  await tally.test("the service ends well", async () => {
    const status = await service.stop();
    const errors = service.log.filter((line) => line.includes("\"level\":\"error\""));
    return [...(status === 0 ? [] : [`it ended with ${status}: ${service.log.slice(-5).join("\n")}`]), ...errors];
  });
  tally.tellSkipped();
  const of = contract.operations.length;
  console.log(`note ${landed.length} of ${of} operations, ${contract.seen.size} of their statuses seen`);
  console.log(`${tally.passed} passed, ${tally.failed} failed`);
  process.exitCode = tally.failed === 0 ? 0 : 1;
}

await main();
