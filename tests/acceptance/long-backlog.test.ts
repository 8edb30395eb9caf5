// Nodes or the router away for hours, with several fills and a node's new start among what waited. What comes late goes
// into fills, trips, litres and words; nobody is called for what is over. Written down before the first run.
import { createPipeline, type Outcome } from "@drumlin/gateway/app";
import type { Fill } from "@drumlin/gateway/fills";
import { describe, expect, it } from "vitest";
import { createHouse } from "../detection/house.ts";
import { kitOf, lineOf } from "../detection/kits.ts";

const beginMs = Date.UTC(2026, 2, 3);
const hourS = 3600;
/** The nodes start anew at 3 h. */
const [fromS, toS] = [1.75 * hourS, 4.5 * hourS];
const silences = ["site-silent", "node-silent", "watch-lost"];

type Message = ReturnType<ReturnType<typeof createHouse>["nodes"]["messages"]>[number];
const asSent = (message: Message) => message;
/** 80 uS/cm behind the resin. */
const spoilt = (message: Message): Message => ({
  ...message,
  payload: new TextEncoder().encode(
    new TextDecoder().decode(message.payload).replace(/("n":"ec-2"[^}]*"v":)[^,}]+/, "$10.008"),
  ),
});

function live(name: string, isAway: (node: string) => boolean, kept: (message: Message) => Message = asSent) {
  const kit = kitOf(name);
  const house = createHouse({
    kit,
    seed: 2,
    faults: [],
    fromS: 0,
    hours: [0, 24],
    changes: false,
    drawsEndS: null,
    periodS: 15,
  });
  const { model, nodes } = house;
  const pipeline = createPipeline();
  const fills = new Map<string, Fill>();
  const calls: string[] = [];
  const words: string[] = [];
  const held: Message[] = [];
  let seq = 0;
  const take = (outcome: Outcome) => {
    if (outcome.kind === "drum-water") words.push(outcome.verdict);
    if (outcome.kind === "fill") fills.set(outcome.id, outcome);
    if (outcome.kind === "alarm" && outcome.annunciated)
      calls.push(`${outcome.alarm.condition} ${outcome.alarm.attention}`);
  };
  const push = (entry: object) => {
    seq += 1;
    const receivedAt = beginMs + model.drum.nowS * 1000;
    pipeline.push({ seq, receivedAt, ...entry } as Parameters<typeof pipeline.push>[0], take);
  };
  push({ kind: "start", version: "test", instance: "test" });
  push({ kind: "line", yaml: lineOf(kit) });
  while (model.drum.nowS < toS + 600) {
    const { nowS } = model.drum;
    for (const message of nodes.messages()) {
      if (nowS >= fromS && nowS < toS && isAway(message.node)) held.push(kept(message));
      else push({ kind: "message", topic: message.topic, payload: message.payload });
    }
    if (nowS === toS) for (const { topic, payload } of held) push({ kind: "message", topic, payload });
    if (nowS === 600)
      push({
        kind: "act",
        act: { id: "a", by: "k", type: "release", drum: "mix", reason: "hand-test", value25UsPerCm: 0.4 },
      });
    const dueMs = pipeline.nextDeadline();
    if (dueMs !== null && dueMs <= beginMs + nowS * 1000) push({ kind: "tick" });
    house.step();
  }
  const isIn = (startS: number) => startS > fromS + 60 && startS < toS - 900;
  return {
    truth: model.fills.filter(({ startS }) => isIn(startS)),
    told: [...fills.values()]
      .filter(({ startedAtMs, withdrawn }) => !withdrawn && isIn((startedAtMs - beginMs) / 1000))
      .sort((a, b) => a.startedAtMs - b.startedAtMs),
    calls: calls.filter((call) => !silences.some((name) => call.startsWith(name))),
    words,
  };
}

it("bad water that the press room's node had kept: nobody says `use` once it is known", () => {
  const { told, words } = live("float", (node) => node === "press", spoilt);
  expect(told.every(({ mean25 }) => mean25 !== null && mean25 > 75)).toBe(true);
  const later = words.slice(words.indexOf("unknown", words.indexOf("use")));
  // A hold is told again where the blend has become a further reason for it.
  expect(later.filter((word, index) => word !== later[index - 1])).toEqual(["unknown", "hold"]);
});

describe.each(["meter+level", "meter", "float"])("several fills in one backlog: %s", (kit) => {
  it.each([
    ["the router", () => true],
    ["the drum's node alone", (node: string) => node === "drums"],
    ["the press room's node alone", (node: string) => node === "press"],
  ])(
    "%s was away for hours: each fill once, where it was; nobody is called for what is over",
    (who, isAway) => {
      const { truth, told, calls, words } = live(kit, isAway);
      expect(truth.length).toBeGreaterThanOrEqual(3);
      expect(told).toHaveLength(truth.length);
      const isCounted = kit !== "float";
      for (const [index, { startS, litres }] of truth.entries()) {
        const fill = told[index];
        expect(Math.abs(((fill?.startedAtMs ?? 0) - beginMs) / 1000 - startS), `fill ${index}`).toBeLessThan(
          45,
        );
        // A level counts where its meter was away: within what nine in ten readings of it allow.
        // A float alone knows what fits between release and trip, and how long it took: its own, not the next one's.
        expect(Math.abs((fill?.litres ?? 0) / litres - 1), `fill ${index}`).toBeLessThan(
          isCounted ? 0.04 : 0.1,
        );
        // Its trip stands at its end, or is not known: it is never another fill's.
        const trippedAtMs = fill?.trippedAtMs ?? null;
        if (trippedAtMs !== null) {
          expect(trippedAtMs).toBeGreaterThan(fill?.startedAtMs ?? 0);
          expect(trippedAtMs).toBeLessThan((fill?.endedAtMs ?? 0) + 60_000);
        }
      }
      // What a float said while its meter was away is not kept: only its last trip finds its fill.
      if ((who.startsWith("the press") && kit !== "meter") || !isCounted)
        expect(new Set(told.map(({ end }) => end))).toEqual(new Set(["float-tripped"]));
      expect(calls).toEqual([]);
      // Live it stays careful: the derivation that late packs start computes it again.
      expect(["use", "unknown"]).toContain(words.at(-1));
      // Where the float alone tells of fills, every one was seen from release to trip, and all of its water.
      if (isCounted) return;
      expect(told.every(({ watched }) => watched > 0.98)).toBe(true);
      expect(words.at(-1)).toBe("use");
    },
  );
});
