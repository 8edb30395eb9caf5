import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { openJournal } from "@drumlin/gateway/journal";
import { describe, expect, it } from "vitest";
import { backUp } from "../../gateway/src/app/backup/back-up.ts";
import { restore } from "../../gateway/src/app/backup/restore.ts";
import { smallPlace } from "../contract/journal/journal-bench.ts";

const fresh = () => mkdtempSync(join(tmpdir(), "drumlin-backup-damaged-"));
const segmentsIn = (folder: string) =>
  readdirSync(folder)
    .filter((name) => /^journal-\d{12}\.sqlite$/.test(name))
    .sort();

/** A data folder whose journal has three segments of 1,000 entries of a row each. */
async function dataFolder(): Promise<string> {
  const data = fresh();
  const journal = await openJournal({ folder: data, now: () => 7, segmentBytes: 150_000 });
  for (let from = 0; from < 3000; from += 20)
    await Promise.all(
      Array.from({ length: 20 }, (_, place) =>
        journal.append({
          kind: "message",
          topic: "t",
          payload: new TextEncoder().encode(`${from + place + 1} `.padEnd(100, "x")),
        }),
      ),
    );
  await journal.close();
  new DatabaseSync(join(data, "logbook.sqlite")).exec("CREATE TABLE act (id INTEGER PRIMARY KEY)");
  return data;
}

function garble(file: string): void {
  const bytes = readFileSync(file);
  bytes.fill(0xa5, 12 * 4096, 13 * 4096);
  writeFileSync(file, bytes);
}

async function seqsIn(folder: string): Promise<number[]> {
  const journal = await openJournal({ folder, now: () => 7 });
  const seqs: number[] = [];
  for await (const some of journal.read(1))
    for (const entry of some) {
      if (entry.kind === "message") expect(new TextDecoder().decode(entry.payload)).toMatch(`${entry.seq} x`);
      seqs.push(entry.seq);
    }
  await journal.close();
  return seqs;
}

const backedUp = (data: string, to: string) =>
  backUp({ data, to, withSecrets: false, nowMs: 7, onProgress: () => {} });

describe("a backup of a folder with a damaged file", () => {
  it("of the journal that is not written to any more is made all the same, and put back it has all the rest", async () => {
    const data = await dataFolder();
    const [first = "", second = ""] = segmentsIn(data);
    expect(segmentsIn(data).length).toBeGreaterThan(2);
    garble(join(data, second));
    const [backup, back] = [fresh(), fresh()];
    const manifest = await backedUp(data, backup);
    expect(manifest.files.map(({ name }) => name)).toEqual(expect.arrayContaining([first, second]));
    expect(manifest.journalSeq).toBe(3000);
    await restore({ from: backup, data: back, onProgress: () => {} });
    const seqs = await seqsIn(back);
    expect(seqs.at(-1)).toBe(3000);
    // A page holds some 35 entries.
    expect(3000 - seqs.length).toBeGreaterThan(10);
    expect(3000 - seqs.length).toBeLessThan(45);
  });

  it.each(["logbook.sqlite", "the last of the journal"])("%s is refused by its name", async (what) => {
    const data = await dataFolder();
    const name = what.startsWith("the last") ? (segmentsIn(data).at(-1) as string) : what;
    const file = join(data, name);
    const bytes = readFileSync(file);
    bytes.fill(0xa5, 4096, Math.min(bytes.length, 3 * 4096));
    writeFileSync(file, bytes);
    await expect(backedUp(data, fresh())).rejects.toThrow(new RegExp(`${name} .*damaged`));
  });
});

it("onto a disk without room for it: says which file and where to, leaves nothing there, and works once there is room", async () => {
  const data = await dataFolder();
  const { path, maxPages, free } = smallPlace();
  try {
    const to = join(path, "copies");
    // All of the journal takes some 500 kB. Where no small disk can be had, something lies in the way of its second file.
    const isSmall = maxPages === 0;
    if (isSmall) writeFileSync(join(path, "filler"), Buffer.alloc(800_000));
    const onProgress = ({ file }: { file: string }) => {
      if (!isSmall && file === segmentsIn(data)[1]) writeFileSync(join(to, file), "in the way");
    };
    await expect(backUp({ data, to, withSecrets: false, nowMs: 7, onProgress })).rejects.toThrow(
      new RegExp(`^journal-\\d+\\.sqlite could not be copied into ${to}: .+ Nothing was left there\\.$`),
    );
    expect(readdirSync(to)).toEqual([]);
    rmSync(join(path, "filler"), { force: true });
    expect((await backedUp(data, to)).journalSeq).toBe(3000);
  } finally {
    free();
  }
});

