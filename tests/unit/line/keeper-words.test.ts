import { readLineFile } from "@drumlin/gateway/alarms";
import { describe, expect, it } from "vitest";

const head = "drumlin: 1\nsite: a\n";
const supply = `${head}points:\n  supply: { conductivity: n/c }\n`;
const told = (yaml: string) =>
  readLineFile(yaml).faults.map(({ line, message, instead }) => `${line}: ${message} ${instead}`);
const warned = (yaml: string) => {
  const { ok, faults } = readLineFile(yaml);
  expect(ok).toBe(true);
  return faults.map(({ code, message, instead }) => [code, message, instead]);
};

it("a file in which nothing is right tells of 200 faults, not of each", () => {
  const keys = Array.from({ length: 3000 }, (_, number) => `k${number}: 1`);
  expect(readLineFile(`${supply}${keys.join("\n")}\n`).faults).toHaveLength(200);
});

describe("what can't be read, in a keeper's words", () => {
  it.each([
    ["", '1: There is nothing in the file. "drumlin new" writes a line file to begin with.'],
    ["# later\n", '1: There is nothing in the file. "drumlin new" writes a line file to begin with.'],
    [
      "- a\n",
      '1: The file does not begin with a key such as "drumlin: 1". "drumlin new" writes a line file to begin with.',
    ],
    [
      "drumlin: &a [*a]\n",
      "1: The file uses * or & in a way that can't be followed. Write values out, without * and &.",
    ],
    [
      `${supply}drums: ${"{ a: ".repeat(40)}1${" }".repeat(40)}\n`,
      "1: Keys stand within keys more than 32 deep. Take the steps back that were not meant: a line file has six at most.",
    ],
    ["drumlin: 1\n\tsite: a\n", "2: There is a tab in front of this line. Use spaces, two a step."],
    ["drumlin 1\nsite: a\n", '1: "drumlin 1" has no colon behind its key. Write "drumlin: 1".'],
    ["drumlin: 1\nsite a\npoints: {}\n", '2: "site a" has no colon behind its key. Write "site: a".'],
    [
      "drumlin: 1\nsite:a\npoints: {}\n",
      '2: There is no space after the colon of "site:a". Write "site: a".',
    ],
    [
      `${supply}drums:\n  fresh: { volume: 9 L, fed_by: supply }\n  fresh: { volume: 8 L, fed_by: supply }\n`,
      '7: "fresh" stands here twice. Put what belongs to it together, or give the second one a name of its own.',
    ],
    [
      `${supply}drums:\n  Fresh drum: { volume: 9 L, fed_by: supply }\n`,
      '6: "Fresh drum" can\'t be a name. Write "fresh-drum": small letters, digits and hyphens.',
    ],
    [
      `${supply}drums: { d: { volume: 9 L fed_by: supply } }\n`,
      "5: A comma is missing between two settings in { }. Write { volume: 200 L, fed_by: supply }.",
    ],
    [
      `${supply}drums: { d: { volume: 9 L\n`,
      '6: A bracket is opened and never closed: "}" is missing. Write the "}".',
    ],
    // What the schema finds is said by us too, never in its library's terms, with how it is written.
    [
      `${supply}drums: 5\n`,
      "5: drums takes names, each with what belongs to it; a number stands here. For example: drums: { fresh: { volume: 200 L, fed_by: after-carbon, stop: drums/float-1 } }",
    ],
    [
      `${supply}drums: { d: { volume: 9 L, fed_by: supply, control: hand } }\n`,
      '5: drums.d.control can\'t be "hand". Write automatic or manual.',
    ],
    [`${supply}solids: 7\n`, "5: solids is 7; 1 is the most. For example: solids: 0.5"],
    [
      `${supply}limits: { site-silent: { on_s: 4 } }\n`,
      "5: site-silent has no on_s to set. Nothing of it can be set: leave it out.",
    ],
    [`${supply}title: @home\n`, "5: A value can't begin with @. Put it in quotation marks."],
  ])("%j", (yaml, expected) => expect(told(yaml)).toEqual([expected]));

  it("a key that is not known: the one that was meant, else those that may stand there", () => {
    const drum = (key: string) => `${supply}drums: { d: { volume: 9 L, fed_by: supply, ${key}: 1 } }\n`;
    expect(told(drum("targt"))[0]).toContain('Did you mean "target"?');
    expect(told(drum("colour"))[0]).toContain("Here may stand title, volume, fed_by,");
    expect(told(drum("vessel"))[0]).toContain('"vessel" belongs elsewhere. Here may stand title,');
  });
});

