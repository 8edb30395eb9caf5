// What the gateway says on a broker of somebody else: what did not come back is named, and nothing else is.
import type { MqttClient } from "mqtt";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import type { BrokerSays } from "../../../gateway/src/broker/asked-broker.ts";
import { frameBytes } from "../../../gateway/src/broker/frame-bytes.ts";
import { OutsideTrouble } from "../../../gateway/src/broker/outside-trouble.ts";
import { OwnWords } from "../../../gateway/src/broker/own-words.ts";

const [supply, fresh] = ["house/points/supply", "house/drums/fresh"];

/** Words on a broker that passes back what `isBack` says, and answers in MQTT 5 what `says`. */
function words(says: BrokerSays | null = null, isBack = (_topic: string) => true) {
  const asked: string[][] = [];
  const log: string[] = [];
  const sent: string[] = [];
  const outgoing: Record<number, (error?: Error) => void> = {};
  let isAnswering = true;
  let rooms = 0;
  const client = {
    connected: true,
    stream: {},
    outgoing,
    removeOutgoingMessage(id: number) {
      outgoing[id]?.(new Error("Message removed"));
      delete outgoing[id];
    },
    publish(topic: string, payload: string, _options: object, done: (error?: Error) => void) {
      sent.push(topic);
      if (!isAnswering) {
        outgoing[sent.length] = done;
        return;
      }
      if (isBack(topic)) own.back(topic, payload, false);
      done();
    },
  };
  const outside = new OutsideTrouble("mqtt://broker.example", (line) => log.push(line));
  const own = new OwnWords({
    client: client as unknown as MqttClient,
    outside,
    ask: async (kept) => {
      asked.push(kept.map(({ topic }) => topic));
      return says;
    },
    steadyMs: Date.now,
    onRoom: () => {
      rooms += 1;
    },
  });
  outside.opened();
  own.opened();
  return {
    own,
    outside,
    asked,
    log,
    sent,
    rooms: () => rooms,
    mute() {
      isAnswering = false;
    },
    goOn(next: BrokerSays | null) {
      isAnswering = true;
      says = next;
    },
  };
}

const minutes = (count: number) => vi.advanceTimersByTimeAsync(60_000 * count);

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

describe("a word that the broker took", () => {
  it("and passed back is nothing to ask or tell of", async () => {
    const { own, asked, outside } = words();
    own.tell(supply, "1");
    await minutes(20);
    expect(asked).toEqual([]);
    expect([outside.text, outside.refuses]).toEqual([null, null]);
  });

  it("and forbids, as it says in MQTT 5, is named within a minute, once; passed back, it is no more", async () => {
    let isBack = false;
    const { own, log, outside } = words({ longestBytes: null, unwritten: [fresh] }, () => isBack);
    own.tell(fresh, "1");
    await minutes(1);
    const text = `its rules do not let this gateway write ${fresh}`;
    expect([outside.text, outside.refuses]).toEqual([text, "words"]);
    own.tell(fresh, "2");
    await minutes(30);
    expect(log).toEqual([`broker: ${text}`]);
    isBack = true;
    own.tell(fresh, "3");
    expect([outside.text, outside.refuses]).toEqual([null, null]);
  });

  it("is late behind a backlog, and not named while nothing that was told after it is back", async () => {
    let isBack = false;
    const { own, outside } = words(null, () => isBack);
    own.tell(fresh, "1");
    own.tell(supply, "1");
    await minutes(9);
    expect(outside.text).toBeNull();
    isBack = true;
    own.tell(fresh, "2");
    own.tell(supply, "2");
    await minutes(20);
    expect(outside.text).toBeNull();
  });

  it("is named where a later one is back and it is not, though it was told again", async () => {
    const { own, outside, sent } = words(null, (topic) => topic === supply);
    own.tell(fresh, "1");
    own.tell(supply, "1");
    await minutes(1);
    expect(sent.filter((topic) => topic === fresh)).toHaveLength(2);
    expect(outside.text).toMatch(`passes nothing back of ${fresh}`);
  });

  it("is named after ten minutes where nothing at all is passed back", async () => {
    const { own, outside } = words(null, () => false);
    own.tell(fresh, "1");
    await minutes(11);
    expect(outside.text).toMatch(`passes nothing back of ${fresh}`);
  });
});

