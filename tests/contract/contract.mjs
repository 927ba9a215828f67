// api/openapi.json as a judge: is this reply one that the contract describes? And a record of what was asked for, so
// that what was never tried can be told.

import fs from "node:fs";
import path from "node:path";
import { createRequire } from "node:module";

const require = createRequire(path.join(process.env.CONTRACT_TOOLS, "package.json"));
const Ajv2020 = require("ajv/dist/2020.js").default;
const addFormats = require("ajv-formats").default;

const METHODS = ["get", "post", "put", "delete", "patch"];

// What any answer of HTTP may carry, and the contract need not speak of.
const USUAL_HEADERS = new Set([
  "date", "content-type", "content-length", "transfer-encoding", "connection", "keep-alive", "x-content-type-options",
  "content-security-policy", "access-control-allow-origin", "access-control-expose-headers",
]);

export function loadContract(root) {
  return JSON.parse(fs.readFileSync(path.join(root, "api/openapi.json"), "utf8"));
}

// Schemas as a JSON Schema document of their own.
function forAjv(schema) {
  return JSON.parse(JSON.stringify(schema).replaceAll("\"#/components/schemas/", "\"contract#/$defs/"));
}

export class Contract {
  constructor(document) {
    this.document = document;
    // Strict: a keyword that JSON Schema does not know is a slip, but for ours.
    this.ajv = new Ajv2020({ strict: true, strictTypes: false, strictRequired: false, allowUnionTypes: true,
      allErrors: true, keywords: ["x-range", "x-dimension"] });
    addFormats(this.ajv);
    this.ajv.addSchema(forAjv({ $id: "contract", $defs: document.components.schemas }));
    this.compiled = new Map();
    this.seen = new Map(); // "operationId status" -> number of replies
    this.seenForms = new Set(); // "operationId media/type" with status 200
    this.operations = this.#operations();
  }

  #operations() {
    const found = [];
    for (const [route, item] of Object.entries(this.document.paths)) {
      for (const method of METHODS.filter((name) => name in item)) {
        const responses = {};
        for (const [status, response] of Object.entries(item[method].responses)) {
          responses[status] = this.resolve(response);
        }
        found.push({ id: item[method].operationId, method: method.toUpperCase(), path: route, responses,
          forms: Object.keys(responses["200"].content), body: item[method].requestBody });
      }
    }
    return found;
  }

  resolve(value) {
    if (!value.$ref) {
      return value;
    }
    return value.$ref.slice(2).split("/").reduce((at, part) => at[part.replaceAll("~1", "/").replaceAll("~0", "~")],
      this.document);
  }

  // Faults of a value by a schema, as text; [] if there are none.
  faults(schema, value) {
    const key = JSON.stringify(schema);
    if (!this.compiled.has(key)) {
      this.compiled.set(key, this.ajv.compile(forAjv(schema)));
    }
    const validate = this.compiled.get(key);
    return validate(value) ? [] : validate.errors.map((error) => `${error.instancePath || "/"} ${error.message}`);
  }

  // Members of a value that no part of its schema names: answers are open, but ours must not hold what is not
  // documented.
  undocumented(schema, value, place = "") {
    const of = this.resolve(schema);
    if (Array.isArray(value)) {
      const items = this.#part(of, (part) => part.items);
      return items ? value.flatMap((entry, index) => this.undocumented(items, entry, `${place}/${index}`)) : [];
    }
    if (value === null || typeof value !== "object") {
      return [];
    }
    const parts = [of, ...(of.allOf ?? []).map((part) => this.resolve(part))];
    if (!parts.some((part) => part.properties) || parts.some((part) => part.additionalProperties)) {
      return []; // an object of which the contract does not speak
    }
    return Object.entries(value).flatMap(([name, member]) => {
      const named = parts.map((part) => part.properties?.[name]).filter(Boolean);
      return named.length === 0 ? [`${place}/${name}`]
        : this.undocumented(named[named.length - 1], member, `${place}/${name}`);
    });
  }

  #part(schema, pick) {
    return [schema, ...(schema.allOf ?? []).map((part) => this.resolve(part))].map(pick).find(Boolean);
  }

  // What is wrong with a reply to this operation; [] if nothing is. Keeps account of it.
  judge(operation, reply, bodiless = false) {
    const response = operation.responses[reply.status];
    const what = `${operation.method} ${operation.path} ${reply.status}`;
    if (!response) {
      return [`${what} is not in the contract: ${reply.text.slice(0, 300)}`];
    }
    const key = `${operation.id} ${reply.status}`;
    this.seen.set(key, (this.seen.get(key) ?? 0) + 1);
    const faults = this.#headerFaults(response, reply).map((fault) => `${what}: ${fault}`);
    if (bodiless || !response.content) {
      if (reply.text !== "") {
        faults.push(`${what}: there should be no body`);
      }
      return faults;
    }
    return faults.concat(this.#bodyFaults(operation, response, reply).map((fault) => `${what}: ${fault}`));
  }

  #bodyFaults(operation, response, reply) {
    const content = response.content[reply.mediaType];
    if (!content) {
      return [`media type "${reply.mediaType}" is not in the contract`];
    }
    if (reply.status === 200) {
      this.seenForms.add(`${operation.id} ${reply.mediaType}`);
    }
    const value = reply.document ?? reply.text;
    const found = this.faults(content.schema, value);
    return found.concat(this.undocumented(content.schema, value).map((place) => `${place} is not documented`));
  }

  #headerFaults(response, reply) {
    const documented = Object.fromEntries(Object.entries(response.headers ?? {})
      .map(([name, header]) => [name.toLowerCase(), this.resolve(header)]));
    const faults = [];
    for (const [name, header] of Object.entries(documented)) {
      const value = reply.headers[name];
      if (value === undefined) {
        if (header.required) {
          faults.push(`header ${name} is missing`);
        }
        continue;
      }
      const typed = header.schema.type === "integer" ? Number(value) : value;
      faults.push(...this.faults(header.schema, typed).map((fault) => `header ${name}: ${fault}`));
    }
    for (const name of Object.keys(reply.headers)) {
      if (!USUAL_HEADERS.has(name) && !(name in documented)) {
        faults.push(`header ${name} is not documented`);
      }
    }
    return faults;
  }
}
