import { expect, it } from "vitest";
import type { FrameGuard } from "../../../gateway/src/broker/frame-guard.ts";
import { Intake } from "../../../gateway/src/broker/intake.ts";

it("while there is no room a node is held, asks once, and goes on when there is again", async () => {
  let room: PromiseWithResolvers<void> | null = Promise.withResolvers();
  let asked = 0;
  const said: string[] = [];
  const guard = {
    hold: () => said.push("hold"),
    release: () => said.push("release"),
  } as unknown as FrameGuard;
  const intake = new Intake({
    rate: { packsPerSecond: 1e6, bytesPerSecond: 1e9, burstSeconds: 10 },
    now: () => 0,
    room() {
      asked += 1;
      return room?.promise ?? null;
    },
    onTooFast: () => {},
  });
  intake.join("press", guard);
  for (let packs = 0; packs < 3; packs += 1) intake.begin("press", 100);
  expect([said, asked]).toEqual([["hold"], 1]);
  const { promise, resolve } = room;
  room = null;
  resolve();
  await promise;
  expect(said).toEqual(["hold", "release"]);
  intake.begin("press", 100);
  expect([said, asked]).toEqual([["hold", "release"], 2]);
  room = Promise.withResolvers();
  intake.begin("press", 100);
  expect(said).toEqual(["hold", "release", "hold"]);
});
