import { mkdtempSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { ballastAt } from "../../../gateway/src/app/ballast.ts";
import { createSpaceKeeper } from "../../../gateway/src/app/space-keeper.ts";

const mb = 2 ** 20;

/** A disk whose free space a test sets, of 32 GB if nothing is said; what is let go is told in order. */
function disk(allBytes = 32_000 * mb) {
  const done: string[] = [];
  const state = { freeBytes: 4000 * mb, days: 2, hasBallast: false, isRead: false };
  const told: string[] = [];
  const keeper = createSpaceKeeper({
    disk: async () => ({ freeBytes: state.freeBytes, allBytes }),
    ballast: {
      isThere: () => state.hasBallast,
      lay: async () => {
        state.hasBallast = true;
        done.push("ballast laid");
      },
      remove: () => {
        state.hasBallast = false;
        done.push("ballast");
      },
    },
    journal: { shorten: (keepMs) => done.push(`journal beyond ${keepMs / 3_600_000} h`) },
    series: {
      freeOldest: async () => {
        if (state.isRead) return null;
        done.push("oldest day");
        state.days -= 1;
        return state.days < 0 ? 0 : 5 * mb;
      },
    },
    log: (message) => told.push(message),
  });
  return { state, done, told, look: () => keeper.look() };
}

it("short of space: the ballast goes first, then the journal beyond a day, then the oldest readings; it ends where nothing is left", async () => {
  const { state, done, look } = disk();
  await look();
  state.freeBytes = 65 * mb;
  await look();
  expect(done).toEqual(["ballast laid"]);
  state.freeBytes = 60 * mb;
  for (let n = 0; n < 7; n += 1) await look();
  expect(done.slice(1)).toEqual(["ballast", "journal beyond 24 h", "oldest day", "oldest day", "oldest day"]);
});

it("while another program reads the readings none go, which is said once; then it goes on", async () => {
  const { state, done, told, look } = disk();
  [state.freeBytes, state.isRead] = [60 * mb, true];
  for (let n = 0; n < 5; n += 1) await look();
  expect(done).toEqual(["journal beyond 24 h"]);
  expect(told.filter((message) => message.includes("another program reads the readings"))).toHaveLength(1);
  state.isRead = false;
  for (let n = 0; n < 4; n += 1) await look();
  expect(done.slice(1)).toEqual(["oldest day", "oldest day", "oldest day"]);
  expect(told.at(-1)).toContain("nothing more to let go");
});

it("with room again all begins anew; without plenty of it no ballast is laid", async () => {
  const { state, done, look } = disk();
  state.freeBytes = 10 * mb;
  for (let n = 0; n < 5; n += 1) await look();
  state.freeBytes = 255 * mb;
  await look();
  expect(done).not.toContain("ballast laid");
  state.freeBytes = 300 * mb;
  await look();
  expect(done.at(-1)).toBe("ballast laid");
  state.freeBytes = 10 * mb;
  await look();
  await look();
  expect(done.slice(-2)).toEqual(["ballast", "journal beyond 24 h"]);
});

it("a little over the bound nothing begins anew: it would let go and keep by turns", async () => {
  const { state, done, look } = disk();
  for (const freeBytes of [60, 255, 60]) {
    state.freeBytes = freeBytes * mb;
    await look();
  }
  expect(done).toEqual(["journal beyond 24 h", "oldest day"]);
});

it("on a disk of 1 GB no ballast is laid under 256 MB of room", async () => {
  const { state, done, look } = disk(1000 * mb);
  state.freeBytes = 255 * mb;
  await look();
  expect(done).toEqual([]);
  state.freeBytes = 256 * mb;
  await look();
  expect(done).toEqual(["ballast laid"]);
});

it("what is let go is told with what is left, in whole MB", async () => {
  const { state, told, look } = disk();
  state.freeBytes = 60.9 * mb;
  await look();
  expect(told).toEqual(["disk: 60 MB are left on the disk: of what came in, only the last day is kept"]);
});

it("what is held back was cut off while it was laid: it is laid again, whole", async () => {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-ballast-"));
  const path = join(folder, "ballast");
  const ballast = ballastAt(path, 200_001);
  expect(ballast.isThere()).toBe(false);
  writeFileSync(path, "cut");
  expect(ballast.isThere()).toBe(false);
  await ballast.lay();
  expect([ballast.isThere(), statSync(path).size]).toEqual([true, 200_001]);
  ballast.remove();
  expect(ballast.isThere()).toBe(false);
  rmSync(folder, { recursive: true });
});
