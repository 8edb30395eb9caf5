// Slots at rest against slots that are judged at each reading: the same lives through two paths, the second of conditions
// that never say when they are calm.
import { type AnyCondition, conditionRows } from "@drumlin/gateway/alarms";
import fc from "fast-check";
import { expect, it } from "vitest";
import { calm, type Event, flowing, Lived, life, lived, online, runs, unmetered } from "./calm-lives.ts";

/** Conditions that are judged at each reading. */
const restless: readonly AnyCondition[] = conditionRows.map((row) => ({ ...row, calmWithin: () => null }));

/** Lives that chance seldom finds. */
const seldom: readonly (readonly Event[])[] = [
  // What resin is fed with is followed, and yet too old to go by.
  [
    { ...online, node: "press", periodS: 400 },
    calm("press"),
    calm("tank"),
    calm("tank", { apartMs: 30_000 }),
  ],
  // The feed falls in a pack in which what comes out was heard before it.
  [
    flowing(),
    calm("press", { unusual: [[1, 7]] }),
    flowing({ times: 1 }),
    ...[0, 1].map(() =>
      calm("press", {
        times: 1,
        unusual: [
          [1, 7],
          [2, 3],
        ],
      }),
    ),
  ],
  // The feed had fallen, as is heard late.
  [
    calm("press"),
    flowing({ unusual: [runs, [0, 5]] }),
    calm("press", { times: 2, lagMs: 70_000, unusual: [[2, 3]] }),
    flowing({ times: 2, unusual: [runs, [0, 5]] }),
  ],
  // Water comes back while everything stands.
  [
    { ...online, node: "tank" },
    calm("tank", { beside: [] }),
    calm("tank", { times: 90, unusual: [[0, 6]], beside: [] }),
  ],
  // More comes out than is fed in, by little.
  [
    unmetered,
    { ...online, node: "tank" },
    calm("tank", { beside: [] }),
    calm("tank", { unusual: [[0, 6]], beside: [] }),
  ],
  // Warmer or colder than usual, or worse than it was, and not yet past a limit.
  [unmetered, calm("tank", { beside: [] }), calm("tank", { times: 3, unusual: [[3, 2]], beside: [] })],
  [
    unmetered,
    { ...online, node: "tank" },
    calm("tank", { beside: [] }),
    calm("tank", { times: 3, unusual: [[0, 2]], beside: [] }),
  ],
  [unmetered, calm("tank", { beside: [] }), calm("tank", { times: 3, unusual: [[2, 2]], beside: [] })],
  // Just enough is kept back, until less comes in.
  [
    { ...online, node: "tank" },
    flowing({ times: 40, unusual: [runs, [0, 5]], beside: [] }),
    flowing({ times: 3, unusual: [runs, [0, 5]], beside: [[2, 2]] }),
  ],
  // A probe that was believed is not proven any more.
  [calm("press"), { ...online, node: "press", resolution: 0.001 }, calm("press")],
  // What comes out is said in a unit that is none of it.
  [calm("press"), calm("press", { times: 1, unusual: [[1, 8]] })],
];

it("tells and keeps the same as if each slot were judged at each reading", () => {
  fc.assert(
    fc.property(life, (events) => {
      expect(lived(events, conditionRows)).toEqual(lived(events, restless));
    }),
    {
      numRuns: Number(process.env.DRUMLIN_CALM_LIVES ?? 50),
      examples: seldom.map((events) => [[...events]]),
    },
  );
});

it("a calm life is judged a few times and not at each reading", () => {
  const judged = (rows: readonly AnyCondition[]) => {
    let count = 0;
    const counting = rows.map((row) => ({
      ...row,
      judge(look: Parameters<typeof row.judge>[0]) {
        count += 1;
        return row.judge(look);
      },
    }));
    const one = new Lived(counting);
    for (const node of ["press", "tank"] as const) one.live(calm(node, { times: 1000, noise: 0.02 }));
    return count;
  };
  expect(judged(conditionRows)).toBeLessThan(judged(restless) / 2);
});
