// The bots and the parts order of api/examples, run as a person would.
//
//   node test_programs.mjs --program build/smallend --work FOLDER

import { execFile } from "node:child_process";
import { sign } from "node:crypto";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { check, finish, options, startService, test } from "./tally.mjs";

const { program, work } = options(process.argv.slice(2));
const example = (name) => fileURLToPath(new URL(`../../api/examples/${name}`, import.meta.url));
const fixture = (name) => fileURLToPath(new URL(`../../fixtures/jobs/${name}.json`, import.meta.url));
const NOWHERE = "http://127.0.0.1:9"; // the port named discard; nothing listens there

function run(command, words, url) {
  return new Promise((resolve) => {
    const env = { ...process.env, SMALLEND_URL: url };
    execFile(command, words, { env, timeout: 60000 }, (fault, out, errors) => {
      resolve({ status: fault ? fault.code : 0, out, errors });
    });
  });
}

const QUESTION = [
  "check",
  "engine.bore=5 1/4 in",
  "engine.stroke=8 in",
  "engine.peak_pressure=285 psi",
  "pin.diameter=1 1/8 in",
];
const quoted = ([call, ...members]) => `${call} ${members.map((m) => m.replace("=", "='") + "'").join(" ")}`;

// How each bot is asked the same things.
const BOTS = {
  "forum-bot.sh": (words, url) => run("bash", [example("forum-bot.sh"), ...words], url),
  "forum-bot.mjs": (words, url) => run(process.execPath, [example("forum-bot.mjs"), quoted(words)], url),
};

async function testBot(name, ask, service) {
  const good = await ask(QUESTION, service.url);
  check(`${name} answers`, good.status === 0, good);
  check(`${name} begins with the verdict`, good.out.startsWith("**Incomplete**\n"), good.out);
  check(
    `${name} shows the pressure in the bosses`,
    /\| pressure in the bosses \| 2176 psi \|/.test(good.out),
    good.out,
  );
  check(`${name} posts the cautions`, good.out.includes("**Cautions**"), good.out);
  const link = /http:\/\/127\.0\.0\.1:\d+(\/v1\/check\?[^\s>)]+)/.exec(good.out)?.[1];
  const followed = await service.ask("GET", link ?? "/no-link", { headers: { Accept: "text/html" } });
  check(`${name} posts a link that opens as a page`, followed.mediaType === "text/html", {
    link,
    status: followed.status,
  });
  const same = await service.ask("GET", link ?? "/no-link", { headers: { Accept: "text/markdown" } });
  check(`${name} posts the link of that very answer`, good.out.startsWith(same.text.trimEnd()), same.text);

  const comma = await ask(["check", "engine.bore=5,25"], service.url);
  check(`${name} posts a refusal and says why`, comma.status === 1 && comma.out.includes("write 5.25"), comma);
  const word = await ask(["check", "pin.diamter=1 in"], service.url);
  check(`${name} posts the nearest name`, word.status === 1 && word.out.includes("diameter"), word);
  const call = await ask(["chek"], service.url);
  check(`${name} names a call that there is not`, call.status === 1 && call.out.includes("no call named chek"), call);
  const away = await ask(QUESTION, NOWHERE);
  check(`${name} posts nothing without the service`, away.status === 2 && away.out === "" && away.errors !== "", away);
}

async function testShellBot(service) {
  const text = await run("bash", [example("forum-bot.sh"), "--form", "txt", ...QUESTION], service.url);
  check("forum-bot.sh posts plain text", text.status === 0 && text.out.startsWith("Incomplete: "), text);
  // curl would send the content of a file for it
  const file = await run("bash", [example("forum-bot.sh"), "check", "label@/etc/hostname"], service.url);
  check("forum-bot.sh takes no file", file.status === 1 && file.out.includes("not MEMBER=VALUE"), file);
}

// A service that knows its public address writes the link itself; then the bots add none.
async function testPublicLink() {
  const service = await startService(program, work);
  await service.stop();
  const url = `http://127.0.0.1:${service.port}`;
  const known = await startService(program, work, { LISTEN: `127.0.0.1:${service.port}`, PUBLIC_URL: url });
  for (const [name, ask] of Object.entries(BOTS)) {
    const { out } = await ask(QUESTION, url);
    check(`${name} posts one link, not two`, out.split(`${url}/v1/check?`).length === 2, out);
  }
  await known.stop();
}

