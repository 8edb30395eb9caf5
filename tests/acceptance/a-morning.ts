import { expect } from "vitest";
import { createHouse } from "./drum-house.ts";
import { beginMs, createLineBench } from "./line-bench.ts";

const yaml = `drumlin: 1
site: saltmarsh-house
points:
  supply: { conductivity: press/ec-1, temperature: press/t-1 }
  after-resin: { conductivity: press/ec-2, temperature: press/t-2 }
stages:
  resin: { kind: resin, from: supply, to: after-resin, vessel: 2 L, pipe: 0.2 L, flow: press/flow-1 }
drums:
  mix: { volume: 200 L, fed_by: after-resin, control: automatic, stop: drums/stop, level: { channel: drums/level, as: volume } }
  fresh: { volume: 100 L, fed_by: supply, control: manual, stop: shelf/stop }
floors: { under-drums: shelf/floor }
buttons: { by-fresh: { channel: shelf/button, work: { drum: fresh, minutes: 120 } } }
`;
const leakS = [2170, 2360] as const;
const badFromS = 2850;
/** A person fills a drum by hand from here, seconds of the morning. */
export const doneS = 3100;
/** Work on the resin goes on until here. */
export const workS = 6000;
/** The end of the morning. */
export const endS = 3400;

/** A morning in which a person does a bit of everything; what came of it stands in a logbook. */
export function morning() {
  const bench = createLineBench(yaml);
  const house = createHouse(
    { meter: true, level: true },
    {
      pressS: 5,
      drumsS: 5,
      flow: 10,
      draw: 5,
      leak: (atS) => (atS >= leakS[0] && atS < leakS[1] ? 8 : 0),
      kappa: (atS) => (atS < badFromS ? 0.5 : 8),
    },
    bench,
  );
  const shelf = (wet: boolean, floor: boolean, isPressed = false) => {
    house.live(house.nowS() + 5);
    bench.node(
      "shelf",
      [
        { n: "stop", vb: wet },
        { n: "floor", vb: floor },
        { n: "button", vb: isPressed },
      ],
      house.nowS(),
    );
  };
  const act = (given: object) => expect(bench.act(given, house.nowS()), JSON.stringify(given)).toBeNull();
  const onAlarm = (key: string, given: object) =>
    act({ key, occurrence: bench.standing().find((alarm) => alarm.key === key)?.occurrence, ...given });
  const until = (atS: number) => {
    while (house.nowS() < atS) shelf(false, false);
  };
  bench.presence(
    "press",
    {
      state: "online",
      boot: 7,
      firmware: "a",
      protocol: 1,
      period_s: 5,
      channels: [{ name: "ec-1", unit: "S/m", at25: true }],
    },
    0,
  );
  act({ type: "calibration", channel: "press/ec-2", points: [{ read: 0.8, true: 1.6 }] });
  // Five good fills, then water that comes in past a wet float: somebody moved it.
  until(2570);
  onAlarm("drum-not-stopping:mix", { type: "reset", float: "moved" });
  // A guided test of the other drum's float.
  act({ type: "proof-start", float: "fresh.stop", method: "lifted" });
  for (const wet of [true, true, false, false]) shelf(wet, false);
  // A puddle, seen, dry again, not reset.
  for (const floor of [true, true]) shelf(false, floor);
  onAlarm("floor-wet:under-drums", { type: "acknowledge" });
  act({ type: "release", drum: "fresh", reason: "dumped", note: "algae" });
  until(doneS);
  onAlarm("resin-breakthrough:after-resin", { type: "shelve", untilMs: beginMs + 7_000_000 });
  act({ type: "work-on", subject: { kind: "stage", id: "resin" }, untilMs: beginMs + workS * 1000 });
  act({ type: "fill-started", drum: "fresh" });
  // Somebody presses the button at the other drum.
  shelf(false, false, true);
  until(endS);
  return bench;
}
