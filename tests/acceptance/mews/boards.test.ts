// Floats, supplies that are shared, boards and clocks, on a model of its own. Each expectation was written down from the design's text before the first run.
import { type Row, table } from "../scenario-table.ts";
import { two, wakes } from "./floats-lived.ts";
import { both, lineOf, meter, mews, so } from "./mews-house.ts";

const rows: readonly Row[] = [
  [
    "a float hung 7 or 12 L lower: trip-drift for today after five fills",
    () =>
      [7, 12].map((lower) => {
        const m = mews({ ...both, stop: "trips_at: 180 L" }).known();
        m.tank.trip -= lower;
        m.tank.release -= lower;
        m.fills(7, 26);
        return m.attention("trip-drift");
      }),
    ["today", "today"],
  ],
  [
    "one supply, two drums, both fill at once: each has its litres within 10 %, nobody is called",
    () => {
      const m = two(both);
      const fromS = m.nowS;
      const a = m.tanks.mix;
      const b = m.tanks.tub;
      if (a && b) {
        a.drawn = 20;
        b.drawn = 20;
      }
      m.for(90);
      if (a && b) {
        a.drawn = 0;
        b.drawn = 0;
      }
      m.until((x) => Object.values(x.tanks).every(({ isUp }) => isUp)).for(300);
      return [so(m.last("mix")?.litres, 27, 33), so(m.last("tub")?.litres, 27, 33), m.calls(fromS)];
    },
    ["so", "so", []],
  ],
  [
    "one supply, two drums: the float of one hangs while the other rests: that one is woken by its level before 190 L, the other never",
    () => {
      const m = two(both);
      const fromS = m.nowS;
      m.drawL(24).until((x) => !x.tank.isUp);
      m.tank.body = () => false;
      m.until((x) => wakes(x, fromS).length > 0, 7200);
      const keys = m.bench
        .standing()
        .filter(({ attention }) => attention === "wake")
        .map(({ key }) => key);
      return [so(m.tank.litres, 181, 190), keys];
    },
    ["so", ["drum-not-stopping:mix"]],
  ],
  [
    "one supply, meter only: the float of one hangs: told with less than 35 L more than it wanted, for that drum",
    () => {
      const m = two(meter);
      const fromS = m.nowS;
      m.drawL(24).until((x) => !x.tank.isUp);
      m.tank.body = () => false;
      m.until((x) => x.calls(fromS).length > 0, 7200);
      const keys = m.bench
        .standing()
        .filter(({ attention }) => attention === "tell")
        .map(({ key }) => key);
      return [m.tank.litres < 200, keys];
    },
    [true, ["fill-long:mix"]],
  ],
  [
    "one supply, meter only: the tub calls while the mix rests with a wet float: nothing of the mix",
    () => {
      const m = two(meter);
      const fromS = m.nowS;
      m.fills(2, 30, 400, "tub");
      return [m.calls(fromS), m.word("mix"), m.word("tub"), so(m.last("tub")?.litres, 29, 31)];
    },
    [[], "use", "use", "so"],
  ],
  [
    "one supply behind a membrane: bad water while only the tub calls holds the tub alone",
    () => {
      const m = two({ ...meter, medium: "membrane" });
      m.kappa = 90;
      m.fills(1, 24, 400, "tub");
      return [m.word("mix"), m.word("tub")];
    },
    ["use", "hold"],
  ],
  [
    "the gateway's clock leaps by 2 h in mid-fill, boards count on: one fill, 24 L, of its true length, nobody called",
    () => {
      const m = mews(meter).known();
      const fromS = m.nowS;
      m.drawL(24)
        .until((x) => !x.tank.isUp)
        .for(120);
      m.aheadS = 7200;
      m.until((x) => x.tank.isUp).for(600);
      return [m.calls(fromS), so(m.last()?.litres, 22, 26), m.last()?.end];
    },
    [[], "so", "float-tripped"],
  ],
  [
    "the gateway away for 3 min in mid-fill, packs lost: one fill, litres within 15 %, marked as estimated",
    () => {
      const m = mews(meter).known(3).fills(3, 48);
      const n = m.told().length;
      m.drawL(48)
        .until((x) => !x.tank.isUp)
        .for(240)
        .away(180)
        .until((x) => x.tank.isUp)
        .for(300);
      return [m.told().length - n, so(m.last()?.litres, 41, 55), m.last()?.estimated, m.last()?.end];
    },
    [1, "so", true, "float-tripped"],
  ],
  [
    "the same, packs kept: one fill, litres within 2 %",
    () => {
      const m = mews(meter).known(3).fills(3, 48);
      const n = m.told().length;
      m.drawL(48)
        .until((x) => !x.tank.isUp)
        .for(240)
        .away(180, "kept")
        .until((x) => x.tank.isUp)
        .for(300);
      return [m.told().length - n, so(m.last()?.litres, 47, 49), m.last()?.end, m.word()];
    },
    [1, "so", "float-tripped", "use"],
  ],
  [
    "a line edit in mid-fill that gives the trip: the same fill goes on, ends tripped, nobody called",
    () => {
      const m = mews(meter).known();
      const fromS = m.nowS;
      const n = m.told().length;
      m.drawL(24)
        .until((x) => !x.tank.isUp)
        .for(120);
      m.bench.line(lineOf({ ...meter, stop: "trips_at: 180 L, releases_at: 160 L" }), m.at());
      m.until((x) => x.tank.isUp).for(300);
      return [m.told().length - n, so(m.last()?.litres, 23, 25), m.last()?.end, m.calls(fromS), m.word()];
    },
    [1, "so", "float-tripped", [], "use"],
  ],
  [
    "automatic → manual by a line edit in mid-fill: no alarm, and the float ends it",
    () => {
      const m = mews(meter).known();
      const fromS = m.nowS;
      m.drawL(24)
        .until((x) => !x.tank.isUp)
        .for(120);
      m.bench.line(lineOf({ ...meter, manual: true }), m.at());
      m.until((x) => x.tank.isUp).for(300);
      return [m.last()?.end, m.calls(fromS)];
    },
    ["float-tripped", []],
  ],
  [
    "the drums' board reboots with its float up, three times in a night: nothing",
    () => {
      const m = mews(both).known().for(600);
      const fromS = m.nowS;
      const n = m.told().length;
      for (let i = 0; i < 3; i += 1) m.reboot("drums", 8).for(900);
      return [m.calls(fromS), m.told().length - n, m.word()];
    },
    [[], 0, "use"],
  ],
  [
    "inputs are ignored for 10 s after a boot: contacts that read wet then end no fill",
    () => {
      const m = mews(meter).known();
      m.drawL(24)
        .until((x) => !x.tank.isUp)
        .for(120)
        .reboot("drums", 3);
      const bootS = m.nowS;
      m.tank.contact = (isUp) => (m.nowS - bootS < 9 ? true : isUp);
      m.for(60);
      const end = m.last()?.end ?? null;
      m.until((x) => x.tank.isUp).for(300);
      return [end, m.last()?.end, m.told().length];
    },
    [null, "float-tripped", 8],
  ],
];

table("floats, boards and clocks of the mews, and more", rows);
