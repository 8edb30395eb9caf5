import type { Line } from "@drumlin/gateway/line";
import {
  type AnyStage,
  CellBorderError,
  Composer,
  type PathEntry,
  type PathEvent,
  SavedRows,
  type StageContext,
} from "@drumlin/gateway/path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { litres, message, nothing, path, speaker, tap, vessel } from "./tap-and-vessel.ts";

describe("steps", () => {
  it("records of one time are one step; later stages see it whole", () => {
    const { seen, push } = path();
    push(message(1, 1000, [900, 1], [900, 2], [950, 4]));
    expect(seen).toEqual(["3 L", "7 L"]);
  });
  it("a deadline that is due before an entry passes first, at its own time", () => {
    const { seen, push, composer } = path();
    push(message(1, 1000, [1000, 1]));
    expect(composer.nextDeadline()).toBe(1100);
    push(message(2, 5000, [5000, 1]));
    expect(seen).toEqual(["1 L", "full at 1100", "1 L", "2 L"]);
    expect(composer.engineMs).toBe(5000);
  });
  it("each stage hears what was told in its order, whoever told it and of whatever kind it is", () => {
    const heard: string[] = [];
    type Said = PathEvent & { readonly text: string };
    const says = (text: string): Said => ({ kind: text.slice(0, 1), text });
    const hearing = (name: string, after: (told: Said, ctx: StageContext) => void = () => {}): AnyStage => {
      // Heard as what it is: a handler of another kind says so.
      const hear = (kind: string) => (told: Said, ctx: StageContext) => {
        heard.push(`${name}:${told.text}${told.kind === kind ? "" : ` as ${kind}`}`);
        after(told, ctx);
      };
      return {
        name,
        version: 1,
        owns: [],
        reads: [],
        hears: { a: hear("a"), b: hear("b"), c: hear("c") },
        useLine: (_line, _was, ctx) => ctx.tell(says(`a of ${name}`)),
        dirty: () => [],
        load: () => true,
      };
    };
    const first: AnyStage = {
      ...hearing("first"),
      hears: {
        message({ texts }: PathEvent & { texts: readonly string[] }, ctx: StageContext) {
          for (const text of texts) ctx.tell(says(text));
        },
      },
    };
    // What it hears it tells on twice, the second time as another kind.
    const second = hearing("second", ({ text }, ctx) => {
      ctx.tell(says(`${text}'`));
      ctx.tell(says(`c${text}`));
    });
    const composer = new Composer({
      stages: [first, second, hearing("third")],
      readLine: () => ({}) as Line,
    });
    const push = (...texts: readonly string[]) => {
      heard.length = 0;
      composer.push({ seq: 1, receivedAt: 1000, kind: "message", texts } as PathEntry, () => {});
      return heard.join(" ");
    };
    expect(push("a1", "a2", "b1", "a3")).toBe(
      "second:a1 second:a2 second:b1 second:a3 third:a1 third:a2 third:b1 third:a3 " +
        "third:a1' third:ca1 third:a2' third:ca2 third:b1' third:cb1 third:a3' third:ca3",
    );
    // Nothing of it is left for the next one.
    expect(push("a4")).toBe("second:a4 third:a4 third:a4' third:ca4");
    // Where several tell before anybody hears, each is heard by those behind it alone.
    heard.length = 0;
    composer.push({ seq: 2, receivedAt: 1000, kind: "line", yaml: "" } as PathEntry, () => {});
    expect(heard.join(", ")).toBe(
      "second:a of first, third:a of first, third:a of second, third:a of first', third:ca of first",
    );
  });
  it("engine time never goes back", () => {
    const { push, composer } = path();
    push(message(1, 5000, [5000, 1]));
    push(message(2, 1000, [1000, 1]));
    expect(composer.engineMs).toBe(5000);
  });
  it("what a stage throws comes out, and the next entry begins with nothing left over", () => {
    const seen: string[] = [];
    let throws = true;
    const broken: AnyStage = {
      ...speaker(seen),
      hears: {
        drop() {
          if (throws) throw new Error("broken");
        },
      },
    };
    const composer = new Composer({ stages: [tap, vessel(), broken], readLine: () => null });
    expect(() => composer.push(message(1, 1, [1, 1], [1, 1]), () => {})).toThrow("broken");
    throws = false;
    composer.push(message(2, 2, [2, 1]), () => {});
    expect(seen).toEqual(["3 L"]);
  });
});

