// Drums that run low, fill slowly or not at all, and water near freezing, on a vessel with a physics of its own. Each expectation was
// written down from the design's text before the first run.
import { type Row, table } from "../scenario-table.ts";
import type { Boathouse } from "./boathouse.ts";
import { boathouse, type Kit, so } from "./boathouse-kits.ts";

/** The supply is shut, and all is drawn down to so many litres. */
const drawnTo = (kit: Kit, litres: number, forS = 900) => {
  const house = boathouse(kit).known();
  house.isShut = true;
  house.until(({ tun }) => {
    tun.drawn = 20;
    return tun.litres <= litres;
  });
  house.tun.drawn = 0;
  return house.for(forS);
};
const low = (house: Boathouse) => house.stands().filter((one) => one.startsWith("drum-low"));
/** Six fills, then some at other flows; how often each condition was raised since. */
const slowing = (kit: Kit, flows: readonly number[]) => {
  const house = boathouse(kit).known(10);
  const fromS = house.nowS;
  for (const flow of flows) {
    house.flow = flow;
    house.fills(1);
  }
  return [
    house.raisedS("fill-slow", fromS).length,
    house.calls(fromS).filter((one) => !one.endsWith("today")),
  ];
};
const cold = (celsius: (minute: number) => number, minutes: number, where: "main" | "tun" = "main") => {
  const house = boathouse({ meter: true, probe: true }).known();
  const fromS = house.nowS;
  for (let minute = 0; minute < minutes; minute += 1) {
    if (where === "main") house.mainC = celsius(minute);
    else house.tun.celsius = celsius(minute);
    house.for(60);
  }
  const raised = house.raisedS("frost", fromS).map((atS) => so(atS - fromS, 540, 780));
  return [raised, house.stands().filter((one) => one.startsWith("frost"))];
};

const rows: readonly Row[] = [
  [
    "29 of 200 L for 15 min: drum-low, today; 31 L: not",
    () => [29, 31].map((litres) => low(drawnTo({ level: "volume" }, litres))),
    [["drum-low today"], []],
  ],
  [
    "… with a heater in it: told",
    () => low(drawnTo({ level: "volume", site: 'limits: { "drum-low:tun": { heater_or_pump: true } }' }, 29)),
    ["drum-low tell"],
  ],
  ["… filled by hand: never", () => low(drawnTo({ level: "volume", manual: true }, 20)), []],
  ["its low float alone says it", () => low(drawnTo({ meter: true, low: true }, 35)), ["drum-low today"]],
  [
    "drum-low is over at 20 % and 5 min more, once, though the level waves about 15 % for an hour",
    () => {
      const house = drawnTo({ level: "volume" }, 30, 60);
      let turn = 0;
      house.tun.level = (tun) => {
        turn += 1;
        return { u: "m3", v: (tun.litres + (turn % 7) - 4) / 1000 };
      };
      house.for(3600);
      const n = house.raisedS("drum-low").length;
      house.isShut = false;
      house.until(({ tun }) => tun.litres > 45);
      const at45 = low(house).length;
      house.for(420);
      return [n <= 1, at45 <= 1, low(house), house.raisedS("drum-low").length <= 1];
    },
    [true, true, [], true],
  ],
  [
    "the supply is shut while it calls: no-inflow in 10 to 15 min (a level knows that it stands after 4), today; over as water comes; by a meter, by a level, by both",
    () =>
      [{ meter: true }, { level: "volume" }, { meter: true, level: "volume" }].map((kit) => {
        const house = boathouse(kit as Kit).known();
        house.isShut = true;
        house.draw(24);
        const fromS = house.nowS;
        house.for(1200);
        const [raised] = house.raisedS("no-inflow", fromS - 60);
        const stood = house.stands().includes("no-inflow today");
        house.isShut = false;
        house.until(({ tun }) => tun.isUp).for(300);
        return [raised ? so(raised - fromS, 480, 900) : "never", stood, house.stands(), house.word];
      }),
    [
      ["so", true, [], "use"],
      ["so", true, [], "use"],
      ["so", true, [], "use"],
    ],
  ],
  [
    "a trickle of 0.3 L/min: no-inflow as well",
    () => {
      const house = boathouse({ meter: true }).known();
      house.flow = 0.3;
      house.draw(24).for(1200);
      return house.raisedS("no-inflow").length;
    },
    1,
  ],
  [
    "somebody fills by hand and the tap is shut: no-inflow",
    () => {
      const house = boathouse({ meter: true, manual: true });
      house.tun.tap = false;
      house.for(60).byHand().draw(30);
      house.isShut = true;
      house.act("fill-started");
      house.tun.tap = true;
      house.for(1000);
      return house.stands();
    },
    ["no-inflow today"],
  ],
  [
    "sediment: 3.6, 3.2, 2.9, then 2.6 three times: fill-slow once, on record; by meter and by level",
    () =>
      [{ meter: true }, { level: "volume" }].map((kit) =>
        slowing(kit as Kit, [3.6, 3.2, 2.9, 2.6, 2.6, 2.6]),
      ),
    [
      [1, []],
      [1, []],
    ],
  ],
  [
    "two slow fills and a good one, four times: never",
    () => slowing({ meter: true }, [2, 2, 4, 2, 2, 4, 2, 2, 4, 2, 2, 4]),
    [0, []],
  ],
  ["2 °C in the main for 20 min: frost, told", () => cold(() => 2, 20), [["so"], ["frost tell"]]],
  ["exactly 0.0 °C: frost", () => cold(() => 0, 20), [["so"], ["frost tell"]]],
  ["−1 °C in the vessel: frost", () => cold(() => -1, 20, "tun"), [["so"], ["frost tell"]]],
  ["3.2 °C for an hour: none", () => cold(() => 3.2, 60), [[], []]],
  ["−127 °C: a thermometer that is not there, no frost", () => cold(() => -127, 30), [[], []]],
  [
    "2.9 and 3.1 °C by turns of 3 min for 2 h: once at most",
    () => cold((minute) => (minute % 6 < 3 ? 2.9 : 3.1), 120)[0],
    [],
  ],
  [
    "2 °C, then 4.5 for two hours: it stands; then 6: over after an hour, not after 50 min",
    () => [
      cold((minute) => (minute < 20 ? 2 : 4.5), 140)[1],
      cold((minute) => (minute < 20 ? 2 : 6), 75)[1],
      cold((minute) => (minute < 20 ? 2 : 6), 90)[1],
    ],
    [["frost tell"], ["frost tell"], []],
  ],
  [
    "good water of 3 µS/cm at 1 °C (0.55 of it is read): no breakthrough, of use",
    () => {
      const house = boathouse({ meter: true }).known();
      Object.assign(house, { mainC: 1.5, bedC: 1, kappa: 3 });
      house.probe = (kappa) => kappa * 0.55;
      house.fills(3);
      return [house.raisedS("resin-breakthrough").length, house.word, so(house.last?.mean25, 2.6, 3.4)];
    },
    [0, "use", "so"],
  ],
  [
    "bad water of 8 µS/cm at 1 °C reads 4.4: breakthrough, on hold",
    () => {
      const house = boathouse({ meter: true }).known();
      Object.assign(house, { mainC: 1.5, bedC: 1, kappa: 8 });
      house.probe = (kappa) => kappa * 0.55;
      house.fills(3);
      return [house.raisedS("resin-breakthrough").length > 0, house.word];
    },
    [true, "hold"],
  ],
];

table("low, slow and cold water of the boathouse", rows);
