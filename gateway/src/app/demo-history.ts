import {
  createRandom,
  createSimulatedNodes,
  createWaterLine,
  houseNodes,
  type NodeMessage,
} from "../simulator/index.ts";

const dayMs = 86_400_000;
const packEveryMs = 60_000;
const stepMs = 30_000;
const usualDays = 14;
const seed = 20_260;
const inFlight = 4000;

/** Fills of the mix drum begin at this hour (UTC), and last night's is over so long after. */
const nightHour = 22;
const nightOverMs = 4 * 3_600_000;

/** Begin of the last night whose fill is over at `endMs`, epoch ms: whatever the hour, last night is shown whole. */
function lastNightMs(endMs: number): number {
  const hourMs = nightHour * 3_600_000;
  return Math.floor((endMs - nightOverMs - hourMs) / dayMs) * dayMs + hourMs;
}

/**
 * A bed that lets about 2 % through after two weeks: what the fills bring doesn't depend on the bed, so a dry run
 * tells how large it must be (the logistic front gives 2 % at 3.9 widths, each 0.035 of the capacity, before its middle).
 */
function capacityMeq({ startMs, endMs, membrane }: Past): number {
  const water = createWaterLine({
    startMs,
    random: createRandom(seed),
    capacityMeq: 1e9,
    stuckNights: [lastNightMs(endMs)],
    membrane,
  });
  while (water.line.tMs + stepMs <= endMs) water.step(stepMs);
  return water.loadMeq() / (1 - 3.9 * 0.035);
}

interface Past {
  readonly startMs: number;
  readonly endMs: number;
  readonly membrane: boolean;
}

interface DemoOptions {
  readonly site: string;
  readonly endMs: number;
  readonly days?: number;
  readonly membrane?: boolean;
}

/** Two weeks (or `days`) of a simulated line, and the line as it stands at their end. */
export function createDemoLine({ site, endMs, days = usualDays, membrane = false }: DemoOptions) {
  const startMs = endMs - days * dayMs;
  const water = createWaterLine({
    startMs,
    random: createRandom(seed),
    capacityMeq: capacityMeq({ startMs, endMs, membrane }),
    stuckNights: [lastNightMs(endMs)],
    membrane,
  });
  const nodes = createSimulatedNodes({ site, water, boot: 41, startMs });
  // The press room's node lost its network for six hours four nights ago (23:00 to 05:00 UTC), and sent what it had kept.
  const midnightMs = Math.floor(endMs / dayMs) * dayMs - 3 * dayMs;
  const away = { fromMs: midnightMs - dayMs / 24, toMs: midnightMs + (5 * dayMs) / 24 };

  /** Gives the packs up to `untilMs()`: on a slow machine the time goes on while they are taken. */
  async function append(
    take: (topic: string, payload: Uint8Array, receivedAt: number) => Promise<number>,
    untilMs = () => endMs,
  ): Promise<number> {
    let packs = 0;
    let pending: Promise<number>[] = [];
    const held: NodeMessage[] = [];
    const send = (message: NodeMessage, atMs: number) => {
      packs += 1;
      pending.push(take(message.topic, message.payload, atMs));
    };
    for (const presence of nodes.presences(packEveryMs / 1000)) send(presence, startMs);
    while (water.line.tMs + packEveryMs <= untilMs()) {
      for (let ms = 0; ms < packEveryMs; ms += stepMs) water.step(stepMs);
      const atMs = water.line.tMs + 40;
      for (const node of houseNodes) {
        const message = nodes.pack(node);
        if (message.node === "press" && atMs >= away.fromMs && atMs < away.toMs) held.push(message);
        else {
          if (message.node === "press") for (const kept of held.splice(0)) send(kept, atMs);
          send(message, atMs);
        }
      }
      if (pending.length >= inFlight) {
        await Promise.all(pending);
        pending = [];
      }
    }
    await Promise.all(pending);
    return packs;
  }

  return { water, startMs, append };
}
