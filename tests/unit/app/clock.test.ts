import { createCalendar, createClock, type HostTime } from "@drumlin/gateway/app";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const beginMs = Date.UTC(2026, 2, 3, 4, 0, 0);

/** A machine whose times a test sets. */
function machine(bootId: string | null = "boot-1") {
  const at = { wall: beginMs, steady: 0, uptime: 50_000 };
  const host: HostTime = {
    wallMs: () => at.wall,
    steadyMs: () => at.steady,
    uptimeMs: () => at.uptime,
    bootId,
  };
  return {
    host,
    at,
    pass(ms: number): void {
      at.wall += ms;
      at.steady += ms;
      at.uptime += ms;
    },
  };
}

/** A clock that is looked at each second, and whose steps come into force at once. */
function bench(bootId: string | null = "boot-1") {
  const one = machine(bootId);
  const calendar = createCalendar();
  const clock = createClock(one.host, calendar);
  const steps: number[] = [];
  const pass = (s: number) => {
    for (let n = 0; n < s; n += 1) {
      one.pass(1000);
      const offsetMs = clock.look();
      if (offsetMs === null) continue;
      steps.push(offsetMs);
      calendar.add({ fromEngineMs: clock.engineMs(), offsetMs });
    }
  };
  return { ...one, calendar, clock, steps, pass };
}

describe("the one clock", () => {
  it("runs with a machine whose clock nobody sets", () => {
    const { clock, pass, steps } = bench();
    pass(3600);
    expect(clock.engineMs()).toBe(beginMs + 3_600_000);
    expect(clock.nowMs()).toBe(beginMs + 3_600_000);
    expect(steps).toEqual([]);
  });

  it.each([-5000, -20, 4000])(
    "a machine that is %i ms off is met within 60 s, by a tenth at most",
    (offMs) => {
      const { clock, pass, at, steps } = bench();
      pass(10);
      at.wall += offMs;
      let before = clock.engineMs();
      for (let s = 0; s < 60; s += 1) {
        pass(1);
        const passed = clock.engineMs() - before;
        before = clock.engineMs();
        expect(passed).toBeGreaterThanOrEqual(900 - 1e-6);
        expect(passed).toBeLessThanOrEqual(1100 + 1e-6);
      }
      expect(Math.abs(clock.gapMs())).toBeLessThan(1);
      expect(steps).toEqual([]);
    },
  );

  it.each([-3_600_000, -20_000])("set back by %i ms: time goes on, dates follow after a minute", (byMs) => {
    const { clock, pass, at, steps } = bench();
    pass(100);
    at.wall += byMs;
    pass(60);
    expect(steps).toEqual([]);
    expect(clock.nowMs()).toBe(beginMs + 160_000);
    pass(2);
    expect(steps).toEqual([byMs]);
    expect(clock.engineMs()).toBe(beginMs + 162_000);
    expect(clock.nowMs()).toBe(at.wall);
  });

  it("set back and right again within the minute: nothing steps", () => {
    const { clock, pass, at, steps } = bench();
    at.wall -= 3_600_000;
    pass(50);
    at.wall += 3_600_000;
    pass(50);
    expect(steps).toEqual([]);
    expect(clock.nowMs()).toBe(at.wall);
  });

  it("a clock that is set back again and again is followed once it stands", () => {
    const { pass, at, steps } = bench();
    at.wall -= 100_000;
    pass(40);
    at.wall -= 100_000;
    pass(55);
    expect(steps).toEqual([]);
    pass(10);
    expect(steps).toEqual([-200_000]);
  });

  it.each([400_000, 365 * 86_400_000])(
    "set forward by %i ms and back: dates follow, engine time only goes on",
    (byMs) => {
      const { clock, pass, at, steps } = bench();
      at.wall += byMs;
      pass(2);
      expect(steps).toEqual([byMs]);
      expect(clock.nowMs()).toBe(at.wall);
      expect(clock.engineMs()).toBe(beginMs + 2000);
      pass(100);
      at.wall -= byMs;
      pass(70);
      expect(steps).toEqual([byMs, 0]);
      expect(clock.nowMs()).toBe(at.wall);
      expect(clock.engineMs()).toBe(beginMs + 172_000);
    },
  );

  it("the machine's sleep is time that passed", () => {
    const { clock, pass, at, steps } = bench();
    pass(10);
    at.wall += 3_600_000;
    at.uptime += 3_600_000;
    pass(10);
    expect(clock.engineMs()).toBe(beginMs + 3_620_000);
    expect(steps).toEqual([]);
  });

  it("whatever is done to the machine's clock, engine time passes at 0.9 to 1.1 of the time that passed", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: -1e8, max: 1e8 }), fc.integer({ min: 1, max: 90 })), {
          maxLength: 20,
        }),
        (sets) => {
          const { clock, pass, at } = bench();
          for (const [byMs, s] of sets) {
            at.wall += byMs;
            const before = clock.engineMs();
            pass(s);
            const passed = clock.engineMs() - before;
            expect(passed).toBeGreaterThanOrEqual(s * 900 - 1e-3);
            expect(passed).toBeLessThanOrEqual(s * 1100 + 1e-3);
          }
          pass(130);
          expect(Math.abs(clock.gapMs())).toBeLessThan(1);
        },
      ),
    );
  });

  it("a pending step is asked for until the calendar has it", () => {
    const { host, at, pass } = machine();
    const calendar = createCalendar();
    const clock = createClock(host, calendar);
    at.wall += 400_000;
    const asked = [1, 2, 3, 4].map(() => {
      pass(1000);
      return clock.look();
    });
    expect(asked).toEqual([null, 400_000, 400_000, 400_000]);
  });
});

