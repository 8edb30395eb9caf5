import { createServer, type Socket } from "node:net";
import mqttPacket, { type Packet } from "mqtt-packet";
import { until } from "./raw-client.ts";

/** A connection of the gateway to a broker that does what a test says. */
export interface Spoken {
  readonly socket: Socket;
  /** PUBACKs that came on it. */
  readonly acknowledged: number[];
  closed: boolean;
}

/**
 * A broker on loopback that answers CONNECT, SUBSCRIBE, PUBLISH and PINGREQ, and else sends the bytes that it is given; each
 * PUBACK is told as it comes, and `grants` says what a topic is subscribed with.
 */
export async function scriptedBroker(
  onAcknowledged: (messageId: number) => void = () => {},
  grants: (topic: string) => 1 | 0x80 = () => 1,
) {
  const connections: Spoken[] = [];
  let ready = 0;
  const server = createServer((socket) => {
    const spoken: Spoken = { socket, acknowledged: [], closed: false };
    connections.push(spoken);
    socket.setNoDelay(true);
    const say = (packet: Packet) => socket.write(mqttPacket.generate(packet));
    const parser = mqttPacket.parser();
    parser.on("packet", (packet) => {
      // Who asks whether a copy of the folder works here has no session, and nobody to answer.
      if (packet.cmd === "connect" && packet.clean) {
        connections.splice(connections.indexOf(spoken), 1);
        socket.end();
      } else if (packet.cmd === "connect") say({ cmd: "connack", returnCode: 0, sessionPresent: true });
      else if (packet.cmd === "subscribe") {
        say({
          cmd: "suback",
          messageId: packet.messageId as number,
          granted: packet.subscriptions.map(({ topic }) => grants(topic)),
        });
        ready = connections.length;
      } else if (packet.cmd === "publish" && packet.qos === 1)
        say({ cmd: "puback", messageId: packet.messageId as number });
      else if (packet.cmd === "pingreq") say({ cmd: "pingresp" });
      else if (packet.cmd === "puback") {
        spoken.acknowledged.push(packet.messageId as number);
        onAcknowledged(packet.messageId as number);
      }
    });
    socket.on("data", (chunk: Buffer) => parser.parse(chunk));
    socket.on("error", () => {});
    socket.on("close", () => {
      spoken.closed = true;
    });
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const { port } = server.address() as { port: number };
  return {
    url: `mqtt://127.0.0.1:${port}`,
    connections,
    /** The newest connection, once so many were made and the last one has subscribed. */
    async connection(count: number): Promise<Spoken> {
      await until(() => ready >= count);
      return connections.at(-1) as Spoken;
    },
    stop() {
      for (const { socket } of connections) socket.destroy();
      return new Promise<void>((resolve) => server.close(() => resolve()));
    },
  };
}
