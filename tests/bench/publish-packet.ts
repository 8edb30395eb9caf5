import mqttPacket from "mqtt-packet";

/** A pack of a node's readings as a PUBLISH of QoS 1. `seq`: how many the node sent before; its packet id follows from it. */
export const publishPacket = (node: string, seq: number, payload: string): Buffer =>
  mqttPacket.generate({
    cmd: "publish",
    topic: `drumlin/1/saltmarsh-house/${node}/readings`,
    qos: 1,
    retain: false,
    dup: false,
    messageId: (seq % 65_000) + 1,
    payload,
  });
