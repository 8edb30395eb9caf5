import {
  type AnyStage,
  Composer,
  type PathEntry,
  type PathEvent,
  type StageContext,
} from "@drumlin/gateway/path";
import { expect, it } from "vitest";

it("an entry that brings many steps holds what one of them told, and not what all did", () => {
  const kB = 128;
  const steps = 100_000;
  const begunBytes = process.memoryUsage().heapUsed;
  let heldBytes = 0;
  const ticking: AnyStage = {
    name: "ticking",
    version: 1,
    owns: [],
    reads: [],
    hears: { start: (_event: PathEvent, ctx: StageContext) => ctx.wakeAt("next", 1001) },
    wake(key, ctx) {
      ctx.tell({ kind: "ticked", what: new Array(kB).fill(ctx.nowMs) } as PathEvent);
      if (ctx.nowMs < 1000 + steps) ctx.wakeAt(key, ctx.nowMs + 1);
      else heldBytes = process.memoryUsage().heapUsed - begunBytes;
    },
    dirty: () => [],
    load: () => true,
  };
  const hearing = { ...ticking, name: "hearing", hears: { ticked: () => {} }, wake: () => {} };
  const composer = new Composer({ stages: [ticking, hearing], readLine: () => null });
  composer.push({ seq: 1, receivedAt: 1000, kind: "start" } as PathEntry, () => {});
  composer.pass(1000 + steps, () => {});
  // All of it would be 100 MB.
  expect(heldBytes).not.toBe(0);
  expect(heldBytes).toBeLessThan(60e6);
});
