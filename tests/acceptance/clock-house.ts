import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { connectAsync, type MqttClient } from "mqtt";
import { newSite, startProcess } from "./gateway-process.ts";
import { testLine } from "./line-bench.ts";

/** A minute passes in a second. */
const speed = 60;
const preload = new URL("./fake-clock.mjs", import.meta.url).href;
/** How far the clocks of these tests are set, ms. */
export const hourMs = 3_600_000;
/** A year without a leap day, ms. */
export const yearMs = 365 * 24 * hourMs;

/**
 * A gateway whose machine's clock can be set, also while it is switched off, and its node: a pack each 5 s of its own time,
 * each told from every other.
 */
export async function clockHouse() {
  const site = await newSite(["press"], testLine);
  const file = join(site.folder, "clock");
  let offsetMs = 0;
  const beganMs = Date.now();
  const setClock = (byMs: number) => {
    offsetMs += byMs;
    writeFileSync(file, `${offsetMs} ${speed}`);
  };
  setClock(0);
  const start = async () => {
    const gateway = await startProcess(site, [], {
      nodeArguments: ["--import", preload],
      env: { TEST_CLOCK_FILE: file },
    });
    const client = await connectAsync(`mqtt://127.0.0.1:${gateway.mqtt}`, {
      username: "press",
      password: site.secrets.press as string,
    });
    return { gateway, client };
  };
  /** Another run of the machine: nothing but its clock tells how long it was off. */
  const switchedOff = () => {
    const path = join(site.data, "clock.json");
    const kept = JSON.parse(readFileSync(path, "utf8"));
    writeFileSync(path, JSON.stringify({ ...kept, saved: { ...kept.saved, bootId: "another run" } }));
  };
  const acknowledged: number[] = [];
  let sent = 0;
  const upS = () => ((Date.now() - beganMs) / 1000) * speed;
  /** Water for so many minutes: κ after resin in uS/cm, 2.5 L/min. */
  async function water(client: MqttClient, minutes: number, kappa: number): Promise<void> {
    const untilS = upS() + minutes * 60;
    for (let next = upS(); next < untilS; next += 5) {
      while (upS() < next) await new Promise((resolve) => setTimeout(resolve, 5));
      sent += 1;
      const number = sent;
      const pack = [
        { boot: 3, seq: number, up: upS(), n: "ec-1", u: "S/m", v: 0.03 + number * 1e-6 },
        { n: "t-1", u: "Cel", v: 25 },
        { n: "t-2", u: "Cel", v: 25 },
        { n: "ec-2", u: "S/m", v: kappa * 1e-4 },
        { n: "flow-1", u: "m3/s", v: 2.5 / 60_000 },
      ];
      await client.publishAsync("drumlin/1/saltmarsh-house/press/readings", JSON.stringify(pack), { qos: 1 });
      acknowledged.push(number);
    }
  }
  return { ...site, start, setClock, switchedOff, water, acknowledged };
}
