import { readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { type Journal, type JournalOptions, openJournal } from "@drumlin/gateway/journal";
import { describe, expect, it } from "vitest";
import { all, folder, message } from "./journal-bench.ts";

describe("the journal", () => {
  it("gives seqs without a gap, in order, with times that never go back", async () => {
    let clock = 1000;
    const path = folder();
    const journal = await openJournal({ folder: path, now: () => clock });
    const committed: number[] = [];
    journal.onCommitted((entries) => committed.push(...entries.map(({ seq }) => seq)));
    const seqs = await Promise.all(["a", "b", "c"].map((text) => journal.append(message(text))));
    clock = 500;
    seqs.push(await journal.append({ kind: "tick" }));
    expect(seqs).toEqual([1, 2, 3, 4]);
    expect(committed).toEqual(seqs);
    expect((await all(journal)).map(({ receivedAt }) => receivedAt)).toEqual([1000, 1000, 1000, 1000]);
    await journal.close();
  });

  it("goes on after its last entry, over several segments, and with a host clock that is behind", async () => {
    const path = folder();
    let journal = await openJournal({ folder: path, now: () => 9_000_000, segmentBytes: 1000 });
    for (let batch = 0; batch < 10; batch += 1)
      await Promise.all(
        Array.from({ length: 50 }, (_, place) => journal.append(message(`${batch}-${place}`))),
      );
    await journal.close();
    expect(readdirSync(path).filter((name) => name.endsWith(".sqlite")).length).toBeGreaterThan(1);
    journal = await openJournal({ folder: path, now: () => 5000 });
    expect(await journal.append({ kind: "tick" })).toBe(501);
    const entries = await all(journal);
    expect(entries.map(({ seq }) => seq)).toEqual(Array.from({ length: 501 }, (_, place) => place + 1));
    expect(entries.at(-1)?.receivedAt).toBeGreaterThanOrEqual(9_000_000);
    await journal.close();
  });

  it("refuses a second gateway on the same folder, by name", async () => {
    const path = folder();
    const journal = await openJournal({ folder: path, now: Date.now });
    await expect(openJournal({ folder: path, now: Date.now })).rejects.toMatchObject({
      code: "data-folder-in-use",
    });
    await journal.close();
  });

  it("refuses more than may wait, by name, and keeps what it took", async () => {
    const journal = await openJournal({ folder: folder(), now: Date.now, maxWaitingEntries: 10 });
    const results = await Promise.allSettled(Array.from({ length: 30 }, () => journal.append(message("x"))));
    expect(results.filter(({ status }) => status === "fulfilled")).toHaveLength(10);
    expect(results.flatMap((result) => (result.status === "rejected" ? [result.reason.code] : []))).toEqual(
      Array(20).fill("journal-full"),
    );
    expect(await all(journal)).toHaveLength(10);
    await journal.close();
  });

  const row = (key: string, plain: unknown) => ({ stage: "a", key, plain });
  const rowsOf = async (journal: Journal) => {
    const saved = await journal.loadCheckpoint();
    if (!saved || !("rows" in saved)) return null;
    return { seq: saved.seq, a: Object.fromEntries(saved.rows.get("a") ?? []) };
  };

  it("a checkpoint brings forward what changed; what was taken away is gone", async () => {
    const path = folder();
    const journal = await openJournal({ folder: path, now: Date.now });
    expect(await journal.loadCheckpoint()).toBeNull();
    await journal.saveCheckpoint({ seq: 1, versions: { a: 1 }, rows: [row("x", { n: 1 }), row("y", 2)] });
    await journal.saveCheckpoint({ seq: 2, versions: { a: 1 }, rows: [row("x", new Uint32Array([7]))] });
    await journal.saveCheckpoint({ seq: 3, versions: { a: 1 }, rows: [row("y", undefined)] });
    expect(await rowsOf(journal)).toEqual({ seq: 3, a: { x: new Uint32Array([7]) } });
    expect(journal.checkpointBytes).toBe(0);
    await journal.close();
  });

  it("what was held while the stores were behind is written with the next", async () => {
    const journal = await openJournal({ folder: folder(), now: Date.now });
    const first = { seq: 1, versions: { a: 1 }, rows: [row("x", 1), row("y", 1)] };
    expect(await journal.saveCheckpoint(first, Promise.resolve(false))).toBe(false);
    expect(await journal.loadCheckpoint()).toBeNull();
    for (let seq = 2; seq <= 30; seq += 1)
      await journal.saveCheckpoint(
        { seq, versions: { a: 1 }, rows: [row("x", seq)] },
        Promise.resolve(false),
      );
    await journal.saveCheckpoint({ seq: 31, versions: { a: 1 }, rows: [row("z", 3)] });
    expect(await rowsOf(journal)).toEqual({ seq: 31, a: { x: 30, y: 1, z: 3 } });
    await journal.close();
  });

  it("two saves at once: the rows of the older one never come last, whichever is stored first", async () => {
    const journal = await openJournal({ folder: folder(), now: Date.now });
    const many = Array.from({ length: 3000 }, (_, at) => row(`many-${at}`, 1));
    await Promise.all([
      journal.saveCheckpoint({ seq: 1, versions: { a: 1 }, rows: [...many, row("x", 1)] }),
      journal.saveCheckpoint({ seq: 2, versions: { a: 1 }, rows: [row("x", 2)] }),
    ]);
    expect(await rowsOf(journal)).toMatchObject({ seq: 2, a: { x: 2, "many-2999": 1 } });
    const stored = Promise.withResolvers<boolean>();
    const older = journal.saveCheckpoint({ seq: 3, versions: { a: 1 }, rows: [row("x", 3)] }, stored.promise);
    await journal.saveCheckpoint({ seq: 4, versions: { a: 1 }, rows: [row("y", 4)] });
    stored.resolve(true);
    expect(await older).toBe(true);
    expect(await rowsOf(journal)).toMatchObject({ seq: 4, a: { x: 3, y: 4 } });
    await journal.close();
  });

  it("keeps an older generation and goes on from it when the file is damaged", async () => {
    const path = folder();
    const journal = await openJournal({ folder: path, now: Date.now, copyEveryMs: 0 });
    await journal.saveCheckpoint({ seq: 1, versions: { a: 1 }, rows: [row("x", 1)] });
    await journal.saveCheckpoint({ seq: 2, versions: { a: 1 }, rows: [row("x", 2)] });
    expect(await rowsOf(journal)).toMatchObject({ seq: 2 });
    await journal.close();
    writeFileSync(join(path, "checkpoint.state"), Buffer.alloc(5000, 1));
    const again = await openJournal({ folder: path, now: Date.now });
    expect(await rowsOf(again)).toEqual({ seq: 1, a: { x: 1 } });
    // And the next changes are written to it.
    await again.saveCheckpoint({ seq: 3, versions: { a: 1 }, rows: [row("y", 3)] });
    expect(await rowsOf(again)).toEqual({ seq: 3, a: { x: 1, y: 3 } });
    await again.close();
  });
});

describe("what is kept", () => {
  const day = 86_400_000;
  async function days(path: string, keep: Partial<JournalOptions>) {
    const clock = { nowMs: 0 };
    const journal = await openJournal({ folder: path, now: () => clock.nowMs, ...keep });
    for (let at = 0; at < 10; at += 1) {
      clock.nowMs = at * day;
      await Promise.all(Array.from({ length: 20 }, (_, place) => journal.append(message(`${at}-${place}`))));
    }
    return journal;
  }
  const checkpoint = (seq: number) => ({ seq, versions: {}, rows: [] });
  const segmentsOf = (path: string) => readdirSync(path).filter((name) => name.endsWith(".sqlite")).length;

  it("entries older than is kept go by whole files, once two checkpoints are past them", async () => {
    const path = folder();
    const journal = await days(path, { keepMs: 3 * day, copyEveryMs: 0 });
    expect(segmentsOf(path)).toBe(10);
    await journal.saveCheckpoint(checkpoint(90));
    expect(segmentsOf(path)).toBe(10);
    await journal.saveCheckpoint(checkpoint(190));
    // The read waits behind the removal in the journal's thread.
    const entries = await all(journal);
    // The older checkpoint stands at 90, in the fifth file: the four before it may go, and are over 3 days old.
    expect(entries[0]?.seq).toBe(81);
    expect(journal.firstSeq).toBe(81);
    await journal.saveCheckpoint(checkpoint(200));
    expect((await all(journal))[0]?.seq).toBe(121);
    await journal.close();
    const again = await openJournal({ folder: path, now: () => 10 * day });
    expect([again.firstSeq, again.lastSeq]).toEqual([121, 200]);
    await again.close();
  });

  it("a clock that leapt ahead while the machine was off makes nothing older: it goes once as much was lived", async () => {
    const path = folder();
    const keep = { keepMs: 10 * day, copyEveryMs: 0 };
    await (await days(path, keep)).close();
    let nowMs = 400 * day;
    const journal = await openJournal({ folder: path, now: () => nowMs, ...keep });
    const firsts: (number | undefined)[] = [];
    for (let at = 0; at < 4; at += 1) {
      nowMs = (400 + at) * day;
      const seq = await journal.append(message(`${at}`));
      for (let n = 0; n < 2; n += 1) await journal.saveCheckpoint(checkpoint(seq));
      firsts.push((await all(journal))[0]?.seq);
    }
    // Ten days were lived before the leap, which counts as one; a file that ends as many days ago as are kept may go.
    expect(firsts).toEqual([1, 21, 41, 61]);
    await journal.close();
  });

  it("so do the oldest files while all together are too large", async () => {
    const path = folder();
    const journal = await days(path, { keepBytes: 40_000, copyEveryMs: 0 });
    await journal.saveCheckpoint(checkpoint(200));
    await journal.saveCheckpoint(checkpoint(200));
    const entries = await all(journal);
    expect(entries[0]?.seq).toBeGreaterThan(100);
    expect(entries.at(-1)?.seq).toBe(200);
    await journal.close();
  });
});