describe("a connection that ends soon, with a word under way", () => {
  const long = "x".repeat(300);

  it("ended for what the rules forbid: that is told no more until they are asked again, ten minutes later", async () => {
    const { own, outside, sent, rooms, mute, goOn } = words();
    mute();
    own.tell(fresh, "1");
    own.tell(supply, "1");
    own.closed();
    goOn({ longestBytes: null, unwritten: [fresh] });
    await own.beforeNext();
    outside.opened();
    own.opened();
    own.tell(fresh, "2");
    own.tell(supply, "2");
    await minutes(5);
    expect(sent).toEqual([fresh, supply, supply]);
    expect(outside.text).toBe(`its rules do not let this gateway write ${fresh}`);
    goOn({ longestBytes: null, unwritten: [] });
    await minutes(6);
    expect(rooms()).toBe(1);
    own.tell(fresh, "3");
    expect([sent.at(-1), outside.text]).toEqual([fresh, null]);
  });

  it("has that forgotten, and the broker asked: what is too long is kept from it, the rest is told", async () => {
    const { own, outside, asked, sent, log, mute, goOn } = words();
    mute();
    const said = own.publish(fresh, long, false);
    own.closed();
    expect(await said).toBe(false);
    goOn({ longestBytes: 200, unwritten: [] });
    await own.beforeNext();
    expect(asked).toHaveLength(1);
    outside.opened();
    own.opened();
    own.tell(fresh, long);
    own.tell(supply, "short");
    await minutes(1);
    expect(sent).toEqual([fresh, supply]);
    const text = `it takes no packet over 200 bytes: not told are ${fresh} (${frameBytes(fresh, long)} bytes)`;
    expect([outside.text, outside.refuses]).toEqual([text, "words"]);
    expect(log).toEqual([`broker: ${text}`]);
  });

  it("asks again at each connection while there is a limit: once there is none, all is told anew", async () => {
    const { own, outside, rooms, mute, goOn } = words();
    mute();
    own.tell(fresh, long);
    own.closed();
    goOn({ longestBytes: 200, unwritten: [] });
    await own.beforeNext();
    own.opened();
    own.tell(fresh, long);
    await minutes(1);
    expect(rooms()).toBe(0);
    goOn({ longestBytes: null, unwritten: [] });
    own.closed();
    own.opened();
    await minutes(1);
    expect([rooms(), outside.text]).toEqual([1, null]);
  });

  it("asks a broker that knows no limit, or no MQTT 5, once in ten minutes", async () => {
    const { own, asked, mute } = words();
    mute();
    for (let cut = 0; cut < 5; cut += 1) {
      own.opened();
      own.tell(fresh, long);
      own.closed();
      await own.beforeNext();
      await minutes(1);
    }
    expect(asked.filter((names) => names.length > 0)).toEqual([[fresh]]);
  });

  it("does not ask where nothing was under way, or it stood for half a minute", async () => {
    const { own, asked, mute } = words();
    own.tell(fresh, long);
    own.closed();
    await own.beforeNext();
    own.opened();
    mute();
    own.tell(fresh, long);
    await minutes(1);
    own.closed();
    await own.beforeNext();
    // Where it is, is asked; how long it may be is not.
    expect(asked.filter(({ length }) => length === 0)).toEqual([]);
  });
});

it("a frame's length is counted with its header: 127 bytes of content take one byte to say, 128 two", () => {
  expect(frameBytes("t", "x".repeat(122))).toBe(129);
  expect(frameBytes("t", "x".repeat(123))).toBe(131);
});
