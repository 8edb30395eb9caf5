import { spawn } from "node:child_process";
import { rmSync } from "node:fs";
import { text } from "node:stream/consumers";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Damage, groupsOf, type Kept, outcomes } from "./damaged-files-table.ts";
import { damaged, type House, makeHouse } from "./damaged-house.ts";
import type { Start } from "./damaged-starts.ts";

/** The user nobody, where this process may become another one; else files of others can't be made, and nobody's are. */
const uid = process.getuid?.() === 0 ? 65_534 : null;
const ofOthers: ReadonlySet<Damage> = new Set(["owner", "readable"]);
const damages = (Object.keys(outcomes) as Damage[]).filter((damage) => uid !== null || !ofOthers.has(damage));

interface Tried {
  readonly start: Start;
  readonly names: ReadonlyMap<Kept, string>;
}

const tried = new Map<string, Tried>();
let whole = { notes: 0, readings: 0 };
const folders: string[] = [];

/** Every start in one process of its own: it becomes another user. */
async function startAll(house: House, data: readonly string[]) {
  const script = fileURLToPath(new URL("./damaged-starts.ts", import.meta.url));
  const child = spawn(process.execPath, [script], { stdio: ["pipe", "pipe", "inherit"] });
  child.stdin.end(JSON.stringify({ uid, token: house.token, folders: data }));
  return JSON.parse(await text(child.stdout)) as { starts: Start[]; whole: typeof whole };
}

beforeAll(async () => {
  const house = await makeHouse();
  folders.push(house.first, house.stopped, house.killed);
  const cases = damages.flatMap((damage) =>
    groupsOf(damage).map((group) => {
      const kept = group.filter((one) => outcomes[damage][one]);
      return { damage, kept, ...damaged(house, damage, kept, uid) };
    }),
  );
  folders.push(...cases.map(({ data }) => data));
  const result = await startAll(
    house,
    cases.map(({ data }) => data),
  );
  whole = result.whole;
  for (const [place, { damage, kept, names }] of cases.entries())
    for (const one of kept) tried.set(`${damage} ${one}`, { start: result.starts[place] as Start, names });
});

afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

describe.each(damages)("a file that is: %s", (damage) => {
  const rows = Object.entries(outcomes[damage]) as [Kept, (typeof outcomes)[Damage][Kept]][];
  it.each(rows)("%s", (kept, outcome) => {
    const { start, names } = tried.get(`${damage} ${kept}`) as Tried;
    const name = names.get(kept) as string;
    expect(start.refused).toBeNull();
    expect(start.ready).toBe(200);
    const said = start.degraded.flatMap((one) => one.split("; ")).join("; ");
    const of = name.replaceAll(".", "\\.");
    if (outcome?.says == null) expect(said).not.toMatch(new RegExp(`${of} (?!is set aside)`));
    else {
      expect(start.degraded.join("\n")).toMatch(new RegExp(`${of} ${outcome.says}`, "m"));
      expect(start.log.join("\n")).toMatch(new RegExp(`${of} ${outcome.says.replace("\\$$", "")}`, "m"));
    }
    if (outcome?.beside)
      expect(start.files.filter((file) => new RegExp(`^${of}${outcome.beside}`).test(file))).not.toEqual([]);
    // A lost account opens nothing to whoever comes first.
    expect([start.setUp, start.setUpCode]).toEqual([false, false]);
    const isClosed = [...names.keys()].some((one) => outcomes[damage][one]?.has === "closed");
    if (isClosed) expect([start.notes, start.readings]).toEqual([null, null]);
    else if (outcome?.has === "all") expect(start).toMatchObject(whole);
    else expect(start.notes).not.toBeNull();
  });
});
