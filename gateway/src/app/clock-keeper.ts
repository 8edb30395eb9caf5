import type { Journal } from "../journal/index.ts";
import { clockOffsetFact, clockOffsetOf, type JournalEntry } from "../readings/index.ts";
import { createCalendar } from "./calendar.ts";
import { createClock, type SavedClock, smallGapMs } from "./clock.ts";
import { createClockFile, type KeptClock } from "./clock-file.ts";
import { type HostTime, hostTime } from "./host-time.ts";

const lookEveryMs = 1000;
/** The relation to the machine's uptime is saved again when a slew has moved it by this much. */
const saveAgainMs = 100;

interface ClockKeeperNeeds {
  readonly folder: string;
  readonly host?: HostTime;
  readonly log: (message: string) => void;
}

function spanText(ms: number): string {
  const s = Math.abs(ms) / 1000;
  if (s < 600) return `${Math.round(s)} s`;
  return s < 48 * 3600 ? `${Math.round(s / 60)} min` : `${Math.round(s / 86_400)} days`;
}

function stepText(byMs: number): string {
  return byMs < 0
    ? `this machine's clock was set back by ${spanText(byMs)} and stays there; dates follow it now. Nothing was lost: the time before is shown twice.`
    : `this machine's clock was set forward by ${spanText(byMs)}; dates follow it.`;
}

type KeptNow = KeptClock & { readonly saved: SavedClock };

/** What stands in the clock's file; it waits for the disk elsewhere than on the main thread, and never rejects. */
function createOnDisk(save: (kept: KeptClock) => Promise<void>, now: () => KeptNow) {
  let savedMs = Number.NaN;
  let saving: Promise<void> | null = null;

  async function write(): Promise<void> {
    const kept = now();
    savedMs = kept.saved.engineLessUptimeMs;
    try {
      await save(kept);
    } catch {
      // A full disk: tried again with the next look. The steps stand in the journal too.
      savedMs = Number.NaN;
    }
  }

  return {
    /** Something was learned that is not in the file. */
    isOld(): void {
      savedMs = Number.NaN;
    },
    /** Writes where the file is too far from what stands now; one after the other: with a slow disk the next look asks again. */
    follow(): void {
      if (Math.abs(now().saved.engineLessUptimeMs - savedMs) <= saveAgainMs) return;
      saving ??= write().finally(() => {
        saving = null;
      });
    },
    /** Resolves once what stands now is on disk, or the disk did not take it. */
    async settle(): Promise<void> {
      await saving;
      await write();
    },
  };
}

/**
 * Keeps the clock of a data folder: compares it with the machine each second, journals a step of the calendar before it
 * comes into force, and goes on after a restart as if nothing had been.
 */
export function createClockKeeper({ folder, host = hostTime(), log }: ClockKeeperNeeds) {
  const file = createClockFile(folder);
  const known = file.load();
  const calendar = createCalendar(known.corrections);
  const clock = createClock(host, calendar, known.saved);
  const onDisk = createOnDisk(file.save, () => ({
    saved: clock.saved(),
    corrections: calendar.corrections(),
  }));
  let stepping = false;
  let toldBehind = false;
  let looking: NodeJS.Timeout | undefined;

  function take(entries: readonly JournalEntry[]): void {
    for (const entry of entries) {
      const offsetMs = entry.kind === "world" ? clockOffsetOf(entry) : null;
      if (offsetMs === null) continue;
      calendar.add({ fromEngineMs: entry.receivedAt, offsetMs });
      onDisk.isOld();
    }
  }

  async function step(journal: Pick<Journal, "append">, offsetMs: number): Promise<void> {
    const byMs = offsetMs - calendar.offsetMs();
    stepping = true;
    try {
      await journal.append({ kind: "world", ...clockOffsetFact, value: offsetMs });
      log(`clock: ${stepText(byMs)}`);
    } catch {
      // Not written: asked again with the next look.
    } finally {
      stepping = false;
      toldBehind = false;
    }
  }

  function look(journal: Pick<Journal, "append">): void {
    const offsetMs = clock.look();
    if (offsetMs !== null && !stepping) void step(journal, offsetMs);
    const behindMs = -clock.gapMs();
    if (behindMs > smallGapMs && !toldBehind)
      log(
        `clock: this machine's clock is ${spanText(behindMs)} behind. Time goes on; if it stays behind for a minute, dates follow it.`,
      );
    toldBehind = behindMs > smallGapMs;
    onDisk.follow();
  }

  return {
    clock,
    calendar,
    /** Hears of entries, old and new, before anybody else: a step is in force with its entry. */
    take,
    /** Goes on after the journal's last entry. */
    resume: (lastEngineMs: number) => clock.resume(lastEngineMs),
    start(journal: Pick<Journal, "append">): void {
      look(journal);
      looking = setInterval(() => look(journal), lookEveryMs);
    },
    /** Resolves once what stands now is on disk, or the disk did not take it. */
    async stop(): Promise<void> {
      clearInterval(looking);
      await onDisk.settle();
    },
    /** What was wrong with the clock's file at this start; a folder's first start has none either. */
    fileFault: (): string | null =>
      known.fault === null
        ? null
        : `clock.json ${known.fault}; the calendar's steps are read from the journal`,
    /** What is wrong with the clock; null while the machine's and the calendar agree. */
    trouble(): string | null {
      const gapMs = clock.gapMs();
      return Math.abs(gapMs) > smallGapMs
        ? `the machine's clock is ${spanText(gapMs)} ${gapMs < 0 ? "behind" : "ahead"}`
        : null;
    },
  };
}
/** The clock of a data folder, and what keeps it right. */
export type ClockKeeper = ReturnType<typeof createClockKeeper>;
