// What must hold for a set of manifests: the profile "restricted" of the pod security standards, and our own. Each
// rule has a name, a function that throws where it does not hold, and a way to spoil good manifests, by which the rule
// itself is tested.
import { assert } from "./tally.mjs";

const USER = 65532;
const END_S = 3; // what the program's own end may take beyond delay and limit
const VOLUMES = new Set([
  "configMap",
  "csi",
  "downwardAPI",
  "emptyDir",
  "ephemeral",
  "persistentVolumeClaim",
  "projected",
  "secret",
]);

const all = (list, kind) => list.filter((document) => document.kind === kind);

function one(list, kind) {
  const found = all(list, kind);
  assert.equal(found.length, 1, `${kind}: ${found.length} of them`);
  return found[0];
}

const deployment = (list) => one(list, "Deployment");
const pod = (list) => deployment(list).spec.template.spec;
const container = (list) => {
  assert.equal(pod(list).containers.length, 1, "containers in a pod");
  return pod(list).containers[0];
};
const settings = (list) => one(list, "ConfigMap").data;
const labels = (list) => deployment(list).spec.template.metadata.labels;

function selectsPods(list, selector, who) {
  assert.ok(Object.keys(selector).length > 0, `${who} selects everything`);
  for (const [name, value] of Object.entries(selector))
    assert.equal(labels(list)[name], value, `${who} selects ${name}`);
}

const portNumber = (list, name) => container(list).ports.find((port) => port.name === name)?.containerPort;
const seconds = (list, name) => Number(settings(list)[name]) / 1000;

