import { createActDesk } from "@drumlin/gateway/app";
import type { NewEntry } from "@drumlin/gateway/journal";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

const note = { type: "note", note: "resin smells" } as const;
/** A desk over a journal of which the test says what becomes of an entry. */
function bench(append: () => Promise<number> = async () => 1) {
  const entries: NewEntry[] = [];
  const desk = createActDesk((entry) => {
    entries.push(entry);
    return append();
  });
  const idOf = (index: number) => (entries[index] as Extract<NewEntry, { kind: "act" }>).act.id;
  return { desk, idOf };
}

describe("whoever gives an act is answered", () => {
  it("once the path has run it", async () => {
    const { desk, idOf } = bench();
    const given = desk.give(note as never, "keeper");
    desk.answer(idOf(0), null);
    expect(await given).toBeNull();
  });
  it("when its entry could not be run: refused by name", async () => {
    const { desk, idOf } = bench();
    const given = desk.give(note as never, "keeper");
    desk.failed(idOf(0), "a fault");
    expect(await given).toMatchObject({ code: "act-failed" });
  });
  it("after 8 s when the disk does not answer: taken, not yet written down", async () => {
    const { desk, idOf } = bench(() => new Promise(() => {}));
    const given = desk.give(note as never, "keeper");
    await vi.advanceTimersByTimeAsync(7900);
    let answered = false;
    void given.then(() => {
      answered = true;
    });
    await vi.advanceTimersByTimeAsync(0);
    expect(answered).toBe(false);
    await vi.advanceTimersByTimeAsync(200);
    expect(await given).toMatchObject({ code: "act-not-written-yet" });
    desk.answer(idOf(0), null);
  });
  it("at once when the journal refuses it", async () => {
    const { desk } = bench(() => Promise.reject(new Error("journal-full")));
    await expect(desk.give(note as never, "keeper")).rejects.toThrow("journal-full");
  });
});
