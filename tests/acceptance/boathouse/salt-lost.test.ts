// Batches of salt water of which something is not heard, on a vessel with a physics of its own. Each expectation was written down from
// the design's text before the first run.
import { type Row, table } from "../scenario-table.ts";
import type { Boathouse } from "./boathouse.ts";
import { fresh, ready, saltByPressure, saltByVolume, salted, salts, so } from "./boathouse-kits.ts";

/** A batch's whole life; something happens after each step of it. */
const whole = (kit: typeof saltByVolume, then: (house: Boathouse, step: string) => void) => {
  const house = fresh(kit);
  then(house, "fresh");
  salts(house);
  house.for(60);
  then(house, "salted");
  house.for(900);
  then(house, "mixing");
  house.for(4500);
  then(house, "ready");
  house.draw(20).for(120);
  then(house, "in use");
  house.draw(145).for(300);
  then(house, "heel");
  return [house.states, house.told().length, house.word, house.calls()];
};
const life = [
  ["unknown", "empty", "filling", "fresh", "salted", "mixing", "ready", "in-use", "heel"],
  1,
  "hold",
  [],
];

const rows: readonly Row[] = [
  ...([saltByVolume, saltByPressure] as const).map(
    (kit): Row => [
      `the gateway starts anew in each of its states, level by ${kit.level}: as without`,
      () => whole(kit, (house) => house.restart().for(30)),
      life,
    ],
  ),
  [
    "the vessel's board is silent for 10 min in each of its states",
    () => whole(saltByVolume, (house) => house.silent(600, ["quay"]).for(30)),
    life,
  ],
  [
    "… kept what it said meanwhile, and sends it",
    () => whole(saltByVolume, (house) => house.silent(600, ["quay"], "kept").for(30)),
    life,
  ],
  [
    "… is replaced by another with other counters, in a minute",
    () =>
      whole(saltByVolume, (house) => {
        house.quay.counts = true;
        house.replaced("quay", 60, 4000).for(60);
      }),
    life,
  ],
  [
    "the vessel's board is lost for 8 min while the meter sees it fill: one fill of 178 L",
    () => {
      const house = fresh({ ...saltByVolume });
      house.tun.holds(1.5);
      house.for(120);
      house.release("dumped");
      house.for(30).act("fill-started");
      house.tun.tap = true;
      house
        .for(900)
        .silent(480, ["quay"])
        .until(({ tun }) => tun.isUp, 7200);
      house.tun.tap = false;
      house.for(600);
      return [house.batch?.state, house.told().length, so(house.last?.litres, 174, 183), house.calls()];
    },
    ["fresh", 2, "so", []],
  ],
  [
    "a power cut of 10 min in mid-fill, its valve shut meanwhile: one fill that goes on, fresh, its litres marked as put together",
    () => {
      const house = fresh(saltByVolume);
      house.tun.holds(1.5);
      house.for(120);
      house.release("dumped");
      house.for(30).act("fill-started");
      const n = house.told().length;
      house.tun.tap = true;
      house.for(900);
      house.isShut = true;
      house.wall.link = "off";
      house.replaced("quay", 600);
      house.replaced("wall", 0);
      house.isShut = false;
      house.until(({ tun }) => tun.isUp, 7200);
      house.tun.tap = false;
      house.for(600);
      return [house.batch?.state, house.told().length - n, house.last?.estimated, house.last?.end];
    },
    ["fresh", 1, true, "float-tripped"],
  ],
  [
    "silent for 40 min while it stands at its salinity: ready half an hour after it is heard again, and no sooner",
    () => {
      const house = salted(saltByVolume, 35, 1400).silent(2400, ["quay"]);
      const fromS = house.nowS;
      house.until(({ batch }) => batch?.state === "ready");
      return so(house.nowS - fromS, 1790, 1900);
    },
    "so",
  ],
  [
    "both boards are silent for 20 min in which 20 L of fresh water come into what was ready: off its target, not of use",
    () => {
      const house = ready(saltByVolume);
      house.tun.tap = null;
      house.tun.leak = 1;
      house.silent(1200, ["wall", "quay"]);
      house.tun.leak = 0;
      house.for(900);
      return [house.batch?.state === "ready" && !house.batch.isOff, house.word === "use"];
    },
    [false, false],
  ],
  [
    "… and nothing comes: ready and of use, as it was",
    () => {
      const house = ready(saltByVolume).silent(1200, ["wall", "quay"]).for(300);
      return [house.batch?.state, house.word, house.calls()];
    },
    ["ready", "use", []],
  ],
  [
    "its thermometer is lost for half an hour: what was ready stays so, and nobody is called",
    () => {
      const house = ready(saltByVolume);
      house.tun.celsius = 10;
      house.for(900);
      house.tun.thermo = () => null;
      house.for(1800);
      return [house.batch?.state, house.word, house.calls()];
    },
    ["ready", "use", []],
  ],
  [
    "… says 85 °C for 20 min, as after a power-on: the same",
    () => {
      const house = ready(saltByVolume);
      house.tun.thermo = () => 85;
      house.for(1200);
      return [house.batch?.state, house.word, house.calls()];
    },
    ["ready", "use", []],
  ],
  [
    "its probe is taken out and reads exactly 0 for 20 min: what was ready is not off its target by that",
    () => {
      const house = ready(saltByVolume);
      house.tun.probe = () => 0;
      house.for(1200);
      return [house.batch?.state, house.stands().includes("drum-off-target today")];
    },
    ["ready", false],
  ],
  [
    "… is shorted and reads 2,000 mS/cm: told as the probe's fault, and not as the water's",
    () => {
      const house = ready(saltByVolume);
      house.tun.probe = () => 2000;
      house.for(1200);
      return [house.batch?.state, house.stands()];
    },
    ["ready", ["probe-implausible today"]],
  ],
  [
    "the gateway is off for 20 min as it dissolves, and the boards keep what they said: ready as without",
    () => {
      const house = salted(saltByVolume, 35, 300);
      const tick = house.bench.tick;
      house.bench.tick = () => undefined as never;
      for (const board of [house.wall, house.quay]) board.link = "kept";
      house.for(1200);
      house.bench.tick = tick;
      house.restart().silent(0, ["wall", "quay"]);
      const fromS = house.nowS;
      house.until(({ batch }) => batch?.state === "ready", 7200);
      return [so(house.nowS - fromS, 1500, 2000), house.word, house.calls()];
    },
    ["so", "use", []],
  ],
];

table("batches of the boathouse that are not heard", rows);
