import { compileLine, type LimitRules, lineJsonSchema, readLine, settingsOf } from "@drumlin/gateway/line";
import { describe, expect, it } from "vitest";
import { z } from "zod";

const positive = z.number().positive();
/** Three conditions as a room of alarms would hand them in. */
const limits: LimitRules = new Map([
  [
    "too-warm",
    {
      subjects: ["point", "drum"],
      settings: z
        .strictObject({
          above_c: z.number().min(-5).max(60).describe("°C from -5 to 60").optional(),
          below_c: z.number().min(-5).max(60).describe("°C from -5 to 60").optional(),
          on_min: positive.describe("minutes over 0").optional(),
          attention: z.enum(["wake", "tell"]).describe("wake or tell").optional(),
        })
        .refine(({ above_c = 60, below_c = -5 }) => below_c < above_c, "below_c is not under above_c"),
    },
  ],
  [
    "silent",
    { subjects: ["node", "channel", "float"], settings: z.strictObject({ after_s: positive.optional() }) },
  ],
  ["disk", { subjects: ["site"], settings: z.strictObject({ share: z.number().optional() }) }],
]);

const file = (entries: string) => `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 } }
drums: { mix: { volume: 200 L, fed_by: supply, stop: drums/f-1 } }
limits:
${entries}
`;
const read = (entries: string) => readLine(file(entries), "UTC", { limits });
const faults = (entries: string) => {
  const result = read(entries);
  return result.ok
    ? []
    : result.faults.map(({ code, line, path, message, instead }) => ({
        code,
        line,
        path,
        said: `${message} ${instead}`,
      }));
};
const lineOf = (entries: string) => {
  const result = read(entries);
  if (!result.ok) throw new Error(JSON.stringify(result.faults));
  return result.line;
};

describe("limits by the rules of conditions", () => {
  it("are read, and what is set of one subject goes before what is set of all", () => {
    const line = lineOf(`  too-warm: { above_c: 30, on_min: 5 }
  too-warm:mix: { above_c: 27, attention: wake }
  silent:press: { after_s: 90 }
  silent:press.ec-1: { after_s: 30 }
  silent:mix.stop: { after_s: 10 }
  disk: { share: 0.2 }`);
    expect(settingsOf(line, "too-warm", "supply")).toEqual({ above_c: 30, on_min: 5 });
    expect(settingsOf(line, "too-warm", "mix")).toEqual({ above_c: 27, on_min: 5, attention: "wake" });
    const compiled = compileLine(line);
    expect(compiled.settingsOf("silent", "press")).toEqual({ after_s: 90 });
    expect(compiled.settingsOf("silent", "press/ec-1")).toEqual({ after_s: 30 });
    expect(compiled.settingsOf("silent", "mix.stop")).toEqual({ after_s: 10 });
    expect(compiled.settingsOf("silent", "drums")).toEqual({});
    expect(compiled.settingsOf("constructor", "toString")).toEqual({});
  });

  it.each([
    [
      "an unknown condition",
      "  to-warm: { above_c: 30 }",
      { code: "condition-unknown", line: 6, path: "limits.to-warm", said: "Did you mean too-warm?" },
    ],
    [
      "one that is far from any",
      "  flooded: { above_c: 30 }",
      {
        code: "condition-unknown",
        line: 6,
        path: "limits.flooded",
        said: "Write one of too-warm, silent, disk.",
      },
    ],
    [
      "the key of every object is none",
      "  constructor: { above_c: 30 }",
      {
        code: "condition-unknown",
        line: 6,
        path: "limits.constructor",
        said: "There is no condition constructor.",
      },
    ],
    [
      "an unknown setting",
      "  too-warm:\n    abov_c: 30",
      { code: "setting-unknown", line: 7, path: "limits.too-warm.abov_c", said: "Did you mean above_c?" },
    ],
    [
      "one that is far from any",
      "  too-warm:\n    colour: 30",
      {
        code: "setting-unknown",
        line: 7,
        path: "limits.too-warm.colour",
        said: "Write one of above_c, below_c, on_min, attention.",
      },
    ],
    [
      "a value of another type",
      "  too-warm: { above_c: warm }",
      {
        code: "setting-not-allowed",
        line: 6,
        path: "limits.too-warm.above_c",
        said: "Write °C from -5 to 60.",
      },
    ],
    [
      "a value out of range",
      "  too-warm: { on_min: 0 }",
      { code: "setting-not-allowed", line: 6, path: "limits.too-warm.on_min", said: "Write minutes over 0." },
    ],
    [
      "a word that is none of its",
      "  too-warm: { attention: shout }",
      {
        code: "setting-not-allowed",
        line: 6,
        path: "limits.too-warm.attention",
        said: "Write wake or tell.",
      },
    ],
    [
      "settings that can't be together",
      "  too-warm: { above_c: 10, below_c: 20 }",
      {
        code: "settings-contradict",
        line: 6,
        path: "limits.too-warm",
        said: "below_c is not under above_c.",
      },
    ],
    [
      "a subject that the line has not",
      "  too-warm:mux: { above_c: 30 }",
      { code: "subject-unknown", line: 6, path: "limits.too-warm:mux", said: "Did you mean mix?" },
    ],
    [
      "a subject of another kind",
      "  too-warm:press.ec-1: { above_c: 30 }",
      {
        code: "subject-unknown",
        line: 6,
        path: "limits.too-warm:press.ec-1",
        said: "Name a point or drum of this file.",
      },
    ],
    [
      "a subject where there is one only",
      "  disk:press: { share: 0.1 }",
      { code: "subject-unknown", line: 6, path: "limits.disk:press", said: "Write disk alone." },
    ],
  ])("%s", (_name, entries, { said, ...where }) => {
    const found = faults(entries);
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject(where);
    expect(found[0]?.said).toContain(said);
  });

  it("all faults at once", () => {
    expect(
      faults("  too-warm: { on_min: 0, colour: 1, above_c: x }\n  silent:nope: { after_s: -1 }").map(
        ({ code }) => code,
      ),
    ).toEqual([
      "setting-not-allowed",
      "setting-unknown",
      "setting-not-allowed",
      "subject-unknown",
      "setting-not-allowed",
    ]);
  });

  it("without rules handed in only a limit can be set, of a point or drum", () => {
    const alone = (entries: string) => readLine(file(entries)).faults.map(({ code }) => code);
    expect(alone("  drum-high-high:mix: { limit: 190 }")).toEqual([]);
    expect(alone("  drum-high-high:mix: { share: 1 }")).toEqual(["setting-unknown"]);
    expect(alone("  drum-high-high:press: { limit: 1 }")).toEqual(["subject-unknown"]);
    expect(alone("  too-warm: { above_c: 30 }")).toEqual(["condition-unknown"]);
  });

  it("stand in the JSON Schema for editors, of all subjects or one", () => {
    const schema = lineJsonSchema(limits) as {
      properties: { limits: { patternProperties: Record<string, object> } };
    };
    const patterns = schema.properties.limits.patternProperties;
    expect(Object.keys(patterns)).toEqual(["^too-warm(:.+)?$", "^silent(:.+)?$", "^disk(:.+)?$"]);
    expect(patterns["^too-warm(:.+)?$"]).toMatchObject({
      properties: { attention: { enum: ["wake", "tell"] } },
      additionalProperties: false,
    });
  });
});
