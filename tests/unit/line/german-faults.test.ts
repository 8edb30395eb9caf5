import { conditionRows, readLineFile } from "@drumlin/gateway/alarms";
import { germanLineFaults, sayBy } from "@drumlin/gateway/words";
import { expect, it } from "vitest";
import { englishIn } from "../words/catalogues.ts";

const head = "drumlin: 1\nsite: a\n";
const supply = `${head}points:\n  supply: { conductivity: n/c }\n`;
const drum = (more: string) => `${supply}drums: { d: { volume: 200 L, fed_by: supply, ${more} } }\n`;
const stages = (more: string) =>
  `${head}points:\n  supply: { conductivity: n/c }\n  well: {}\n  out: { conductivity: n/o }\nstages:\n${more}`;
const resin = "  resin: { kind: resin, from: supply, to: out }\n";

/** Files that are wrong, or that a colleague would ask about, each in a way of its own. */
const files = [
  "",
  "- a\n",
  "drumlin: &a [*a]\n",
  `${supply}drums: ${"{ a: ".repeat(40)}1${" }".repeat(40)}\n`,
  `# ${"x".repeat(2_000_000)}`,
  "drumlin: 1\n\tsite: a\n",
  "drumlin 1\nsite: a\n",
  "drumlin: 1\nsite:a\npoints: {}\n",
  "drumlin: 1\ntitle: a: b\n",
  "drumlin: 1\n  site: a\n",
  "drumlin: 1\npoints:\n    supply: {}\n  other: {}\n",
  `${supply}title: "open\n`,
  `${supply}drums:\n  fresh: { volume: 9 L, fed_by: supply }\n  fresh: { volume: 8 L, fed_by: supply }\n`,
  `${supply}drums:\n  Fresh drum: { volume: 9 L, fed_by: supply }\n`,
  `${supply}drums: { d: { volume: 9 L fed_by: supply } }\n`,
  `${supply}drums: { d: { volume: 9 L\n`,
  `${supply}title: @home\n`,
  `${supply}drums: { d: { volume: 9 L } }\n`,
  `${supply}timezone: Europe/Bremen-Nord\n`,
  `${head}points: {}\n`,
  `${supply}currency: money\n`,
  `${supply}drums: ]\n`,
  `${supply}drums: 5\n`,
  `${supply}title: [a]\n`,
  `${supply}night: nothing\n`,
  `${supply}systems: { hall: { tanks: h1 } }\n`,
  `${supply}solids: 7\n`,
  `${supply}solids: 0\n`,
  `${head}points: { supply: { conductivity: { channel: n/c, scale: 0 } } }\n`,
  `${supply}stages: { r: { kind: resin, from: supply, to: o, vessels: 1.5 } }\n`,
  drum("control: hand"),
  drum("greatest_flow: [1]"),
  `${supply}notify: { page: "ftp://a" }\n`,
  `${supply}notify: { to: { a: { mqtt: calls, title: "a\\tb" } } }\n`,
  `${supply}notify: { to: { mara: { mail: mara } } }\n`,
  `${supply}notify: { to: { mara: {} } }\n`,
  `${supply}notify: { to: { device: { mqtt: calls } } }\n`,
  `${supply}notify: { to: { relay: { webhook: { url: "ftp://x", headers: { "a b": c } } } } }\n`,
  `${supply}notify: { mail: { server: "a b", from: a@example.org }, push_hosts: ["a b"] }\n`,
  `${supply}notify: { heartbeat: { mqtt: 5 } }\n`,
  `${supply}buttons: { b: { channel: m/b, work: {} } }\n`,
  `${supply}foreign: [{ topic: "a/+", channel: n/x }]\n`,
  `${supply}site: Site A\n`.replace("site: a\n", ""),
  drum("targt: 1"),
  drum("colour: 1"),
  drum("vessel: 1"),
  drum("stop: m/f, __proto__: 1"),
  drum("stop: m/f, volume: 7 L"),
  `${supply}drums: { d: { volume: "1,000,0 L", fed_by: supply } }\n`,
  `${supply}drums: { d: { volume: lots, fed_by: supply } }\n`,
  `${supply}drums: { d: { volume: "1,234 L", fed_by: supply } }\n`,
  `${supply}drums: { d: { volume: 7 ells, fed_by: supply } }\n`,
  `${supply}drums: { d: { volume: 1e999 L, fed_by: supply } }\n`,
  `${supply}drums: { d: { volume: 0 L, fed_by: supply } }\n`,
  drum("stop: n/c"),
  drum("stop: m/f, floats: { stop: m/g }"),
  `${supply}drums: { d: { volume: 9 L, fed_by: nowhere } }\n`,
  drum('level: { channel: m/l, as: depth, strapping: { "0 m": "9 L", "1 m": "1 L" } }'),
  drum("level: { channel: m/l, as: depth }"),
  stages(`${resin}  back: { kind: resin, from: out, to: supply }\n`),
  stages("  self: { kind: resin, from: supply, to: supply }\n"),
  stages(`${resin}  other: { kind: resin, from: well, to: out }\n`),
  `${head}points: { supply: { conductivity: { channel: n/c, range: { min: 9, max: 1 } } } }\n`,
  drum("stop: { channel: m/f, trips_at: 210 L }"),
  drum("stop: { channel: m/f, trips_at: 170 L, releases_at: 180 L }"),
  drum("stop: m/f, target: { salinity: 1.0264 }"),
  `${supply}buttons: { b: { channel: m/b, work: { stage: none } } }\n`,
  `${supply}notify: { to: { mara: { mail: mara@example.org }, hall: { sounder: hall } } }\n`,
  `${supply}limits: { frosty: { limit: 4 } }\n`,
  `${supply}limits: { frost: { colour: 4 } }\n`,
  `${supply}limits: { temperature-out: { below_c: warm } }\n`,
  `${supply}limits: { temperature-out: { colour: 4 } }\n`,
  `${supply}limits: { "resin-breakthrough:nowhere": { limit: 4 } }\n`,
  `${supply}limits: { "site-silent:x": { on_s: 4 } }\n`,
  drum("flow: m/f"),
  drum("stop: m/f, floats: { overflow: m/g }"),
  drum("stop: { channel: m/f, trips_at: 199 L }, greatest_flow: 4 L/min"),
  `${stages("  resin: { kind: resin, from: supply, to: out, vessel: 1 L }\n  carbon: { kind: carbon, from: well, to: supply, vessel: 1 L }\n")}drums: { d: { volume: 200 L, fed_by: out, stop: m/f, greatest_flow: 9 L/min } }\n`,
  `${head}supply: { disinfectant: chlorine }\n${stages("  carbon: { kind: carbon, from: supply, to: out, vessel: 1 L }\n").slice(head.length)}drums: { d: { volume: 200 L, fed_by: out, stop: m/f, greatest_flow: 9 L/min } }\n`,
  stages(resin).replace("n/o }", "{ channel: n/o, resolution: 2 uS/cm }, limit: 5 uS/cm }"),
  stages(resin).replace("n/o }", "n/o, limit: 10 mS/cm }"),
  stages(resin).replace("n/o }", "n/o, limit: 300 uS/cm }"),
  stages("  resin: { kind: resin, from: supply, to: out, vessel: 8 mL }\n"),
  stages("  resin: { kind: resin, from: supply, to: out, vessel: 8000 L }\n"),
  `${supply}drums: { d: { volume: 2000000 L, fed_by: supply, stop: m/f } }\n`,
  `${supply}drums: { d: { volume: 55 gal, fed_by: supply, stop: m/f } }\n`,
  stages(
    "  carbon: { kind: carbon, from: supply, to: well }\n  resin: { kind: resin, from: afer, to: out }\n",
  ),
  `${head}points:\n  supply: { flow: n/f }\ndrums:\n  a: { volume: 90 L, fed_by: supply, stop: m/f }\n  b: { volume: 90 L, fed_by: supply, stop: m/g }\n`,
];

