// Batches of salt water, on a vessel with a physics of its own. Each expectation was written down from the design's text before the first run.
import { type Row, table } from "../scenario-table.ts";
import { fresh, ready, saltByPressure, saltByVolume, salted, salts, so } from "./boathouse-kits.ts";

const toReady = ["unknown", "empty", "filling", "fresh", "salted", "mixing", "ready"];

const rows: readonly Row[] = [
  ...([saltByVolume, saltByPressure] as const).map(
    (kit): Row => [
      `from empty to ready with a level by ${kit.level}: nobody is called, its litres are the true ones within 1 L, fresh and ready`,
      () => {
        const house = fresh(kit);
        const off = () => (house.measured("volume") ?? 999) - house.tun.litres;
        const first = off();
        salts(house);
        house.for(4500);
        return [house.states, so(first, -1, 1), so(off(), -1, 1), house.word, house.calls()];
      },
      [toReady, "so", "so", "use", []],
    ],
  ),
  [
    "its salinity is told within 0.2 at 10, 18 and 28 °C",
    () =>
      [10, 18, 28].map((celsius) => {
        const house = salted({ ...saltByVolume }, 35, 300);
        house.tun.celsius = celsius;
        house.for(4200);
        return [so(house.batch?.salinity, 34.8, 35.2), house.batch?.state];
      }),
    [
      ["so", "ready"],
      ["so", "ready"],
      ["so", "ready"],
    ],
  ],
  [
    "salt for 30: it waits, and says the band; the rest goes in, and it is ready; no alarm of what is in it",
    () => {
      const house = salted(saltByVolume, 30, 6000);
      const first = [house.batch?.state, house.word, /34 to 36/.test(house.batch?.waits.join() ?? "")];
      const refused = salts(house, 35);
      house.for(4500);
      return [first, refused, house.batch?.state, house.batch?.salt.length, house.word, house.calls()];
    },
    [["mixing", "hold", true], null, "ready", 2, "use", []],
  ],
  [
    "salt for 39: pressing Fill is refused; “adding water” and 20 L bring it to 35: ready, nobody called",
    () => {
      const house = salted(saltByVolume, 39, 6000);
      const pressed = house.act("fill-started");
      const first = house.batch?.state;
      house.draw(20).step("adding-water");
      house.tun.tap = true;
      house.for(300);
      house.tun.tap = false;
      house.for(4500);
      return [
        first,
        pressed,
        house.batch?.state,
        so(house.batch?.cameInL, 18, 22),
        house.word,
        house.calls(),
      ];
    },
    ["mixing", "not-possible-in-state", "ready", "so", "use", []],
  ],
  [
    "… the tap is left open and the level says nothing: told once more than fits has come in, with less than 10 L spilt",
    () => {
      const house = salted(saltByVolume, 39, 6000);
      house.draw(20).step("adding-water");
      house.tun.level = () => null;
      house.tun.tap = true;
      const spiltL = house.tun.spilt;
      for (let s = 0; s < 3600 && house.calls().length === 0; s += 30) house.for(30);
      return [house.calls(), so(house.tun.spilt - spiltL, 0, 10)];
    },
    [["drum-not-stopping tell"], "so"],
  ],
  [
    "… and nobody says so: told as unplanned inflow within 3 min, and ready half an hour after it has ended",
    () => {
      const house = salted(saltByVolume, 39, 6000);
      house.draw(20);
      const fromS = house.nowS;
      house.tun.tap = true;
      house.for(300);
      house.tun.tap = false;
      house.for(4500);
      const toldS = (house.raisedS("unplanned-inflow", fromS)[0] ?? 1e9) - fromS;
      return [so(toldS, 10, 200), house.calls(fromS)[0], house.batch?.state];
    },
    ["so", "unplanned-inflow tell", "ready"],
  ],
  ...([saltByVolume, saltByPressure] as const).map(
    (kit): Row => [
      `20 L are drawn while it is mixed, level by ${kit.level}: nobody is called, it is ready, and was not in use before`,
      () => {
        const house = salted(kit, 35, 1300).draw(20).for(5000);
        return [house.states, house.word, house.calls(), house.told().length];
      },
      [toReady, "use", [], 1],
    ],
  ),
  [
    "a draw of 20 L of what is ready: in use, of use, and so it stays; at a tenth it is a heel and on hold",
    () => {
      const house = ready(saltByVolume).draw(20).for(300);
      const first = [house.batch?.state, house.word];
      house.draw(145).for(300);
      return [first, house.batch?.state, house.word, house.calls()];
    },
    [["in-use", "use"], "heel", "hold", []],
  ],
  [
    "its heel is dumped and it is filled anew: a batch of another name, without salt",
    () => {
      const house = ready(saltByVolume);
      const id = house.batch?.id;
      house.draw(165).for(300);
      house.tun.holds(1.5);
      house.for(60);
      const refused = house.release("dumped");
      house.for(60).byHand().for(300);
      return [
        refused,
        house.batch?.state,
        house.batch?.id === id,
        house.batch?.salt,
        house.word,
        house.calls(),
      ];
    },
    [null, "fresh", false, [], "use", []],
  ],
  [
    "“dumped” is refused while the level knows of 180 L of salt water, by volume and by pressure",
    () => [saltByVolume, saltByPressure].map((kit) => ready(kit).release("dumped") === null),
    [false, false],
  ],
  [
    "a hand test frees no batch that is not ready",
    () => {
      const house = salted(saltByVolume, 35, 1500);
      return [house.release("hand-test", { value25UsPerCm: 0.5 }) === null, house.word];
    },
    [false, "hold"],
  ],
  [
    "water of 15 °C where 20 to 28 are wanted: told today, and it gets ready all the same",
    () => {
      const site = 'limits: { "temperature-out:tun": { below_c: 20, above_c: 28 } }';
      const house = salted({ ...saltByVolume, site }, 35, 300);
      house.tun.celsius = 15;
      house.for(4200);
      return [house.stands(), house.batch?.state, house.word];
    },
    [["temperature-out today"], "ready", "use"],
  ],
  [
    "an automatic drum for salt calls as it is used: fresh water into salt water is told, and it is not ready any more",
    () => {
      const house = ready(saltByVolume);
      house.bench.line(
        `${`drumlin: 1
site: saltmarsh-house
points: { main: { conductivity: wall/ec-main, temperature: wall/t-main }, after-ions: { conductivity: wall/ec-bed, temperature: wall/t-bed } }
stages: { ions: { kind: resin, vessel: 2 L, pipe: 0.2 L, from: main, to: after-ions, flow: wall/q } }
drums: { tun: { volume: 200 L, fed_by: after-ions, control: automatic, holds: salt, target: { salinity: 35 }, stop: { channel: quay/stop, trips_at: 180 L, releases_at: 160 L }, level: { channel: quay/level, as: volume }, conductivity: quay/ec, temperature: quay/t } }`}
`,
        house.nowS,
      );
      house.for(60);
      const fromS = house.nowS;
      house.tun.tap = null;
      house
        .draw(24)
        .until(({ tun }) => tun.isUp)
        .for(120);
      return [house.calls(fromS), house.batch?.state, house.word];
    },
    [["unplanned-inflow tell"], "mixing", "hold"],
  ],
];

table("batches of the boathouse", rows);
