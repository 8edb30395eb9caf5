import { createWorldFacts } from "@drumlin/gateway/app";
import type { NewEntry } from "@drumlin/gateway/journal";
import { expect, it } from "vitest";

function bench() {
  const written: unknown[] = [];
  const at = { ms: 0, fails: false };
  const world = createWorldFacts(
    {
      append: (entry: NewEntry) => {
        if (at.fails) return Promise.reject(new Error("full"));
        written.push(entry.kind === "world" ? entry.value : entry.kind);
        return Promise.resolve(written.length);
      },
    },
    () => at.ms,
  );
  const say = (value: number | boolean) => world.say({ part: "broker", fact: "connected", value });
  return { written, at, say, look: world.look };
}

it("a fact is written when it changes, at most each 10 s, and the latest wins", () => {
  const { written, at, say, look } = bench();
  for (at.ms = 0; at.ms < 30_000; at.ms += 1000) {
    say(at.ms < 12_000 ? Math.floor(at.ms / 1000) : 12);
    look();
  }
  expect(written).toEqual([0, 10, 12]);
});

it("what could not be written is written later", async () => {
  const { written, at, say, look } = bench();
  at.fails = true;
  say(true);
  await Promise.resolve();
  at.fails = false;
  at.ms = 10_000;
  look();
  expect(written).toEqual([true]);
});

it("facts of one part are told apart, and no more than 2,000 are followed", () => {
  const written: string[] = [];
  const world = createWorldFacts(
    {
      append: (entry) => {
        if (entry.kind === "world") written.push(entry.fact);
        return Promise.resolve(1);
      },
    },
    () => 0,
  );
  for (let n = 0; n < 3000; n += 1) world.say({ part: "broker", fact: `refused-${n}`, value: 1 });
  expect(written).toHaveLength(2000);
});
