import { connect, type Socket } from "node:net";
import mqttPacket, { type Packet } from "mqtt-packet";
import { expect } from "vitest";

/** A connection that writes packets, or bytes, as they are, and keeps what comes back. */
export function rawClient(port: number) {
  const socket: Socket = connect(port, "127.0.0.1");
  const came: Packet[] = [];
  let closed = false;
  const parser = mqttPacket.parser();
  parser.on("packet", (packet) => came.push(packet));
  socket.on("data", (chunk: Buffer) => parser.parse(chunk));
  socket.on("error", () => {});
  socket.on("close", () => {
    closed = true;
  });
  return {
    socket,
    came,
    closed: () => closed,
    bytes: (bytes: Uint8Array) => socket.write(bytes),
    send: (...packets: Packet[]) =>
      socket.write(Buffer.concat(packets.map((packet) => mqttPacket.generate(packet)))),
  };
}

type Connect = Extract<Packet, { cmd: "connect" }>;

export function signIn(username: string, password: string, more: Partial<Connect> = {}): Packet {
  return {
    cmd: "connect",
    protocolId: "MQTT",
    protocolVersion: 4,
    clean: true,
    clientId: username,
    keepalive: 0,
    username,
    password: Buffer.from(password),
    ...more,
  };
}

export function publish(messageId: number, topic: string, qos: 1 | 2 = 1, payload = "[]"): Packet {
  return { cmd: "publish", topic, payload, qos, messageId, dup: false, retain: true };
}

export function subscribe(messageId: number, ...topics: string[]): Packet {
  return { cmd: "subscribe", messageId, subscriptions: topics.map((topic) => ({ topic, qos: 1 as const })) };
}

/** Waits for a condition, and fails when it does not come within a minute. */
export async function until(right: () => boolean): Promise<void> {
  let is = right();
  for (let attempt = 0; attempt < 6000 && !is; attempt += 1) {
    await new Promise((resolve) => setTimeout(resolve, 10));
    is = right();
  }
  expect(is).toBe(true);
}

/** Signs in; the connection once the answer is there, whatever it says. */
export async function signedIn(port: number, node: string, more: Partial<Connect> = {}, secret = "right") {
  const client = rawClient(port);
  client.send(signIn(node, secret, more));
  await until(() => client.came.length > 0 || client.closed());
  return client;
}
