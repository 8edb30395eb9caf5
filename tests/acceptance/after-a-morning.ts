import { alarmCell, workCell } from "@drumlin/gateway/alarms";
import type { Outcome } from "@drumlin/gateway/app";
import { fillCell, floatCell, learnedCell, waterCell } from "@drumlin/gateway/fills";
import { proofCell } from "@drumlin/gateway/measurements";
import type { Composer, PathEntry } from "@drumlin/gateway/path";
import { nodeCell } from "@drumlin/gateway/readings";
import { endS } from "./a-morning.ts";
import { beginMs } from "./line-bench.ts";
import { nodeSays, pressPack } from "./node-says.ts";

/** What a person did or must see. */
export function seen({ board }: Composer) {
  const alarms = [...board.entries(alarmCell)].map(([key, alarm]) => [
    key,
    alarm.state,
    alarm.occurrence,
    alarm.acknowledgedBy,
    alarm.shelvedUntilMs,
  ]);
  const fresh = board.get(waterCell, "fresh");
  const mix = board.get(waterCell, "mix");
  const press = board.get(nodeCell, "press");
  return {
    alarms: alarms.sort(),
    hold: [mix?.verdict, mix?.reasons],
    released: [fresh?.verdict, fresh?.release],
    trips: board.get(learnedCell, "mix")?.tripsL,
    filling: board.get(fillCell, "fresh")?.id,
    proved: [
      board.get(proofCell, "fresh.stop")?.last?.result,
      board.get(floatCell, "fresh.stop")?.provedAtMs,
    ],
    work: [...board.entries(workCell)].sort(([a], [b]) => (a < b ? -1 : 1)),
    node: [press?.online, press?.firmware, press?.periodMs, press?.channels.length],
  };
}

/** The path goes on: what the same packs mean, and what a person can still do. */
export function goOn(composer: Composer) {
  const out: Outcome[] = [];
  let seq = 1_000_000;
  const push = (entry: object, atS: number) => {
    seq += 1;
    composer.push({ seq, receivedAt: beginMs + atS * 1000, ...entry } as PathEntry, (told) =>
      out.push(told as Outcome),
    );
  };
  const node = (name: string, records: object[], atS: number) =>
    push(nodeSays(name, "readings", records), atS);
  push({ kind: "start" }, endS + 40);
  for (let atS = endS + 45; atS < endS + 90; atS += 5) {
    node("press", pressPack({ kappa: 8, flowLPerMin: 0, celsius: [18, 25] }), atS);
    node(
      "drums",
      [
        { n: "stop", vb: true },
        { n: "level", u: "m3", v: 0.18 },
      ],
      atS,
    );
    node(
      "shelf",
      [
        { n: "stop", vb: false },
        { n: "floor", vb: false },
      ],
      atS,
    );
  }
  const kappaOf = (point: string) =>
    out.findLast(
      (told) =>
        told.kind === "measurement" && told.quantity === "conductivity25" && told.subject.id === point,
    );
  push({ kind: "act", act: { id: "stop", by: "keeper", type: "fill-stopped", drum: "fresh" } }, endS + 91);
  const done = out.findLast((told) => told.kind === "act-done");
  return {
    ...seen(composer),
    kappa: [kappaOf("supply"), kappaOf("after-resin")].map(
      (told) => told?.kind === "measurement" && told.value,
    ),
    stopped: done?.kind === "act-done" && done.refused,
    filled: out
      .filter((told) => told.kind === "fill" && told.drum === "fresh")
      .map((told) => told.kind === "fill" && [told.id, told.end]),
  };
}
