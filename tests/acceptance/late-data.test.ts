import { expect, it } from "vitest";
import { beginMs, createLineBench } from "./line-bench.ts";

it("held packs of a bad night raise no alarm about the past, and leave the live value unmoved", () => {
  const bench = createLineBench();
  const pack = (seq: number, up: number, kappa: number) => [
    { boot: 3, seq, up, n: "ec-2", u: "S/m", v: kappa * 1e-4 },
    { n: "t-2", u: "Cel", v: 25 },
    { n: "flow-1", u: "m3/s", v: 2.5 / 60_000 },
  ];
  let seq = 0;
  for (let at = 20; at < 600; at += 5) bench.node("press", pack(seq++, at, 0.5), at);
  // Six hours without a network, in which the resin was bad; then everything at once, newest last.
  for (let place = 0; place < 4000; place += 1)
    bench.node("press", pack(seq++, 600 + place * 5, 80), 600 + 6 * 3600 + place * 0.01);
  const measured = bench.outcomes.filter(
    (outcome) => outcome.kind === "measurement" && outcome.quantity === "conductivity25",
  );
  expect(measured.length).toBeGreaterThan(4000);
  // That the node fell silent while water ran is no alarm about the past: it was told when it happened.
  expect(bench.alarms().filter(({ alarm }) => alarm.condition !== "watch-lost")).toEqual([]);
  const last = measured.at(-1);
  expect(
    last?.kind === "measurement" && Math.abs(last.tMs - (beginMs + (600 + 3999 * 5) * 1000)),
  ).toBeLessThan(20_000);
});
