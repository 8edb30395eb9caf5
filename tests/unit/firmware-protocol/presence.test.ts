import { parsePresence } from "@drumlin/firmware-protocol";
import { expect, it } from "vitest";

const said = (presence: object) => parsePresence(new TextEncoder().encode(JSON.stringify(presence)));
const channelsOf = (...channels: readonly unknown[]) => {
  const read = said({ state: "online", boot: 7, channels });
  return read.ok && read.presence.state === "online" ? read.presence.channels : null;
};

it("protocol 1 is spoken, also where none is named; another is refused by its number or its kind", () => {
  expect([said({ state: "online", protocol: 1 }).ok, said({ state: "online" }).ok]).toEqual([true, true]);
  expect(said({ state: "online", protocol: 2 })).toMatchObject({ ok: false });
  expect(JSON.stringify(said({ state: "online", protocol: 2 }))).toContain("Protocol 2 is not spoken here");
  expect(JSON.stringify(said({ state: "online", protocol: "1" }))).toContain("Protocol (string)");
});

it.each([
  [0.01, 0.01],
  [0, null],
  [-1, null],
  ["0.1", null],
])("a channel's resolution is a number over 0, or not known: %s", (resolution, known) => {
  expect(channelsOf({ name: "ec-1", unit: "S/m", resolution })?.[0]?.resolution).toBe(known);
});

it("channels that are not understood are left out, and 64 are taken at most", () => {
  expect(channelsOf(5, null, { name: "" }, { name: 7 }, { name: "x".repeat(129) }, { name: "t-1" })).toEqual([
    { name: "t-1", unit: null, resolution: null, at25: false },
  ]);
  const many = Array.from({ length: 70 }, (_, at) => ({ name: `t-${at}` }));
  expect(channelsOf(...many)).toHaveLength(64);
});
