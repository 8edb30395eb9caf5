// What may be said of the water, on a model of its own. Each expectation was written down from the design's text before the first run.
import { type Row, table } from "../scenario-table.ts";
import { both, meter, mews, so } from "./mews-house.ts";
import { fill, mid, zero } from "./words-lived.ts";

const rows: readonly Row[] = [
  [
    "κ of exactly 0 while water runs: of no known resolution unknown; with one of 0.1 that read 0.6 before, use",
    () => [zero("press/ec-2"), zero("{ channel: press/ec-2, resolution: 0.1 uS/cm }")],
    ["unknown", "use"],
  ],
  [
    "500 µS/cm behind resin at a feed of 400: the probe is told of, the water is unwatched and no breakthrough",
    () => {
      const m = mews(meter).known();
      m.probe = () => 500;
      m.drawL(24).until((x) => x.tank.isUp);
      m.probe = () => 0.2;
      m.for(300);
      return [m.word(), m.raised("probe-implausible"), m.raised("resin-breakthrough")];
    },
    ["unknown", true, false],
  ],
  [
    "a thermometer's 85.0 of its power-on for 20 s in mid-fill: nothing is called, use, and it is no value",
    () => {
      const m = mews(meter).known();
      const fromS = m.nowS;
      mid(m, 24, () => {
        m.celsius = 85;
        m.for(20);
        m.celsius = 25;
      });
      const flags = m.bench.outcomes.flatMap((one) =>
        one.kind === "measurement" && one.quantity === "temperature" && (one.value ?? 85) > 80
          ? [one.flag]
          : [],
      );
      return [m.calls(fromS), m.word(), [...new Set(flags)]];
    },
    [[], "use", [4]],
  ],
  [
    "a lost thermometer (−127) over a whole fill: its water is judged all the same, use",
    () => {
      const m = mews(meter).known();
      m.celsius = -127;
      m.fills(1);
      return m.word();
    },
    "use",
  ],
  [
    "a meter at 0.7 of what the level gains (60 L): flow-disagrees, flow unknown, unknown; at 0.9: nothing",
    () =>
      [0.7, 0.9].map((share) => {
        const m = mews(both).known(3).fills(3, 60);
        m.meter = (q) => q * share;
        m.fills(1, 60);
        return [m.raised("flow-disagrees"), m.last()?.flowUnknown === true, m.word()];
      }),
    [
      [true, true, "unknown"],
      [false, false, "use"],
    ],
  ],
  [
    "back-flow: 600 µS/cm at rest behind resin for 5 min is told and holds; 300 is not",
    () =>
      [600, 300].map((kappa) => {
        const m = mews(meter).known().for(1200);
        m.probe = () => kappa;
        m.for(420);
        return [m.raised("back-flow"), m.word()];
      }),
    [
      [true, "hold"],
      [false, "use"],
    ],
  ],
  [
    "8 µS/cm with each eighth reading at 0.2: told within 3 min of settled flow, and on hold",
    () => {
      const m = mews(meter).known();
      let n = 0;
      m.probe = () => (n++ % 8 === 0 ? 0.2 : 8);
      fill(m);
      const fromS = m.nowS;
      m.until((x) => x.tank.isUp).for(60);
      return [so((m.raisedS("resin-breakthrough", fromS) ?? 1e9) - fromS, 40, 200), m.word()];
    },
    ["so", "hold"],
  ],
  [
    "… with each third at 0.2 it is told as well, and each second keeps it from being so: more over than under counts",
    () =>
      [3, 2].map((nth) => {
        const m = mews(meter).known();
        let n = 0;
        m.probe = () => (n++ % nth === 0 ? 0.2 : 8);
        fill(m);
        const fromS = m.nowS;
        m.until((x) => x.tank.isUp).for(60);
        return [m.raised("resin-breakthrough", fromS), m.word()];
      }),
    [
      [true, "hold"],
      [false, "use"],
    ],
  ],
  [
    "60 µS/cm (gross) after 10 min of rest: told after 15 s of flow, settled or not",
    () => {
      const m = mews(meter).known().for(180);
      fill(m);
      const fromS = m.nowS;
      m.kappa = 60;
      m.for(60);
      return so((m.raisedS("resin-breakthrough", fromS) ?? 1e9) - fromS, 10, 35);
    },
    "so",
  ],
  [
    "60 µS/cm in the first 1.7 L after 20 min of rest: nobody is called",
    () => {
      const m = mews(meter).known().for(1200);
      const calledS = m.nowS;
      m.kappa = 60;
      fill(m);
      m.for(20);
      m.kappa = 0.2;
      m.until((x) => x.tank.isUp).for(300);
      return m.calls(calledS);
    },
    [],
  ],
  [
    "standing water of 60 µS/cm for 2 h, float wet: not judged",
    () => {
      const m = mews(meter).known().for(600);
      const fromS = m.nowS;
      m.probe = () => 60;
      m.for(7200);
      return [m.calls(fromS), m.word()];
    },
    [[], "use"],
  ],
  [
    "smallest kit, nobody pressed: 40 µS/cm for 5 min before a dry float is told by time; 12 µS/cm for 30 min is not",
    () =>
      [40, 12].map((kappa) => {
        const m = mews({ manual: true });
        m.tank.tap = true;
        m.flow = 1;
        m.tank.litres = 100;
        m.kappa = kappa;
        m.for(1800);
        return m.raised("resin-breakthrough");
      }),
    [true, false],
  ],
  [
    "a drum that feeds by itself: breakthrough wakes",
    () => {
      const m = mews({ ...meter, more: "feeds: automatic" }).known();
      m.kappa = 30;
      const fromS = m.nowS;
      m.fills(1);
      return m.calls(fromS).filter((call) => call.startsWith("resin"));
    },
    ["resin-breakthrough wake"],
  ],
  [
    "top-ups of 1.5 L of 40 µS/cm, never settled: on hold before the drum is over 10",
    () => {
      const m = mews(meter);
      m.tank.release = 178.5;
      m.known(3);
      m.kappa = 40;
      let worst = 0;
      for (let i = 0; i < 60 && m.word() !== "hold"; i += 1) {
        m.fills(1, 1.6, 1200);
        worst = Math.max(worst, m.tank.kappa);
      }
      return [m.word(), worst < 10];
    },
    ["hold", true],
  ],
  [
    "the board of the meter and probe reboots for 20 s in mid-fill: use, one fill",
    () => {
      const m = mews(meter).known(6);
      const n = m.told().length;
      mid(m, 24, () => m.reboot("press", 20));
      return [m.word(), m.told().length - n, m.last()?.end];
    },
    ["use", 1, "float-tripped"],
  ],
];

table("a word of the mews, and more", rows);
