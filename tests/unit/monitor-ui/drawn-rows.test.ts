import { drawnPictures } from "@drumlin/gateway/app";
import { readLine } from "@drumlin/gateway/line";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { edited } from "../../../gateway/src/app/line-edits.ts";
import { addedDrum, addedStage, chainOf, rowsOf, takenOut } from "../../../monitor-ui/src/draw/rows.ts";

type Drawing = Parameters<typeof addedDrum>[0];

/** What the page knows of a file's line; throws where the file is faulty. */
function drawingOf(yaml: string): Drawing {
  const read = readLine(yaml);
  if (!read.ok) throw new Error(read.faults.map(({ message }) => message).join(" "));
  const { points, stages, drums } = read.line;
  return { points, stages, drums } as unknown as Drawing;
}
const pictures = drawnPictures("saltmarsh-house", "Saltmarsh House");
const two = pictures.find(({ id }) => id === "resin")?.yaml ?? "";
const titles = (yaml: string) =>
  rowsOf(drawingOf(yaml)).map(({ title, depth }) => `${"-".repeat(depth)}${title}`);

describe("the drawing from the supply down", () => {
  it("has each point, its drums off the pipe, then the filters behind", () => {
    expect(titles(two)).toEqual([
      "Supply",
      "Sediment",
      "After sediment",
      "Carbon",
      "After carbon",
      "-Fresh drum",
      "Resin",
      "After resin",
      "-Mix drum",
    ]);
  });

  it("shows a branch that stands off, and ends where water runs in a ring", () => {
    const stages = [
      { id: "a", title: "A", kind: "other", from: "s", to: "p" },
      { id: "b", title: "B", kind: "other", from: "s", to: "q" },
      { id: "c", title: "C", kind: "other", from: "q", to: "p" },
      { id: "d", title: "D", kind: "other", from: "p", to: "q" },
    ] as const;
    const rows = rowsOf({ points: [{ id: "s", title: "S" }], stages, drums: [] });
    expect(rows.map(({ id, depth }) => `${id}${depth}`)).toEqual(["s0", "a1", "p1", "d1", "q1", "c1", "b0"]);
  });

  it("a picture has its housings in order, and drums after the right one", () => {
    expect(chainOf(drawingOf(two))).toEqual({ kinds: ["sediment", "carbon", "resin"], hung: [2, 3] });
  });
});

describe("parts that are added and taken out", () => {
  const change = fc.record({
    what: fc.constantFrom("drum", "sediment", "carbon", "membrane", "resin", "out"),
    at: fc.nat(30),
  });
  it("always leave a line that the gateway takes", () => {
    fc.assert(
      fc.property(fc.nat(pictures.length - 1), fc.array(change, { maxLength: 12 }), (first, changes) => {
        let yaml = pictures[first]?.yaml ?? "";
        for (const { what, at } of changes) {
          const drawing = drawingOf(yaml);
          const rows = rowsOf(drawing);
          const part = rows[at % rows.length];
          if (!part || (what === "out") === (part.kind === "point")) continue;
          if (what !== "out" && part.kind !== "point") continue;
          const edits =
            what === "out"
              ? takenOut(drawing, part)
              : what === "drum"
                ? addedDrum(drawing, part.id)
                : addedStage(drawing, part.id, what as "resin");
          const next = edited(yaml, edits);
          if (next === null) throw new Error("not made");
          const after = rowsOf(drawingOf(next));
          const grows = what === "out" ? -1 : 1;
          expect(Math.sign(after.length - rows.length)).toBe(grows);
          yaml = next;
        }
      }),
      { numRuns: 20 },
    );
  });
});