describe("what a colleague would say", () => {
  const resin = (limit: string, vessel = "8 L") =>
    `${supply}  out: { conductivity: n/o, limit: ${limit} }\nstages:\n  resin: { kind: resin, from: supply, to: out, vessel: ${vessel} }\n`;
  const drum = (volume: string) => `${supply}drums:\n  d: { volume: ${volume}, fed_by: supply, stop: m/f }\n`;

  it("mS where uS is meant: the limit lies above tap water", () => {
    expect(warned(resin("10 mS/cm"))).toEqual([
      [
        "limit-over-feed",
        "The limit of out is 10000 uS/cm: unpurified tap water is often less, so nothing would be told.",
        "Did you mean 10 uS/cm?",
      ],
    ]);
    expect(warned(resin("200 uS/cm"))).toEqual([]);
    expect(warned(resin("201 uS/cm")).map(([code]) => code)).toEqual(["limit-over-feed"]);
  });
  it("a vessel of 8 mL", () => {
    expect(warned(resin("5 uS/cm", "8 mL"))).toEqual([
      ["vessel-very-small", "The vessel of resin is 8 mL: that is 0.008 L.", "Did you mean 8 L?"],
    ]);
    expect(warned(resin("5 uS/cm", "0.1 L"))).toEqual([]);
  });
  it("a drum of two million litres, and one of a glass", () => {
    expect(warned(drum("2000000 L")).map(([code]) => code)).toEqual(["drum-very-large"]);
    expect(warned(drum("1 L")).map(([code]) => code)).toEqual(["drum-very-small"]);
    expect(warned(drum("20000 L"))).toEqual([]);
  });
  it("which gallon", () => {
    expect(warned(drum("55 gal"))).toEqual([
      [
        "which-gallon",
        "55 gal is taken as US gallons, 208 L; imperial gallons would be 250 L.",
        'Write "55 us gal" or "55 imp gal".',
      ],
    ]);
    expect(warned(drum("55 us gal"))).toEqual([]);
    expect(warned(drum("55 imp gal"))).toEqual([]);
  });
  it("a stage that begins at a point to which nothing leads", () => {
    const loose = `${supply}stages:\n  carbon: { kind: carbon, from: supply, to: after }\n  resin: { kind: resin, from: afer, to: out }\n`;
    expect(warned(loose).map(([code, message]) => [code, message])).toEqual([
      ["stage-on-nothing", "resin begins at afer, and nothing leads there."],
    ]);
    expect(warned(loose.replace("afer", "after"))).toEqual([]);
  });
  it("a meter that could count for several drums: it says how, and asks", () => {
    const two = `${head}points:\n  supply: { flow: n/f }\ndrums:\n  a: { volume: 90 L, fed_by: supply, stop: m/f }\n  b: { volume: 90 L, fed_by: supply, stop: m/g }\n`;
    const [warning] = warned(two);
    expect(warning?.[0]).toBe("meter-for-several");
    expect(warning?.[1]).toContain("counts the water of A drum and B drum");
  });

  it("a key that stands in the file as it is, which whoever may look reads", () => {
    const codes = (webhook: string) =>
      readLineFile(`${supply}notify: { to: { relay: { webhook: ${webhook} } } }\n`).faults.map(
        ({ code, path, message }) =>
          code === "key-in-line-file" ? `${path}: ${message.split(" looks")[0]}` : code,
      );
    const inAddress = ["notify.to.relay.webhook: What stands in the address of relay"];
    for (const url of [
      "https://relay.example/hooks/T0a81kfjd93jkd02kd",
      "https://relay.example/in?token=abc",
      "https://relay.example/in?k=9f86d081884c7d659a2feaa0c55ad015",
      "https://drumlin:pw@relay.example/in",
    ])
      expect(codes(`"${url}"`), url).toEqual(inAddress);
    expect(codes('{ url: "https://relay.example/in", headers: { Authorization: "Bearer tk_1" } }')).toEqual([
      "notify.to.relay.webhook.headers.Authorization: The header Authorization of relay",
    ]);
    for (const fine of [
      '"https://relay.example/saltmarsh-house-alarms/in?site=a&day=2026-03-01T00:00:00"',
      '"https://relay.example/{secret:relay-topic}?token={secret:relay-token}"',
      '{ url: "https://relay.example/in", headers: { Authorization: "Bearer {secret:relay-token}", Title: "{title}" } }',
    ])
      expect(codes(fine), fine).toEqual([]);
    const beat =
      "notify: { heartbeat: { get: 'https://beat.example/ping/3f2b8c1e-7d4a-4f0b-9a51-000000000000' } }";
    expect(readLineFile(`${supply}${beat}\n`).faults).toMatchObject([
      { code: "key-in-line-file", severity: "warning", line: 5, path: "notify.heartbeat.get" },
    ]);
  });
});
