// Stops that fail, on a model of its own. Each expectation was written down from the design's text before the first run.
import { type Row, table } from "../scenario-table.ts";
import { both, floatOnly, level, meter, mews, so } from "./mews-house.ts";
import { hangs, lineWithTitle, staysOpen, stuckDry, wakes } from "./stops-lived.ts";

const rows: readonly Row[] = [
  [
    "a meter alone: a float that hangs dry is told at 1.25 × the 95th percentile (30 L) and 60 s (4 L)",
    () => {
      const { m, fromS } = hangs(meter);
      const cameL = m.tank.came;
      m.until((x) => x.calls(fromS).length > 0, 7200);
      return [so(m.tank.came - cameL, 28, 36), m.calls(fromS)];
    },
    ["so", ["fill-long tell"]],
  ],
  [
    "the same over a restart of the gateway in mid-fill",
    () => {
      const { m, fromS } = hangs(meter);
      const cameL = m.tank.came;
      m.for(200);
      m.bench.restart(m.at());
      m.until((x) => x.calls(fromS).length > 0, 7200);
      return [so(m.tank.came - cameL, 28, 36), m.calls(fromS)];
    },
    ["so", ["fill-long tell"]],
  ],
  [
    "a level with a given trip: woken past trip + 4 % (188 L) and two readings, not before the trip",
    () => {
      const m = mews({ ...level, stop: "trips_at: 180 L" })
        .until((x) => x.tank.isUp)
        .for(60);
      m.drawL(24).until((x) => !x.tank.isUp);
      stuckDry(m);
      m.until((x) => wakes(x).length > 0, 7200);
      return [so(m.tank.litres, 183, 190), wakes(m)];
    },
    ["so", ["drum-not-stopping wake"]],
  ],
  [
    "a meter alone, nothing learned: woken by 1.1 × the volume (220 L), told not before",
    () => {
      const m = mews(meter);
      m.tank.litres = 20;
      stuckDry(m);
      m.until((x) => wakes(x).length > 0, 7200);
      return [so(m.tank.came, 219, 224), wakes(m)];
    },
    ["so", ["drum-not-stopping wake"]],
  ],
  [
    "a float alone, nothing learned, behind resin: told after 150 min (200 L at 2 L/min, × 1.5)",
    () => {
      const m = mews(floatOnly);
      stuckDry(m);
      m.isShut = false;
      m.until((x) => x.calls().length > 0, 20_000);
      return [so(m.nowS, 8990, 9130), m.calls()];
    },
    ["so", ["fill-long tell"]],
  ],
  [
    "a float alone behind a membrane: not told in 20 h (200 L at 0.2 L/min, × 1.5 = 25 h), told by 25 h and 2 min",
    () => {
      const m = mews({ medium: "membrane" });
      m.flow = 0.2;
      m.press.everyS = 30;
      m.drums.everyS = 30;
      stuckDry(m);
      m.for(72_000);
      const early = m.calls();
      m.until((x) => x.calls().length > 0, 18_300);
      return [early, so(m.nowS, 89_900, 90_150), m.calls()];
    },
    [[], "so", ["fill-long tell"]],
  ],
  [
    "valve stays open after the trip at 4 L/min, meter: woken 2 min after it, not sooner",
    () => {
      const m = mews(meter).known();
      m.drawL(24);
      staysOpen(m, 4);
      m.until((x) => x.tank.isUp);
      const tripS = m.nowS;
      m.until((x) => wakes(x, tripS).length > 0, 900);
      return [so(m.nowS - tripS, 115, 140), wakes(m, tripS)];
    },
    ["so", ["drum-not-stopping wake"]],
  ],
  [
    "behind a membrane the grace is 10 min: 9 min of run-on at its usual rate call nobody, 12 min wake",
    () => {
      const run = (seconds: number) => {
        const m = mews({
          meter: "{ channel: press/flow-1, min_flow: 0.1 L/min }",
          medium: "membrane",
          stop: "trips_at: 180 L",
        });
        m.flow = 0.5;
        m.known();
        m.drawL(24);
        staysOpen(m, 0.5);
        m.until((x) => x.tank.isUp);
        const tripS = m.nowS;
        m.for(seconds);
        m.tank.leak = 0;
        m.for(300);
        return wakes(m, tripS);
      };
      return [run(540), run(720)];
    },
    [[], ["drum-not-stopping wake"]],
  ],
  [
    "water begins with a wet float an hour after the fill, taps: false: woken after 2 min and 1 L",
    () => {
      const m = mews({ meter: "{ channel: press/flow-1, taps: false }" }).known().for(3600);
      const fromS = m.nowS;
      staysOpen(m, 4);
      m.until((x) => wakes(x, fromS).length > 0, 900);
      return [so(m.nowS - fromS, 118, 140), wakes(m, fromS)];
    },
    ["so", ["drum-not-stopping wake"]],
  ],
  [
    "… of 100 s only: nobody is woken",
    () => {
      const m = mews({ meter: "{ channel: press/flow-1, taps: false }" }).known().for(3600);
      const fromS = m.nowS;
      staysOpen(m, 4);
      m.for(100);
      m.tank.leak = 0;
      m.for(600);
      return m.calls(fromS);
    },
    [],
  ],
  [
    "… taps not spoken of: told, nobody woken",
    () => {
      const m = mews(meter).known().for(3600);
      const fromS = m.nowS;
      staysOpen(m, 1);
      m.for(900);
      return m.calls(fromS);
    },
    ["drum-not-stopping tell"],
  ],
  [
    "float hangs, level alone with trip and release learned: woken before 190 L",
    () => {
      const { m, fromS } = hangs(level);
      m.until((x) => wakes(x, fromS).length > 0, 7200);
      return [so(m.tank.litres, 181, 190), wakes(m, fromS)];
    },
    ["so", ["drum-not-stopping wake"]],
  ],
  [
    "reset is refused a minute after the water ended, taken after 5 min (a level's medians lag by two); then all is calm, and the next flood wakes again",
    () => {
      const { m, fromS } = hangs(both);
      m.until((x) => wakes(x, fromS).length > 0, 7200);
      m.isShut = true;
      const at1 = m.for(60).reset("drum-not-stopping", "failed");
      const at3 = m.for(240).reset("drum-not-stopping", "failed");
      const calm = m.for(60).standing().includes("drum-not-stopping");
      m.tank.body = (isUp) => isUp;
      m.drawL(40);
      m.isShut = false;
      stuckDry(m);
      const againS = m.nowS;
      m.for(3600);
      return [at1 !== null, at3, calm, wakes(m, againS).slice(0, 1)];
    },
    [true, null, false, ["drum-not-stopping wake"]],
  ],
  [
    "one occurrence over 40 min of flood, a restart and a line edit in it: woken once",
    () => {
      const { m, fromS } = hangs(both);
      m.until((x) => wakes(x, fromS).length > 0, 7200);
      m.for(300);
      m.bench.restart(m.at());
      m.for(300);
      m.bench.line(lineWithTitle, m.at());
      m.for(1800);
      return wakes(m, fromS).filter((call) => call.startsWith("drum-not-stopping"));
    },
    ["drum-not-stopping wake"],
  ],
  [
    "at the brim, level alone: still standing as active an hour later; `supply closed` and a reset end it",
    () => {
      const m = mews({ ...level, stop: "trips_at: 180 L" })
        .until((x) => x.tank.isUp)
        .for(60);
      m.drawL(24).until((x) => !x.tank.isUp);
      stuckDry(m);
      m.for(3600);
      const refused = m.reset("drum-not-stopping", "unknown") !== null;
      m.isShut = true;
      m.for(60);
      m.act({ type: "supply-closed", drum: "mix" });
      m.for(180);
      return [refused, m.reset("drum-not-stopping", "unknown")];
    },
    [true, null],
  ],
];

table("a stop of the mews", rows);
