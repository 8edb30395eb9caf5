// Probes that read nothing, flat or too much while water runs, on a vessel with a physics of its own. Each expectation was written down
// from the design's text before the first run.
import { type Row, table } from "../scenario-table.ts";
import { boathouse, type Kit } from "./boathouse-kits.ts";

const fine: Kit = { meter: true, ec: "{ channel: wall/ec-bed, resolution: 0.05 uS/cm }" };
/** So many fills with a probe that says this of the true water. */
const read = (kit: Kit, probe: (kappa: number) => number | null, fills = 3, kappa = 0.2) => {
  const house = boathouse(kit);
  house.probe = (true25) => true25 + 0.3;
  house.known().for(3600);
  const fromS = house.nowS;
  house.kappa = kappa;
  house.probe = probe;
  house.fills(fills, 24, 1200);
  const raised = [
    "probe-implausible",
    "probe-unproven",
    "probe-flat",
    "resin-breakthrough",
    "watch-lost",
  ].filter((condition) => house.raisedS(condition, fromS).length > 0);
  const calls = house.calls(fromS).filter((call) => !call.endsWith("today"));
  return [raised, calls, house.word];
};

const rows: readonly Row[] = [
  [
    "exactly 0 through three fills, resolution unknown: no witness, and not of use",
    () => read({ meter: true }, () => 0),
    [[], [], "unknown"],
  ],
  [
    "under its known resolution, read above it at each standstill: a witness, of use, nothing said",
    () => {
      const house = boathouse(fine);
      house.probe = (kappa) => (house.q > 0 ? 0 : kappa);
      house.kappa = 0.2;
      house.known();
      house.fills(3, 24, 1200);
      return [house.calls(), house.stands(), house.word];
    },
    [[], [], "use"],
  ],
  [
    "in the air from the middle of a fill of 30 µS/cm on (0): what was bad stays bad, on hold",
    () => {
      let seconds = 0;
      return read(
        { meter: true },
        () => {
          seconds += 5;
          return seconds < 1500 ? 30 : 0;
        },
        2,
        30,
      )[2];
    },
    "hold",
  ],
  [
    "2,000 µS/cm behind resin where the feed has 400, running and at rest: a probe's fault or salt water sucked back: no breakthrough; that the drum fills unwatched is told once, back-flow told, on hold",
    () => read({ meter: true }, () => 2000),
    [["probe-implausible", "watch-lost"], ["watch-lost tell", "back-flow tell"], "hold"],
  ],
  [
    "390 µS/cm behind resin, as the feed: the bed is by-passed: breakthrough, on hold",
    () => read({ meter: true }, () => 390, 3, 390),
    [["resin-breakthrough"], ["resin-breakthrough tell"], "hold"],
  ],
  [
    "flat at 3.00 through four fills while its water warms by 5 °C: said on record; nobody is called",
    () => {
      const house = boathouse({ meter: true, ec: "{ channel: wall/ec-bed, resolution: 0.01 uS/cm }" });
      house.kappa = 3;
      house.known();
      for (let fill = 0; fill < 4; fill += 1) {
        house.bedC = 20 + 2 * fill;
        house.fills(1, 24, 1200);
      }
      return [house.raisedS("probe-flat").length > 0, house.calls().filter((one) => !one.endsWith("today"))];
    },
    [true, []],
  ],
  [
    "steady pure water of 0.2 that moves by a step of its resolution: not flat",
    () => {
      let turn = 0;
      return read(
        { meter: true, ec: "{ channel: wall/ec-bed, resolution: 0.01 uS/cm }" },
        (kappa) => {
          turn += 1;
          return kappa + (turn % 3 === 0 ? 0.01 : 0);
        },
        5,
      );
    },
    [[], [], "use"],
  ],
  [
    "it falls out for three fills: said today once its board has spoken without it for 10 min; that the drum fills unwatched is told at the first fill, not at each",
    () => read({ meter: true }, () => null),
    [["probe-implausible", "watch-lost"], ["watch-lost tell"], "unknown"],
  ],
  [
    "below 0 by its offset (−0.02): as 0, no witness; nothing wakes",
    () => {
      const [, calls, word] = read({ meter: true }, () => -0.02);
      return [(calls as string[]).filter((one) => one.endsWith("wake")), word];
    },
    [[], "unknown"],
  ],
];

table("probes of the boathouse", rows);
