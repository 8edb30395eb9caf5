// What was called, by a model of the works of its own: acts in a wrong order, alarms that are silenced, people who sleep. Each
// row stands as it was written down before its first run, or says what was wrong with it.
import { after, hour, refill, type Told, waked, works } from "./fresh-drum.ts";
import { table } from "./scenario-table.ts";
import { startMs } from "./waterworks-gateway.ts";
import { drawn, fitted } from "./waterworks-line.ts";

const flood = { opens: (t: number, wet: boolean) => (t > 5000 ? true : !wet), ...refill };
table("acts in a wrong order", [
  [
    "a fill is ended that nobody began, begun twice, ended twice within a minute: nobody is called, the word stays",
    () => {
      const s = works({}, { opens: (t: number, wet: boolean) => t < 3200 && !wet }, fitted({ manual: true }));
      s.live(4000);
      s.act("fill-stopped", { drum: "mix" });
      s.act("fill-started", { drum: "mix" });
      s.act("fill-started", { drum: "mix" });
      s.live(4040);
      s.act("fill-stopped", { drum: "mix" });
      s.act("fill-stopped", { drum: "mix" });
      s.live(6000);
      return [s.word() === "hold", s.calledOfWater()];
    },
    [false, []],
  ],
  [
    "“I closed the supply” is said an hour before the stop fails: woken all the same",
    () => {
      const s = works({}, flood);
      s.live(3400);
      s.act("supply-closed", { drum: "mix" });
      s.live(9000);
      return waked(s);
    },
    ["drum-not-stopping:mix"],
  ],
  [
    "“I closed the supply” is said, and it runs on: the alarm stands and can't be reset",
    () => {
      const s = works({}, flood);
      s.live(7000);
      s.act("supply-closed", { drum: "mix" });
      s.live(7600);
      const standing = s.standing().includes("drum-not-stopping:mix");
      return [standing, s.on("reset", "drum-not-stopping:mix") !== null];
    },
    [true, true],
  ],
  [
    "work on the drum for 30 min, said twice: a valve that fails after it wakes",
    () => {
      const s = works({}, flood);
      for (const at of [3310, 3400]) {
        s.live(at);
        s.act("work-on", { subject: { kind: "drum", id: "mix" }, untilMs: startMs + (3400 + 1800) * 1000 });
      }
      s.live(9000);
      return waked(s);
    },
    ["drum-not-stopping:mix"],
  ],
  [
    "work on the resin does not silence the drum's stop",
    () => {
      const s = works({}, flood);
      s.live(4900);
      s.act("work-on", { subject: { kind: "stage", id: "resin" }, untilMs: startMs + 20_000e3 });
      s.live(9000);
      return waked(s);
    },
    ["drum-not-stopping:mix"],
  ],
  // It was expected to be refused: work that was forgotten is told of until somebody ends it.
  [
    "work whose time is over is ended by a person: taken once",
    () => {
      const s = works();
      s.act("work-on", { subject: { kind: "drum", id: "mix" }, untilMs: startMs + 3400e3 });
      s.live(3500);
      const done = () => s.act("work-done", { subject: { kind: "drum", id: "mix" } });
      return [done(), done() !== null];
    },
    [null, true],
  ],
  [
    "about a drum, a stage, a float, an alarm that are not there: refused, each",
    () => {
      const s = works();
      return [
        s.act("release", { drum: "gone", reason: "dumped" }),
        s.act("medium-change", { stage: "gone" }),
        s.act("proof-start", { float: "gone.stop", method: "lifted" }),
        s.act("proof-cancel", { float: "mix.stop" }),
        s.act("acknowledge", { key: "drum-low:gone", occurrence: "x" }),
        s.act("reset", { key: "", occurrence: "" }),
        s.act("calibration", { channel: "gone/ec-1", points: [{ read: 1, true: 1 }] }),
        s.act("supply-closed", { drum: "gone" }),
        s.act("batch", { drum: "gone", step: "ready" }),
        s.act("release-undo", { drum: "gone" }),
      ].filter((one) => one === null).length;
    },
    0,
  ],
  [
    "on an occurrence that is over: refused, and the one that stands is not seen by it",
    () => {
      const s = works(
        { out: (t) => (t > 3900 && (t < 6000 || t > 9000) ? 40 : 0.2) },
        { draw: drawn(4000, 1800, 41, 60) },
      );
      s.live(5000);
      const first = s.alarm("resin-breakthrough:after-resin");
      s.live(8900);
      s.on("acknowledge", "resin-breakthrough:after-resin");
      s.live(12_000);
      const second = s.alarm("resin-breakthrough:after-resin");
      return [
        first?.occurrence !== second?.occurrence,
        s.act("acknowledge", { key: first?.key, occurrence: first?.occurrence }) !== null,
        s.alarm("resin-breakthrough:after-resin")?.state,
      ];
    },
    [true, true, "unacknowledged"],
  ],
  [
    "a medium is changed before the bad water is judged: the new one starts anew, the hold of the drum stays",
    () => {
      const s = works({ out: (t) => (t > 3900 && t < 6000 ? 40 : 0.2) }, { draw: drawn(4000, hour, 41) });
      s.live(6500);
      const before = s.word();
      s.act("medium-change", { stage: "resin" });
      s.live(10_500);
      return [before, s.word(), s.alarm("resin-breakthrough:after-resin")?.active ?? false];
    },
    ["hold", "hold", false],
  ],
]);

