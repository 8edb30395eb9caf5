/** What a publication takes on its way, with its header (MQTT 3.1.1 §2.2, §3.3), bytes. */
export function frameBytes(topic: string, payload: string): number {
  const rest = 2 + Buffer.byteLength(topic) + 2 + Buffer.byteLength(payload);
  let header = 2;
  for (let left = rest; left > 127; left >>= 7) header += 1;
  return header + rest;
}
