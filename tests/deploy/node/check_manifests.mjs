// Checks deploy/kubernetes: that it renders, that the orchestrator knows every member, and that it keeps to our rules.
import { execFileSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { parseAllDocuments } from "yaml";
import { render } from "./kustomize.mjs";
import { productionRules, rules } from "./policy.mjs";
import { assert, check, finish } from "./tally.mjs";
import { complaints, validate } from "./types.mjs";

const folder = (name) => fileURLToPath(new URL(`../../../deploy/kubernetes/${name}`, import.meta.url));
const SETS = [
  { name: "base", rules },
  { name: "overlays/production", rules: [...rules, ...productionRules] },
];
const title = (document) => `${document.kind} ${document.metadata.name}`;

// What kubectl makes of a folder; undefined where there is none that knows today's kustomize.
function renderByKubectl(name) {
  let version;
  try {
    version = execFileSync("kubectl", ["version", "--client", "--output=json"], { encoding: "utf8", stdio: "pipe" });
  } catch {
    return undefined;
  }
  if (!/"kustomizeVersion": *"v5/.test(version)) return undefined;
  const text = execFileSync("kubectl", ["kustomize", folder(name)], { encoding: "utf8" });
  return parseAllDocuments(text).map((document) => document.toJS());
}

const sorted = (list) => [...list].sort((a, b) => (title(a) < title(b) ? -1 : 1));

function spoiled(list, spoil) {
  const other = structuredClone(list);
  spoil(other);
  return other;
}

for (const set of SETS) {
  const list = render(folder(set.name));
  const theirs = renderByKubectl(set.name);
  if (theirs)
    await check(`kubectl renders ${set.name} the same way`, () => assert.deepEqual(sorted(list), sorted(theirs)));
  else console.log(`note ${set.name}: rendered by our own code only, as there is no kubectl with kustomize 5 here`);

  const told = complaints(list);
  for (const [i, document] of list.entries()) {
    await check(`${set.name}: every member of ${title(document)} has its type`, () => assert.deepEqual(told[i], []));
    await check(`${set.name}: ${title(document)} is valid`, () => validate(document));
  }
  for (const rule of set.rules) {
    await check(`${set.name}: ${rule.name}`, () => rule.holds(list));
    await check(`${set.name}: it is noticed where this does not hold: ${rule.name}`, () =>
      assert.throws(() => rule.holds(spoiled(list, rule.spoil)), assert.AssertionError),
    );
  }
}

// Slips that the two checkers must see, or their silence above says nothing.
const base = render(folder("base"));
const pick = (list, kind) => list.find((document) => document.kind === kind);
const misspelt = spoiled(base, (list) => {
  const { spec } = pick(list, "Deployment").spec.template;
  spec.containers[0].securityContext.readOnlyRootFileSystem = true;
});
await check("a misspelt member is noticed", () =>
  assert.match(complaints([pick(misspelt, "Deployment")])[0].join(), /readOnlyRootFileSystem/),
);
const mistyped = spoiled(base, (list) => (pick(list, "Deployment").spec.revisionHistoryLimit = "five"));
await check("a value of the wrong type is noticed", () => assert.rejects(validate(pick(mistyped, "Deployment"))));
finish();
