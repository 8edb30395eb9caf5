import { Readings } from "@drumlin/gateway/readings";
import { describe, expect, it } from "vitest";

const beginMs = Date.UTC(2026, 5, 1);
const encoder = new TextEncoder();
const boundBytes = 100_000;
const noBound = Number.POSITIVE_INFINITY;
/** What one of these packs is taken for, of one record. */
const packBytes = 320;

/** The first stage with a small bound; `waiting` tells how many packs went in and did not come out. */
function gateway(maxBytes = boundBytes) {
  const readings = new Readings(maxBytes);
  readings.useSite("saltmarsh-house");
  let [pushed, seq] = [0, 0];
  const told: number[] = [];
  const push = (node: string, what: "readings" | "presence", value: unknown, atMs: number) => {
    seq += 1;
    const topic = `drumlin/1/saltmarsh-house/${node}/${what}`;
    const payload = encoder.encode(JSON.stringify(value));
    readings.push(
      { kind: "message", seq, receivedAt: beginMs + atMs, topic, payload },
      beginMs + atMs,
      (out) => {
        if (out.kind === "reading" && out.channel.endsWith("ec-1")) told.push(out.tMs);
      },
    );
  };
  return {
    announced: (node: string, periodS: number) =>
      push(node, "presence", { state: "online", boot: 7, protocol: 1, period_s: periodS }, 0),
    pack(node: string, atMs: number, labels: Readonly<Record<string, number>>) {
      pushed += 1;
      push(node, "readings", [{ boot: 7, ...labels, n: "ec-1", u: "S/m", v: 0.03 }], atMs);
    },
    end: (atMs: number) =>
      readings.pass(beginMs + atMs, (out) => {
        if (out.kind === "reading" && out.channel.endsWith("ec-1")) told.push(out.tMs);
      }),
    waiting: () => pushed - told.length,
    /** Rows of packs that wait which a checkpoint would write, or (−) take away. */
    rows: () =>
      [...readings.dirty()].flatMap(([key, plain]) =>
        key.startsWith("wait ") ? [`${plain === undefined ? "-" : "+"}${key.split(" ").at(-1)}`] : [],
      ),
    /** Times of the readings that came out, in the order in which they did. */
    times: () => told,
  };
}

// At d400cbf the sum was looked at once in 1,000 packs, one node was let go, and packs without `up` never were.
describe("packs that wait for their time", () => {
  it("of a node that sends for ever what it kept are bounded, and none is lost", () => {
    const { pack, waiting, end } = gateway();
    let most = 0;
    for (let seq = 0; seq < 2000; seq += 1) {
      pack("press", seq, { seq, up: seq * 5 });
      most = Math.max(most, waiting());
    }
    expect(most).toBeGreaterThan((0.8 * boundBytes) / packBytes);
    expect(most).toBeLessThanOrEqual(boundBytes / packBytes + 1);
    end(3_600_000);
    expect(waiting()).toBe(0);
  });

  it("of a node without `up` that is quicker than it said, too", () => {
    const { announced, pack, waiting, end } = gateway();
    announced("press", 60);
    let most = 0;
    for (let seq = 0; seq < 2000; seq += 1) {
      pack("press", seq * 1000, { seq });
      most = Math.max(most, waiting());
    }
    expect(most).toBeGreaterThan((0.8 * boundBytes) / packBytes);
    expect(most).toBeLessThanOrEqual(boundBytes / packBytes + 1);
    end(3_600_000_000);
    expect(waiting()).toBe(0);
  });

  it("of a house whose nodes all come back at once are bounded together", () => {
    const { pack, waiting, end } = gateway();
    let most = 0;
    for (let seq = 0; seq < 40; seq += 1)
      for (let node = 0; node < 100; node += 1) {
        pack(`n-${node}`, seq * 100 + node, { seq, up: seq * 5 });
        most = Math.max(most, waiting());
      }
    expect(most).toBeGreaterThan((0.8 * boundBytes) / packBytes);
    expect(most).toBeLessThanOrEqual(boundBytes / packBytes + 1);
    end(3_600_000);
    expect(waiting()).toBe(0);
  });

  // At d400cbf 12,500 of them went through the whole path in one turn, 0.6 s on a machine with nothing else to do.
  it("come out some at a time once their clock has settled, in their order, within seconds", () => {
    const { pack, waiting, end, times } = gateway(noBound);
    const [kept, connectMs] = [4000, 4000 * 5000];
    for (let seq = 0; seq < kept; seq += 1) pack("press", connectMs + seq, { seq, up: seq * 5 });
    expect(waiting()).toBe(kept);
    let [atMs, mostAtOnce] = [connectMs + kept, 0];
    const counted = (work: () => void) => {
      const before = times().length;
      work();
      mostAtOnce = Math.max(mostAtOnce, times().length - before);
    };
    for (let seq = kept; seq < kept + 6; seq += 1) {
      for (let ms = 0; ms < 5000; ms += 250) counted(() => end(atMs + ms));
      atMs += 5000;
      counted(() => pack("press", atMs, { seq, up: seq * 5 }));
    }
    expect(waiting()).toBe(0);
    expect(mostAtOnce).toBeGreaterThan(100);
    expect(mostAtOnce).toBeLessThanOrEqual(501);
    expect(times()).toEqual(times().toSorted((a, b) => a - b));
  });

  // Each pack that was taken at once had a row to take away that was never there.
  it("have a row in the checkpoint each, and packs that did not wait have none", () => {
    const { announced, pack, rows } = gateway();
    for (let seq = 0; seq < 3; seq += 1) pack("press", seq * 5000, { seq });
    expect(rows()).toEqual([]);
    announced("press", 10);
    pack("press", 20_000, { seq: 3 });
    pack("press", 20_100, { seq: 4 });
    pack("press", 20_200, { seq: 5 });
    expect(rows()).toEqual(["+6", "+7"]);
    pack("press", 40_000, { seq: 6 });
    expect(rows()).toEqual(["-6", "-7"]);
  });
});