const key = "resin-breakthrough:after-resin";
const bad = { out: after(3900, 40) };
const often = { draw: drawn(4000, 1500, 41) };
const callsOf = (s: Told, of = key) =>
  s.changes().filter(({ annunciated, alarm }) => annunciated && alarm.key === of).length;
table("alarms that are silenced", [
  [
    "shelved for 20 min, it stands longer: called again at the end",
    () => {
      const s = works(bad, often);
      s.live(5000);
      const first = callsOf(s);
      s.on("shelve", key, { untilMs: startMs + 6200e3 });
      s.live(6100);
      const shelved = callsOf(s);
      s.live(6400);
      return [first, shelved, callsOf(s)];
    },
    [1, 1, 2],
  ],
  [
    "shelved, and the reason is over before the end: at rest after it, and bad water later calls",
    () => {
      const s = works({ out: (t) => (t > 3900 && (t < 5000 || t > 12_000) ? 40 : 0.2) }, often);
      s.live(5000);
      s.on("shelve", key, { untilMs: startMs + 9000e3 });
      s.live(9600);
      const then = callsOf(s);
      s.live(15_000);
      return [then, callsOf(s) > then];
    },
    [1, true],
  ],
  [
    "shelved for one occurrence, which ends: the next calls within the time",
    () => {
      const s = works({ out: (t) => (t > 3900 && (t < 5000 || t > 9000) ? 40 : 0.2) }, often);
      s.live(5000);
      s.on("shelve", key, { untilMs: startMs + 20_000e3, oneShot: true });
      s.live(13_000);
      return callsOf(s);
    },
    2,
  ],
  [
    "shelved over a kill of the gateway: silent until its end, called after it",
    () => {
      const s = works(bad, often);
      s.live(5000);
      s.on("shelve", key, { untilMs: startMs + 7000e3 });
      s.live(5200);
      s.gateway.checkpoint();
      s.live(5400);
      s.gateway.kill("from-checkpoint", s.nowS());
      s.live(6900);
      const before = s.alarm(key)?.state;
      s.live(7200);
      return [before, s.alarm(key)?.state];
    },
    ["shelved", "unacknowledged"],
  ],
  [
    "a latched one is seen while it stands, and can't be reset while it runs; over, it is reset",
    () => {
      const s = works({}, { ...refill, leak: (t) => (t > 5000 && t < 9000 ? 2 : 0) });
      s.live(8000);
      const stop = "drum-not-stopping:mix";
      const seen = s.on("acknowledge", stop);
      const refused = s.on("reset", stop) !== null;
      s.live(10_000);
      const still = s.standing().includes(stop);
      const reset = s.on("reset", stop, { float: "unknown" });
      s.live(10_100);
      return [seen, refused, still, reset, s.standing().includes(stop)];
    },
    [null, true, true, null, false],
  ],
  [
    "seen as one for today, then worse: it calls (a silent node, whose drum begins to fill)",
    () => {
      const s = works({ away: (t, n) => n === "drums" && t > 3600 }, { draw: drawn(5000, 90_000, 21) });
      s.live(4000);
      const first = s.alarm("node-silent:drums");
      s.on("acknowledge", "node-silent:drums");
      s.live(6000);
      return [first?.attention, callsOf(s, "node-silent:drums") + callsOf(s, "watch-lost:mix") > 0];
    },
    ["today", true],
  ],
  [
    "out of service: judged on and told to nobody; back in service while it stands: called",
    () => {
      const s = works(bad, often);
      s.live(5000);
      s.on("out-of-service", key);
      s.live(8000);
      const silent = callsOf(s);
      s.on("in-service", key);
      s.live(8200);
      return [silent, callsOf(s) > silent];
    },
    [1, true],
  ],
  [
    "a breakthrough that was seen, and then grows: the same call, not a second one",
    () => {
      const s = works({ out: (t) => (t > 6500 ? 200 : t > 3900 ? 8 : 0.2) }, often);
      s.live(5500);
      const before = callsOf(s);
      s.on("acknowledge", key);
      s.live(9500);
      return [before, callsOf(s) > 1];
    },
    [1, false],
  ],
]);
