import fc from "fast-check";
import mqttPacket, { type Packet } from "mqtt-packet";
import { describe, expect, it, vi } from "vitest";
import { FastLane, type PublishFrame } from "../../../gateway/src/broker/fast-lane.ts";

const topic = "drumlin/1/saltmarsh-house/press/readings";

/** What went past the library and what was given to it, in the order in which it happened. */
function run(pieces: readonly Buffer[], { takes = (_: PublishFrame): boolean => true, begun = 0 } = {}) {
  const happened: (PublishFrame | Buffer)[] = [];
  const lane = new FastLane((frame) => {
    if (!takes(frame)) return false;
    happened.push({ ...frame, payload: Buffer.from(frame.payload) });
    return true;
  });
  for (const [index, piece] of pieces.entries()) {
    const given = lane.take(piece, index === 0 ? begun : 0);
    if (given !== null) happened.push(Buffer.from(given));
  }
  return happened;
}

const isBytes = (one: PublishFrame | Buffer): one is Buffer => Buffer.isBuffer(one);
const libraryOf = (happened: readonly (PublishFrame | Buffer)[]) => Buffer.concat(happened.filter(isBytes));
const taken = (happened: readonly (PublishFrame | Buffer)[]) =>
  happened.flatMap((one) => (isBytes(one) ? [] : [`${one.topic} ${one.messageId} ${one.payload}`]));
const publish = (messageId: number, payload: string | Buffer, more: object = {}): Buffer =>
  mqttPacket.generate({
    cmd: "publish",
    topic,
    qos: 1,
    dup: false,
    retain: false,
    messageId,
    payload,
    ...more,
  } as Packet);

/** Frames of all kinds: header of one, two and three bytes of length. */
const sizes = fc.oneof(fc.nat(140), fc.constantFrom(79, 80, 81, 82, 83, 84, 85, 86, 16_300, 16_350, 17_000));
const frame = fc.oneof(
  { weight: 6, arbitrary: sizes.map((size) => ({ isOurs: true, more: { payload: "x".repeat(size) } })) },
  {
    weight: 1,
    arbitrary: fc.constantFrom(
      { isOurs: true, more: { dup: true } },
      { isOurs: true, more: { retain: true } },
    ),
  },
  {
    weight: 3,
    arbitrary: fc.constantFrom(
      { isOurs: false, more: { qos: 0, messageId: undefined } },
      { isOurs: false, more: { qos: 2 } },
      { isOurs: false, more: { cmd: "pingreq" } },
      { isOurs: false, more: { cmd: "puback" } },
    ),
  },
);

/** A packet as it can be told apart, whichever way it went. */
const nameOf = ({ cmd, messageId, payload }: { cmd: string; messageId?: number; payload?: unknown }) =>
  `${cmd} ${messageId ?? ""} ${payload === undefined ? "" : String(payload).length}`;

function parsed(bytes: Buffer): string[] {
  const names: string[] = [];
  const parser = mqttPacket.parser();
  parser.on("packet", (packet) => names.push(nameOf(packet as Parameters<typeof nameOf>[0])));
  expect(parser.parse(bytes)).toBe(0);
  return names;
}

