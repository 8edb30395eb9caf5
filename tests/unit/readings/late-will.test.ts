import { Composer, type PathEntry, SavedRows } from "@drumlin/gateway/path";
import { createReadingsStage, nodeCell, type ReadingsOutcome } from "@drumlin/gateway/readings";
import { describe, expect, it } from "vitest";

const beginMs = Date.UTC(2026, 5, 1);
const silenceMs = 15_000;

/** A node's life on the stage; `save` and `goOn` are a restart. */
function stage(saved: SavedRows | null = null) {
  const told: ReadingsOutcome[] = [];
  const composer = new Composer({ stages: [createReadingsStage()], readLine: () => null });
  if (saved) composer.restore(saved, { last: () => [], list: () => [] });
  const rows = saved ?? new SavedRows();
  let seq = saved ? 1000 : 0;
  const push = (kind: "readings" | "presence", body: unknown, atS: number) => {
    seq += 1;
    const entry = {
      kind: "message",
      seq,
      receivedAt: beginMs + atS * 1000,
      topic: `drumlin/1/saltmarsh-house/press/${kind}`,
      payload: new TextEncoder().encode(JSON.stringify(body)),
    } as PathEntry;
    composer.push(entry, (event) => told.push(event as unknown as ReadingsOutcome));
  };
  return {
    online: (atS: number, boot = 5, periodS = 5) =>
      push("presence", { state: "online", boot, protocol: 1, period_s: periodS, channels: [] }, atS),
    will: (atS: number, boot = 5) => push("presence", { state: "offline", boot }, atS),
    pack: (packSeq: number, atS: number) =>
      push("readings", [{ boot: 5, seq: packSeq, up: 100 + atS, n: "ec-1", u: "S/m", v: 0.04 }], atS),
    pass: (atS: number) => {
      seq += 1;
      composer.push({ kind: "tick", seq, receivedAt: beginMs + atS * 1000 } as PathEntry, (event) =>
        told.push(event as unknown as ReadingsOutcome),
      );
    },
    isOnline: () => composer.board.get(nodeCell, "press")?.online,
    wentAway: () =>
      told.flatMap((one) => (one.kind === "presence" && !one.online ? [one.atMs - beginMs] : [])),
    save() {
      rows.apply(composer.changes());
      return rows;
    },
  };
}

it("a node that says that it sends more often from now on is no second one: its will tells at once", () => {
  const node = stage();
  node.online(0, 5, 60);
  node.pack(1, 1);
  node.online(20, 5, 5);
  node.pack(2, 25);
  node.will(26);
  expect([node.isOnline(), node.wentAway()]).toEqual([false, [26_000]]);
});

describe("the will of a half-open connection, with the boot that is still running", () => {
  it("does not show a node offline that has connected again and goes on sending", () => {
    const node = stage();
    node.online(0);
    node.pack(1, 1);
    node.online(20);
    for (let n = 2; n < 6; n += 1) node.pack(n, 20 + 5 * n);
    node.will(46);
    expect(node.isOnline()).toBe(true);
    node.pack(6, 50);
    node.pass(120);
    expect(node.isOnline()).toBe(true);
    expect(node.wentAway()).toEqual([]);
  });

  it("shows it offline when it falls silent after that, once, also over a restart", () => {
    const node = stage();
    node.online(0);
    node.online(20);
    node.pack(1, 21);
    node.will(22);
    const again = stage(node.save());
    expect(again.isOnline()).toBe(true);
    again.pass(22 + silenceMs / 1000 - 1);
    expect(again.isOnline()).toBe(true);
    again.pass(22 + silenceMs / 1000);
    again.pass(300);
    expect(again.isOnline()).toBe(false);
    expect(again.wentAway()).toHaveLength(1);
  });

  it("is believed at once of a node that connected once, and a pack after it shows that the node lives", () => {
    const node = stage();
    node.online(0);
    node.pack(1, 1);
    node.will(2);
    expect(node.isOnline()).toBe(false);
    node.pack(2, 6);
    expect(node.isOnline()).toBe(true);
  });
});
