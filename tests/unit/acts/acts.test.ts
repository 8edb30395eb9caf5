import {
  type Act,
  type ActBase,
  acts,
  defineAct,
  readAct,
  subjectOfAct,
  whyUnread,
} from "@drumlin/gateway/acts";
import { describe, expect, it } from "vitest";
import { z } from "zod";

/** What people send, and what becomes of it; at 1000 ms. */
const sent: readonly {
  readonly path: string;
  readonly params?: Readonly<Record<string, string>>;
  readonly body: object;
  readonly act: object;
  readonly subject: string;
}[] = [
  ...["acknowledge", "unacknowledge", "unshelve", "reset", "out-of-service", "in-service"].map((type) => ({
    path: `/api/alarms/{key}/${type}`,
    params: { key: "floor-wet:room" },
    body: { occurrence: "7", note: "seen to" },
    act: { type, key: "floor-wet:room", occurrence: "7", note: "seen to" },
    subject: "floor-wet:room",
  })),
  {
    path: "/api/alarms/{key}/shelve",
    params: { key: "floor-wet:room" },
    body: { occurrence: "7", minutes: 2 },
    act: { type: "shelve", key: "floor-wet:room", occurrence: "7", untilMs: 121_000, oneShot: false },
    subject: "floor-wet:room",
  },
  {
    path: "/api/drums/{id}/release/undo",
    params: { id: "mix" },
    body: {},
    act: { type: "release-undo", drum: "mix" },
    subject: "mix",
  },
  {
    path: "/api/drums/{id}/release",
    params: { id: "mix" },
    body: { reason: "hand-test", value25UsPerCm: 4.5 },
    act: { type: "release", drum: "mix", reason: "hand-test", value25UsPerCm: 4.5 },
    subject: "mix",
  },
  {
    path: "/api/drums/{id}/fill",
    params: { id: "mix" },
    body: { do: "stop" },
    act: { type: "fill-stopped", drum: "mix" },
    subject: "mix",
  },
  {
    path: "/api/drums/{id}/batch",
    params: { id: "mix" },
    body: { step: "salted", kg: 6.3, lot: "A-117" },
    act: { type: "batch", drum: "mix", step: "salted", kg: 6.3, lot: "A-117" },
    subject: "mix",
  },
  {
    path: "/api/drums/{id}/supply-closed",
    params: { id: "mix" },
    body: {},
    act: { type: "supply-closed", drum: "mix" },
    subject: "mix",
  },
  {
    path: "/api/calibrations",
    body: { channel: "press/ec-1", points: [{ read: 1, true: 2 }], validFrom: "1970-01-01T00:00:05Z" },
    act: { type: "calibration", channel: "press/ec-1", points: [{ read: 1, true: 2 }], validFromMs: 5000 },
    subject: "press/ec-1",
  },
  {
    path: "/api/media",
    body: { stage: "resin", volumeL: 20 },
    act: { type: "medium-change", stage: "resin", volumeL: 20 },
    subject: "resin",
  },
  {
    path: "/api/hand-tests",
    body: { place: { kind: "point", id: "after-carbon" }, what: "total-chlorine", value: 0.02, below: true },
    act: {
      type: "hand-test",
      place: { kind: "point", id: "after-carbon" },
      what: "total-chlorine",
      value: 0.02,
      below: true,
    },
    subject: "after-carbon",
  },
  {
    path: "/api/work-done",
    body: { kind: "drum", id: "mix" },
    act: { type: "work-done", subject: { kind: "drum", id: "mix" } },
    subject: "mix",
  },
  {
    path: "/api/proof-tests",
    body: { float: "mix.stop", method: "bucket" },
    act: { type: "proof-start", float: "mix.stop", method: "bucket" },
    subject: "mix.stop",
  },
  {
    path: "/api/proof-tests/{float}/cancel",
    params: { float: "mix.stop" },
    body: {},
    act: { type: "proof-cancel", float: "mix.stop" },
    subject: "mix.stop",
  },
  {
    path: "/api/proof-tests/{float}/turn",
    params: { float: "mix.stop" },
    body: { test: "mix.stop@5" },
    act: { type: "proof-turn", float: "mix.stop", test: "mix.stop@5" },
    subject: "mix.stop",
  },
  { path: "/api/notes", body: { text: "salt came" }, act: { type: "note", text: "salt came" }, subject: "" },
  {
    path: "/api/work",
    body: { kind: "drum", id: "mix", minutes: 1 },
    act: { type: "work-on", subject: { kind: "drum", id: "mix" }, untilMs: 61_000 },
    subject: "mix",
  },
];

