// The publisher of the bench, a process of its own: writes ready-made PUBLISH packets (QoS 1) as fast as PUBACKs come
// back, a bounded number in flight. Prints the seconds from the first packet to the last PUBACK.
import { connect } from "node:net";
import mqttPacket from "mqtt-packet";
import { signInPacket } from "./sign-in-packet.ts";

const [port, username, password, topic, packsText, inFlightText, firstMs] = process.argv.slice(2);
const packs = Number(packsText);
const inFlight = Number(inFlightText);
const ready: Buffer[] = Array.from({ length: packs }, (_, seq) => {
  const t = (Number(firstMs) + seq) / 1000;
  return mqttPacket.generate({
    cmd: "publish",
    topic: topic as string,
    qos: 1,
    retain: false,
    dup: false,
    messageId: (seq % 65_000) + 1,
    payload: JSON.stringify([
      { boot: 1, seq, n: "t-1", u: "Cel", v: 18.2, t },
      { n: "ec-1", u: "S/m", v: 0.0412, t },
      { n: "ec-2", u: "S/m", v: 0.00005, t },
    ]),
  });
});
const socket = connect(Number(port), "127.0.0.1");
socket.setNoDelay(true);
const parser = mqttPacket.parser();
let sent = 0;
let answered = 0;
let begun = 0;
function sendMore(): void {
  const batch: Buffer[] = [];
  while (sent < packs && sent - answered < inFlight) {
    batch.push(ready[sent] as Buffer);
    sent += 1;
  }
  if (batch.length > 0) socket.write(Buffer.concat(batch));
}
parser.on("packet", (packet) => {
  if (packet.cmd === "connack") {
    if (packet.returnCode !== 0) throw new Error(`sign-in refused: ${packet.returnCode}`);
    begun = performance.now();
    sendMore();
  } else if (packet.cmd === "puback") {
    answered += 1;
    if (answered === packs) {
      console.log((performance.now() - begun) / 1000);
      socket.destroy();
    } else if (sent - answered <= inFlight - 50 || sent === packs) sendMore();
  }
});
socket.on("data", (chunk: Buffer) => parser.parse(chunk));
socket.on("error", (error) => {
  console.error(error.message);
  process.exit(1);
});
socket.write(signInPacket("bench", username, password));
