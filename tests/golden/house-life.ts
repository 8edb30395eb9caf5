import { changedLine, houses } from "./house-lines.ts";
import { House } from "./house-model.ts";
import { random } from "./random.ts";

/** Begin of every life, epoch ms. */
export const lifeBeginMs = Date.UTC(2026, 2, 3, 4, 0, 0);

/** One thing that happens to the gateway. Acts on an alarm name one of those that stand by `pick`, 0 to 1. */
export type LifeStep =
  | { readonly what: "message"; readonly atMs: number; readonly topic: string; readonly text: string }
  | { readonly what: "act"; readonly atMs: number; readonly act: Readonly<Record<string, unknown>> }
  | { readonly what: "alarm-act"; readonly atMs: number; readonly type: string; readonly pick: number }
  | { readonly what: "line"; readonly atMs: number; readonly yaml: string }
  | { readonly what: "restart"; readonly atMs: number; readonly downMs: number }
  | { readonly what: "tick"; readonly atMs: number };

/** A stretch of time, seconds since the life began: [fromS, toS). */
interface Stretch {
  readonly fromS: number;
  readonly toS: number;
}

const alarmActs = [
  "acknowledge",
  "acknowledge",
  "shelve",
  "unshelve",
  "reset",
  "reset",
  "out-of-service",
  "in-service",
  "stale",
] as const;

/** Nodes that send a pack each so many seconds, and say that their first probe compensates by itself. */
export interface SlowNodes {
  readonly everyS: number;
}

/**
 * A life of some hours, the same for the same seed: drums that are drawn from and fill, resin that is spent, a valve
 * that hangs, probes, nodes, network and gateway that fall silent, packs that come late, a keeper who acts.
 */
export function houseLife(seed: number, slow: SlowNodes | null = null): LifeStep[] {
  const draw = random(seed);
  const between = (least: number, greatest: number) => least + draw() * (greatest - least);
  const chance = (share: number) => draw() < share;
  const line = houses[seed % houses.length] as string;
  const lastS = Math.round(between(1.2, 2.5) * 3600);
  const stretch = (share: number, leastS: number, greatestS: number): Stretch | null => {
    const fromS = between(300, lastS);
    const toS = fromS + between(leastS, greatestS);
    return chance(share) ? { fromS, toS } : null;
  };
  const during = (one: Stretch | null, atS: number) => one !== null && atS >= one.fromS && atS < one.toS;

  const steps: { readonly atS: number; readonly step: LifeStep }[] = [];
  const ms = (atS: number) => lifeBeginMs + Math.round(atS * 1000);
  const add = (atS: number, step: { readonly what: LifeStep["what"] } & Record<string, unknown>) =>
    steps.push({ atS, step: { ...step, atMs: ms(atS) } as unknown as LifeStep });

  const spent = stretch(0.6, 4 * 3600, 4 * 3600);
  const changed = spent && chance(0.6) ? spent.fromS + between(900, 3000) : Number.POSITIVE_INFINITY;
  const house = new House({
    draw,
    spentFromS: spent?.fromS ?? Number.POSITIVE_INFINITY,
    changedAtS: changed,
    spentTo: between(6, 300),
    hangs: stretch(0.5, 1200, 4000),
    litres: between(80, 135),
  });
  const silences = {
    meter: stretch(0.4, 90, 1500),
    probe: stretch(0.3, 60, 900),
    press: stretch(0.3, 60, 1800),
    drums: stretch(0.3, 60, 1800),
  };
  const away = { press: stretch(0.4, 120, 2400), drums: stretch(0.3, 120, 2400) };
  const probeFault = chance(0.5) ? "over" : "zero";
  const restart = stretch(0.6, 5, 600);
  const restartAgain = stretch(0.2, 5, 60);
  const jitterS = chance(0.5) ? 0.4 : 3;
  const hasLabels = chance(0.8);

  if (restart) add(restart.fromS, { what: "restart", downMs: (restart.toS - restart.fromS) * 1000 });
  if (restartAgain && !during(restart, restartAgain.fromS))
    add(restartAgain.fromS, { what: "restart", downMs: 1000 });
  if (Number.isFinite(changed)) add(changed, { what: "act", act: { type: "medium-change", stage: "resin" } });
  if (chance(0.4)) {
    const how = (["limit", "drum-out", "channel-moved"] as const)[Math.floor(between(0, 3))] ?? "limit";
    const atS = between(900, lastS);
    add(atS, { what: "line", yaml: changedLine(line, how) });
    if (chance(0.7)) add(atS + between(10, 900), { what: "line", yaml: line });
  }
  for (let n = between(4, 14); n > 0; n -= 1) {
    const type = alarmActs[Math.floor(draw() * alarmActs.length)] as string;
    add(between(600, lastS), { what: "alarm-act", type, pick: draw() });
  }
  for (const act of keepersActs(between, chance)) add(between(300, lastS), { what: "act", act });

  const nodes = ["press", "drums"] as const;
  const state = new Map(nodes.map((node) => [node, { boot: 1, seq: 0, bornS: -60, wasOff: false }]));
  for (const node of nodes) add(0.1, presence(node, slow));
  const freeAtS = { press: 0, drums: 0 };
  for (let atS = 1; atS < lastS; ) {
    const stepS = slow?.everyS ?? (house.isBusy() ? 10 : 30);
    house.go(atS, stepS);
    for (const node of nodes) {
      const own = state.get(node) as { boot: number; seq: number; bornS: number; wasOff: boolean };
      if (during(silences[node], atS)) {
        own.wasOff = true;
        continue;
      }
      if (own.wasOff) Object.assign(own, { boot: own.boot + 1, seq: 0, bornS: atS - 2, wasOff: false });
      const records = house.records(node, {
        meter: !during(silences.meter, atS),
        probe: during(silences.probe, atS) ? probeFault : null,
        all: line,
      });
      if (records.length === 0) continue;
      own.seq += 1;
      if (hasLabels)
        Object.assign(records[0] as object, { boot: own.boot, seq: own.seq, up: atS - own.bornS });
      // What can't be sent waits, and comes in a burst, in order.
      const outage = [away[node], restart].find((one) => during(one ?? null, atS));
      const cameS = Math.max(outage ? outage.toS : atS + draw() * jitterS, freeAtS[node] + 0.02);
      freeAtS[node] = cameS;
      const topic = `drumlin/1/saltmarsh-house/${node}/readings`;
      const message = { what: "message" as const, topic, text: JSON.stringify(records) };
      add(cameS, message);
      if (chance(0.003)) add(cameS + 1, message);
    }
    atS += stepS;
  }
  add(Math.max(lastS, freeAtS.press, freeAtS.drums, restart?.toS ?? 0) + 1200, { what: "tick" });
  steps.sort((a, b) => a.atS - b.atS);
  return [{ what: "line", atMs: lifeBeginMs, yaml: line }, ...steps.map(({ step }) => step)];
}

