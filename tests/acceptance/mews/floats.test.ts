// Floats, supplies that are shared, boards and clocks, on a model of its own. Each expectation was written down from the design's text before the first run.
import { type Row, table } from "../scenario-table.ts";
import { mA, proof, reversed, start, supervised, up, wakes } from "./floats-lived.ts";
import { level, meter, mews, so } from "./mews-house.ts";

const rows: readonly Row[] = [
  [
    "a stop float that reads the other way round: its test says so, is turned once, and lasts over a restart; the fill after is stopped by it",
    () => {
      const m = reversed();
      start(m, "mix.stop");
      m.for(10);
      m.tank.contact = () => false;
      m.for(12);
      m.tank.contact = (isUp) => !isUp;
      m.for(30);
      const seen = proof(m);
      const turned = m.act({ type: "proof-turn", float: "mix.stop", test: seen?.id });
      m.for(10).bench.restart(m.at());
      m.tank.tap = true;
      m.act({ type: "fill-started", drum: "mix" });
      m.until((x) => x.tank.isUp, 7200);
      m.tank.tap = false;
      m.for(200);
      return [seen?.result, turned, m.last()?.end, m.last()?.tripConfirmed, m.calls()];
    },
    ["reversed", null, "float-tripped", true, []],
  ],
  [
    "a test that sees dry → wet → dry passes; one in which nothing moves never does; another is refused meanwhile",
    () => {
      const m = mews(meter);
      m.tank.litres = 165;
      m.isShut = true;
      m.for(30);
      start(m, "mix.stop");
      m.for(10);
      up(m, 12);
      m.for(20);
      const first = proof(m)?.result;
      const again = start(m, "mix.stop");
      const twice = start(m, "mix.stop") !== null;
      m.for(3600);
      return [first, again, twice, proof(m)?.result === "passed"];
    },
    ["passed", null, true, false],
  ],
  [
    "a test over a restart of the gateway: it passes, or it is said that it did not; never two",
    () => {
      const m = mews(meter);
      m.tank.litres = 165;
      m.isShut = true;
      m.for(30);
      start(m, "mix.stop");
      m.for(10);
      m.bench.restart(m.at());
      up(m, 12);
      m.for(30);
      return proof(m)?.result;
    },
    "passed",
  ],
  [
    "one wet reading within a test proves nothing",
    () => {
      const m = mews(meter);
      m.tank.litres = 165;
      m.isShut = true;
      m.live(31);
      start(m, "mix.stop");
      m.live(36);
      up(m, 5);
      m.for(60);
      return proof(m)?.result === "passed";
    },
    false,
  ],
  [
    "slosh: the contact is up for one reading four times before the trip, and down for one after it: one fill, confirmed",
    () => {
      const m = mews(meter).known();
      const n = m.told().length;
      m.drawL(24).until((x) => !x.tank.isUp);
      let tripS = Number.POSITIVE_INFINITY;
      m.tank.contact = (isUp) => {
        if (isUp && tripS > m.nowS) tripS = m.nowS;
        return isUp ? (m.nowS - tripS) % 25 !== 20 : m.tank.litres > 172 && m.nowS % 25 === 0;
      };
      m.until((x) => x.tank.isUp).for(90);
      m.tank.contact = (isUp) => isUp;
      m.for(200);
      return [m.told().length - n, m.last()?.end, m.last()?.tripConfirmed, m.calls()];
    },
    [1, "float-tripped", true, []],
  ],
  [
    "boards that speak each 1 s: wet for 2 s is no trip, wet for 3 s and more is one, dated at its first reading",
    () => {
      const m = mews(meter);
      m.press.everyS = 1;
      m.drums.everyS = 1;
      m.known(3);
      m.drawL(24)
        .until((x) => !x.tank.isUp)
        .for(60);
      up(m, 2);
      m.for(20);
      const runs = m.last()?.end ?? null;
      let upS = 0;
      m.tank.contact = (isUp) => {
        if (isUp && upS === 0) upS = m.nowS;
        return isUp;
      };
      m.until((x) => x.tank.isUp).for(60);
      return [runs, so(((m.last()?.trippedAtMs ?? 0) - 1772510400000) / 1000 - upS, -0.5, 1.5)];
    },
    [null, "so"],
  ],
  [
    "boards each 15 s, seven seconds apart: the trip is confirmed in each of six fills",
    () => {
      const m = mews(meter);
      m.press.everyS = 15;
      m.drums.everyS = 15;
      m.drums.phaseS = 7;
      m.known();
      return m
        .told()
        .slice(-6)
        .map(({ tripConfirmed }) => tripConfirmed);
    },
    [true, true, true, true, true, true],
  ],
  [
    "a supervised contact that breaks in mid-fill: told, its fill not ended by it, nobody woken before the water is past the trip",
    () => {
      const m = supervised().known();
      const fromS = m.nowS;
      m.drawL(24)
        .until((x) => !x.tank.isUp)
        .for(120);
      m.tank.contact = () => mA(0.01);
      m.for(120);
      return [m.calls(fromS), m.last()?.end];
    },
    [["watch-lost tell"], null],
  ],
  [
    "… shorted in mid-fill: the same",
    () => {
      const m = supervised().known();
      const fromS = m.nowS;
      m.drawL(24)
        .until((x) => !x.tank.isUp)
        .for(120);
      m.tank.contact = () => mA(8);
      m.for(120);
      return [m.calls(fromS), m.last()?.end];
    },
    [["watch-lost tell"], null],
  ],
  [
    "a supervised contact broken at rest: no alarm that wakes, and the drum goes on being of use",
    () => {
      const m = supervised().known().for(600);
      const fromS = m.nowS;
      m.tank.contact = () => mA(0.01);
      m.for(150);
      return [wakes(m, fromS), m.word()];
    },
    [[], "use"],
  ],
  [
    "float-stuck: an overflow float above which the level stood for three fills and that stayed dry",
    () => {
      const m = mews({ ...level, overflow: true, stop: "trips_at: 180 L" });
      m.until((x) => x.tank.isUp)
        .for(60)
        .fills(4);
      return m.raised("float-stuck");
    },
    false,
  ],
  [
    "overflow wet, stop dry for 10 s: float-disagrees, told",
    () => {
      const m = mews({ ...meter, overflow: true }).known();
      m.drawL(24)
        .until((x) => !x.tank.isUp)
        .for(30);
      m.tank.over = 0;
      m.for(40);
      return [m.attention("float-disagrees"), wakes(m)];
    },
    ["tell", ["drum-high-high wake"]],
  ],
];

table("floats, boards and clocks of the mews", rows);
