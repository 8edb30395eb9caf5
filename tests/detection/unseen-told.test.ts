// Where `expected.ts` promises no call for a stop that has failed, the drum's card and `drumlin check` say that it is not
// seen; where it promises one, they do not.
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createPipeline } from "@drumlin/gateway/app";
import { describe, expect, it } from "vitest";
import { checkCommand } from "../../gateway/src/app/commands/check.ts";
import { createLiveState } from "../../gateway/src/app/live-state.ts";
import { isPromised } from "./expected.ts";
import { kitOf, kits, lineOf } from "./kits.ts";

/** How each failure is named where it passes unseen. */
const sentences: ReadonlyMap<string, RegExp> = new Map([
  ["valve-passes", /valve that does not close/],
  ["valve-leaks", /valve that (does not close|passes less than)/],
  ["float-drifting", /float that trips later each time/i],
]);
const unseenOf = (texts: readonly string[]) =>
  [...sentences].filter(([, is]) => texts.some((text) => is.test(text))).map(([fault]) => fault);

function cardOf(yaml: string): readonly string[] {
  const pipeline = createPipeline();
  pipeline.push({ seq: 1, receivedAt: 0, kind: "line", yaml }, () => {});
  const { board, line, engineMs } = pipeline;
  const calendar = { at: (ms: number) => ms } as never;
  const live = createLiveState({ board, line, engineMs, calendar, simulated: false });
  return live.lineView()?.drums[0]?.guard?.unseen ?? [];
}

async function checkOf(yaml: string): Promise<readonly string[]> {
  const file = join(mkdtempSync(join(tmpdir(), "drumlin-unseen-")), "line.yaml");
  writeFileSync(file, yaml);
  const printed: string[] = [];
  const { log } = console;
  console.log = (text: string) => printed.push(text);
  try {
    expect(await checkCommand.run([file])).toBe(0);
  } finally {
    console.log = log;
  }
  return printed.join("\n").split("\n");
}

describe("what a kit cannot see", () => {
  it.each([...kits.keys()].filter((name) => !kitOf(name).quietOnly))("%s", async (name) => {
    const kit = kitOf(name);
    const isByHand = kit.setting.control.by === "person";
    const expected = [...sentences.keys()].filter((fault) => !isPromised(kit, fault));
    // Who fills by hand closes the tap, too: a valve that passes is no failure of such a drum's stop. What a meter does
    // not see is said beside an overflow float, too: nothing counts on that one before its test.
    const asked = (faults: readonly string[]) =>
      faults.filter(
        (fault) =>
          !(isByHand && fault === "valve-passes") && !(kit.fitted.overflow && fault === "valve-leaks"),
      );
    expect(asked(unseenOf(cardOf(lineOf(kit))))).toEqual(asked(expected));
    expect(asked(unseenOf(await checkOf(lineOf(kit))))).toEqual(asked(expected));
  });

  // Filled by hand, unannounced: one witness beside the float may be stuck as well, or there is none.
  it.each([
    ["manual", /nobody announces a fill and the float hangs, nothing tells/],
    ["manual+level", /Only the level sees a fill that nobody announces: if it sticks too/],
    ["manual+meter", /Only the meter sees a fill that nobody announces: if it sticks too/],
  ] as const)("a fill that nobody announced, where the float hangs: %s", async (name, says) => {
    const yaml = lineOf(kitOf(name));
    expect(cardOf(yaml).join("\n")).toMatch(says);
    expect((await checkOf(yaml)).join("\n")).toMatch(says);
  });
  it("and nothing of the kind where it fills by itself, or two more witnesses tell", () => {
    const byHand = lineOf(kitOf("manual+level"));
    const both = byHand.replace("to: made }", "to: made, flow: press/flow-1 }");
    const overflow = byHand.replace("greatest_flow", "floats: { overflow: drums/over }, greatest_flow");
    for (const yaml of [lineOf(kitOf("level")), both, overflow])
      expect(cardOf(yaml).join()).not.toMatch(/nothing tells you that the drum is running over/);
    expect([both, overflow]).not.toContain(byHand);
  });

  it("is something: the smallest kit has all three, one with an overflow float none", () => {
    expect(unseenOf(cardOf(lineOf(kitOf("float"))))).toEqual([...sentences.keys()]);
    expect(unseenOf(cardOf(lineOf(kitOf("overflow"))))).toEqual([]);
  });
});