const many = (count: number, one: (at: number) => string) =>
  Array.from({ length: count }, (_, at) => one(at)).join(", ");
const tooMany = [
  `${supply}notify: { to: { ${many(51, (at) => `a${at}: { mqtt: calls }`)} } }\n`,
  `${supply}notify: { to: { a: { webhook: { url: "https://x.example", form: text, headers: { ${many(21, (at) => `h${at}: v`)} } } } } }\n`,
];

/** Keys of others that stand in the file itself. */
const withKeys = [
  `${supply}notify: { to: { a: { webhook: { url: "https://x.example/q7f3k2m9p1z8w4v6", headers: { Authorization: Bearer t } } } }, heartbeat: { get: "https://x.example/?token=t" } }\n`,
];

/** Each setting of each condition, as it can't be. */
const settings = conditionRows.flatMap(({ id, settings: { shape } }) =>
  Object.keys(shape).map((key) => `${supply}limits: { ${id}: { ${key}: "no such" } }\n`),
);

/** What the reader says of all of them, each text once. */
const said = new Set(
  [...files, ...tooMany, ...withKeys, ...settings].flatMap((yaml) =>
    readLineFile(yaml).faults.flatMap(({ message, instead }) => [message, instead]),
  ),
);

it("what is said of a line file is said in German too", () => {
  expect(said.size).toBeGreaterThan(90);
  const german = [...said].map((text) => [text, sayBy(germanLineFaults, text)] as const);
  expect(german.filter(([text, other]) => text === other).map(([text]) => text)).toEqual([]);
  // "from" and "to" are keys of the file.
  const told = germanLineFaults.map(([, text]) => text.replaceAll(/„.*?“|\bfrom und to\b|\[\w+: .*/g, ""));
  expect(told.filter(englishIn)).toEqual([]);
});

it("no German is kept for what nobody says", () => {
  const used = new Set([...said].map((text) => sayBy(germanLineFaults, text)));
  expect(used.size).toBeGreaterThan(80);
  const unused = germanLineFaults.filter(([english]) => {
    const pattern = new RegExp(
      `^${english
        .split(/\{\w+\}/)
        .map((part) => part.replaceAll(/[.*+?^${}()|[\]\\]/g, "\\$&"))
        .join(".+?")}$`,
      "u",
    );
    // A word without braces may stand inside another sentence.
    return ![...said].some((text) => pattern.test(text) || text.includes(english));
  });
  expect(unused.map(([english]) => english)).toEqual([]);
});