it("onto the gateway's own disk: not so much that the gateway would have to let go of what it keeps", async () => {
  const [data, to] = [await dataFolder(), fresh()];
  const mb = 2 ** 20;
  const onDisk = (freeBytes: number) =>
    backUp({
      ...{ data, to, withSecrets: false, nowMs: 7, onProgress: () => {} },
      diskOf: async () => ({ freeBytes, allBytes: 32_000 * mb }),
    });
  await expect(onDisk(64 * mb)).rejects.toThrow(
    /lies on the gateway's own disk, of which 64 MB are free: the copies take up to 1 MB, and the gateway needs 64 MB\. Name/,
  );
  expect(readdirSync(to)).toEqual([]);
  expect((await onDisk(65 * mb)).journalSeq).toBe(3000);
});

/** The state of the path in a data folder, as that after an entry. */
function putState(data: string, seq: number): void {
  const state = new DatabaseSync(join(data, "checkpoint.state"));
  state.exec("CREATE TABLE meta (one INTEGER PRIMARY KEY, seq INTEGER NOT NULL)");
  state.prepare("INSERT INTO meta VALUES (1, ?)").run(seq);
  state.close();
}

describe("no backup is called whole", () => {
  const refused: readonly (readonly [
    string,
    (data: string) => void,
    (file: string, data: string) => void,
    RegExp,
  ])[] = [
    [
      "whose journal lost, while it was copied, what follows its state",
      (data) => putState(data, 500),
      (file, data) => {
        if (file === "logbook.sqlite") rmSync(join(data, segmentsIn(data)[0] as string));
      },
      /^The journal was pruned meanwhile: it begins at \d+, the state ends at 500\.$/,
    ],
    [
      "whose journal lacks the one entry after its state",
      (data) => {
        const [first = "", second = ""] = segmentsIn(data);
        rmSync(join(data, first));
        putState(data, Number(/\d+/.exec(second)?.[0]) - 2);
      },
      () => {},
      /^The journal was pruned meanwhile: it begins at \d+, the state ends at \d+\.$/,
    ],
    [
      "whose journal ends before its state",
      (data) => putState(data, 3001),
      () => {},
      /^The journal ends at 3000, before the state at 3001\.$/,
    ],
    [
      "of a folder without a journal",
      (data) => {
        for (const name of segmentsIn(data)) rmSync(join(data, name));
      },
      () => {},
      /^The folder holds no journal\.$/,
    ],
    [
      "of a folder into which a restore was cut off",
      (data) => {
        mkdirSync(join(data, "restoring"));
        writeFileSync(join(data, "restoring", "manifest.json"), "{}");
      },
      () => {},
      /is not whole: a restore into it goes on, or was cut off/,
    ],
    [
      "of a folder that is none of a gateway",
      (data) => rmSync(join(data, "logbook.sqlite")),
      () => {},
      /is no data folder of a gateway\.$/,
    ],
    [
      "that lacks what only the log of a damaged file holds",
      (data) => {
        const second = join(data, segmentsIn(data)[1] as string);
        garble(second);
        writeFileSync(`${second}-wal`, "what was not put into the file");
      },
      () => {},
      /journal-\d+\.sqlite is damaged .*A start of the gateway saves what can be read of it/,
    ],
  ];
  it.each(refused)("%s", async (_, prepare, meanwhile, why) => {
    const [data, to] = [await dataFolder(), fresh()];
    prepare(data);
    const onProgress = ({ file }: { file: string }) => meanwhile(file, data);
    await expect(backUp({ data, to, withSecrets: false, nowMs: 7, onProgress })).rejects.toThrow(why);
    expect(readdirSync(to)).toEqual([]);
  });

  it.each(["just before the journal's first entry", "at its last one"])(
    "but one is whose state ends %s",
    async (where) => {
      const [data, to] = [await dataFolder(), fresh()];
      const isFirst = where.startsWith("just before");
      if (isFirst) rmSync(join(data, segmentsIn(data)[0] as string));
      const firstSeq = Number((segmentsIn(data)[0] as string).slice("journal-".length, -".sqlite".length));
      const seq = isFirst ? firstSeq - 1 : 3000;
      putState(data, seq);
      expect(await backedUp(data, to)).toMatchObject({ checkpointSeq: seq, journalSeq: 3000 });
    },
  );
});

it.each([
  ["notes.txt", /is not empty, and no whole backup: name a new folder\.$/],
  ["manifest.json", /is not empty: name a new folder\.$/],
] as const)("into a folder that holds %s is refused, and what lies there stays", async (name, why) => {
  const [data, to] = [await dataFolder(), fresh()];
  writeFileSync(join(to, name), "somebody's own");
  await expect(backedUp(data, to)).rejects.toThrow(why);
  expect(readdirSync(to)).toEqual([name]);
  expect(readFileSync(join(to, name), "utf8")).toBe("somebody's own");
});
