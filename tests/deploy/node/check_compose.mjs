// Checks deploy/compose.yaml: replicas confined as elsewhere, the proxy alone reachable, names and files that exist.
import { existsSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { parse } from "yaml";
import { assert, check, finish } from "./tally.mjs";

const path = (name) => fileURLToPath(new URL(`../../../deploy/${name}`, import.meta.url));
const good = () => parse(readFileSync(path("compose.yaml"), "utf8"), { merge: true });
const configuration = readFileSync(path("haproxy/haproxy.cfg"), "utf8");
const replicas = ({ services }) => Object.entries(services).filter(([name]) => name !== "proxy");

const rules = [
  {
    name: "no service can write to its root, gain rights or keep capabilities",
    holds: ({ services }) => {
      for (const [name, service] of Object.entries(services)) {
        assert.equal(service.read_only, true, name);
        assert.deepEqual(service.cap_drop, ["ALL"], name);
        assert.deepEqual(service.security_opt, ["no-new-privileges:true"], name);
        assert.ok(!service.privileged && !service.cap_add && !service.network_mode, name);
      }
    },
    spoil: ({ services }) => (services.proxy.privileged = true),
  },
  {
    name: "replicas are three alike, run as the numbered user and are limited",
    holds: (file) => {
      assert.equal(replicas(file).length, 3);
      for (const [, replica] of replicas(file)) {
        assert.deepEqual(replica, replicas(file)[0][1]);
        assert.equal(replica.user, "65532:65532");
        assert.ok(replica.mem_limit && replica.pids_limit > 300);
        assert.ok(parseInt(replica.stop_grace_period, 10) > 2 + 20 + 3);
      }
    },
    spoil: ({ services }) => (services["smallend-a"] = { ...services["smallend-a"], user: "root" }),
  },
  {
    name: "only the proxy can be reached, and replicas reach nothing",
    holds: (file) => {
      assert.equal(file.networks.inside.internal, true);
      for (const [, replica] of replicas(file)) {
        assert.equal(replica.ports, undefined);
        assert.deepEqual(replica.networks, ["inside"]);
      }
    },
    spoil: ({ services }) => (services["smallend-b"] = { ...services["smallend-b"], ports: ["8081:8081"] }),
  },
  {
    name: "the proxy's variables are those of its configuration and lead to the replicas",
    holds: (file) => {
      const { environment } = file.services.proxy;
      for (const name of Object.keys(environment)) assert.match(configuration, new RegExp(`\\b${name}\\b`), name);
      for (const letter of "ABC") {
        const [host, port] = environment[`SMALLEND_${letter}`].split(":");
        const { SMALLEND_LISTEN, SMALLEND_ADMIN_LISTEN } = file.services[host].environment;
        assert.ok(SMALLEND_LISTEN.endsWith(`:${port}`));
        assert.ok(SMALLEND_ADMIN_LISTEN.endsWith(`:${environment[`SMALLEND_${letter}_ADMIN`]}`));
      }
    },
    spoil: ({ services }) => (services.proxy.environment.SMALLEND_PROXY_CERTIFICATE = "/x"),
  },
  {
    name: "what is mounted exists and cannot be written to",
    holds: ({ services }) => {
      for (const volume of services.proxy.volumes) {
        assert.match(volume, /:ro$/);
        if (volume.startsWith("./")) assert.ok(existsSync(path(volume.split(":")[0])), volume);
      }
    },
    spoil: ({ services }) => services.proxy.volumes.push("./haproxy/no-such-file:/x:ro"),
  },
];

for (const rule of rules) {
  await check(rule.name, () => rule.holds(good()));
  const spoiled = good();
  rule.spoil(spoiled);
  await check(`it is noticed where this does not hold: ${rule.name}`, () =>
    assert.throws(() => rule.holds(spoiled), assert.AssertionError),
  );
}
finish();
