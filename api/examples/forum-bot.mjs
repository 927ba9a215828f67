// A forum bot in JavaScript: a message in, a post out. Node 18 or newer, no packages.
//
//   node forum-bot.mjs "check engine.bore='5 1/4 in' engine.stroke=8 engine.peak_pressure=285 pin.diameter='1 1/8'"
//
// A message is the call, then members of the job named by their path; a value with spaces stands in quotes.
// SMALLEND_URL is the service's address. reply() is what a bot's own code would call.

import { pathToFileURL } from "node:url";

const SERVICE = process.env.SMALLEND_URL ?? "http://127.0.0.1:8080";
const WORD = /([a-z][a-z_.0-9]*)=(?:"([^"]*)"|'([^']*)'|(\S*))|(\S+)/g;

// The link of a question: call and members, in the order in which they were given.
export function linkOf(message) {
  const [, call, rest] = /^\s*([a-z-]+)\s*(.*)$/s.exec(message) ?? [];
  if (!call) {
    throw new Error("Begin with the call, check for example.");
  }
  const link = new URL(`/v1/${call}`, SERVICE);
  for (const [, name, double, single, plain, stray] of rest.matchAll(WORD)) {
    if (stray) {
      throw new Error(`This is not MEMBER=VALUE: ${stray}`);
    }
    link.searchParams.append(name, double ?? single ?? plain);
  }
  return link;
}

// { post, link, answered }: what to post, and whether it is an answer or tells what is wrong with the question. Throws
// where the service cannot answer now: then say nothing, and try again later.
export async function reply(message) {
  let link;
  try {
    link = linkOf(message);
  } catch (fault) {
    return { post: fault.message, answered: false };
  }
  const response = await fetch(link, { headers: { Accept: "text/markdown" }, signal: AbortSignal.timeout(20000) });
  const post = await response.text();
  if (response.ok) {
    const linked = post.includes(`${link.origin}/v1/`); // a service that knows its public address has written it already
    return { post: linked ? post : `${post}\n[The question as a link](${link})\n`, link: link.href, answered: true };
  }
  if (response.status === 404) {
    return { post: `There is no call named ${link.pathname.slice("/v1/".length)}.`, answered: false };
  }
  if ([400, 414, 422, 431].includes(response.status)) {
    // the question's fault, and the text says which
    return { post, link: link.href, answered: false };
  }
  const wait = response.headers.get("Retry-After");
  throw new Error(`the service answers ${response.status}; try again ${wait ? `in ${wait} s` : "later"}`);
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? "").href) {
  try {
    const { post, answered } = await reply(process.argv.slice(2).join(" "));
    console.log(post);
    process.exitCode = answered ? 0 : 1;
  } catch (fault) {
    console.error(fault.message);
    process.exitCode = 2;
  }
}