export const rules = [
  {
    name: "pods run as a numbered user that is not root",
    holds(list) {
      const context = pod(list).securityContext;
      assert.equal(context.runAsNonRoot, true);
      assert.equal(context.runAsUser, USER);
      assert.equal(context.runAsGroup, USER);
      assert.equal(container(list).securityContext.runAsUser ?? USER, USER);
    },
    spoil: (list) => (pod(list).securityContext.runAsUser = 0),
  },
  {
    name: "no process gains rights",
    holds(list) {
      const context = container(list).securityContext;
      assert.equal(context.allowPrivilegeEscalation, false);
      assert.notEqual(context.privileged, true);
      assert.deepEqual(context.capabilities, { drop: ["ALL"] });
    },
    spoil: (list) => (container(list).securityContext.capabilities.add = ["NET_ADMIN"]),
  },
  {
    name: "system calls are filtered",
    holds: (list) => assert.equal(pod(list).securityContext.seccompProfile?.type, "RuntimeDefault"),
    spoil: (list) => (pod(list).securityContext.seccompProfile.type = "Unconfined"),
  },
  {
    name: "the root file system cannot be written to",
    holds: (list) => assert.equal(container(list).securityContext.readOnlyRootFilesystem, true),
    spoil: (list) => delete container(list).securityContext.readOnlyRootFilesystem,
  },
  {
    name: "pods share nothing with their node",
    holds(list) {
      for (const name of ["hostNetwork", "hostPID", "hostIPC", "shareProcessNamespace"])
        assert.ok(!pod(list)[name], name);
      for (const port of container(list).ports) assert.equal(port.hostPort, undefined);
      for (const volume of pod(list).volumes ?? []) {
        for (const kind of Object.keys(volume))
          assert.ok(kind === "name" || VOLUMES.has(kind), `volume of kind ${kind}`);
      }
    },
    spoil: (list) => (pod(list).volumes = [{ name: "host", hostPath: { path: "/" } }]),
  },
  {
    name: "mounts cannot be written to and are for the group alone",
    holds(list) {
      for (const mount of container(list).volumeMounts ?? []) assert.equal(mount.readOnly, true, mount.mountPath);
      for (const { secret } of pod(list).volumes ?? []) assert.equal(secret.defaultMode, 0o440);
      assert.equal(pod(list).securityContext.fsGroup, USER);
    },
    spoil: (list) => (container(list).volumeMounts = [{ name: "x", mountPath: "/x" }]),
  },
  {
    name: "pods hold no token and no hints of the cluster",
    holds(list) {
      assert.equal(pod(list).automountServiceAccountToken, false);
      assert.equal(one(list, "ServiceAccount").automountServiceAccountToken, false);
      assert.equal(pod(list).serviceAccountName, one(list, "ServiceAccount").metadata.name);
      assert.equal(pod(list).enableServiceLinks, false);
    },
    spoil: (list) => delete pod(list).automountServiceAccountToken,
  },
  {
    name: "memory is limited, the processor asked for and not limited",
    holds(list) {
      const { requests, limits } = container(list).resources;
      assert.ok(requests.cpu && requests.memory && limits.memory);
      assert.equal(limits.cpu, undefined);
    },
    spoil: (list) => (container(list).resources.limits.cpu = "1"),
  },
  {
    name: "probes ask the admin port for what they mean",
    holds(list) {
      const paths = { startupProbe: "/livez", livenessProbe: "/livez", readinessProbe: "/readyz" };
      for (const [name, path] of Object.entries(paths)) {
        assert.deepEqual(container(list)[name].httpGet, { path, port: "admin" }, name);
      }
    },
    spoil: (list) => (container(list).livenessProbe.httpGet.path = "/readyz"),
  },
  {
    name: "a pod has the time to stop",
    holds(list) {
      const sleep = container(list).lifecycle.preStop.sleep.seconds;
      const needed =
        sleep + seconds(list, "SMALLEND_DRAIN_DELAY_MS") + seconds(list, "SMALLEND_DRAIN_LIMIT_MS") + END_S;
      assert.ok(sleep > 0);
      assert.ok(pod(list).terminationGracePeriodSeconds > needed, `${needed} s are needed`);
    },
    spoil: (list) => (settings(list).SMALLEND_DRAIN_LIMIT_MS = "60000"),
  },
  {
    name: "a drained pod is out of the service before it stops",
    holds(list) {
      const { periodSeconds, failureThreshold, timeoutSeconds } = container(list).readinessProbe;
      const noticed = periodSeconds * failureThreshold;
      assert.ok(timeoutSeconds <= periodSeconds);
      assert.ok(seconds(list, "SMALLEND_DRAIN_DELAY_MS") >= noticed, `it takes ${noticed} s to be noticed`);
    },
    spoil: (list) => (settings(list).SMALLEND_DRAIN_DELAY_MS = "1000"),
  },
  {
    name: "an update never has fewer pods ready than before",
    holds(list) {
      assert.deepEqual(deployment(list).spec.strategy, {
        type: "RollingUpdate",
        rollingUpdate: { maxSurge: 1, maxUnavailable: 0 },
      });
    },
    spoil: (list) => (deployment(list).spec.strategy = { type: "Recreate" }),
  },
  {
    name: "the service leads to the web port of the pods, and never to the admin port",
    holds(list) {
      const { spec } = one(list, "Service");
      selectsPods(list, spec.selector, "Service");
      for (const port of spec.ports) assert.equal(port.targetPort, "web");
      assert.ok(["ClusterIP", undefined].includes(spec.type));
    },
    spoil: (list) => one(list, "Service").spec.ports.push({ name: "admin", port: 8081, targetPort: "admin" }),
  },
  {
    name: "ports of the pods are those of the settings",
    holds(list) {
      const port = (name) => Number(settings(list)[name].match(/:(\d+)s?$/)[1]);
      assert.equal(portNumber(list, "web"), port("SMALLEND_LISTEN"));
      assert.equal(portNumber(list, "admin"), port("SMALLEND_ADMIN_LISTEN"));
      const { annotations } = deployment(list).spec.template.metadata;
      assert.equal(Number(annotations["prometheus.io/port"]), port("SMALLEND_ADMIN_LISTEN"));
      const named = one(list, "Service").spec.ports[0].name === "https";
      assert.equal(settings(list).SMALLEND_LISTEN.endsWith("s"), named, "TLS in the settings and in the Service");
    },
    spoil: (list) => (settings(list).SMALLEND_LISTEN = "0.0.0.0:9090"),
  },
  {
    name: "nodes are drained one pod at a time, broken pods at once",
    holds(list) {
      const { spec } = one(list, "PodDisruptionBudget");
      assert.equal(spec.maxUnavailable, 1);
      assert.equal(spec.unhealthyPodEvictionPolicy, "AlwaysAllow");
      selectsPods(list, spec.selector.matchLabels, "PodDisruptionBudget");
    },
    spoil: (list) =>
      (one(list, "PodDisruptionBudget").spec.selector.matchLabels = { "app.kubernetes.io/name": "other" }),
  },
  {
    name: "the autoscaler owns the number of pods, two at least",
    holds(list) {
      const { spec } = one(list, "HorizontalPodAutoscaler");
      assert.equal(spec.scaleTargetRef.name, deployment(list).metadata.name);
      assert.ok(spec.minReplicas >= 2 && spec.maxReplicas > spec.minReplicas);
      assert.equal(spec.metrics[0].resource.target.averageUtilization, 70);
      assert.equal(deployment(list).spec.replicas, undefined);
    },
    spoil: (list) => (one(list, "HorizontalPodAutoscaler").spec.minReplicas = 1),
  },
  {
    name: "pods are spread over zones and nodes",
    holds(list) {
      const spread = pod(list).topologySpreadConstraints;
      assert.deepEqual(
        spread.map((entry) => entry.topologyKey),
        ["topology.kubernetes.io/zone", "kubernetes.io/hostname"],
      );
      for (const entry of spread) selectsPods(list, entry.labelSelector.matchLabels, "spread");
    },
    spoil: (list) => pod(list).topologySpreadConstraints.pop(),
  },
  {
    name: "the network is closed but for requests and scrapes, and leads nowhere out",
    holds(list) {
      const policies = all(list, "NetworkPolicy");
      const closed = policies.filter(
        ({ spec }) => Object.keys(spec.podSelector).length === 0 && !spec.ingress && !spec.egress,
      );
      assert.deepEqual(
        closed.map(({ spec }) => spec.policyTypes),
        [["Ingress", "Egress"]],
      );
      for (const { spec } of policies) {
        assert.equal(spec.egress, undefined);
        for (const { from, ports } of spec.ingress ?? []) {
          selectsPods(list, spec.podSelector.matchLabels, "NetworkPolicy");
          assert.ok(from.length > 0 && ports.length > 0, "from anywhere, or to any port");
          for (const { port } of ports) assert.ok(portNumber(list, port), `no port ${port}`);
        }
      }
    },
    spoil: (list) => all(list, "NetworkPolicy")[1].spec.ingress[0].from.pop(),
  },
  {
    name: "selectors find the pods, and no manifest holds a secret",
    holds(list) {
      selectsPods(list, deployment(list).spec.selector.matchLabels, "Deployment");
      assert.deepEqual(all(list, "Secret"), []);
      assert.equal(container(list).envFrom[0].configMapRef.name, one(list, "ConfigMap").metadata.name);
    },
    spoil: (list) => list.push({ apiVersion: "v1", kind: "Secret", metadata: { name: "x" }, stringData: { key: "x" } }),
  },
  {
    name: "files named in the settings lie in mounted secrets",
    holds(list) {
      const mounts = container(list).volumeMounts ?? [];
      for (const [name, value] of Object.entries(settings(list))) {
        for (const path of value.split(",").filter((part) => part.startsWith("/"))) {
          const mount = mounts.find(({ mountPath }) => path.startsWith(mountPath + "/"));
          assert.ok(mount, `${name}: nothing is mounted for ${path}`);
          assert.ok(pod(list).volumes.find((volume) => volume.name === mount.name)?.secret, `${name}: no secret`);
        }
      }
    },
    spoil: (list) => (settings(list).SMALLEND_TOKENS = "/elsewhere/tokens"),
  },
];