describe("over a restart", () => {
  const year = 365 * 86_400_000;
  it.each([-3_600_000, -20_000, 400_000, year])(
    "on the same run of the machine %i ms change nothing of the time that passed",
    (byMs) => {
      const first = bench();
      first.pass(100);
      const saved = first.clock.saved();
      const last = first.clock.engineMs();
      first.pass(30);
      first.at.wall += byMs;
      const again = createClock(first.host, first.calendar, saved);
      again.resume(last);
      expect(again.engineMs()).toBe(last + 30_000);
    },
  );

  it("on another run of the machine it goes by the machine's clock, never back", () => {
    const saved = { bootId: "boot-0", engineLessUptimeMs: 5 };
    const later = machine();
    const ahead = createClock(later.host, createCalendar(), saved);
    ahead.resume(beginMs - 500_000);
    expect(ahead.engineMs()).toBe(beginMs);
    const behind = createClock(later.host, createCalendar(), saved);
    behind.resume(beginMs + 500_000);
    expect(behind.engineMs()).toBe(beginMs + 500_000);
  });

  it("a saved relation that leads back is not believed", () => {
    const { host } = machine();
    const clock = createClock(host, createCalendar(), { bootId: "boot-1", engineLessUptimeMs: 5 });
    clock.resume(beginMs - 60_000);
    expect(clock.engineMs()).toBe(beginMs);
  });
});

describe("the calendar", () => {
  const calendar = createCalendar([
    { fromEngineMs: 1000, offsetMs: -300 },
    { fromEngineMs: 2000, offsetMs: 500 },
  ]);
  it("shows engine times by the step in force", () => {
    expect([999, 1000, 1999, 2000].map(calendar.at)).toEqual([999, 700, 1699, 2500]);
  });
  it("knows what it showed before", () => {
    expect([999, 1000, 1299, 1300, 2000].map(calendar.isShownAgain)).toEqual([
      false,
      true,
      true,
      false,
      false,
    ]);
  });
  it("a time shown twice is the later one; one that was left out is the moment of the step", () => {
    expect([699, 700, 999, 1699, 2000, 2500].map(calendar.engineOf)).toEqual([
      699, 1000, 1299, 1999, 2000, 2000,
    ]);
  });
  it("at(engineOf(t)) is t wherever t was shown", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(1e6), fc.integer({ min: -1e6, max: 1e6 }))),
        fc.nat(2e6),
        (steps, engineMs) => {
          const drawn = createCalendar(steps.map(([fromEngineMs, offsetMs]) => ({ fromEngineMs, offsetMs })));
          const shown = drawn.at(engineMs);
          expect(drawn.at(drawn.engineOf(shown))).toBe(shown);
        },
      ),
    );
  });
});
