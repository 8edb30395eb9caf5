import { expect, it } from "vitest";
import { AskingNodes } from "../../../gateway/src/broker/asking-nodes.ts";

function house() {
  let nowMs = 0;
  const sent: string[] = [];
  const told: string[] = [];
  const client = { connected: true, publish: (topic: string) => sent.push(topic) };
  const asking = new AskingNodes({
    client: client as never,
    steadyMs: () => nowMs,
    log: (message) => told.push(message),
  });
  const after = (ms: number) => {
    nowMs += ms;
  };
  const ask = () => asking.ask("drumlin/1/loch/press/request", "{}");
  return { asking, client, sent, told, after, ask };
}

it("requests for which a broker ends the connection twice are kept from it for 10 min, then one is tried; told once", () => {
  const { asking, sent, told, after, ask } = house();
  for (const expected of ["sent", "sent", "kept-back", "kept-back"] as const) {
    expect(ask()).toBe(expected);
    if (expected === "sent") asking.closed();
    after(5000);
  }
  expect([sent.length, told.length]).toEqual([2, 1]);
  after(590_000);
  expect(ask()).toBe("sent");
  asking.closed();
  expect(ask()).toBe("kept-back");
  expect([sent.length, told.length]).toEqual([3, 1]);
});

it("a connection that goes by itself, now and then, keeps nothing back", () => {
  const { asking, client, sent, told, after, ask } = house();
  for (let round = 0; round < 20; round += 1) {
    expect(ask()).toBe("sent");
    // By turns at once, and long after.
    after(round % 2 === 0 ? 100 : 60_000);
    asking.closed();
    client.connected = false;
    expect(ask()).toBe("away");
    client.connected = true;
    after(60_000);
  }
  expect([sent.length, told]).toEqual([20, []]);
});
