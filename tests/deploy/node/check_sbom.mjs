// Checks bills of materials against the schema of CycloneDX 1.5:  node check_sbom.mjs FILE...
import { readFileSync } from "node:fs";
import { Spec, Validation } from "@cyclonedx/cyclonedx-library";
import { assert, check, finish } from "./tally.mjs";

const validator = new Validation.JsonStrictValidator(Spec.Version.v1dot5);

for (const file of process.argv.slice(2)) {
  const text = readFileSync(file, "utf8");
  await check(`${file} is CycloneDX 1.5`, async () => assert.equal(await validator.validate(text), null));
  await check("a license that is not on the SPDX list is noticed", async () => {
    const bill = JSON.parse(text);
    bill.components[0].licenses = [{ license: { id: "No-Such-License" } }];
    assert.notEqual(await validator.validate(JSON.stringify(bill)), null);
  });
  await check("every reference in the dependencies is a component", () => {
    const bill = JSON.parse(text);
    const known = new Set([bill.metadata.component, ...bill.components].map((component) => component["bom-ref"]));
    for (const { ref, dependsOn } of bill.dependencies)
      for (const name of [ref, ...dependsOn]) assert.ok(known.has(name), name);
  });
}
finish();
