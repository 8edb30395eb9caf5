import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createPipeline, LiveDriver } from "@drumlin/gateway/app";
import { openLogbook } from "@drumlin/gateway/logbook";
import type { JournalEntry } from "@drumlin/gateway/readings";
import { openSqliteSeries, type SeriesRow } from "@drumlin/gateway/series";
import { afterAll, afterEach } from "vitest";
import { nodeSays, pressPack } from "./node-says.ts";

/** Begin of the life, epoch ms. */
export const beginMs = Date.UTC(2026, 2, 3, 4, 0, 0);
/** A resin before one drum that fills by itself. */
export const yaml = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { conductivity: press/ec-2, temperature: press/t-2 } }
stages: { resin: { kind: resin, from: supply, to: after-resin, vessel: 2 L, flow: press/flow-1 } }
drums: { mix: { volume: 200 L, fed_by: after-resin, control: automatic, stop: drums/stop } }
`;
/** A pack of the press room's node: good water, so many L/min. */
export const running = (flowLPerMin: number) => pressPack({ kappa: 0.8, flowLPerMin, celsius: [18, 18] });
const ends: (() => unknown)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

/** When all is over that is derived, epoch ms. */
export const nowMs = beginMs + 7000_000;

/** What is left of a life whose gateway has stopped: its data folder and its path. */
interface Left {
  readonly folder: string;
  readonly seq: number;
  readonly saved: ReturnType<ReturnType<typeof createPipeline>["snapshot"]>;
}
const left = new Map<string, Left>();
afterAll(() => {
  for (const { folder } of left.values()) rmSync(folder, { recursive: true, force: true });
});

const noFailure = (error: Error) => {
  throw error;
};

/** A gateway's path over the stores of a folder. */
async function gatewayOver(folder: string, { seq: from, saved }: Pick<Left, "seq"> & Partial<Left>) {
  const series = await openSqliteSeries({ folder });
  const logbook = openLogbook({ folder });
  const pipeline = createPipeline();
  if (saved) pipeline.restore(saved);
  const driver = new LiveDriver({
    pipeline,
    journal: { saveCheckpoint: async () => true },
    series,
    logbook,
    onOutcome: () => {},
    onEntryFailure: (_seq, error) => noFailure(error),
    onStoreFailure: noFailure,
  });
  let seq = from;
  const push = (entry: object, atS: number) => {
    seq += 1;
    driver.takeAll([{ seq, receivedAt: beginMs + atS * 1000, ...entry } as JournalEntry]);
  };
  const node = (name: string, records: object[], atS: number) =>
    push(nodeSays(name, "readings", records), atS);
  const close = async () => {
    await series.close();
    logbook.close();
  };
  return { series, logbook, pipeline, driver, push, node, close, seq: () => seq };
}

/** Two fills of 20 min, half an hour between them; lived once for each line. */
async function lifeWith(lineYaml: string): Promise<Left> {
  const known = left.get(lineYaml);
  if (known) return known;
  const folder = mkdtempSync(join(tmpdir(), "drumlin-derive-"));
  const { pipeline, driver, push, node, close, seq } = await gatewayOver(folder, { seq: 0 });
  push({ kind: "line", yaml: lineYaml }, 0);
  for (let at = 10; at < 6600; at += 10) {
    const runs = at < 1200 || (at >= 3000 && at < 4200);
    const wet = (at >= 1200 && at < 2900) || at >= 4200;
    node("press", running(runs ? 2.5 : 0), at);
    node("drums", [{ n: "stop", vb: wet }], at);
  }
  await driver.flush();
  const saved = pipeline.snapshot();
  await close();
  const life = { folder, seq: seq(), saved };
  left.set(lineYaml, life);
  return life;
}

/** A gateway that goes on after those two fills, over a copy of what they left. */
export async function twoFills(lineYaml = yaml) {
  const life = await lifeWith(lineYaml);
  const folder = mkdtempSync(join(tmpdir(), "drumlin-derive-"));
  ends.push(() => rmSync(folder, { recursive: true, force: true }));
  cpSync(life.folder, folder, { recursive: true });
  const gateway = await gatewayOver(folder, life);
  ends.push(gateway.close);
  const { series, logbook, push } = gateway;
  let acts = 0;
  const act = (given: object, atS: number) => {
    acts += 1;
    push({ kind: "act", act: { id: `act-${acts}`, by: "keeper", ...given } }, atS);
  };
  const fills = () => logbook.fills({ limit: 100 });
  const kappas = async () => {
    const found: SeriesRow[] = [];
    for await (const rows of series.range("point/after-resin/conductivity25", beginMs, nowMs))
      found.push(...rows);
    return found;
  };
  return { ...gateway, folder, act, fills, kappas };
}

/** A folder like that with an act more, left by a gateway that has stopped. */
export async function leftWith(act: object, atS: number): Promise<string> {
  const life = await lifeWith(yaml);
  const folder = mkdtempSync(join(tmpdir(), "drumlin-derive-"));
  ends.push(() => rmSync(folder, { recursive: true, force: true }));
  cpSync(life.folder, folder, { recursive: true });
  const gateway = await gatewayOver(folder, life);
  gateway.push({ kind: "act", act: { id: "act-1", by: "keeper", ...act } }, atS);
  await gateway.driver.flush();
  await gateway.close();
  return folder;
}
