// What stands at the probe after a trip drifts up to 60 uS/cm within minutes: no water that came in, and not judged as such. On a
// model of its own; each expectation was written down before the first run.
import { type Row, table } from "../scenario-table.ts";
import { both, level, type Mews, mews } from "./mews-house.ts";

const valve = { more: "inlet: { channel: drums/inlet }", stop: "trips_at: 180 L, releases_at: 160 L" };

/** Good water runs; what stands goes up to 60 with a minute's time constant, and is gone with the first litre. */
function drifts(m: Mews): Mews {
  let stoodS = 0;
  let atS = m.nowS;
  m.probe = (kappa) => {
    stoodS = m.q > 0 ? 0 : stoodS + m.nowS - atS;
    atS = m.nowS;
    return m.q > 0 ? kappa : 60 - (60 - kappa) * Math.exp(-stoodS / 60);
  };
  return m;
}

/** Ten fills with so long between them, and what was told of the water. */
function told(m: Mews, restS = 900) {
  m.known(3);
  const fromS = m.nowS;
  drifts(m).fills(10, 24, restS);
  return [m.raised("resin-breakthrough", fromS), m.word()];
}

function paced(kit: Parameters<typeof mews>[0], everyS: number): Mews {
  const m = mews(kit);
  Object.assign(m.press, { everyS });
  Object.assign(m.drums, { everyS, phaseS: 2 });
  return m;
}

const rows: readonly Row[] = [
  ...[5, 15, 30].map(
    (everyS): Row => [
      `a level that is read each ${everyS} s, and says for minutes yet that water runs: nobody is called, use`,
      () => told(paced(level, everyS)),
      [false, "use"],
    ],
  ),
  ["… beside a meter: nobody is called, use", () => told(paced(both, 15)), [false, "use"]],
  [
    "top-ups of 3 L, of which a level tells when they are over: water of 8 that comes with them is told and holds",
    () => {
      const m = paced(level, 15);
      m.tank.release = 177;
      m.known(3);
      m.kappa = 8;
      m.fills(12, 3, 900);
      return [m.raised("resin-breakthrough"), m.word()];
    },
    [true, "hold"],
  ],
  [
    "a clock's valve that stands open behind a float that has shut: nobody is called, use",
    () => {
      const m = paced(valve, 15);
      m.extra = () => [{ n: "inlet", vb: true }];
      return told(m);
    },
    [false, "use"],
  ],
  [
    "… water of 60 that does come in is told and holds",
    () => {
      const m = paced(valve, 15);
      m.extra = () => [{ n: "inlet", vb: true }];
      m.known(3);
      m.kappa = 60;
      m.fills(1);
      return [m.raised("resin-breakthrough"), m.word()];
    },
    [true, "hold"],
  ],
  [
    "water of 60 that begins to come when the stop has failed is told within 5 min by a level",
    () => {
      const m = paced(level, 15).known(6);
      m.drawL(24).until((x) => x.tank.isUp);
      m.tank.tap = true;
      m.kappa = 60;
      const fromS = m.nowS;
      m.for(300);
      return m.raised("resin-breakthrough", fromS);
    },
    true,
  ],
];

table("what stands at a probe after a trip", rows);
