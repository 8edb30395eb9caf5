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
