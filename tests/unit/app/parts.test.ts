import { createParts, definePart, type Part } from "@drumlin/gateway/app";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";

let said: string[];
/** Parts that write down their life; `trouble` says what one of them does wrong. */
function bench(trouble: Partial<Record<string, "start" | "stop" | "hang">> = {}) {
  said = [];
  const parts = ["journal", "path", "broker", "http"].map(
    (name): Part =>
      definePart(name, {
        start() {
          if (trouble[name] === "start") throw new Error("the port is taken");
          said.push(`+${name}`);
          return name;
        },
        stop() {
          said.push(`-${name}`);
          if (trouble[name] === "stop") throw new Error("the disk is full");
          return trouble[name] === "hang" ? new Promise<void>(() => {}) : undefined;
        },
      }),
  );
  const logged: string[] = [];
  return { parts: createParts(parts, (message) => logged.push(message)), logged };
}

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

describe("parts of a gateway", () => {
  it("start in order and stop in reverse; ready only between", async () => {
    const { parts } = bench();
    expect(parts.notReady()).toBe("The gateway is starting.");
    await parts.start();
    expect(parts.notReady()).toBeNull();
    expect(await parts.stop()).toEqual([]);
    expect(said).toEqual(["+journal", "+path", "+broker", "+http", "-http", "-broker", "-path", "-journal"]);
    expect(parts.notReady()).toBe("The gateway is stopping.");
  });

  it("one that can't start is named, and those before it are undone", async () => {
    const { parts } = bench({ broker: "start" });
    await expect(parts.start()).rejects.toThrow("broker: the port is taken");
    expect(said).toEqual(["+journal", "+path", "-path", "-journal"]);
  });

  it("a start that fails is undone within 4 s even when one hangs", async () => {
    const { parts, logged } = bench({ broker: "start", path: "hang" });
    const starting = parts.start().catch((error: Error) => error.message);
    await vi.advanceTimersByTimeAsync(4000);
    expect(await starting).toBe("broker: the port is taken");
    expect(said).toContain("-journal");
    expect(logged[0]).toContain("path: it did not stop in");
  });

  it.each([[["path"]], [["journal", "path", "broker", "http"]]])(
    "all stop within 9 s when %j hang, each in its turn",
    async (hanging) => {
      const { parts, logged } = bench(Object.fromEntries(hanging.map((name) => [name, "hang" as const])));
      await parts.start();
      const stopping = parts.stop();
      await vi.advanceTimersByTimeAsync(9000);
      expect(await stopping).toEqual(hanging.toReversed());
      expect(said.slice(4)).toEqual(["-http", "-broker", "-path", "-journal"]);
      expect(logged).toHaveLength(hanging.length);
    },
  );

  it("one that hangs gets 3 s and no more", async () => {
    const { parts } = bench({ path: "hang" });
    await parts.start();
    const stopping = parts.stop();
    await vi.advanceTimersByTimeAsync(2900);
    expect(said).not.toContain("-journal");
    await vi.advanceTimersByTimeAsync(200);
    expect(said).toContain("-journal");
    expect(await stopping).toEqual(["path"]);
  });

  it("one that fails to stop is told by name; the rest stops, and stopping twice stops once", async () => {
    const { parts, logged } = bench({ http: "stop" });
    await parts.start();
    expect(await Promise.all([parts.stop(), parts.stop()])).toEqual([["http"], ["http"]]);
    expect(logged).toEqual(["http: it did not stop in order: the disk is full"]);
    expect(said.slice(4)).toEqual(["-http", "-broker", "-path", "-journal"]);
  });

  it("a part that failed makes the gateway not ready, by its name; one that is degraded does not", async () => {
    const states = { series: "good", broker: "good" } as Record<string, "good" | "degraded" | "failed">;
    const parts = createParts(
      Object.keys(states).map((name) =>
        definePart(name, {
          start: () => name,
          health: () => ({ state: states[name] ?? "good", text: "its thread has ended" }),
        }),
      ),
      () => {},
    );
    await parts.start();
    states.broker = "degraded";
    expect(parts.notReady()).toBeNull();
    states.series = "failed";
    expect(parts.notReady()).toBe("series: its thread has ended");
    states.series = "good";
    expect(parts.notReady()).toBeNull();
  });

  it("what a part gives can't be had before it has started", () => {
    expect(() => definePart("journal", { start: () => 1 }).it).toThrow("journal has not started yet.");
  });
});
