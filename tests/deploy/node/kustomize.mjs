// The part of kustomize that deploy/kubernetes uses, so that its manifests can be checked where there is no kubectl:
// resources, namespace, configMapGenerator (literals, merge), images, patches (strategic merge, and JSON patches that
// replace). Anything else is refused. Where kubectl is there, check_manifests.mjs holds this against it.
import { createHash } from "node:crypto";
import { readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { parseAllDocuments } from "yaml";

const KNOWN = new Set(["apiVersion", "kind", "namespace", "resources", "configMapGenerator", "images", "patches"]);
const CLUSTER_WIDE = new Set(["Namespace"]);
// By which member an element of a list is known when lists are merged; other lists are replaced.
const KEYS = { containers: "name", volumes: "name", ports: "containerPort", volumeMounts: "mountPath", env: "name" };

export function documents(file) {
  return parseAllDocuments(readFileSync(file, "utf8")).map((document) => {
    if (document.errors.length > 0) throw new Error(`${file}: ${document.errors[0]}`);
    return document.toJS();
  });
}

// The suffix of a generated name: a hash of the content without its name, with letters that make no words.
export function suffix(map) {
  const data = Object.fromEntries(Object.entries(map.data).sort(([a], [b]) => (a < b ? -1 : 1)));
  const text = JSON.stringify({ data, kind: map.kind, name: "" });
  if (/[<>&]/.test(text)) throw new Error("a setting has a character that Go writes another way");
  const digits = createHash("sha256").update(text).digest("hex").slice(0, 10);
  const other = { 0: "g", 1: "h", 3: "k", a: "m", e: "t" };
  return [...digits].map((digit) => other[digit] ?? digit).join("");
}

function mergeLists(key, base, patch) {
  const result = structuredClone(base);
  for (const element of patch) {
    const at = result.findIndex((known) => known[key] === element[key]);
    if (at < 0) result.push(element);
    else result[at] = merge(result[at], element);
  }
  return result;
}

function merge(base, patch, name) {
  if (Array.isArray(patch)) {
    if (!(name in KEYS) || !Array.isArray(base)) return patch;
    return mergeLists(KEYS[name], base, patch);
  }
  if (patch === null || typeof patch !== "object" || base === null || typeof base !== "object") return patch;
  if ("$patch" in patch) throw new Error("directives of a patch are not known here");
  const result = { ...base };
  for (const [key, value] of Object.entries(patch)) result[key] = key in base ? merge(base[key], value, key) : value;
  return result;
}

function jsonPatch(document, operations) {
  const result = structuredClone(document);
  for (const { op, path, value } of operations) {
    if (op !== "replace") throw new Error(`a JSON patch that is no replacement: ${op}`);
    const steps = path.split("/").slice(1);
    const last = steps.pop();
    const target = steps.reduce((at, step) => at[step], result);
    if (!(last in target)) throw new Error(`nothing at ${path} to replace`);
    target[last] = value;
  }
  return result;
}

const sameResource = (a, b) => a.kind === b.kind && (a.metadata?.name ?? a.name) === (b.metadata?.name ?? b.name);

function applyPatch(folder, list, patch) {
  const [content] = documents(join(folder, patch.path));
  const target = patch.target ?? content;
  const at = list.findIndex((document) => sameResource(document, target));
  if (at < 0) throw new Error(`${patch.path}: there is no such resource`);
  list[at] = Array.isArray(content) ? jsonPatch(list[at], content) : merge(list[at], content);
}

function generate(list, generator) {
  const data = Object.fromEntries(generator.literals.map((literal) => literal.split(/=(.*)/s).slice(0, 2)));
  const name = generator.name;
  const known = list.find((document) => document.kind === "ConfigMap" && document.metadata.name === name);
  if ((generator.behavior === "merge") !== (known !== undefined))
    throw new Error(`ConfigMap ${name}: merge or create?`);
  if (known) Object.assign(known.data, data);
  else list.push({ apiVersion: "v1", kind: "ConfigMap", metadata: { name }, data });
}

function setImage(document, image) {
  for (const container of document.spec?.template?.spec?.containers ?? []) {
    if (container.image.split(":")[0] !== image.name) continue;
    container.image = `${image.newName ?? image.name}:${image.newTag}`;
  }
}

// Names of the generated maps are still those of the files here.
function collect(folder) {
  const [build] = documents(join(folder, "kustomization.yaml"));
  const unknown = Object.keys(build).filter((key) => !KNOWN.has(key));
  if (unknown.length > 0) throw new Error(`${folder}: not known here: ${unknown}`);
  const list = build.resources.flatMap((entry) => {
    const path = join(folder, entry);
    return statSync(path).isDirectory() ? collect(path) : documents(path);
  });
  for (const generator of build.configMapGenerator ?? []) generate(list, generator);
  for (const patch of build.patches ?? []) applyPatch(folder, list, patch);
  for (const document of list) {
    for (const image of build.images ?? []) setImage(document, image);
    if (build.namespace && !CLUSTER_WIDE.has(document.kind)) document.metadata.namespace = build.namespace;
  }
  return list;
}

function rename(value, from, to) {
  if (value === null || typeof value !== "object") return;
  for (const [key, inner] of Object.entries(value)) {
    if (key === "configMapRef" || key === "configMap") {
      if (inner.name === from) inner.name = to;
    } else rename(inner, from, to);
  }
}

export function render(folder) {
  const list = collect(folder);
  for (const map of list.filter((document) => document.kind === "ConfigMap")) {
    const from = map.metadata.name;
    map.metadata.name = `${from}-${suffix(map)}`;
    for (const document of list) rename(document.spec, from, map.metadata.name);
  }
  return list;
}
