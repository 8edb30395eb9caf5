import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openJournal } from "@drumlin/gateway/journal";
import fc from "fast-check";
import { expect, it } from "vitest";

/** A row under one of few keys, so that later saves change it again; a long one has pages of its own. */
const row = fc.record({
  key: fc.constantFrom("x", "y", "z"),
  plain: fc.option(fc.oneof(fc.integer(), fc.constantFrom("a".repeat(70_000), "ö".repeat(150_000))), {
    nil: undefined,
  }),
});
const save = fc.record({
  rows: fc.array(row, { maxLength: 6 }),
  /** Its stores take it, at this place among the others; or never do. */
  stored: fc.option(fc.nat(50), { nil: null }),
});

it("whatever is stored, in whichever order and however many at once: the file has each row's last word", {
  timeout: 120_000,
}, async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(save, { maxLength: 14 }), async (saves) => {
      const folder = mkdtempSync(join(tmpdir(), "drumlin-orders-"));
      const journal = await openJournal({ folder, now: Date.now });
      try {
        const wanted = new Map<string, unknown>();
        const under = saves.map(({ rows, stored }, at) => {
          for (const { key, plain } of rows)
            if (plain === undefined) wanted.delete(key);
            else wanted.set(key, plain);
          const told = Promise.withResolvers<boolean>();
          const changes = {
            seq: at + 1,
            versions: { a: 1 },
            rows: rows.map(({ key, plain }) => ({ stage: "a", key, plain })),
          };
          return { stored, tell: told.resolve, saving: journal.saveCheckpoint(changes, told.promise) };
        });
        for (const { stored, tell, saving } of under.toSorted(
          (a, b) => (a.stored ?? 99) - (b.stored ?? 99),
        )) {
          tell(stored !== null);
          // Some are over before the next is stored, others are not.
          if ((stored ?? 0) % 3 === 0) await saving;
        }
        await Promise.all(under.map(({ saving }) => saving));
        await journal.saveCheckpoint({ seq: saves.length + 1, versions: { a: 1 }, rows: [] });
        const saved = await journal.loadCheckpoint();
        expect(saved && "rows" in saved && new Map(saved.rows.get("a"))).toEqual(wanted);
      } finally {
        await journal.close();
        rmSync(folder, { recursive: true, force: true });
      }
    }),
    { numRuns: 40 },
  );
});
