import type { DrumView, LineView } from "@drumlin/gateway/contract";
import { afterEach, describe, expect, it } from "vitest";
import { line as shown } from "../../../monitor-ui/src/data/state.ts";
import { chlorineDecides, samplePlaces } from "../../../monitor-ui/src/format/chlorine-words.ts";
import { overBandWords, releaseWords } from "../../../monitor-ui/src/format/release-words.ts";

const rule = { failsFrom: 0.1, freeTells: false };
const read = (value: number, more: object = {}) =>
  chlorineDecides({ what: "total-chlorine", reading: "is", value, ...more }, rule);

describe("what a test of chlorine decides is said before it is saved", () => {
  it("it passes under 0.1 mg/L and fails from there on", () => {
    expect(read(0.09)).toMatchObject({ words: "Passes: under 0.1 mg/L.", isVain: false, warns: false });
    expect(read(0.1)).toMatchObject({ isVain: false, warns: true });
    expect(read(0.1).words).toContain("Fails: 0.1 mg/L or more");
  });
  it("“less than” of more than that decides nothing", () => {
    expect(read(0.1, { reading: "below" })).toMatchObject({ isVain: false, warns: false });
    expect(read(0.5, { reading: "below" })).toMatchObject({ isVain: true });
    expect(read(0.5, { reading: "below" }).words).toMatch(/^Decides nothing: .* 0\.1 mg\/L or more/);
  });
  it("free chlorine passes only where there can be no chloramine; found, it fails everywhere", () => {
    const free = { what: "free-chlorine", reading: "is" } as const;
    expect(chlorineDecides({ ...free, value: 0.02 }, rule).words).toContain("chloramine");
    expect(chlorineDecides({ ...free, value: 0.02 }, { ...rule, freeTells: true }).isVain).toBe(false);
    expect(chlorineDecides({ ...free, value: 0.3 }, rule)).toMatchObject({ isVain: false, warns: true });
  });
});

describe("where a sample is taken", () => {
  const stage = (kind: string, from: string, to: string) => ({
    id: to,
    title: to,
    kind,
    from,
    to,
    removal: null,
  });
  const line = {
    points: [{ id: "mid", title: "Between the carbon" }],
    drums: [],
    stages: [
      stage("carbon", "supply", "mid"),
      stage("carbon", "mid", "clean"),
      stage("resin", "clean", "pure"),
      stage("carbon", "supply", "other"),
    ],
  } as unknown as LineView;
  const drum = { id: "mix", title: "Mix", fedBy: "pure" } as DrumView;
  const placesIn = (here: LineView) => {
    shown.value = here;
    return samplePlaces(drum);
  };
  afterEach(() => {
    // Other files of this worker read the same state.
    shown.value = null;
  });
  it("behind the last carbon on the way to this drum first, then the one before it, then the drum; nowhere else", () => {
    expect(placesIn(line).map(({ words }) => words)).toEqual(["clean", "Between the carbon", "Mix"]);
  });
  it("without any carbon: in what fills it, or in the drum", () => {
    const bare = { ...line, stages: [stage("resin", "supply", "pure")] } as unknown as LineView;
    expect(placesIn(bare).map(({ value }) => value)).toEqual(["point pure", "drum mix"]);
  });
});

describe("a hand test over the drum's limit", () => {
  const drum = { water: { band25: 10 } } as DrumView;
  it("is said before it is signed, with the limit", () => {
    expect(overBandWords(40, drum)).toBe(
      "Over this drum's limit: 40.0 µS/cm, limit 10. If released, it says “use” all the same.",
    );
    expect(overBandWords(10, drum)).toBe("");
    expect(overBandWords(null, drum)).toBe("");
    expect(overBandWords(40, { water: { band25: null } } as DrumView)).toBe("");
  });
  it("stays in the trace", () => {
    const release = {
      by: "mara",
      how: "hand-test",
      at: "2026-03-03T07:31:00Z",
      note: null,
      value25: 40,
    } as const;
    const words = (over: object) => releaseWords({ ...release, ...over }, Date.parse(release.at));
    expect(words({ over25: 10 })).toContain("40.0 µS/cm, limit 10");
    expect(words({})).not.toContain("limit");
  });
});