// For the overlay of a public service.
export const productionRules = [
  {
    name: "the namespace refuses what is not restricted",
    holds(list) {
      const { metadata } = one(list, "Namespace");
      assert.equal(metadata.labels["pod-security.kubernetes.io/enforce"], "restricted");
      for (const document of list) {
        if (document.kind !== "Namespace") assert.equal(document.metadata.namespace, metadata.name, document.kind);
      }
    },
    spoil: (list) => delete one(list, "Service").metadata.namespace,
  },
  {
    name: "the image is of one version",
    holds(list) {
      const [, tag] = container(list).image.match(/^[a-z0-9.\-/]+:(.+)$/) ?? [];
      assert.match(tag ?? "", /^[0-9]+\.[0-9]+\.[0-9]+$/);
    },
    spoil: (list) => (container(list).image = "registry.example/smallend:latest"),
  },
  {
    name: "clients are served over TLS, links lead to the public name",
    holds(list) {
      assert.match(settings(list).SMALLEND_LISTEN, /s$/);
      assert.match(settings(list).SMALLEND_PUBLIC_URL, /^https:\/\//);
      assert.ok(settings(list).SMALLEND_TLS_CERT && settings(list).SMALLEND_TLS_KEY);
    },
    spoil: (list) => (settings(list).SMALLEND_PUBLIC_URL = "http://smallend.example"),
  },
];
