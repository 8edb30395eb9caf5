import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { openAccounts } from "@drumlin/gateway/accounts";
import { describe, expect, it } from "vitest";
import { eventually, startProcess } from "../acceptance/gateway-process.ts";

interface Alarm {
  readonly key: string;
  readonly occurrence: string;
  readonly state: string;
  readonly acknowledgedBy: string | null;
  readonly shelvedUntil: string | null;
}
interface Drum {
  readonly id: string;
  readonly water: { readonly verdict: string; readonly reasons: readonly string[] };
}
interface Fill {
  readonly id: string;
  readonly end: string | null;
  readonly tripAt: number | null;
}
interface Told {
  readonly alarms: readonly Alarm[];
  readonly drums: readonly Drum[];
  readonly fills: { readonly items: readonly Fill[] };
  readonly calibrations: { readonly items: readonly unknown[] };
}

const told = JSON.parse(readFileSync(new URL("data-folder.json", import.meta.url), "utf8")) as Told;
const archive = fileURLToPath(new URL("data-folder.tar.gz", import.meta.url));

/** The kept folder, on its own, without the files that `isGone` names. */
function unpacked(isGone: (file: string) => boolean) {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-kept-"));
  const done = spawnSync("tar", ["-xzf", archive, "-C", folder]);
  if (done.status !== 0) throw new Error(`tar: ${done.stderr}`);
  for (const file of readdirSync(folder)) if (isGone(file)) rmSync(join(folder, file));
  const accounts = openAccounts({ folder, now: Date.now });
  const token = accounts.tokens.add("test", "operator", "test");
  accounts.close();
  return { line: join(folder, "line.yaml"), data: folder, token };
}

const plainAlarm = ({ key, state, acknowledgedBy, shelvedUntil }: Alarm) => ({
  key,
  state,
  acknowledgedBy,
  shelvedUntil,
});
const byKey = (alarms: readonly Alarm[]) =>
  alarms
    .filter(({ key }) => told.alarms.some((alarm) => alarm.key === key))
    .map(plainAlarm)
    .sort((a, b) => (a.key < b.key ? -1 : 1));

// The folder was written by a gateway of the commit before the path was built anew.
describe("a data folder of before goes on under this version", () => {
  it.each([
    ["as it was left", () => false],
    // The journal is run again from its first entry, with the acts of before and the names that occurrences had then.
    ["without its checkpoint", (file: string) => file.startsWith("checkpoint")],
  ] as [string, (file: string) => boolean][])(
    "%s: alarms that are held or silent, words, fills",
    async (_name, isGone) => {
      const isRunAgain = isGone("checkpoint");
      const gateway = await startProcess(unpacked(isGone));
      try {
        // Run again under today's rules, water at an overflow float goes back after 2 min without it; the kept life is shorter.
        const standing = (all: readonly Alarm[]) =>
          byKey(all).map((alarm) => ({
            ...alarm,
            state: isRunAgain ? alarm.state.replace("latched-", "") : alarm.state,
          }));
        await expect
          .poll(async () => standing((await gateway.json<{ items: Alarm[] }>("/api/alarms")).items))
          .toEqual(standing(told.alarms));
        const { drums } = await gateway.json<{ drums: Drum[] }>("/api/line");
        const wordOf = (all: readonly Drum[]) => all.find(({ id }) => id === "mix")?.water;
        // The same reasons, whatever order they came in and however a blend is counted today.
        const withoutFigures = (reasons: readonly string[] = []) =>
          reasons.map((reason) => reason.replace(/is \d+(\.\d+)? /, "is # ")).sort();
        expect(wordOf(drums)?.verdict).toBe("hold");
        expect(withoutFigures(wordOf(drums)?.reasons)).toEqual(withoutFigures(wordOf(told.drums)?.reasons));
        const fills = await gateway.json<Told["fills"]>("/api/fills");
        expect(fills.items.map(({ id, end, tripAt }) => [id, end, tripAt])).toEqual(
          told.fills.items.map(({ id, end, tripAt }) => [id, end, tripAt]),
        );
        // What is run again is stored soon after.
        const year = "from=2026-01-01T00:00:00Z&to=2027-01-01T00:00:00Z&buckets=10";
        const readings = await eventually(
          async () => {
            const path = `/api/points/after-resin/series?quantity=conductivity25&${year}`;
            const { count } = await gateway.json<{ count: number[] }>(path);
            return count.reduce((sum, one) => sum + one, 0);
          },
          (sum) => sum > 90,
        );
        expect(readings).toBeGreaterThan(90);
        // Every entry and act of before is read, none passed over.
        expect(gateway.printed()).not.toMatch(/passed over|could not be run/);
        // A reset of what is held is taken, by the occurrence of before.
        const held = told.alarms.find(({ state }) => state === "latched-acknowledged") as Alarm;
        const reset = await gateway.api(`/api/alarms/${held.key}/reset`, {
          method: "POST",
          headers: { "content-type": "application/json" },
          body: JSON.stringify({ occurrence: held.occurrence }),
        });
        expect(reset.status).toBe(isRunAgain ? 409 : 200);
      } finally {
        await gateway.stop();
      }
    },
  );
});
