import { readLineFile } from "@drumlin/gateway/alarms";
import { lineReference, schemaKeys } from "@drumlin/gateway/line";
import { describe, expect, it } from "vitest";
import { parse, stringify } from "yaml";
import { englishIn } from "../words/catalogues.ts";

const keys = lineReference().flatMap((section) => section.keys);

/** A line that has one of everything, onto which an example is laid. */
const base = () => ({
  drumlin: 1,
  site: "a",
  points: { supply: {}, "after-carbon": {}, "after-resin": {} },
  stages: {
    carbon: { kind: "carbon", from: "supply", to: "after-carbon" },
    resin: { kind: "resin", from: "after-carbon", to: "after-resin" },
  },
  drums: { mix: { volume: "200 L", fed_by: "after-resin", level: { channel: "n/level", as: "volume" } } },
  rooms: { x: { temperature: "n/room" } },
});

type Tree = Record<string, unknown>;

/** Names that stand for `*`, and the forms in which a channel's settings are tried. */
const names: Readonly<Record<string, string>> = {
  points: "after-resin",
  stages: "resin",
  drums: "mix",
  pumps: "x",
  rooms: "x",
  sounders: "x",
  buttons: "x",
  systems: "x",
  to: "x",
  expects: "x",
};
/** Ways of a destination, of which each has one. */
const ways = new Set(["mail", "webhook", "mqtt", "sounder"]);

function put(tree: Tree, path: readonly string[], value: unknown): void {
  const [step = "", ...rest] = path;
  if (rest.length === 0) {
    tree[step] = value;
    return;
  }
  if (typeof tree[step] !== "object" || tree[step] === null) tree[step] = {};
  put(tree[step] as Tree, rest, value);
}

/** Where a setting of a channel can be tried: a float knows litres and its loop, a meter its flow and taps, a floor only what wet is, a probe the rest. */
function placeOf(setting: string): readonly string[] {
  if (["trips_at", "releases_at", "supervised"].includes(setting)) return ["drums", "mix", "floats", "stop"];
  if (["min_flow", "taps"].includes(setting)) return ["points", "after-resin", "flow"];
  return setting === "wet" ? ["floors", "x"] : ["points", "after-resin", "conductivity"];
}

/** The example laid onto the line, as a file. */
function fileWith(path: string, example: string): string {
  const tree: Tree = base();
  const [, value] = Object.entries(parse(example) as Tree)[0] as [string, unknown];
  const steps = path.split(".");
  if (steps[0] === "channel") {
    const [setting = "", ...inner] = steps.slice(1);
    const range = inner.length > 0 ? { min: 0, max: 2000, [inner[0] as string]: value } : value;
    put(tree, placeOf(setting), { channel: "n/x", [setting]: range });
  } else if (steps[0] === "foreign" && steps.length > 1) {
    const key = steps[2] as string;
    tree.foreign = [{ topic: "shed/ec", channel: "n/foreign", [key]: value }];
    if (key === "channel") put(tree, ["points", "supply", "conductivity"], value);
    else put(tree, ["points", "supply", "conductivity"], "n/foreign");
  } else {
    const needed: Record<string, Tree> = {
      pumps: { channel: "n/c" },
      sounders: { channel: "n/c" },
      buttons: { channel: "n/c" },
      inlet: { channel: "n/c" },
      night: { from: "21:00", to: "07:00" },
      ...(steps[0] === "buttons" && steps.length > 3 && steps[3] !== "drum"
        ? { work: { stage: "resin" } }
        : {}),
      quiet: { from: "21:00", to: "07:00" },
      priority: { wake: "a", tell: "b", today: "c" },
      webhook: { url: "https://relay.example/x" },
      expects: { every: "1 d" },
      ...(steps[1] === "mail" ? { mail: { server: "mail.example.org", from: "a@example.org" } } : {}),
      ...(steps[1] === "to" && !ways.has(steps[3] ?? "") ? { to: { mqtt: "calls" } } : {}),
    };
    const at = steps.map((step, index) => (step === "*" ? (names[steps[index - 1] as string] ?? "x") : step));
    for (const [index, step] of steps.entries())
      if (needed[step] && index < steps.length - 1)
        put(tree, at.slice(0, steps[index + 1] === "*" ? index + 2 : index + 1), { ...needed[step] });
    put(tree, at, value);
  }
  return stringify(tree);
}

