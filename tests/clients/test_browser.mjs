// A page of another origin in a real browser: reading answers, errors and headers across origins, the sketch as an image,
// the page of an answer, and the example form filled by hand.
//
//   node test_browser.mjs --program build/smallend --work FOLDER --tools FOLDER [--shots FOLDER]

import { existsSync, readFileSync } from "node:fs";
import http from "node:http";
import { createRequire } from "node:module";
import { check, finish, job, options, startService, test } from "./tally.mjs";

const { program, work, tools, shots } = options(process.argv.slice(2));
const { chromium } = createRequire(`${tools}/`)("playwright-core");
const BROWSER = ["/usr/bin/chromium", "/usr/bin/chromium-browser"].find(existsSync);
const FLAGS = [
  "--headless",
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];
const LIMIT_MS = 15000;
const FILES = { "/form.html": "text/html", "/form.js": "text/javascript" };
const EMPTY_PAGE =
  '<!DOCTYPE html><html lang="en"><title>Another origin</title><link rel="icon" href="data:,"><p>Hello</p></html>';
const MEMBERS = "engine.bore=5.25+in&engine.stroke=8&engine.peak_pressure=285&pin.diameter=1+1/8";

// The other origin: the example form as it stands, and an empty page.
function serveOtherOrigin() {
  const server = http.createServer((request, response) => {
    const path = new URL(request.url, "http://x").pathname;
    const file = FILES[path] && new URL(`../../api/examples${path}`, import.meta.url);
    response.writeHead(file || path === "/" ? 200 : 404, { "Content-Type": FILES[path] ?? "text/html" });
    response.end(file ? readFileSync(file) : EMPTY_PAGE);
  });
  return new Promise((resolve) => server.listen(0, "127.0.0.1", () => resolve(server)));
}

// A page that notes what goes wrong in it, and every address that it asks for.
async function newPage(browser) {
  const page = await browser.newPage();
  page.setDefaultTimeout(LIMIT_MS);
  page.troubles = [];
  page.asked = [];
  page.on("console", (message) => ["error", "warning"].includes(message.type()) && page.troubles.push(message.text()));
  page.on("pageerror", (fault) => page.troubles.push(String(fault)));
  page.on("request", (request) => page.asked.push(request.url()));
  return page;
}

// fetch() in the page: what a script there may see of the reply.
function fetchIn(page, address, init) {
  return page.evaluate(
    async ([where, how]) => {
      try {
        const response = await fetch(where, how);
        const type = response.headers.get("Content-Type");
        const headers = Object.fromEntries(
          ["ETag", "Content-Location", "Retry-After"].map((name) => [name, response.headers.get(name)]),
        );
        return { status: response.status, type, headers, body: await response.json() };
      } catch (fault) {
        return { refused: String(fault) };
      }
    },
    [address, init],
  );
}

const post = (document) => ({
  method: "POST",
  headers: { "Content-Type": "application/json" },
  body: JSON.stringify(document),
});

async function testCors(page, service) {
  const got = await fetchIn(page, `${service.url}/v1/check?${MEMBERS}`);
  check(
    "a page of another origin reads an answer by GET",
    got.status === 200 && got.body.verdict === "incomplete",
    got,
  );
  check("and its ETag", /^"[^"]+"$/.test(got.headers?.ETag ?? ""), got.headers);

  const preflights = () =>
    service.log.filter((line) => line.includes('"method":"OPTIONS"') && line.includes('"status":204')).length;
  const before = preflights();
  const posted = await fetchIn(page, `${service.url}/v1/check`, post(job("pump-engine")));
  check("it posts a job", posted.status === 200 && posted.body.verdict === "ok", posted);
  check("after a preflight", preflights() > before, service.log.slice(-4));
  const link = posted.headers?.["Content-Location"] ?? "";
  check("it reads the link of the answer", link.startsWith("/v1/check?"), posted.headers);
  const again = await fetchIn(page, new URL(link, service.url).href);
  check("the link gives the same answer", JSON.stringify(again.body) === JSON.stringify(posted.body), again);

  const faulty = await fetchIn(
    page,
    `${service.url}/v1/check`,
    post({ engine: { bore: "5,25" }, pin: { diamter: 1 } }),
  );
  check("it reads a refusal", faulty.status === 422 && faulty.type === "application/problem+json", faulty);
  check(
    "with every fault",
    JSON.stringify(faulty.body?.errors?.map((fault) => fault.pointer).sort()) === '["/engine/bore","/pin/diamter"]',
    faulty.body,
  );
  const nowhere = await fetchIn(page, `${service.url}/v1/nowhere`);
  check("it reads what a wrong address is told", nowhere.status === 404 && nowhere.body.cautions.length > 0, nowhere);
}

// What a service does that trusts one other page only: the browser keeps the answer from ours.
async function testForeignOrigin(page) {
  const strict = await startService(program, work, { CORS_ORIGINS: "https://front-end.example" });
  const kept = await fetchIn(page, `${strict.url}/v1/check?${MEMBERS}`);
  check("a page that the service does not trust reads nothing", kept.refused !== undefined, kept);
  await strict.stop();
}

async function testSketch(page, service) {
  for (const [call, members] of [
    ["check", MEMBERS],
    ["load", MEMBERS],
  ]) {
    const width = await page.evaluate(
      (address) =>
        new Promise((resolve) => {
          const image = new Image();
          image.onload = () => resolve(image.naturalWidth);
          image.onerror = () => resolve(0);
          image.src = address;
          document.body.append(image);
        }),
      `${service.url}/v1/${call}?${members}&format=svg`,
    );
    check(`an image of ${call} shows in a page of another origin`, width > 0, width);
  }
}

