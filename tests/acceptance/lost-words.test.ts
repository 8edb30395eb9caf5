import { mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { openAccounts } from "@drumlin/gateway/accounts";
import { startGateway } from "@drumlin/gateway/app";
import { openJournal } from "@drumlin/gateway/journal";
import { openLogbook } from "@drumlin/gateway/logbook";
import { afterEach, expect, it } from "vitest";
import { smallestLine } from "./gateway-process.ts";

const folders: string[] = [];
afterEach(() => {
  for (const path of folders.splice(0)) rmSync(path, { recursive: true, force: true });
});

const dayMs = 86_400_000;
const beganMs = Date.now() - 70 * dayMs;
const why = "a reason that is told nowhere else";
const water = (drum: string, verdict: "use" | "hold", atMs: number, reason = "") =>
  ({
    kind: "drum-water",
    drum,
    verdict,
    sinceMs: atMs,
    reasons: reason ? [reason] : [],
    blend25: 3,
    unwatched: 0,
    contentsL: 100,
    release: null,
    atMs,
  }) as const;

/**
 * A folder whose logbook goes further back than its journal: a drum was good 70 days ago, then on hold, and nobody answered for it.
 * Other words lie around, so that the hold has a page of its own.
 */
async function livedLong(): Promise<{ readonly data: string; readonly token: string }> {
  const data = mkdtempSync(join(tmpdir(), "drumlin-lost-words-"));
  folders.push(data);
  const accounts = openAccounts({ folder: data, now: Date.now });
  const token = accounts.tokens.add("test", "operator", "test");
  accounts.close();
  const journal = await openJournal({ folder: data, now: Date.now });
  journal.passOver(5000);
  await journal.append({ kind: "tick" });
  await journal.close();
  renameSync(join(data, "journal-000000000001.sqlite"), join(data, "journal-000000005001.sqlite"));
  rmSync(join(data, "journal-gaps.json"), { force: true });
  const logbook = openLogbook({ folder: data });
  const line = (seq: number, yaml: string) => ({ kind: "line", yaml, seq, atMs: beganMs }) as const;
  logbook.record([line(1, `${smallestLine}# a line of its own page ${"reed ".repeat(790)}`)], 1);
  logbook.record([line(2, smallestLine)], 2);
  const others = (from: number) =>
    Array.from({ length: 100 }, (_, place) =>
      water("mix", "hold", beganMs + from + place, "reed ".repeat(80)),
    );
  logbook.record([water("fresh", "use", beganMs), ...others(1)], 2);
  logbook.record([water("fresh", "hold", beganMs + dayMs, why), ...others(1000)], 5001);
  logbook.close();
  return { data, token };
}

type Lived = Awaited<ReturnType<typeof livedLong>>;

/** The words of both drums after a start. */
async function wordsAfterStart({ data, token }: Lived, line = smallestLine) {
  const gateway = await startGateway({
    data,
    lineYaml: line,
    http: { host: "127.0.0.1", port: 0 },
    mqtt: { host: "127.0.0.1", port: 0 },
    log: () => {},
  });
  try {
    const answer = await fetch(`http://127.0.0.1:${gateway.httpPort}/api/line`, {
      headers: { authorization: `Bearer ${token}` },
    });
    const { drums } = (await answer.json()) as {
      drums: { id: string; water: { verdict: string; reasons: string[] } | null }[];
    };
    return Object.fromEntries(
      drums.map(({ id, water: now }) => [id, [now?.verdict, ...(now?.reasons ?? [])]]),
    );
  } finally {
    await gateway.stop();
  }
}

/** The page on which a text stands, once, is garbled. */
function garble({ data }: Lived, text: string): void {
  const path = join(data, "logbook.sqlite");
  const bytes = readFileSync(path);
  const at = bytes.indexOf(text);
  expect(at).toBeGreaterThan(0);
  expect(bytes.indexOf(text, at + 1)).toBe(-1);
  const page = Math.floor(at / 4096) * 4096;
  bytes.fill(0xa5, page, page + 4096);
  writeFileSync(path, bytes);
}

const nobodyKnows = "100 % of what is in it was not watched as it came in";

it("a hold stands as long as nobody answers for it, though the journal goes less far back", async () => {
  expect((await wordsAfterStart(await livedLong())).fresh).toEqual(["hold", why]);
});

it("a hold that is lost with a page of the logbook does not end as use, at the next start neither", async () => {
  const lived = await livedLong();
  garble(lived, why);
  expect((await wordsAfterStart(lived)).fresh).toEqual(["hold", nobodyKnows]);
  const words = await wordsAfterStart(lived);
  expect(words.fresh).toEqual(["hold", nobodyKnows]);
  // What is known stands beside it.
  expect(words.mix?.slice(1).at(-1)).toBe(nobodyKnows);
});

it("nor does one that is lost with the whole logbook", async () => {
  const lived = await livedLong();
  for (const suffix of ["", "-wal", "-shm"])
    rmSync(join(lived.data, `logbook.sqlite${suffix}`), { force: true });
  expect((await wordsAfterStart(lived)).fresh).toEqual(["hold", nobodyKnows]);
});

it("nor one that an old copy of the logbook does not have", async () => {
  const lived = await livedLong();
  const path = join(lived.data, "logbook.sqlite");
  const logbook = new DatabaseSync(path);
  logbook.exec(`DELETE FROM drum_water WHERE at >= ${beganMs + dayMs}; UPDATE barrier SET stored_seq = 2`);
  logbook.close();
  expect((await wordsAfterStart(lived)).fresh).toEqual(["hold", nobodyKnows]);
});

it("a page that no word goes by takes nobody's word away", async () => {
  const lived = await livedLong();
  garble(lived, "# a line of its own page");
  expect((await wordsAfterStart(lived)).fresh).toEqual(["hold", why]);
});
