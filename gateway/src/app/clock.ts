import type { Calendar } from "./calendar.ts";
import type { HostTime } from "./host-time.ts";

/** A difference of up to this is made up by running a tenth faster or slower; a greater one is a step of the clock. */
export const smallGapMs = 5000;
/** So long a clock must stand behind, unmoved, before the calendar is stepped back; a step forward is followed at once. */
const steadyBehindMs = 60_000;
const fastestSlew = 0.1;
/** The machine slept when its uptime ran on by more than this beside the steady time. */
const sleptMs = 2000;
/** A saved relation of engine time and uptime may be this much behind the last entry, no more. */
const tolerableMs = 10_000;

/** How engine time stood to the machine's uptime when it was saved: a restart on the same run of the machine goes on by it. */
export interface SavedClock {
  readonly bootId: string | null;
  readonly engineLessUptimeMs: number;
}

/**
 * The gateway's one clock. Engine time goes on as time passes, whatever becomes of the machine's clock: order, delays and
 * deadlines go by it. The calendar is engine time plus the offset in force. Nothing else in the gateway asks for the time.
 */
export interface Clock {
  /** Monotone; about epoch ms. */
  engineMs(): number;
  /** What the gateway says the time is, epoch ms. */
  nowMs(): number;
  /** By how much the machine's clock is ahead of the calendar, ms; negative when it is behind. */
  gapMs(): number;
  /**
   * Compares with the machine, once a second: makes up small differences by itself; gives the new offset when the calendar
   * has to be stepped, each time until the calendar has taken it.
   */
  look(): number | null;
  /** Goes on after the journal's last entry. */
  resume(lastEngineMs: number): void;
  saved(): SavedClock;
  /** Whether engine time came from the machine's clock, and not from its uptime: it may have leapt since the last entry. */
  isByWall(): boolean;
}

/** A clock on the machine's times. Without `saved`, or on another run of the machine, it goes on by the machine's clock. */
export function createClock(host: HostTime, calendar: Calendar, saved: SavedClock | null = null): Clock {
  const sameRun = saved !== null && saved.bootId !== null && saved.bootId === host.bootId;
  const byWall = () => host.wallMs() - calendar.offsetMs();
  let engineMs = sameRun ? host.uptimeMs() + saved.engineLessUptimeMs : byWall();
  let isByWall = !sameRun;
  let rate = 1;
  let steadyMs = host.steadyMs();
  let lookedAtMs = engineMs;
  let looked = { steadyMs, uptimeMs: host.uptimeMs() };
  let apart: { readonly gapMs: number; readonly sinceMs: number; readonly looks: number } | null = null;

  function engine(): number {
    const nowMs = host.steadyMs();
    engineMs += Math.max(0, nowMs - steadyMs) * rate;
    steadyMs = nowMs;
    return engineMs;
  }

  const nowMs = () => engine() + calendar.offsetMs();
  const gapMs = () => host.wallMs() - nowMs();

  /** While the machine sleeps the steady time stands still, and time passes all the same. */
  function countSleep(): void {
    const next = { steadyMs: host.steadyMs(), uptimeMs: host.uptimeMs() };
    const slept = next.uptimeMs - looked.uptimeMs - (next.steadyMs - looked.steadyMs);
    if (slept > sleptMs) engineMs += slept;
    looked = next;
  }

  function stepDue(gap: number): boolean {
    const atMs = engine();
    if (!apart || Math.abs(apart.gapMs - gap) > smallGapMs) {
      apart = { gapMs: gap, sinceMs: atMs, looks: 1 };
      return false;
    }
    apart = { ...apart, looks: apart.looks + 1 };
    return gap > 0 || atMs - apart.sinceMs >= steadyBehindMs;
  }

  return {
    engineMs: engine,
    nowMs,
    gapMs,
    look() {
      // The next look comes about as long after this one: until then the difference is made up.
      const spreadMs = Math.max(1000, engine() - lookedAtMs);
      lookedAtMs = engineMs;
      countSleep();
      const gap = gapMs();
      if (Math.abs(gap) <= smallGapMs) {
        apart = null;
        rate = 1 + Math.max(-fastestSlew, Math.min(fastestSlew, gap / spreadMs));
        return null;
      }
      rate = 1;
      return stepDue(gap) ? Math.round(calendar.offsetMs() + gap) : null;
    },
    resume(lastEngineMs) {
      // A relation that would lead back was saved for another folder, or long before the last entry. Without one the
      // calendar's steps may have come from the journal since.
      if (!sameRun || engine() < lastEngineMs - tolerableMs) {
        engineMs = byWall();
        isByWall = true;
      }
      engineMs = Math.max(engineMs, lastEngineMs);
    },
    isByWall: () => isByWall,
    saved: () => ({ bootId: host.bootId, engineLessUptimeMs: Math.round(engine() - host.uptimeMs()) }),
  };
}