async function testAnswerPage(browser, service) {
  const page = await newPage(browser);
  await page.goto(`${service.url}/v1/check?${MEMBERS}`); // as a clicked link: the browser asks for a page
  check("a clicked link opens a page", (await page.locator("h1").innerText()) === "Incomplete");
  check("without script", (await page.locator("script").count()) === 0);
  check(
    "that asks for nothing else",
    page.asked.filter((address) => !address.endsWith("/favicon.ico")).length === 1,
    page.asked,
  );
  check("and breaks no policy of its own", page.troubles.length === 0, page.troubles);
  const width = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  check("and fits the window", width <= 0, width);
  if (shots) {
    await page.screenshot({ path: `${shots}/answer.png`, fullPage: true });
  }
  await page.close();
}

const verdictIs = (page, verdict) => page.locator(`#verdict[data-verdict="${verdict}"]`).waitFor();

async function fill(page, members) {
  for (const [name, value] of Object.entries(members)) {
    await page.locator(`[name="${name}"]`).fill(value);
  }
}

async function testFormFirst(page) {
  await verdictIs(page, "incomplete");
  check("an empty form is answered", (await page.locator("#steps li").count()) > 0);
  check("the steels are offered", (await page.locator("#steels option").count()) > 10);
  check("what is wanted is marked", (await page.locator("label.wanted").count()) > 0);
  await fill(page, {
    "engine.bore": "5 1/4 in",
    "engine.stroke": "8",
    "engine.peak_pressure": "285",
    "pin.diameter.min": "1.3747",
    "pin.diameter.max": "1.3750",
  });
  const eye = page.locator('[name="eye.width"]');
  await page.waitForFunction(() => document.querySelector('[name="eye.width"]').placeholder !== "");
  check(
    "what is assumed stands in the empty field",
    (await eye.getAttribute("placeholder")) === "2.1 in",
    await eye.getAttribute("placeholder"),
  ); // 0.40 of the bore, by the contract
}

async function testFormFault(page) {
  const bore = page.locator("label", { has: page.locator('[name="engine.bore"]') });
  await fill(page, { "engine.bore": "5,25" });
  await page.locator("label.faulty").waitFor();
  check(
    "the faulty field, and no other, is marked",
    (await page.locator("label.faulty").count()) === 1 && (await bore.getAttribute("class")).includes("faulty"),
  );
  check("and says what is wrong", (await bore.locator("small").innerText()).includes("write 5.25"));
  check("no old answer stands beside it", !(await page.locator("#answer").isVisible()));
  await fill(page, { "engine.bore": "5 1/4 in" });
  await page.locator("label.faulty").waitFor({ state: "detached" });
  check("the mended field is no longer marked", await page.locator("#answer").isVisible());
}

async function testFormWhole(page, service) {
  await fill(page, {
    "engine.speed": "380",
    "pin.length": "4 3/4 in",
    "pin.steel": "8620-carb",
    "eye.width": "2 in",
    "boss.length": "1 5/16 in",
    "boss.bushing": "c93200",
  });
  await page.locator("#missing button", { hasText: "slot.depth" }).first().click();
  check(
    "a member that the form lacks gets a field",
    (await page.evaluate(() => document.activeElement.name)) === "slot.depth",
  );
  await page.keyboard.type("0.130 in");
  await page.waitForFunction(
    () => new URL(document.getElementById("link").href).searchParams.get("slot.depth") === "0.130 in",
  );
  const cautions = await page.locator("#cautions li").count();
  check("the cautions show", cautions > 0, cautions);
  const link = new URL(await page.locator("#link").getAttribute("href"));
  check(
    "the link is a page of the service",
    link.origin === service.url && link.searchParams.get("format") === "html",
    link.href,
  );
  const direct = await service.ask("GET", `${link.pathname}${link.search.replace("format=html", "format=json")}`);
  check(
    "what shows is what the service answers",
    (await page.locator("#summary").innerText()) === direct.document?.summary,
    direct.text,
  );
  const sketch = page.locator("#sketch");
  await sketch.waitFor();
  check("the sketch shows", await sketch.evaluate((image) => image.naturalWidth > 0));
}

async function testForm(browser, service, origin) {
  const page = await newPage(browser);
  await page.goto(`${origin}/form.html?service=${encodeURIComponent(service.url)}`);
  await testFormFirst(page);
  await testFormFault(page);
  await testFormWhole(page, service);
  if (shots) {
    await page.screenshot({ path: `${shots}/form.png`, fullPage: true });
  }
  const outside = page.asked.filter(
    (address) => ![origin, service.url].includes(new URL(address).origin) && !address.startsWith("data:"),
  );
  check("the form asks nobody but the service", outside.length === 0, outside);
  // a refusal is no trouble of the form's; the browser tells it all the same
  const troubles = page.troubles.filter((text) => !/status of 422/.test(text));
  check("the form runs without complaint", troubles.length === 0, troubles);
  await page.close();
}

if (!BROWSER) {
  throw new Error("no chromium here; deploy/setup.sh --tests installs it");
}
const service = await startService(program, work);
const other = await serveOtherOrigin();
const origin = `http://127.0.0.1:${other.address().port}`;
const browser = await chromium.launch({ executablePath: BROWSER, args: FLAGS });
const page = await newPage(browser);
await page.goto(origin);
await test("across origins", () => testCors(page, service));
await test("an origin not trusted", () => testForeignOrigin(page));
await test("images", () => testSketch(page, service));
await test("the page of an answer", () => testAnswerPage(browser, service));
await test("the form", () => testForm(browser, service, origin));
await browser.close();
other.close();
check("the service stops well", (await service.stop()) === 0);
finish();
