// Counts, and says what failed as soon as it does.
import assert from "node:assert/strict";

let passed = 0;
let failed = 0;

export { assert };

export async function check(name, body) {
  try {
    await body();
    passed += 1;
  } catch (fault) {
    failed += 1;
    const told = fault instanceof assert.AssertionError ? fault.message : fault.stack;
    console.log(`FAILED ${name}\n    ${String(told).trim().replaceAll("\n", "\n    ")}`);
  }
}

export function finish() {
  console.log(`${passed} passed, ${failed} failed`);
  process.exitCode = failed === 0 && passed > 0 ? 0 : 1;
}