function alter(jws, change) {
  const [head, payload, signature] = jws.trim().split(".");
  const parts = {
    head: JSON.parse(Buffer.from(head, "base64url")),
    payload: Buffer.from(payload, "base64url").toString(),
  };
  change(parts);
  const encode = (text) => Buffer.from(text).toString("base64url");
  const signed = `${encode(JSON.stringify(parts.head))}.${encode(parts.payload)}`;
  return `${signed}.${parts.sign ? parts.sign(signed) : signature}`;
}

async function testOrder(service) {
  const order = (...words) => run(process.execPath, [example("parts-order.mjs"), ...words], service.url);
  const offline = (...words) => run(process.execPath, [example("parts-order.mjs"), ...words], NOWHERE);
  const record = `${work}/pin.jws`;
  const keys = `${work}/keys.json`;
  const ordered = await order("order", fixture("pump-engine"), record);
  check("a sound pin is released and kept", ordered.status === 0 && ordered.out.startsWith("release: "), ordered);
  check("the keys are kept", (await order("keys", keys)).status === 0);

  const later = await offline("verify", record, keys);
  check("the record is good by kept keys, without the service", later.status === 0, later);
  check(
    "its id is what the service said",
    /record [0-9a-f]{64}/.exec(later.out)?.[0] === /record [0-9a-f]{64}/.exec(ordered.out)?.[0],
    [later.out, ordered.out],
  );
  check("the record is good by published keys", (await order("verify", record)).status === 0);
  const asked = await order("ask", record);
  check("the service knows its record", asked.status === 0 && asked.out.includes("signature good"), asked);

  const jws = readFileSync(record, "utf8");
  const forgeries = {
    "a thicker pin": (parts) => {
      parts.payload = parts.payload.replaceAll("1.3747", "1.3757");
    },
    "another type": (parts) => {
      parts.head.typ = "JWT";
    },
    "no algorithm": (parts) => {
      parts.head.alg = "none";
    },
    "an algorithm of the other kind": (parts) => {
      parts.head.alg = "ES256";
    },
    "a key that nobody published": (parts) => {
      parts.head.kid = "none-of-ours";
    },
  };
  for (const [what, change] of Object.entries(forgeries)) {
    const forged = `${work}/forged.jws`;
    writeFileSync(forged, alter(jws, change));
    check(`the altering changed something: ${what}`, readFileSync(forged, "utf8") !== jws.trim());
    const found = await offline("verify", forged, keys);
    check(`a forged record is refused: ${what}`, found.status === 1 && found.out.startsWith("not good: "), found);
  }
  // and one that was altered and signed again by the right key is good: it is the signature that refuses the others
  writeFileSync(
    `${work}/again.jws`,
    alter(jws, (parts) => {
      forgeries["a thicker pin"](parts);
      parts.sign = (signed) => sign(null, Buffer.from(signed), service.signingKey).toString("base64url");
    }),
  );
  check("a record signed by the right key is good", (await offline("verify", `${work}/again.jws`, keys)).status === 0);

  const held = await order("order", fixture("deep-slot"), `${work}/held.jws`);
  check(
    "a pin that fails is on hold, and nothing is kept",
    held.status === 1 && held.out.startsWith("hold: ") && !existsSync(`${work}/held.jws`),
    held,
  );
  writeFileSync(`${work}/bad.json`, JSON.stringify({ pin: { diamter: 1 } }));
  const refused = await order("order", `${work}/bad.json`, `${work}/held.jws`);
  check(
    "a faulty job is told with the member",
    refused.status === 2 && refused.errors.includes("/pin/diamter"),
    refused,
  );
}

const service = await startService(program, work);
for (const [name, ask] of Object.entries(BOTS)) {
  await test(name, () => testBot(name, ask, service));
}
await test("forum-bot.sh alone", () => testShellBot(service));
await test("a public address", testPublicLink);
await test("parts-order.mjs", () => testOrder(service));
check("the service stops well", (await service.stop()) === 0);
finish();
