import { randomBytes } from "node:crypto";
import type { InfluxTarget } from "@drumlin/gateway/series";
import type { StartedTestContainer } from "testcontainers";

/** An InfluxDB in a container, as the tests need it. */
export interface InfluxServer {
  readonly target: InfluxTarget;
  /** Writes lines as another client would; gives the status. */
  write(lines: string): Promise<number>;
  restart(): Promise<void>;
  remove(): Promise<void>;
}

export interface InfluxImage {
  readonly image: string;
  start(): Promise<InfluxServer>;
}

const database = "drumlin";

function serverOf(container: StartedTestContainer, port: number, token: string): InfluxServer {
  // The port on this machine is another one after a restart.
  const url = () => `http://${container.getHost()}:${container.getMappedPort(port)}`;
  return {
    get target() {
      return { url: url(), database, retentionPolicy: null, signIn: { kind: "token" as const, token } };
    },
    async write(lines) {
      const query = new URLSearchParams({ db: database, precision: "ms" });
      const headers = { authorization: `Token ${token}` };
      return (await fetch(`${url()}/write?${query}`, { method: "POST", headers, body: lines })).status;
    },
    restart: () => container.restart({ timeout: 10_000 }),
    async remove() {
      await container.stop();
    },
  };
}

/** InfluxDB 2.7: a bucket, reached by 1.x's interface under its own name. */
export const influx2: InfluxImage = {
  image: "influxdb:2.7",
  async start() {
    const { GenericContainer, Wait } = await import("testcontainers");
    const token = randomBytes(32).toString("base64url");
    const container = await new GenericContainer(this.image)
      .withEnvironment({
        DOCKER_INFLUXDB_INIT_MODE: "setup",
        DOCKER_INFLUXDB_INIT_USERNAME: "keeper",
        DOCKER_INFLUXDB_INIT_PASSWORD: randomBytes(16).toString("base64url"),
        DOCKER_INFLUXDB_INIT_ORG: "house",
        DOCKER_INFLUXDB_INIT_BUCKET: database,
        DOCKER_INFLUXDB_INIT_ADMIN_TOKEN: token,
      })
      .withExposedPorts(8086)
      .withWaitStrategy(Wait.forHttp("/health", 8086))
      .start();
    return serverOf(container, 8086, token);
  },
};

/** InfluxDB 3 Core, its files in the container. */
export const influx3: InfluxImage = {
  image: "influxdb:3-core",
  async start() {
    const { GenericContainer, Wait } = await import("testcontainers");
    const container = await new GenericContainer(this.image)
      .withCommand([
        "influxdb3",
        "serve",
        "--node-id",
        "one",
        "--object-store",
        "file",
        "--data-dir",
        "/var/lib/influxdb3/data",
      ])
      .withExposedPorts(8181)
      .withWaitStrategy(Wait.forListeningPorts())
      .start();
    const made = await container.exec(["influxdb3", "create", "token", "--admin"]);
    const token = /apiv3_[\w-]+/.exec(made.output)?.[0];
    if (!token) throw new Error(`InfluxDB 3 gave no token: ${made.output}`);
    const created = await container.exec(["influxdb3", "create", "database", database, "--token", token]);
    if (created.exitCode !== 0) throw new Error(`InfluxDB 3 made no database: ${created.output}`);
    return serverOf(container, 8181, token);
  },
};
