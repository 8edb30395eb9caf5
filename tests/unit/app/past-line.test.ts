import { pastLine } from "@drumlin/gateway/app";
import { describe, expect, it } from "vitest";

const lineWith = (supply: string, after = "press/ec-2") => `drumlin: 1
site: saltmarsh-house
points: { supply: ${supply}, after-resin: { conductivity: ${after} } }
stages: { resin: { kind: resin, from: supply, to: after-resin } }
`;
const use = (then: string, today: string, heard: readonly string[] = []) =>
  Object.fromEntries(
    [...(pastLine(then, today, (channel) => heard.includes(channel))?.channels ?? [])].map(
      ([channel, { subject }]) => [channel, subject.id],
    ),
  );

describe("the line of then, for reading the past", () => {
  it("a channel that only today's line knows is read at its place of today", () => {
    expect(use(lineWith("{}"), lineWith("{ conductivity: press/ec-9 }"))).toEqual({
      "press/ec-2": "after-resin",
      "press/ec-9": "supply",
    });
  });
  it("with its settings", () => {
    const today = lineWith("{ conductivity: { channel: press/ec-9, at25: true } }");
    const line = pastLine(lineWith("{}"), today);
    expect(line?.channels.get("press/ec-9")).toMatchObject({ at25: true });
  });
  it("in place of a template's name that was never heard", () => {
    const then = lineWith("{ conductivity: press/ec-1 }");
    const today = lineWith("{ conductivity: press/ec-9 }");
    expect(use(then, today)).toEqual({ "press/ec-2": "after-resin", "press/ec-9": "supply" });
  });
  it("never in place of a channel that spoke there", () => {
    const then = lineWith("{ conductivity: press/ec-1 }");
    const today = lineWith("{ conductivity: press/ec-9 }");
    expect(use(then, today, ["press/ec-1"])).toEqual({ "press/ec-1": "supply", "press/ec-2": "after-resin" });
  });
  it("a channel that was moved stays where it was then", () => {
    const then = lineWith("{ conductivity: press/ec-1 }");
    const today = lineWith("{}", "press/ec-1");
    expect(use(then, today)).toEqual({ "press/ec-1": "supply", "press/ec-2": "after-resin" });
  });
});
