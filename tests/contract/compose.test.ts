import { spawn, spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { delimiter, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { connectAsync } from "mqtt";
import { afterAll, describe, expect, it } from "vitest";
import { parse } from "yaml";
import { freePort, mosquittoProgram } from "../acceptance/mosquitto.ts";

interface Compose {
  readonly services: Readonly<
    Record<
      string,
      {
        readonly command: readonly string[];
        readonly environment?: Readonly<Record<string, string>>;
        readonly healthcheck?: object;
        readonly volumes: readonly string[];
      }
    >
  >;
  readonly configs: Readonly<Record<string, { readonly content: string }>>;
  readonly volumes: Readonly<Record<string, null>>;
}

const text = readFileSync(fileURLToPath(new URL("../../docker-compose.yml", import.meta.url)), "utf8");
const { services, configs, volumes } = parse(text) as Compose;
const folder = mkdtempSync(join(tmpdir(), "drumlin-compose-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const passwd = process.env.DRUMLIN_MOSQUITTO_PASSWD ?? "mosquitto_passwd";
const read = (name: string) => readFileSync(join(folder, name), "utf8");

const commandOf = (name: string) => services[name]?.command[0] ?? "";
const configOf = (name: string) => configs[name]?.content ?? "";

/** Runs what makes the secrets, with the folder in its container's place; owners are the containers' business. */
function makeSecrets(): void {
  const script = commandOf("secrets").replaceAll("$$", "$").replace("cd /secrets", `cd ${folder}`);
  const done = spawnSync("sh", ["-euc", `chown() { :; }; ${script}`], {
    encoding: "utf8",
    env: { ...process.env, PATH: `${dirname(passwd)}${delimiter}${process.env.PATH}` },
  });
  expect(done).toMatchObject({ status: 0 });
}

describe("docker-compose.yml", () => {
  it("holds no secret; each service that stays is looked at; each volume is declared", () => {
    for (const [name, { environment = {}, healthcheck, volumes: used }] of Object.entries(services)) {
      for (const key of Object.keys(environment))
        if (/PASSWORD|TOKEN|SECRET/.test(key)) expect(key).toMatch(/_FILE$/);
      // The gateway's image has its own.
      if (name !== "secrets" && name !== "gateway") expect(healthcheck).toBeDefined();
      for (const volume of used) expect(Object.keys(volumes)).toContain(volume.split(":")[0]);
    }
  });

  it("the first start makes secrets of 240 bits for their owner alone, a later one leaves them", () => {
    for (const name of ["gateway", "mosquitto", "influxdb"]) mkdirSync(join(folder, name));
    makeSecrets();
    const names = ["gateway/broker-password", "influxdb/token", "influxdb/password"];
    const made = names.map(read);
    expect(new Set(made).size).toBe(3);
    for (const secret of made) expect(secret).toMatch(/^[\w-]{40}$/);
    expect(read("gateway/influx-token")).toBe(read("influxdb/token"));
    for (const name of [...names, "mosquitto/passwords"])
      expect(statSync(join(folder, name)).mode & 0o077).toBe(0);
    expect(read("mosquitto/passwords")).toMatch(/^gateway:\$/);
    makeSecrets();
    expect(names.map(read)).toEqual(made);
  });

  it("a real Mosquitto takes its settings: the gateway signs in, a node writes as itself only", async () => {
    spawnSync(passwd, ["-b", join(folder, "mosquitto/passwords"), "press", "a secret of its own"]);
    const [port, looked] = [await freePort(), await freePort()];
    writeFileSync(join(folder, "acl"), configOf("mosquitto-acl"));
    const own = configOf("mosquitto")
      .replace("listener 1883", `listener ${port} 127.0.0.1`)
      .replace("listener 1884", `listener ${looked}`)
      .replace("/mosquitto/secrets/", `${folder}/mosquitto/`)
      .replace("/mosquitto/config/", `${folder}/`)
      .replace("/mosquitto/data/", `${folder}/`);
    const asRoot = process.getuid?.() === 0 ? "user root\n" : "";
    writeFileSync(join(folder, "mosquitto.conf"), asRoot + own);
    const broker = spawn(mosquittoProgram, ["-c", join(folder, "mosquitto.conf")], { stdio: "ignore" });
    const signedIn = async (username: string, password: string) => {
      for (let attempt = 0; ; attempt += 1)
        try {
          const options = { username, password, reconnectPeriod: 0 };
          return await connectAsync(`mqtt://127.0.0.1:${port}`, options, false);
        } catch (error) {
          if (attempt > 2400 || !/ECONNREFUSED/.test(String(error))) throw error;
          await new Promise((resolve) => setTimeout(resolve, 25));
        }
    };
    try {
      const gateway = await signedIn("gateway", read("gateway/broker-password"));
      const node = await signedIn("press", "a secret of its own");
      await expect(signedIn("press", "another")).rejects.toThrow(/authoriz|authoris|refused/i);
      const heard: string[] = [];
      const whole = new Promise<void>((resolve) =>
        gateway.on("message", (topic) => {
          heard.push(topic);
          if (topic.endsWith("/presence")) resolve();
        }),
      );
      await gateway.subscribeAsync("drumlin/1/#", { qos: 1 });
      for (const topic of ["other/readings", "gateway/presence"]) {
        const stranger = await signedIn("press", "a secret of its own");
        // Some versions end the connection for it, others go on.
        const closed = new Promise<void>((resolve) => stranger.once("close", () => resolve()));
        stranger.publish(`drumlin/1/our-house/${topic}`, "x");
        const answered = stranger.subscribeAsync("drumlin/1/our-house/press/request").catch(() => {});
        await Promise.race([closed, answered]);
        await stranger.endAsync(true);
      }
      for (const topic of ["press/readings", "press/presence"])
        await node.publishAsync(`drumlin/1/our-house/${topic}`, "x", { qos: 1 });
      await whole;
      expect(heard).toEqual(["drumlin/1/our-house/press/readings", "drumlin/1/our-house/press/presence"]);
      await Promise.all([gateway.endAsync(), node.endAsync()]);
    } finally {
      // It writes what it keeps as it ends: its folder must not be taken away meanwhile.
      const ended = new Promise((resolve) => broker.once("exit", resolve));
      if (broker.kill()) await ended;
    }
  });
});
