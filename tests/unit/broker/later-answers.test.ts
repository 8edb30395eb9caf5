import { beforeEach, describe, expect, it } from "vitest";
import { LaterAnswers } from "../../../gateway/src/broker/later-answers.ts";

/** A connection that notes what is written to it, as messages that are acknowledged. */
function connection() {
  const written: number[][] = [];
  return {
    written,
    destroyed: false,
    write(bytes: Buffer) {
      const ids: number[] = [];
      // MQTT 3.1.1 §3.4: 40 02, then the packet identifier.
      for (let at = 0; at < bytes.length; at += 4) {
        expect(bytes.readUInt16BE(at)).toBe(0x4002);
        ids.push(bytes.readUInt16BE(at + 2));
      }
      written.push(ids);
      return true;
    },
    destroy() {
      this.destroyed = true;
    },
  };
}

let stream: ReturnType<typeof connection>;
let client: { stream: ReturnType<typeof connection>; connected: boolean };
let refusals: string[];
let answers: LaterAnswers;
beforeEach(() => {
  stream = connection();
  client = { stream, connected: true };
  refusals = [];
  answers = new LaterAnswers(client as never, (code, _node, detail) => refusals.push(`${code}: ${detail}`));
});

const came = (messageId: number, qos: 0 | 1 = 1) => answers.begin(qos === 1 ? messageId : null);
const ticked = () => new Promise((resolve) => setImmediate(resolve));

describe("answers to a broker of somebody else", () => {
  it("those of one commit are one piece, in the order in which the packs came", async () => {
    const packs = [7, 8, 9, 300].map((id) => came(id));
    for (const pack of packs) pack.stored();
    expect(stream.written).toEqual([]);
    await ticked();
    expect(stream.written).toEqual([[7, 8, 9, 300]]);
  });

  it("none goes before one that came earlier is on disk", async () => {
    const [first, second, third] = [came(1), came(2), came(3)];
    second.stored();
    third.stored();
    await ticked();
    expect(stream.written).toEqual([]);
    first.stored();
    await ticked();
    expect(stream.written).toEqual([[1, 2, 3]]);
  });

  it("a pack that asks for none gets none, and holds nobody up", async () => {
    const [first, quiet, last] = [came(1), came(2, 0), came(3)];
    for (const pack of [first, quiet, last]) pack.stored();
    await ticked();
    expect(stream.written).toEqual([[1, 3]]);
  });

  it("belongs to the connection on which the pack came", async () => {
    const before = came(1);
    const onTime = came(2);
    client.stream = connection();
    const after = came(1);
    for (const pack of [before, onTime, after]) pack.stored();
    await ticked();
    expect(stream.written).toEqual([]);
    expect(client.stream.written).toEqual([[1]]);
  });

  it("is not written where the connection is gone", async () => {
    came(1).stored();
    client.connected = false;
    await ticked();
    expect(stream.written).toEqual([]);
  });

  it("a pack that could not be stored gets none, nor does what came after it there: the broker brings both again", async () => {
    const [kept, lost, after] = [came(1), came(2), came(3)];
    kept.stored();
    lost.refused(new Error("the disk is full"));
    after.stored();
    await ticked();
    expect(stream.written).toEqual([[1]]);
    expect(stream.destroyed).toBe(true);
    expect(refusals).toEqual(["journal-not-writing: the disk is full"]);
  });

  it("a broker that sends more than may wait is told to wait, and goes on once there is room", async () => {
    const packs = Array.from({ length: 1000 }, (_, index) => came(index + 1));
    expect(answers.hasRoom()).toBe(false);
    let isOver = false;
    const room = answers.untilThereIsRoom().then(() => {
      isOver = true;
    });
    const last = answers.last;
    await ticked();
    expect(isOver).toBe(false);
    packs[0]?.stored();
    await room;
    expect(answers.hasRoom()).toBe(true);
    for (const pack of packs.slice(1)) pack.stored();
    await last;
    await ticked();
    expect(stream.written.flat()).toEqual(packs.map((_, index) => index + 1));
  });
});
