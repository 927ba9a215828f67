// Orders a pin, keeps the signed record, and verifies it later without asking the service. Node 18 or newer, no packages.
//
//   node parts-order.mjs order JOB.json RECORD.jws     asks for the record, and keeps it if the part is released
//   node parts-order.mjs keys KEYS.json                keeps the service's public keys
//   node parts-order.mjs verify RECORD.jws [KEYS.json] checks a record by kept keys, or by those the service publishes
//   node parts-order.mjs ask RECORD.jws                asks the service what today's rules make of it
//
// SMALLEND_URL is the service's address, SMALLEND_TOKEN a bearer token where it wants one for orders. The exit status is
// 0 if all is well, 1 if the part is on hold or the record is not good, 2 if it could not be done.

import { createHash, createPublicKey, verify as verifySignature } from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";

const SERVICE = process.env.SMALLEND_URL ?? "http://127.0.0.1:8080";
const TYPE = "smallend-result+jws";
// Only these, and each with keys of its own kind: a record must not choose how it is to be checked.
const ALGORITHMS = {
  EdDSA: (key) => key.asymmetricKeyType === "ed25519" && { digest: null, key },
  ES256: (key) => key.asymmetricKeyType === "ec" && { digest: "sha256", key: { key, dsaEncoding: "ieee-p1363" } },
};

async function ask(path, options = {}) {
  const response = await fetch(new URL(path, SERVICE), { ...options, signal: AbortSignal.timeout(20000) });
  if (!response.ok) {
    const problem = await response.json();
    const faults = (problem.errors ?? []).map((fault) => `\n- ${fault.pointer}: ${fault.detail}`).join("");
    throw new Error(`${response.status} ${problem.title}: ${problem.detail}${faults}`);
  }
  return response;
}

function decode(part) {
  return JSON.parse(Buffer.from(part, "base64url").toString("utf8"));
}

// The record in a JWS that one of the keys has signed; throws if there is none.
function openRecord(jws, keys) {
  const parts = jws.trim().split(".");
  if (parts.length !== 3) {
    throw new Error("this is not a signed record");
  }
  const header = decode(parts[0]);
  const jwk = keys.find((one) => one.kid === header.kid);
  if (header.typ !== TYPE || !Object.hasOwn(ALGORITHMS, header.alg) || !jwk) {
    throw new Error(`not a record of this service: type ${header.typ}, algorithm ${header.alg}, key ${header.kid}`);
  }
  const way = ALGORITHMS[header.alg](createPublicKey({ key: jwk, format: "jwk" }));
  const signed = Buffer.from(`${parts[0]}.${parts[1]}`);
  if (!way || !verifySignature(way.digest, signed, way.key, Buffer.from(parts[2], "base64url"))) {
    throw new Error("the record was altered, or its signature is not the service's");
  }
  // The id of a record is the SHA-256 of its payload, so that anyone can tell which record this is.
  const id = createHash("sha256").update(Buffer.from(parts[1], "base64url")).digest("hex");
  return { id, ...decode(parts[1]) };
}

function tell(record) {
  const { order } = record.results;
  console.log(`${order.release}: ${record.summary}`);
  console.log(`record ${record.id}\npart   ${order.part_id}\nrules  ${record.service.rules}`);
  for (const caution of record.cautions) {
    console.log(`- ${caution}`);
  }
  return order.release === "release";
}

const COMMANDS = {
  async order(jobFile, recordFile) {
    const token = process.env.SMALLEND_TOKEN;
    const response = await ask("/v1/order", {
      method: "POST",
      headers: { "Content-Type": "application/json", ...(token && { Authorization: `Bearer ${token}` }) },
      body: readFileSync(jobFile),
    });
    const answer = await response.json();
    const { order } = answer.results;
    const released = tell({ ...answer, id: order.record_id });
    if (!released || !order.jws) {
      console.log(released ? "not signed: this service has no key" : "nothing kept: mend the job and ask again");
      return false;
    }
    writeFileSync(recordFile, `${order.jws}\n`);
    return true;
  },
  async keys(keyFile) {
    writeFileSync(keyFile, await (await ask("/.well-known/jwks.json")).text());
    return true;
  },
  async verify(recordFile, keyFile) {
    const { keys } = keyFile ? JSON.parse(readFileSync(keyFile)) : await (await ask("/.well-known/jwks.json")).json();
    let record;
    try {
      record = openRecord(readFileSync(recordFile, "utf8"), keys);
    } catch (fault) {
      console.log(`not good: ${fault.message}`);
      return false;
    }
    return tell(record);
  },
  async ask(recordFile) {
    const found = await (
      await ask("/v1/order/verify", {
        method: "POST",
        headers: { "Content-Type": "application/jose" },
        body: readFileSync(recordFile, "utf8").trim(),
      })
    ).json();
    console.log(`signature ${found.signature}; by the rules of today (${found.rules_now}): ${found.verdict_now}`);
    return found.valid;
  },
};

const [command, ...files] = process.argv.slice(2);
if (!Object.hasOwn(COMMANDS, command ?? "") || files.length === 0) {
  console.error("usage: parts-order.mjs order JOB RECORD | keys KEYS | verify RECORD [KEYS] | ask RECORD");
  process.exit(2);
}
try {
  process.exitCode = (await COMMANDS[command](...files)) ? 0 : 1;
} catch (fault) {
  console.error(fault.message);
  process.exitCode = 2;
}
