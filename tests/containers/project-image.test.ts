import { randomBytes } from "node:crypto";
import { fileURLToPath } from "node:url";
import { connectAsync } from "mqtt";
import type { StartedNetwork, StartedTestContainer } from "testcontainers";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { eventually, smallestLine } from "../acceptance/gateway-process.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));
const mosquitto = `listener 1883
allow_anonymous true
persistence true
persistence_location /mosquitto/data/
max_queued_messages 0
`;

describe("the project's image with eclipse-mosquitto:2", () => {
  let network: StartedNetwork;
  let broker: StartedTestContainer;
  let gateway: StartedTestContainer;
  let token: string;

  beforeAll(async () => {
    const { GenericContainer, Network, Wait } = await import("testcontainers");
    network = await new Network().start();
    broker = await new GenericContainer("eclipse-mosquitto:2")
      .withNetwork(network)
      .withNetworkAliases("mosquitto")
      .withExposedPorts(1883)
      .withCopyContentToContainer([{ content: mosquitto, target: "/mosquitto/config/mosquitto.conf" }])
      .withWaitStrategy(Wait.forListeningPorts())
      .start();
    const image = await GenericContainer.fromDockerfile(root, "gateway/Dockerfile").build();
    gateway = await image
      .withNetwork(network)
      .withExposedPorts(8080)
      .withCopyContentToContainer([{ content: smallestLine, target: "/line/line.yaml" }])
      .withCommand([
        "run",
        ...["--line", "/line/line.yaml"],
        ...["--data", "/data"],
        ...["--http", "0.0.0.0:8080"],
        "--plain-http",
        ...["--broker", "mqtt://mosquitto:1883"],
      ])
      .withWaitStrategy(Wait.forHealthCheck())
      .start();
    const drumlin = (command: string) =>
      gateway.exec(["sh", "-c", `${command.replace("drumlin", "node gateway/src/main.mjs")} --data /data`]);
    const password = randomBytes(16).toString("base64url");
    // Until somebody has an account, the page listens inside the container only.
    await drumlin(`echo ${password} | drumlin user add keeper --role operator --password-stdin`);
    const made = await drumlin("drumlin token add containers --role viewer --json");
    token = (JSON.parse(made.stdout) as { token: string }).token;
  });
  afterAll(async () => {
    await broker.stop();
    await network.stop();
  });
  const api = (path: string) =>
    fetch(`http://${gateway.getHost()}:${gateway.getMappedPort(8080)}${path}`, {
      headers: { authorization: `Bearer ${token}` },
    });

  it("is healthy by its own health check, and ready from outside once there is an account", async () => {
    const ready = await eventually(
      async () => (await api("/readyz").catch(() => null))?.status,
      (status) => status === 200,
    );
    expect(ready).toBe(200);
  });

  it("takes a node's pack from Mosquitto", async () => {
    const node = await connectAsync(`mqtt://${broker.getHost()}:${broker.getMappedPort(1883)}`);
    const pack = [{ n: "ec-1", u: "S/m", v: 0.04, boot: 1, seq: 1, up: 5 }];
    await node.publishAsync("drumlin/1/saltmarsh-house/press/readings", JSON.stringify(pack), { qos: 1 });
    const nodes = await eventually(
      async () => (await (await api("/api/nodes")).json()) as { items: { id: string; packs: number }[] },
      ({ items }) => items.some(({ packs }) => packs > 0),
    );
    expect(nodes.items).toContainEqual(expect.objectContaining({ id: "press", packs: 1 }));
    await node.endAsync();
  });

  it("runs as nobody special, and ends within 10 s when it is asked to", async () => {
    const who = await gateway.exec(["id", "-un"]);
    expect(who.stdout.trim()).toBe("node");
    const begun = performance.now();
    await gateway.stop({ timeout: 15_000 });
    expect(performance.now() - begun).toBeLessThan(10_000);
  });
});
