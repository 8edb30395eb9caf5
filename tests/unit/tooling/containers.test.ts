import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";

const root = join(import.meta.dirname, "..", "..", "..");
const text = (path: string) => readFileSync(join(root, path), "utf8");

// No container engine is needed here: what the files name must exist and fit. tests/containers runs them where one is.
describe("the container files", () => {
  it("compose starts a gateway on a Mosquitto that keeps what waits, and an InfluxDB", () => {
    const { services, configs } = parse(text("docker-compose.yml"));
    expect(Object.keys(services)).toEqual(["secrets", "mosquitto", "influxdb", "gateway"]);
    expect(services.gateway.depends_on.mosquitto.condition).toBe("service_healthy");
    expect(existsSync(join(root, services.gateway.build.dockerfile))).toBe(true);
    for (const setting of ["persistence true", "max_queued_messages 0", "allow_anonymous false"])
      expect(configs.mosquitto.content).toContain(setting);
    // The page is not published to the network by itself.
    expect(services.gateway.ports).toEqual(["127.0.0.1:8080:8080"]);
  });
  it("every path that the Dockerfile copies from the project is there", () => {
    const copied = [...text("gateway/Dockerfile").matchAll(/^COPY (?!--from)(.+) \S+$/gm)].flatMap(
      ([, paths]) => (paths as string).split(" "),
    );
    expect(copied.length).toBeGreaterThan(5);
    for (const path of copied) expect(existsSync(join(root, path)), path).toBe(true);
  });
  it("its options are options of the command", async () => {
    const help = `${text("gateway/src/app/commands/run.ts")}${text("gateway/src/app/influx-options.ts")}`;
    const options = [
      ...`${text("gateway/Dockerfile")}${text("docker-compose.yml")}`.matchAll(/"--([a-z-]+)"/g),
    ];
    expect(options.length).toBeGreaterThan(5);
    for (const [, option] of options) expect(help).toContain(`--${option}`);
  });
});