/** Faults that lie in what the example leaves to the rest of the file. */
const ofTheRest = new Set([
  "point-unknown",
  "subject-unknown",
  "strapping-missing",
  "channel-unused",
  "no-mail-server",
  "no-such-sounder",
]);

describe("the reference of the line file", () => {
  it("has a text for every key of the schema, and none for a key that is not there", () => {
    const [known, told] = [schemaKeys().map(({ path }) => path), keys.map(({ path }) => path)];
    expect(known.filter((path) => !told.includes(path))).toEqual([]);
    expect(told.length).toBe(new Set(told).size);
    expect(told.filter((path) => !known.includes(path))).toEqual([]);
  });
  it("says all of it in German too, but for keys, values and examples", () => {
    const german = lineReference("de");
    const pairs = lineReference().flatMap(({ keys: own }, at) =>
      own.map((key, place) => [key, german[at]?.keys[place]] as const),
    );
    expect(pairs.length).toBeGreaterThan(140);
    const texts = pairs.flatMap(([key, other]) => {
      expect([other?.path, other?.example, other?.isNeeded]).toEqual([key.path, key.example, key.isNeeded]);
      return [other?.what ?? "", other?.unit ?? "", other?.otherwise ?? "", other?.takes ?? ""].map(
        (text) => `${key.path}: ${text}`,
      );
    });
    expect(texts.filter((text) => englishIn(text.slice(text.indexOf(": "))))).toEqual([]);
    expect(pairs.filter(([key, other]) => key.what === other?.what).map(([{ path }]) => path)).toEqual([]);
    // A default in words is said in German; one that is a value or a figure stays.
    const same = pairs.filter(
      ([key, other]) => key.otherwise === other?.otherwise && /\p{L}{3,} \p{L}/u.test(key.otherwise ?? ""),
    );
    expect(same.map(([{ path, otherwise }]) => `${path}: ${otherwise}`)).toEqual([]);
    expect(lineReference("de").map(({ title }) => title)).not.toContain("Drums");
    const takes = new Map(pairs.map(([, key]) => [key?.path, key?.takes]));
    expect(takes.get("channel.solids")).toBe("Zahl von 0.3 bis 1 | nacl");
    expect(takes.get("stages.*.vessels")).toBe("ganze Zahl von 1 bis 20");
  });
  it("says what each takes", () => {
    const takes = new Map(keys.map((key) => [key.path, key.takes]));
    expect(takes.get("drums.*.control")).toBe("automatic | manual");
    expect(takes.get("drums.*.volume")).toBe("quantity");
    expect(takes.get("points.*.conductivity")).toBe("node/channel, or its settings");
    expect(takes.get("channel.solids")).toBe("number from 0.3 to 1 | nacl");
    expect(takes.get("stages.*.vessels")).toBe("whole number from 1 to 20");
    expect(takes.get("night.from")).toBe('"hh:mm"');
  });
  it("names a unit for every quantity", () => {
    expect(keys.filter((key) => key.takes === "quantity" && key.unit === null)).toEqual([]);
  });
  it.each(keys.map((key) => [key.path, key.example] as const))(
    "%s: its example is read: %s",
    (path, example) => {
      const [key] = Object.keys(parse(example) as Tree);
      expect(key).toBe(path.split(".").at(-1));
      const faults = readLineFile(fileWith(path, example)).faults.filter(
        (fault) => fault.severity === "error" && !ofTheRest.has(fault.code),
      );
      expect(faults.map(({ message }) => message)).toEqual([]);
    },
  );
});
