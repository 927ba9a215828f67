// Counting and starting, shared by the client tests that run in node.

import { generateKeyPairSync } from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";
import { Service } from "../contract/service.mjs";

let passed = 0;
let failed = 0;

export function check(what, holds, found) {
  if (holds) {
    passed += 1;
  } else {
    failed += 1;
    console.log(`FAILED ${what}${found === undefined ? "" : `: ${JSON.stringify(found)?.slice(0, 600)}`}`);
  }
}

// Runs one test; what it throws is its failure.
export async function test(what, run) {
  try {
    await run();
  } catch (fault) {
    check(what, false, `${fault.stack ?? fault}`);
  }
}

// Ends the program with the line that tests/clients/run.sh adds up.
export function finish() {
  console.log(`${passed} passed, ${failed} failed`);
  process.exitCode = failed === 0 && passed > 0 ? 0 : 1;
}

// The service with a signing key made for this run.
export async function startService(program, folder, settings = {}) {
  const { privateKey } = generateKeyPairSync("ed25519");
  const keyFile = `${folder}/signing.pem`;
  writeFileSync(keyFile, privateKey.export({ type: "pkcs8", format: "pem" }), { mode: 0o600 });
  const service = await Service.start(program, { SIGNING_KEYS: keyFile, ...settings });
  service.signingKey = privateKey;
  service.url = `http://127.0.0.1:${service.port}`;
  return service;
}

export function job(name) {
  return JSON.parse(readFileSync(new URL(`../../fixtures/jobs/${name}.json`, import.meta.url), "utf8"));
}

// { name: value } of command line words --name value.
export function options(words) {
  return Object.fromEntries(words.flatMap((word, i) => (word.startsWith("--") ? [[word.slice(2), words[i + 1]]] : [])));
}
