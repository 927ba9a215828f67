// Manifests against the published types of the orchestrator's interface: by the TypeScript compiler, which refuses
// members that it does not know, and by a validator, which looks at values.
import { fileURLToPath } from "node:url";
import ts from "typescript";

const TYPES = {
  ConfigMap: "core/v1",
  Namespace: "core/v1",
  Service: "core/v1",
  ServiceAccount: "core/v1",
  Deployment: "apps/v1",
  HorizontalPodAutoscaler: "autoscaling/v2",
  NetworkPolicy: "networking/v1",
  PodDisruptionBudget: "policy/v1",
};
const MODELS = { "core/v1": "v1", "networking/v1": "networking.k8s.io/v1" };
const OPTIONS = {
  noEmit: true,
  strict: true,
  skipLibCheck: true,
  types: [],
  target: ts.ScriptTarget.ES2022,
  module: ts.ModuleKind.ES2022,
  moduleResolution: ts.ModuleResolutionKind.Bundler,
};

function program(document) {
  const group = TYPES[document.kind];
  if (!group) throw new Error(`no type for ${document.kind}`);
  return (
    `import type { ${document.kind} } from "kubernetes-types/${group}";\n` +
    `export const manifest: ${document.kind} = ${JSON.stringify(document, null, 1)};\n`
  );
}

// What the compiler says of each of these manifests: a list of complaints for each.
export function complaints(list) {
  const texts = new Map(
    list.map((document, i) => [fileURLToPath(new URL(`manifest${i}.ts`, import.meta.url)), program(document)]),
  );
  const host = ts.createCompilerHost(OPTIONS);
  const { fileExists, readFile, getSourceFile } = host;
  host.fileExists = (name) => texts.has(name) || fileExists(name);
  host.readFile = (name) => texts.get(name) ?? readFile(name);
  host.getSourceFile = (name, version) =>
    texts.has(name) ? ts.createSourceFile(name, texts.get(name), version) : getSourceFile.call(host, name, version);
  const compiled = ts.createProgram([...texts.keys()], OPTIONS, host);
  const general = [...compiled.getGlobalDiagnostics(), ...compiled.getOptionsDiagnostics()];
  return [...texts.keys()].map((name) => {
    const source = compiled.getSourceFile(name);
    const found = [...general, ...compiled.getSyntacticDiagnostics(source), ...compiled.getSemanticDiagnostics(source)];
    return found.map((diagnostic) => ts.flattenDiagnosticMessageText(diagnostic.messageText, "\n"));
  });
}

export async function validate(document) {
  const group = TYPES[document.kind];
  const { [document.kind]: Model } = await import(`kubernetes-models/${MODELS[group] ?? group}`);
  new Model(document).validate();
}
