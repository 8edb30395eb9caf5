import { createWaterStage, type DrumWater } from "@drumlin/gateway/fills";
import { readLine } from "@drumlin/gateway/line";
import { describe, expect, it } from "vitest";

const yaml = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 } }
stages: { resin: { kind: resin, from: supply, to: after-resin } }
drums: { mix: { volume: 200 L, fed_by: after-resin, control: manual, holds: salt } }
`;
const nowMs = Date.UTC(2026, 2, 3, 4);
const ctx = {
  nowMs,
  entry: { seq: 1, receivedAt: nowMs },
  get: () => undefined,
  entries: () => [][Symbol.iterator](),
  put: () => {},
  tell: () => {},
  wakeAt: () => {},
};

/** The stage with its line, nothing known yet. */
function stage() {
  const read = readLine(yaml);
  if (!read.ok) throw new Error("the line can't be read");
  const made = createWaterStage();
  made.useLine?.(read.line, null, ctx as never);
  return made;
}

const held = (reasons: readonly string[], more: Partial<DrumWater> = {}): DrumWater => ({
  kind: "drum-water",
  drum: "mix",
  verdict: "hold",
  sinceMs: nowMs - 1000,
  reasons,
  blend25: null,
  unwatched: 0,
  atMs: nowMs - 1000,
  ...more,
});

/** The stage that begins with a word of the logbook; its row of that drum. */
function seeded(water: DrumWater) {
  const made = stage();
  made.seed?.({ last: (kind) => (kind === "drum-water" ? [water] : []), list: () => [] }, ctx as never);
  const [row] = [...made.dirty()];
  return { made, word: row?.[1] as { heldFor: unknown[]; heldSinceMs: number | null } };
}

const release = {
  id: "act-1",
  by: "keeper",
  type: "release",
  drum: "mix",
  reason: "other",
  note: "looked",
} as const;
const refusal = (made: ReturnType<typeof stage>) => made.admit?.(release, ctx as never)?.message ?? null;
const notReady = "It is salt water that is not ready: say so once it is, or empty it.";

describe("reasons are codes with what stands in them, whatever is written down as a sentence", () => {
  it("a word of the logbook is read back into its codes", () => {
    const { word, made } = seeded(held(["water over the limit of 5 µS/cm came in (After resin)"]));
    expect(word.heldFor).toEqual([{ code: "over-limit", values: { limit: 5, point: "After resin" } }]);
    expect(word.heldSinceMs).toBe(nowMs - 1000);
    expect(refusal(made)).toBeNull();
  });

  it("salt water that is not ready is no hold that a person has to end, when the state is lost", () => {
    const { word, made } = seeded(
      held(["salt is in it and it is not ready", "its probe is not heard"], { notReady: true }),
    );
    expect(word.heldFor).toEqual([]);
    expect(word.heldSinceMs).toBeNull();
    expect(refusal(made)).toBe(notReady);
  });

  it("of a hold and a batch that is not ready together, the hold alone is kept", () => {
    const { word } = seeded(
      held(["the blend is 12 µS/cm, over this drum's 10", "salt is in it and it is not ready"]),
    );
    expect(word.heldFor).toEqual([{ code: "blend", values: { blend: 12, band: 10 } }]);
  });

  it("a sentence that no code has stays as it was written", () => {
    const { word } = seeded(held(["somebody poured soap in"]));
    expect(word.heldFor).toEqual([{ code: "as-written", values: { text: "somebody poured soap in" } }]);
  });

  it("rows of the version before, whose reasons are sentences, are read", () => {
    const made = stage();
    const before = (kind: string, heldFor: readonly string[]) =>
      new Map([
        [
          "mix",
          {
            book: { base: {}, since: {}, isTight: false },
            heldFor,
            undo: null,
            told: { verdict: "hold", sinceMs: nowMs, kind },
          },
        ],
      ]);
    made.load(before("not-ready salt is in it and it is not ready", []), 1, ctx as never);
    expect(refusal(made)).toBe(notReady);
    made.load(before("hold water over the limit of # µS/cm came in (After resin)", ["x"]), 1, ctx as never);
    expect(refusal(made)).toBeNull();
  });
});
