import { connect, type Socket } from "node:net";
import mqttPacket from "mqtt-packet";

/** The CONNECT of a node, MQTT 3.1.1; without a name nobody signs in. */
export function signInPacket(clientId: string, username = "", password = ""): Buffer {
  return mqttPacket.generate({
    cmd: "connect",
    protocolId: "MQTT",
    protocolVersion: 4,
    clean: true,
    clientId,
    keepalive: 60,
    ...(username ? { username, password: Buffer.from(password) } : {}),
  });
}

/** A connection of a node to a broker on loopback that has signed in. */
export function signedIn(port: number, node: string, secret: string): Promise<Socket> {
  return new Promise((resolve, reject) => {
    const socket = connect(port, "127.0.0.1");
    socket.once("error", reject);
    socket.once("data", () => resolve(socket));
    socket.write(signInPacket(node, node, secret));
  });
}