function presence(node: string, slow: SlowNodes | null) {
  const said = slow
    ? { period_s: slow.everyS, channels: [{ name: "ec-1", unit: "S/m", at25: true }] }
    : { period_s: 20 };
  return {
    what: "message" as const,
    topic: `drumlin/1/saltmarsh-house/${node}/presence`,
    text: JSON.stringify({ state: "online", boot: 1, firmware: "0.1", protocol: 1, ...said }),
  };
}

function* keepersActs(
  between: (least: number, greatest: number) => number,
  chance: (share: number) => boolean,
): Iterable<Record<string, unknown>> {
  const drum = chance(0.5) ? "mix" : "fresh";
  if (chance(0.5)) yield { type: "release", drum: "mix", reason: chance(0.5) ? "dumped" : "hand-test" };
  if (chance(0.4)) yield { type: "fill-started", drum };
  if (chance(0.4)) yield { type: "fill-stopped", drum };
  if (chance(0.3)) {
    const read = between(300, 400);
    yield {
      type: "calibration",
      channel: "press/ec-1",
      points: [{ read, true: read * between(0.95, 1.05) }],
    };
  }
  if (chance(0.1)) yield { type: "calibration", channel: "press/none", points: [{ read: 1, true: 2 }] };
  if (chance(0.2)) yield { type: "medium-change", stage: "none" };
  if (chance(0.1)) yield { type: "fill-started", drum: "none" };
  if (chance(0.3)) yield { type: "note", text: "looked at the float" };
  if (chance(0.3)) {
    const untilMs = lifeBeginMs + Math.round(between(1800, 12_000)) * 1000;
    const subject = chance(0.7) ? { kind: "stage", id: "resin" } : { kind: "drum", id: "mix" };
    yield { type: "work-on", subject, untilMs };
  }
}
