import { openOutsideBroker } from "@drumlin/gateway/broker";
import fc from "fast-check";
import mqttPacket, { type Packet } from "mqtt-packet";
import { describe, expect, it, vi } from "vitest";
import { Retries } from "../../../gateway/src/broker/retries.ts";
import { appending } from "./appending.ts";
import { until } from "./raw-client.ts";
import { scriptedBroker } from "./scripted-broker.ts";

// Each cut is followed by the gateway's own wait before it connects again.
vi.setConfig({ testTimeout: 180_000 });

const topic = "drumlin/1/saltmarsh-house/press/readings";
const packs = 60;
const ids = Array.from({ length: packs }, (_, index) => index + 1);

function publish(messageId: number, dup: boolean): Buffer {
  // Of many lengths, so that a cut falls anywhere in a frame.
  const payload = `${messageId} ${"z".repeat((messageId * 37) % 200)}`;
  return mqttPacket.generate({
    cmd: "publish",
    topic,
    qos: 1,
    retain: false,
    dup,
    messageId,
    payload,
  } as Packet);
}

/** A life of one session: the broker brings what has no answer, in its order, and is cut off after a share of the bytes. */
async function lived(cuts: readonly number[], commitTurns: number) {
  const acknowledged = new Set<number>();
  const early: number[] = [];
  const committed = new Set<number>();
  const taken: number[] = [];
  const refused: string[] = [];
  const scripted = await scriptedBroker((id) => {
    acknowledged.add(id);
    if (!committed.has(id)) early.push(id);
  });
  const { appendFor } = appending(async (entry) => {
    const id = entry.kind === "message" ? Number.parseInt(`${Buffer.from(entry.payload)}`, 10) : 0;
    taken.push(id);
    for (let turns = 0; turns < commitTurns; turns += 1)
      await new Promise((resolve) => setImmediate(resolve));
    committed.add(id);
    return id;
  });
  const broker = await openOutsideBroker(
    {
      journal: { appendFor },
      onRefused: (code) => refused.push(code),
      log() {},
      onTakenOver() {},
      steadyMs: () => performance.now(),
      // Ended on purpose again and again: the wait grows no further than to half a second.
      retries: new Retries(500),
    },
    { url: scripted.url, site: "saltmarsh-house", instance: "i", takeOver: true, foreignTopics: [] },
  );
  try {
    for (let count = 1; count <= cuts.length + 1; count += 1) {
      const { socket, ...spoken } = await scripted.connection(count);
      const bytes = Buffer.concat(
        ids.filter((id) => !acknowledged.has(id)).map((id) => publish(id, count > 1)),
      );
      const share = cuts[count - 1];
      if (share === undefined) socket.write(bytes);
      else socket.end(bytes.subarray(0, Math.floor(bytes.length * share)));
      if (share === undefined) await until(() => acknowledged.size === packs);
      expect(spoken.acknowledged).toEqual(spoken.acknowledged.toSorted((a, b) => a - b));
    }
    // Nothing of a frame that was cut is left before the next connection's first: that would take one more to get over.
    expect(scripted.connections).toHaveLength(cuts.length + 1);
  } finally {
    await broker.stop();
    await scripted.stop();
  }
  return { taken, early, refused };
}

describe("a broker of somebody else whose connection is cut at any byte", () => {
  it("brings again what had no answer; none had one before it was on disk, and none is missing", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 4 }),
        fc.integer({ min: 0, max: 40 }),
        async (cuts, commitTurns) => {
          const { taken, early, refused } = await lived(cuts, commitTurns);
          expect(early).toEqual([]);
          expect(refused).toEqual([]);
          expect([...new Set(taken)].toSorted((a, b) => a - b)).toEqual(ids);
        },
      ),
      { numRuns: 8 },
    );
  });
});
