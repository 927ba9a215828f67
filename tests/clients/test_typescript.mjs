// The compiled TypeScript client against the service.
//
//   node test_typescript.mjs --program build/smallend --work FOLDER       FOLDER has the compiled client in typescript/

import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
import { check, finish, options, startService, test } from "./tally.mjs";

const { program, work } = options(process.argv.slice(2));
const { callNames, drive } = await import(pathToFileURL(`${work}/typescript/drive.js`));

// The calls that the program has, from the table they are made of.
const table = readFileSync(new URL("../../service/joint/call.def", import.meta.url), "utf8");
const words = [...table.matchAll(/^CALL\(\w+, "([a-z-]+)"/gm)].map(([, word]) => word);
const driven = callNames();
check("every call is driven", words.length > 0 && words.every((word) => driven.includes(word)), { words, driven });

const service = await startService(program, work);
await test("the client", () => drive(service.url, check));
check("the service stops well", (await service.stop()) === 0);
finish();
