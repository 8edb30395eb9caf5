import { readLine } from "@drumlin/gateway/line";
import { expect, it } from "vitest";

it("everything that a line file may hold is read and kept", () => {
  const result = readLine(`drumlin: 1
site: saltmarsh-house
title: Saltmarsh House
timezone: Europe/Lisbon
night: { from: "22:00", to: "06:30" }
currency: EUR
solids: nacl
supply: { disinfectant: chlorine }
points:
  supply: { conductivity: { channel: press/ec-1, scale: 1.02, resolution: 1 uS/cm, range: { min: 0, max: 2000 }, compensation: linear, alpha: 0.02 }, pressure: { channel: press/p-1, resolution: 10 mbar }, level: press/l-1 }
  after-resin: { conductivity: { channel: press/ec-2, at25: true }, limit: 10 uS/cm }
  aside: { conductivity: { channel: press/tds, solids: 0.5 } }
stages:
  resin: { kind: resin, from: supply, to: after-resin, vessels: 2, arrangement: series, vessel: 5 L, media: 4 L, pipe: 0.5 L, waste: press/f-9 }
flows: { supply: press/f-1 }
drums:
  mix:
    volume: 200 L
    fed_by: after-resin
    feeds: automatic
    floats: { stop: { channel: drums/f-1, wet: false, trips_at: 170 L, releases_at: 120 L }, start: drums/f-2, overflow: other/f-3, low: drums/f-4 }
    level: { channel: drums/l-1, as: volume }
    inlet: { channel: drums/v-1, open: false }
    conductivity: drums/ec-1
    temperature: drums/t-1
    target: { conductivity: 8 uS/cm, salinity: 33, temperature: 24 Cel }
pumps: { booster: { channel: press/pump } }
floors: { press-room: press/floor }
sounders: { hall: { channel: hall/horn } }
buttons: { hall: { channel: hall/button } }
systems: { seahorses: { volume: 900 L, tanks: [a-1, a-2] } }
limits: { resin-breakthrough: { limit: 4 } }
`);
  if (!result.ok) throw new Error(JSON.stringify(result.faults));
  const { line } = result;
  expect(line.points[0]).toMatchObject({ flow: "press/f-1", pressure: "press/p-1", level: "press/l-1" });
  expect(line.stages[0]).toMatchObject({
    vesselVolumeL: 10,
    mediaVolumeL: 8,
    waste: "press/f-9",
    arrangement: "series",
  });
  expect(line.drums[0]).toMatchObject({
    target: { conductivity25UsPerCm: 8, salinity: 33, temperatureC: 24 },
    feeds: "automatic",
    inlet: { openWhen: false },
  });
  expect(line.drums[0]?.floats.map(({ role, wetWhen, tripsAtL }) => [role, wetWhen, tripsAtL])).toEqual([
    ["stop", false, 170],
    ["start", null, null],
    ["overflow", null, null],
    ["low", null, null],
  ]);
  expect(line.channels.get("press/ec-1")).toMatchObject({
    scale: 1.02,
    compensation: "linear",
    alphaPerC: 0.02,
    resolution: 1,
    range: { max: 2000 },
  });
  expect(line.channels.get("press/p-1")?.resolution).toBeCloseTo(0.01, 9);
  expect(line.channels.get("press/ec-2")).toMatchObject({ compensation: "none", at25: true });
  expect(line.channels.get("press/tds")).toMatchObject({
    signal: "solids",
    solidsScale: { kind: "factor", mgPerLPerUsPerCm: 0.5 },
  });
  expect(line.systems).toEqual([
    { id: "seahorses", title: "Seahorses", volumeL: 900, tanks: ["a-1", "a-2"] },
  ]);
  expect([
    line.sounders[0]?.channel,
    line.buttons[0]?.channel,
    line.pumps[0]?.channel,
    line.floors[0]?.channel,
  ]).toEqual(["hall/horn", "hall/button", "press/pump", "press/floor"]);
  expect(line).toMatchObject({
    solids: { kind: "nacl" },
    disinfectant: "chlorine",
    currency: "EUR",
    night: { from: "22:00", to: "06:30" },
  });
});

const small = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 } }
sounders: { hall: { channel: hall/horn } }
`;

it("who is told is read and kept", () => {
  const result = readLine(`${small}notify:
  page: https://house.example/
  wake: { again: 3 min, second_after: 9 min }
  tell: { again: 2 h }
  today: "06:45"
  mail: { server: mail.example.org, user: drumlin, from: drumlin@example.org }
  to:
    mara: { mail: mara@example.org, person: mara, takes: today, quiet: { from: "22:00", to: "06:00" } }
    jonas: { mail: jonas@example.org, takes: wake, turn: second }
    relay: { webhook: { url: "https://relay.example/house", form: text, headers: { Title: "{title}" } } }
    own: { webhook: { url: "http://192.168.1.7/in", allow_private: true } }
    horn: { sounder: hall, takes: wake }
    house: { mqtt: calls }
  heartbeat: { get: "https://watch.example/ping/1", every: 2 min }
expects: { copies: { title: Nightly copies, every: 1 d } }
`);
  if (!result.ok) throw new Error(JSON.stringify(result.faults));
  const { notify, expects } = result.line;
  expect(notify).toMatchObject({
    page: "https://house.example",
    wake: { againMs: 180_000, secondAfterMs: 540_000 },
    tell: { againMs: 7_200_000 },
    todayAtMinute: 405,
    mail: { port: 587, security: "starttls", user: "drumlin" },
    heartbeat: { get: "https://watch.example/ping/1", mqtt: false, everyMs: 120_000 },
  });
  expect(notify.destinations.map(({ id, takes, turn, way }) => [id, takes, turn, way.kind])).toEqual([
    ["mara", "today", "first", "mail"],
    ["jonas", "wake", "second", "mail"],
    ["relay", "tell", "first", "webhook"],
    ["own", "tell", "first", "webhook"],
    ["horn", "wake", "first", "sounder"],
    ["house", "tell", "first", "mqtt"],
  ]);
  expect(notify.destinations[0]?.quiet).toEqual({ fromMinute: 1320, toMinute: 360 });
  expect(expects).toEqual([{ id: "copies", title: "Nightly copies", everyMs: 86_400_000 }]);
});

it.each([
  ["mara: { mail: mara@example.org }", "no-mail-server"],
  ["horn: { sounder: cellar }", "no-such-sounder"],
  ["both: { mqtt: calls, sounder: hall }", "value-not-allowed"],
  ["nobody: { takes: wake }", "value-not-allowed"],
  ['eve: { mail: "eve@example.org\\r\\nBcc: x@example.org" }', "value-not-allowed"],
  ["file: { webhook: 'file:///etc/passwd' }", "value-not-allowed"],
  ['split: { webhook: { url: "https://a.example", headers: { Title: "a\\nb: c" } } }', "value-not-allowed"],
])("refuses %s", (destination, code) => {
  const result = readLine(`${small}notify: { to: { ${destination} } }\n`);
  expect(result.ok).toBe(false);
  expect(result.faults.map((fault) => fault.code)).toContain(code);
});
