import { spawn, spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { connectAsync } from "mqtt";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import { freePort, mosquittoProgram } from "../../acceptance/mosquitto.ts";

const root = join(import.meta.dirname, "..", "..", "..");
const text = (path: string) => readFileSync(join(root, path), "utf8");

// No container engine is needed here: what the files name must exist and fit. tests/containers runs them where one is.
describe("the container files", () => {
  it("compose starts a gateway on a Mosquitto that keeps what waits", () => {
    const { services, configs } = parse(text("docker-compose.yml"));
    expect(Object.keys(services)).toEqual(["mosquitto", "gateway"]);
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
    const help = text("gateway/src/app/commands/run.ts");
    const options = [
      ...`${text("gateway/Dockerfile")}${text("docker-compose.yml")}`.matchAll(/"--([a-z-]+)"/g),
    ];
    expect(options.length).toBeGreaterThan(5);
    for (const [, option] of options) expect(help).toContain(`--${option}`);
  });
  it("its Mosquitto really starts: signed in on one door, anonymous only on the other", async () => {
    const { configs } = parse(text("docker-compose.yml"));
    const folder = mkdtempSync(join(tmpdir(), "drumlin-compose-"));
    const [door, health] = [await freePort(), await freePort()];
    const passwords = join(folder, "passwords");
    // As the line in the file's head does it, and as the container would read it.
    expect(
      spawnSync(process.env.DRUMLIN_MOSQUITTO_PASSWD ?? "mosquitto_passwd", [
        "-c",
        "-b",
        passwords,
        "gateway",
        "long",
      ]).status,
    ).toBe(0);
    const config = `${process.getuid?.() === 0 ? "user root\n" : ""}${configs.mosquitto.content}`
      .replaceAll("/mosquitto/data/", `${folder}/`)
      .replace("listener 1883", `listener ${door} 127.0.0.1`)
      .replace("listener 1884", `listener ${health}`);
    writeFileSync(join(folder, "mosquitto.conf"), config);
    const broker = spawn(mosquittoProgram, ["-c", join(folder, "mosquitto.conf")], { stdio: "ignore" });
    const signIn = (port: number, more = {}) =>
      connectAsync(`mqtt://127.0.0.1:${port}`, { reconnectPeriod: 0, ...more }, false).then(
        async (client) => {
          await client.endAsync(true);
          return true;
        },
        () => false,
      );
    try {
      for (let attempt = 0; attempt < 60 && !(await signIn(health)); attempt += 1)
        await new Promise((resolve) => setTimeout(resolve, 50));
      expect(await signIn(health)).toBe(true);
      expect(await signIn(door)).toBe(false);
      expect(await signIn(door, { username: "gateway", password: "long" })).toBe(true);
    } finally {
      broker.kill();
      rmSync(folder, { recursive: true, force: true });
    }
  });
});
