// Packs by a broker of somebody else: Mosquitto between the publisher and the gateway, until everything is stored.
import { readFileSync, rmSync } from "node:fs";
import { setTimeout as wait } from "node:timers/promises";
import { startGateway } from "@drumlin/gateway/app";
import { newSite } from "../acceptance/gateway-process.ts";
import { startMosquitto } from "../acceptance/mosquitto.ts";
import { countReadings, publishAll } from "./durable.ts";
import { figure } from "./figures.ts";

const packs = Number(process.env.DRUMLIN_PACKS ?? 100_000);
const readingsAPack = 3;
const withinMs = 120_000;

/** Packs a second, from the first one until all are stored. */
export async function outsideBroker(): Promise<void> {
  const mosquitto = await startMosquitto();
  const site = await newSite(["press"]);
  const gateway = await startGateway({
    data: site.data,
    lineYaml: readFileSync(site.line, "utf8"),
    http: { host: "127.0.0.1", port: 0 },
    mqtt: { host: "127.0.0.1", port: 0 },
    outsideBroker: { url: mosquitto.url },
    log: console.error,
  });
  const cpuBefore = process.cpuUsage();
  const begun = performance.now();
  await publishAll(mosquitto.port, "", "", packs);
  const metric = async () => {
    const headers = { authorization: `Bearer ${site.token}` };
    const answer = await fetch(`http://127.0.0.1:${gateway.httpPort}/metrics`, { headers });
    return Number(/^drumlin_readings(?:_total)? (\d+)/m.exec(await answer.text())?.[1] ?? 0);
  };
  while ((await metric()) < packs * readingsAPack && performance.now() - begun < withinMs) await wait(20);
  const seconds = (performance.now() - begun) / 1000;
  const { user, system } = process.cpuUsage(cpuBefore);
  await gateway.stop();
  await mosquitto.stop();
  const stored = countReadings(site.data);
  if (stored !== packs * readingsAPack) throw new Error(`the gateway stored ${stored} readings`);
  figure(
    "outsidePacksPerSecond",
    packs / seconds,
    "1/s",
    `by Mosquitto, ${packs} packs, until all went through the path`,
  );
  figure("outsideCpuMicrosecondsPerPack", (user + system) / packs, "us", "of the gateway, without Mosquitto");
  rmSync(site.folder, { recursive: true, force: true });
}
