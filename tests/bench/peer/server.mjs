// A Fastify service that parses the same JSON and answers with as many constant bytes as the path says.
//
//   node server.mjs PORT PROCESSES MODULES [CERTIFICATE]
//
// MODULES is the folder where fastify is installed, CERTIFICATE a PEM file of certificate and key, for https. Prints a line
// when it listens.
import cluster from "node:cluster";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";

const [port, processes, modules, certificate] = [Number(process.argv[2]), Number(process.argv[3]), ...process.argv.slice(4)];

async function serve() {
  const fastify = createRequire(path.join(modules, "package.json"))("fastify");
  const pem = certificate && readFileSync(certificate);
  const app = fastify({ bodyLimit: 8 << 20, keepAliveTimeout: 2000, ...(pem && { https: { cert: pem, key: pem } }) });
  const answers = new Map();
  app.post("/:size", (request, reply) => {
    const { size } = request.params;
    if (request.body === null || typeof request.body !== "object") {
      reply.code(400).send({});
      return;
    }
    if (!answers.has(size)) {
      answers.set(size, " ".repeat(Number(size)));
    }
    reply.header("content-type", "application/json").send(answers.get(size));
  });
  await app.listen({ port, host: "127.0.0.1" });
}

if (processes > 1 && cluster.isPrimary) {
  let listening = 0;
  cluster.on("listening", () => {
    listening += 1;
    if (listening === processes) {
      console.log("ready");
    }
  });
  for (let i = 0; i < processes; i += 1) {
    cluster.fork();
  }
} else {
  await serve();
  if (!cluster.isWorker) {
    console.log("ready");
  }
}
