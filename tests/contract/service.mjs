// The program as a service on a free loopback port, and requests to it: whole ones, and raw bytes where the request
// must not be whole.

import { spawn } from "node:child_process";
import http from "node:http";
import net from "node:net";
import readline from "node:readline";

const START_MS = 30000;
const STOP_MS = 40000;

function environment(settings) {
  const own = Object.entries(process.env).filter(([name]) => !name.startsWith("SMALLEND_"));
  const given = { LISTEN: "127.0.0.1:0", LOG: "json", DRAIN_DELAY_MS: "0", ...settings };
  const ours = Object.entries(given).map(([name, value]) => [`SMALLEND_${name}`, value]);
  return Object.fromEntries([...own, ...ours]);
}

export class Service {
  // Starts the program; resolves once it listens. `settings` are named without SMALLEND_.
  static start(program, settings = {}) {
    const service = new Service();
    service.log = [];
    service.process = spawn(program, [], { env: environment(settings), stdio: ["ignore", "ignore", "pipe"] });
    service.ended = new Promise((resolve) => service.process.on("exit", (code, signal) => resolve(code ?? signal)));
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => reject(new Error("the service did not start")), START_MS);
      service.process.on("error", reject);
      service.process.on("exit", (code) => reject(new Error(`it ended with ${code}: ${service.log.slice(-5)}`)));
      readline.createInterface({ input: service.process.stderr }).on("line", (line) => {
        service.log.push(line);
        const found = /"msg":"ready".*?"listen":"http:\/\/127\.0\.0\.1:(\d+)/.exec(line);
        if (found) {
          clearTimeout(timer);
          service.port = Number(found[1]);
          resolve(service);
        }
      });
    });
  }

  // One request. The reply has status, headers (lower-case names), mediaType, text, and document where it is JSON.
  ask(method, path, { headers = {}, body } = {}) {
    return new Promise((resolve, reject) => {
      const all = { Connection: "close", ...headers };
      const options = { host: "127.0.0.1", port: this.port, method, path, headers: all };
      const request = http.request(options, (response) => {
        const pieces = [];
        response.on("data", (piece) => pieces.push(piece));
        response.on("end", () => resolve(reply(response.statusCode, response.headers, Buffer.concat(pieces))));
        response.on("error", reject);
      });
      request.on("error", reject);
      request.end(body);
    });
  }

  post(path, document, headers = {}) {
    const body = typeof document === "string" ? document : JSON.stringify(document);
    const all = { "Content-Type": "application/json", "Content-Length": Buffer.byteLength(body), ...headers };
    return this.ask("POST", path, { headers: all, body });
  }

  // Sends these bytes and waits for nothing: the socket, which the caller destroys.
  hold(bytes) {
    const socket = net.connect(this.port, "127.0.0.1", () => socket.write(bytes));
    socket.on("error", () => {});
    return socket;
  }

  // The answer to these very bytes.
  raw(bytes) {
    return new Promise((resolve, reject) => {
      const pieces = [];
      const socket = net.connect(this.port, "127.0.0.1", () => socket.write(bytes));
      socket.on("data", (piece) => pieces.push(piece));
      socket.on("error", reject);
      socket.on("close", () => {
        const whole = Buffer.concat(pieces);
        const end = whole.indexOf("\r\n\r\n");
        if (end < 0) {
          reject(new Error(`no answer to ${bytes.slice(0, 80)}`));
          return;
        }
        const [first, ...lines] = whole.subarray(0, end).toString("latin1").split("\r\n");
        const headers = Object.fromEntries(lines.map((line) => {
          const colon = line.indexOf(":");
          return [line.slice(0, colon).toLowerCase(), line.slice(colon + 1).trim()];
        }));
        resolve(reply(Number(first.split(" ")[1]), headers, whole.subarray(end + 4)));
      });
    });
  }

  // Resolves to what the program ended with.
  async stop(signal = "SIGTERM") {
    this.process.kill(signal);
    const late = setTimeout(() => this.process.kill("SIGKILL"), STOP_MS);
    const status = await this.ended;
    clearTimeout(late);
    return status;
  }
}

function reply(status, headers, body) {
  const mediaType = (headers["content-type"] ?? "").split(";")[0];
  const text = body.toString("utf8");
  const found = { status, headers, mediaType, text };
  if (/[/+]json$/.test(mediaType) && text !== "") {
    found.document = JSON.parse(text);
  }
  return found;
}
