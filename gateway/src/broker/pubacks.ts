/** A PUBACK (MQTT 3.1.1 §3.4): so long, of this type and remaining length. */
const pubackLength = 4;
const pubackHeader = 0x4002;

/** The PUBACKs of these messages, in this order, as they go over the wire. */
export function pubacks(messageIds: readonly number[]): Buffer {
  const bytes = Buffer.allocUnsafe(pubackLength * messageIds.length);
  for (const [index, messageId] of messageIds.entries()) {
    bytes.writeUInt16BE(pubackHeader, pubackLength * index);
    bytes.writeUInt16BE(messageId, pubackLength * index + 2);
  }
  return bytes;
}