describe("acts", () => {
  const act = (seq: number, text: string) =>
    ({ seq, receivedAt: seq, kind: "act", act: { type: "note", id: "n", by: "b", text } }) as PathEntry;
  it("its owner says yes before any stage hears it; the answer comes after", () => {
    const { out, push, composer } = path();
    push(message(1, 1, [1, 4]));
    push(act(2, "yes"));
    push(act(3, "no"));
    expect(out.filter(({ kind }) => kind === "act-done")).toMatchObject([
      { id: "2", refused: null },
      { id: "3", refused: { code: "not-possible-in-state" } },
    ]);
    push(message(4, 4, [4, 1]));
    expect(composer.board.get(litres, "a")).toBe(1);
  });
});

describe("borders of cells", () => {
  const base = { version: 1, owns: [], reads: [], hears: {}, dirty: () => [], load: () => true } as const;
  it("a cell has one owner, and is read by later stages only", () => {
    const make = (stages: readonly AnyStage[]) => () => new Composer({ stages, readLine: () => null });
    expect(
      make([
        { ...base, name: "a", owns: [litres] },
        { ...base, name: "b", owns: [litres] },
      ]),
    ).toThrow(CellBorderError);
    expect(
      make([
        { ...base, name: "a", reads: [litres] },
        { ...base, name: "b", owns: [litres] },
      ]),
    ).toThrow(/no earlier stage owns/);
  });
  it("a stage that looks at a cell without saying so, or writes one that is not its own, throws", () => {
    const on = (drop: AnyStage["hears"][string]) => {
      const composer = new Composer({
        stages: [tap, vessel(), { ...base, name: "c", hears: { drop } }],
        readLine: () => null,
      });
      return () => composer.push(message(1, 1, [1, 1]), () => {});
    };
    expect(on((_event, ctx) => ctx.get(litres, "a"))).toThrow(/does not say so/);
    expect(on((_event, ctx) => ctx.put(litres, "a", 1))).toThrow(/not its own/);
  });
});

describe("rows", () => {
  it("a restart at any entry changes nothing that comes out", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 1, max: 300 }), fc.integer({ min: 0, max: 4 })), {
          maxLength: 20,
        }),
        fc.nat(20),
        (steps, cut) => {
          const run = (restartAt: number | null) => {
            const seen: string[] = [];
            const saved = new SavedRows();
            let { composer, push } = path(seen);
            let atMs = 0;
            for (const [index, [waitMs, amount]] of steps.entries()) {
              atMs += waitMs;
              if (index === restartAt) {
                saved.apply(structuredClone(composer.changes()));
                const next = path(seen);
                // A deadline is asked for anew by its stage; this one's lives with the drop, so nothing waits here.
                expect(next.composer.restore(saved, nothing)).toEqual([]);
                ({ composer, push } = next);
              }
              push(message(index + 1, atMs, [atMs, amount]));
            }
            return { total: composer.board.get(litres, "a"), ms: composer.engineMs };
          };
          expect(run(cut)).toEqual(run(null));
        },
      ),
    );
  });
  it("only what changed is given again", () => {
    const { push, composer } = path();
    push(message(1, 1, [1, 1]));
    const names = () => composer.changes().rows.map(({ stage, key }) => `${stage} ${key}`);
    expect(names()).toEqual([
      "vessel total",
      "board litres a",
      "board words a",
      "path engineMs",
      "path yaml",
    ]);
    expect(names()).toEqual(["path engineMs"]);
  });
  it("a stage whose version rose begins with the records", () => {
    const { push, composer } = path();
    push(message(1, 1, [1, 1]));
    const saved = new SavedRows();
    saved.apply(composer.changes());
    saved.versions.set("vessel", 1);
    const next = path();
    expect(next.composer.restore(saved, nothing)).toEqual(["vessel"]);
    next.push(message(2, 2, [2, 1]));
    expect(next.composer.board.get(litres, "a")).toBe(6);
  });
});