describe("every kind of act", () => {
  it("is sent here", () => {
    expect(sent.map(({ path }) => path).sort()).toEqual(acts.map(({ path }) => path).sort());
  });

  it.each(sent)("$path: what is sent becomes an act, and is the same when it was stored", (one) => {
    const kind = acts.find(({ path }) => path === one.path);
    const body = kind?.schema.parse(one.body);
    const given = kind?.given({ body, params: one.params ?? {}, nowMs: 1000 });
    expect(given).toEqual(one.act);
    const act = { ...given, id: "a", by: "Mara" } as Act;
    const read = readAct(JSON.parse(JSON.stringify(act)));
    expect(read).toEqual(act);
    expect(whyUnread(read)).toBeNull();
    expect(subjectOfAct(read)).toBe(one.subject);
  });

  it.each(sent)("$path: one that lost what it needs is not taken for one", ({ act }) => {
    const { type } = act as { type: string };
    expect(whyUnread(readAct({ type, id: "a", by: "Mara" }))).toMatch(/\w/);
  });
});

describe("a stored act that can't be read", () => {
  it("keeps its id, who and type, and says why; copies of it too", () => {
    const read = readAct({ type: "weigh", id: "w", by: "Mara", kg: 3 });
    expect(read).toMatchObject({ type: "weigh", id: "w", by: "Mara", kg: 3 });
    expect(whyUnread(read)).toBe("this version knows no such act");
    expect(whyUnread({ ...read })).toBe("this version knows no such act");
    expect(JSON.parse(JSON.stringify(read))).toEqual({ type: "weigh", id: "w", by: "Mara", kg: 3 });
    expect(subjectOfAct(read)).toBe("");
  });

  it.each([[null], [7], ["note"], [[]], [{}], [{ type: "constructor" }], [{ type: 3, id: 4 }]])(
    "%j is one",
    (stored) => {
      expect(whyUnread(readAct(stored))).not.toBeNull();
    },
  );

  it("names the field that is wrong", () => {
    expect(
      whyUnread(readAct({ type: "shelve", id: "a", by: "b", key: "k", occurrence: "1", untilMs: "soon" })),
    ).toMatch(/^untilMs: /);
  });
});

describe("an act of an earlier version", () => {
  // As the first version that knew each of them stored it.
  const occurrence = { key: "resin-breakthrough:after-resin", occurrence: "812.0" };
  it.each([
    ...["acknowledge", "unacknowledge", "unshelve", "reset", "out-of-service", "in-service"].map((type) => ({
      type,
      ...occurrence,
    })),
    { type: "shelve", ...occurrence, untilMs: 5000 },
    { type: "work-on", subject: { kind: "stage", id: "resin" }, untilMs: 5000 },
    { type: "calibration", channel: "press/ec-1", points: [{ read: 1, true: 2 }] },
    { type: "medium-change", stage: "resin" },
    { type: "medium-change", stage: "resin", medium: "mixed bed", volumeL: 2, capacityEq: 1.2, cost: 40 },
    { type: "note", text: "salt came" },
    ...["hand-test", "dumped", "diluted", "other"].map((reason) => ({
      type: "release",
      drum: "mix",
      reason,
    })),
    { type: "fill-started", drum: "mix" },
    { type: "fill-stopped", drum: "mix" },
  ])("$type is read as it was stored: %j", (stored) => {
    const act = { ...stored, id: "a", by: "Mara", validFromMs: 400, note: "seen to" };
    expect(readAct(act)).toEqual(act);
    expect(whyUnread(readAct(act))).toBeNull();
  });

  it.each([
    [{ type: "proof-test", float: "mix.stop", how: "lifted" }, /watched/],
    [{ type: "assign", channel: "press/ec-3", to: "points.supply" }, /line file/],
  ])("%j counts no more, and what stands for it is said", (stored, why) => {
    expect(whyUnread(readAct({ ...stored, id: "a", by: "Mara" }))).toMatch(why);
  });

  interface Weigh extends ActBase {
    readonly type: "weigh";
    readonly grams: number;
  }
  const weigh = defineAct<Weigh, { grams: number }>({
    types: ["weigh"],
    path: "/api/weights",
    role: "operator",
    summary: "Weights",
    answer: "nothing",
    schema: z.object({ grams: z.number() }),
    given: ({ body }) => ({ type: "weigh", grams: body.grams }),
    stored: { grams: z.number() },
    upcast: ({ kg, ...rest }) => (typeof kg === "number" ? { ...rest, grams: kg * 1000 } : rest),
    subject: () => "",
  });

  it("is brought to the present form, and then checked", () => {
    const stored = { type: "weigh", id: "w", by: "Mara" };
    expect(weigh.read({ ...stored, kg: 3 })).toEqual({ ...stored, grams: 3000 });
    expect(weigh.read({ ...stored, grams: 5, scale: "old" })).toEqual({ ...stored, grams: 5, scale: "old" });
    expect(weigh.read({ ...stored, kg: "three" })).toBeInstanceOf(Error);
  });
});
