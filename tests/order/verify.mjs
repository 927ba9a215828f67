// Checks a compact JWS against a set of keys with the npm package jose, as a buyer's front end would.
//
//   node verify.mjs KEYS-FILE JWS-FILE [trust-names]
//
// prints {"valid": true, "payload": "..."} or {"valid": false, "why": "..."}. Each kid must be the thumbprint of its key,
// unless names are trusted.
//
// The algorithms and the type are pinned; ORDER_TOOLS says where the package is.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { pathToFileURL } from "node:url";

const require = createRequire(pathToFileURL(process.env.ORDER_TOOLS + "/").href);
const { compactVerify, createLocalJWKSet, calculateJwkThumbprint } = require("jose");

const set = JSON.parse(readFileSync(process.argv[2], "utf8"));
const jws = readFileSync(process.argv[3], "utf8");
for (const key of set.keys) {
  if (process.argv[4] !== "trust-names" && (await calculateJwkThumbprint(key, "sha256")) !== key.kid) {
    throw new Error(`kid ${key.kid} is no thumbprint of its key`);
  }
}
try {
  const { payload, protectedHeader } = await compactVerify(jws, createLocalJWKSet(set), { algorithms: ["EdDSA", "ES256"] });
  if (protectedHeader.typ !== "smallend-result+jws") {
    throw new Error(`typ is ${protectedHeader.typ}`);
  }
  console.log(JSON.stringify({ valid: true, payload: Buffer.from(payload).toString("utf8") }));
} catch (error) {
  console.log(JSON.stringify({ valid: false, why: `${error.code ?? ""} ${error.message}` }));
}
