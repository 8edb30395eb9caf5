import { createLineBench } from "./line-bench.ts";

/** One of two drums behind a meter: what it holds, and what is done with its water, L/min at a time, s. */
export interface SharedDrum {
  readonly startL: number;
  readonly draw?: (atS: number) => number;
  /** What its float does, and its valve with it; else it follows the water. */
  readonly float?: (atS: number, wet: boolean) => boolean;
  readonly levelSays?: (atS: number, litres: number) => number;
}

const drumOf = (id: string) =>
  `${id}: { volume: 200 L, fed_by: supply, stop: { channel: drums/${id}, trips_at: 180 L, releases_at: 160 L }, level: { channel: drums/${id}-l, as: volume } }`;

/** Two drums with levels behind one meter, each of which fills at 4 L/min; what its nodes say each 10 s, that of the drums so much later. */
export function twoDrums(given: { readonly fresh: SharedDrum; readonly mix: SharedDrum }, drumsLaterS = 0) {
  const bench = createLineBench(`drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, flow: { channel: press/flow-1, taps: false } } }
drums: { ${drumOf("fresh")}, ${drumOf("mix")} }
`);
  const drums = Object.entries(given).map(([id, shared]) => ({
    id,
    shared,
    litres: shared.startL,
    wet: shared.startL >= 180,
    says: true,
    overAtS: null as number | null,
    /** What had run into it by each second, L. */
    cameL: [0],
  }));
  const step = (atS: number): number => {
    let flow = 0;
    for (const drum of drums) {
      if (drum.litres >= 180) drum.wet = true;
      else if (drum.litres <= 160) drum.wet = false;
      drum.says = drum.shared.float?.(atS, drum.wet) ?? drum.wet;
      const comes = drum.says ? 0 : 4;
      flow += comes;
      drum.cameL.push((drum.cameL.at(-1) as number) + comes / 60);
      drum.litres = Math.max(0, drum.litres + (comes - (drum.shared.draw?.(atS) ?? 0)) / 60);
      if (drum.litres > 200) drum.overAtS ??= atS;
      drum.litres = Math.min(200, drum.litres);
    }
    return flow;
  };
  return {
    bench,
    /** When its water first ran over the edge, s; null: never. */
    overAtS: (id: string) => drums.find((drum) => drum.id === id)?.overAtS ?? null,
    /** What ran into it between two times, L. */
    cameL(id: string, fromS: number, toS: number): number {
      const cameL = drums.find((drum) => drum.id === id)?.cameL ?? [];
      return (cameL[toS] ?? 0) - (cameL[fromS] ?? 0);
    },
    live(toS: number): void {
      for (let atS = 0; atS < toS; atS += 1) {
        const flow = step(atS);
        if (atS % 10 === 0)
          bench.node(
            "press",
            [
              { n: "ec-1", u: "S/m", v: 0.04 },
              { n: "flow-1", u: "m3/s", v: flow / 60_000 },
            ],
            atS,
          );
        if (atS % 10 !== drumsLaterS) continue;
        bench.node(
          "drums",
          drums.flatMap(({ id, shared, litres, says }) => [
            { n: id, vb: says },
            { n: `${id}-l`, u: "m3", v: (shared.levelSays?.(atS, litres) ?? litres) / 1000 },
          ]),
          atS,
        );
      }
    },
  };
}
