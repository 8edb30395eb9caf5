import { dateIn, nightAt, nightWindow, zonedIso } from "@drumlin/gateway/quantities";
import { describe, expect, it } from "vitest";

// Clock changes: Directive 2000/84/EC, last Sunday of March and October at 01:00 UTC (2026: 29 March, 25 October).
const hours = (date: string, zone: string) => {
  const { fromMs, toMs } = nightWindow(date, zone);
  return (toMs - fromMs) / 3_600_000;
};

describe("zoned time", () => {
  it("a moment carries the zone's offset of that moment", () => {
    expect(zonedIso(Date.UTC(2026, 0, 1, 5), "Europe/Berlin")).toBe("2026-01-01T06:00:00.000+01:00");
    expect(zonedIso(Date.UTC(2026, 6, 1, 5), "Europe/Berlin")).toBe("2026-07-01T07:00:00.000+02:00");
    expect(zonedIso(0, "UTC")).toBe("1970-01-01T00:00:00.000+00:00");
  });
  it("the same moment is another date elsewhere", () => {
    expect(dateIn(Date.UTC(2026, 0, 1, 23, 30), "Europe/Berlin")).toBe("2026-01-02");
    expect(dateIn(Date.UTC(2026, 0, 1, 23, 30), "America/New_York")).toBe("2026-01-01");
  });
  it("a night has 10 hours, 9 when the clocks go forward, 11 when they go back", () => {
    expect(hours("2026-11-24", "Europe/Berlin")).toBe(10);
    expect(hours("2026-03-28", "Europe/Berlin")).toBe(9);
    expect(hours("2026-10-24", "Europe/Berlin")).toBe(11);
  });
  it("a moment after midnight belongs to the night of the evening before; noon to none", () => {
    const zone = "Europe/Berlin";
    expect(nightAt(Date.UTC(2026, 10, 25, 2), zone)?.date).toBe("2026-11-24");
    expect(nightAt(Date.UTC(2026, 10, 25, 22), zone)?.date).toBe("2026-11-25");
    expect(nightAt(Date.UTC(2026, 10, 25, 11), zone)).toBeNull();
    const night = nightWindow("2026-11-24", zone);
    expect(nightAt(night.fromMs, zone)).toEqual(night);
    expect(nightAt(night.toMs, zone)).toBeNull();
  });
});
