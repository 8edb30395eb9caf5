import { readLine } from "@drumlin/gateway/line";
import { expect, it } from "vitest";

const placesOf = (yaml: string) => {
  const read = readLine(yaml);
  return (read.faults ?? []).map(({ line, column, code }) => `${line}:${column} ${code}`);
};

it("faults stand in the order of the file, whichever check found them", () => {
  const places = placesOf(`drumlin: 1
site: a
limits: { frosty: { limit: 4 } }
drums: { d: { volume: 9 L, fed_by: nowhere, stop: { channel: m/f, trips_at: 10 L } } }
points: {}
timezone: Europe/Nowhere
`);
  expect(places.map((place) => place.replace(/^(\d+):\d+ /, "$1 "))).toEqual([
    "3 condition-unknown",
    "4 point-unknown",
    "4 over-the-drum",
    "5 no-points",
    "6 timezone-unknown",
  ]);
});

it("of two in one line the one farther left stands first", () => {
  const places = placesOf(`drumlin: 1
site: a
points: { supply: { conductivity: { channel: n/c, range: { min: 9, max: 1 } } } }
drums: { a: { volume: 9 L, fed_by: supply, stop: { channel: m/f, trips_at: 10 L } }, b: { volume: 9 L, fed_by: supply, stop: { channel: m/g, trips_at: 10 L } } }
`);
  const columns = places
    .filter((place) => place.startsWith("4:"))
    .map((place) => Number.parseInt(place.slice(2), 10));
  expect(columns).toHaveLength(2);
  expect(columns[0]).toBeLessThan(columns[1] as number);
});