describe("the way past the broker's library", () => {
  it("takes each frame once and in order, whole, however it is cut", () => {
    fc.assert(
      fc.property(
        fc.array(frame, { minLength: 1, maxLength: 12 }),
        fc.array(fc.integer({ min: 1, max: 400 }), { minLength: 1, maxLength: 8 }),
        fc.boolean(),
        (frames, cuts, takesAll) => {
          const all = frames.map(({ more }, index) => publish(index + 1, `${index}`, more));
          const bytes = Buffer.concat(all);
          const pieces: Buffer[] = [];
          for (let at = 0, cut = 0; at < bytes.length; cut += 1) {
            const step = cuts[cut % cuts.length] as number;
            pieces.push(bytes.subarray(at, at + step));
            at += step;
          }
          const happened = run(pieces, { takes: ({ messageId }) => takesAll || messageId % 3 !== 0 });
          const names = happened.flatMap((one) =>
            isBytes(one) ? parsed(one) : [nameOf({ cmd: "publish", ...one })],
          );
          expect(names).toEqual(all.flatMap(parsed));
        },
      ),
      { numRuns: 100 },
    );
  });

  it("takes what is ours where it comes alone, and gives the rest on byte by byte", () => {
    fc.assert(
      fc.property(frame, ({ isOurs, more }) => {
        const bytes = publish(1, "1", more);
        const happened = run([bytes]);
        expect(taken(happened).length).toBe(isOurs ? 1 : 0);
        expect(libraryOf(happened)).toEqual(isOurs ? Buffer.alloc(0) : bytes);
      }),
      { numRuns: 60 },
    );
  });

  it("takes a frame with its last byte, not later and not before", () => {
    for (const size of [0, 60, 85, 86, 87, 300, 17_000]) {
      const bytes = publish(7, "y".repeat(size));
      const happened: number[] = [];
      const lane = new FastLane(() => {
        happened.push(1);
        return true;
      });
      for (let at = 0; at < bytes.length; at += 1) {
        expect(happened).toEqual([]);
        expect(lane.take(bytes.subarray(at, at + 1), 0)).toBeNull();
      }
      expect(happened).toEqual([1]);
    }
  });

  it("puts a long frame together once, however small its pieces, and holds no short one back", () => {
    const concat = vi.spyOn(Buffer, "concat");
    const happened: number[] = [];
    const lane = new FastLane(({ payload }) => {
      happened.push(payload.length);
      return true;
    });
    const bytes = publish(7, "y".repeat(17_000));
    concat.mockClear();
    for (let at = 0; at < bytes.length; at += 1) lane.take(bytes.subarray(at, at + 1), 0);
    // Its header's bytes, each of which may be the last; then all.
    expect(concat.mock.calls.length).toBeLessThanOrEqual(5);
    expect(happened).toEqual([17_000]);
    concat.mockRestore();
    const ping = mqttPacket.generate({ cmd: "pingreq" });
    expect(lane.take(ping.subarray(0, 1), 0)).toBeNull();
    expect(lane.take(ping.subarray(1), 0)).toEqual(ping);
  });

  it("says topic, number and payload as they came", () => {
    const payload = Buffer.from([0, 1, 0x80, 0xff]);
    for (const messageId of [1, 255, 256, 65_535]) {
      const [one] = run([publish(messageId, payload, { dup: true, retain: true })]);
      expect(one).toEqual({ topic, payload, messageId });
    }
    expect(run([publish(3, "")])[0]).toEqual({ topic, payload: Buffer.alloc(0), messageId: 3 });
    // Each byte a sign: what is no ASCII is never one of a node's own topics.
    expect(taken(run([publish(4, "", { topic: "é" })]))).toEqual(["Ã© 4 "]);
  });

  it("leaves to the library what is wrong", () => {
    const wrong = [
      [0x32, 0], // nothing in it
      [0x32, 1, 0], // no length of a topic
      [0x32, 2, 0, 0], // no number
      [0x32, 3, 0, 0, 1], // half a number
      [0x32, 4, 0, 3, 0, 1], // a topic longer than the frame
      [0x32, 4, 0, 1, 0x61, 1],
      [0x32, 4, 0, 0, 0, 0], // number 0 (MQTT 3.1.1 §2.3.1)
      [0x36, 4, 0, 0, 0, 1], // QoS 3
      [0x30, 4, 0, 0, 0, 1], // QoS 0
      [0x42, 4, 0, 0, 0, 1], // another kind of packet
    ].map((bytes) => Buffer.from(bytes));
    for (const bytes of wrong) expect(run([bytes])).toEqual([bytes]);
    expect(taken(run([Buffer.from([0x32, 4, 0, 0, 0, 1])]))).toEqual([" 1 "]);
    expect(taken(run([Buffer.from([0x32, 5, 0, 1, 0x61, 0, 1])]))).toEqual(["a 1 "]);
  });

  it("what comes behind a frame for the library in one piece goes there too, and a later piece does not", () => {
    const ping = mqttPacket.generate({ cmd: "pingreq" });
    const [first, second, third] = [publish(1, "a"), publish(2, "b"), publish(3, "c")];
    const happened = run([Buffer.concat([first, ping, second]), third]);
    expect(happened.map((one) => (isBytes(one) ? one : one.messageId))).toEqual([
      1,
      Buffer.concat([ping, second]),
      3,
    ]);
  });

  it("the end of a frame that the library has begun goes there, with what is whole behind it", () => {
    const tail = Buffer.from("the end of something");
    const [first, second] = [publish(1, "a"), publish(2, "b")];
    const begun = tail.length;
    expect(run([Buffer.concat([tail, first])], { begun })).toEqual([Buffer.concat([tail, first])]);
    const cut = [Buffer.concat([tail, first.subarray(0, 9)]), Buffer.concat([first.subarray(9), second])];
    const happened = run(cut, { begun });
    expect(happened.map((one) => (isBytes(one) ? one : one.messageId))).toEqual([tail, 1, 2]);
    expect(run([tail, first], { begun }).map((one) => (isBytes(one) ? one : one.messageId))).toEqual([
      tail,
      1,
    ]);
  });
});
