/** A stream of bytes that is the same each time; its low bits repeat soon, so the high ones are taken. */
export function randomFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_103_515_245) + 12_345) & 0x7fffffff;
    return (state >>> 16) & 0xff;
  };
}

const calls = [
  "POST /api/drums/fresh/release",
  "POST /api/drums/mix/release",
  "POST /api/drums/fresh/fill",
  "POST /api/alarms/drum-low:fresh/acknowledge",
  "POST /api/alarms/float-unproven:fresh.stop/shelve",
  "POST /api/notes",
  "POST /api/calibrations",
  "POST /api/media",
  "POST /api/proof-tests",
  "POST /api/line/check",
  "POST /api/line/limits",
  "POST /api/compute",
  "POST /api/nodes/press/assign",
  "POST /api/sign-in",
  "POST /api/set-up",
  "POST /api/people",
  "GET /api/points/supply/series",
  "GET /api/fills",
  "GET /api/live",
  "GET /api/nights/2026-02-30",
  "DELETE /api/people/nobody",
] as const;

const values = [
  "1e999",
  "-0",
  "null",
  "true",
  '""',
  "[]",
  "{}",
  '"\\u0000"',
  '"\\ud800"',
  "1e-400",
  "9007199254740993",
  '"5 uS/cm"',
  '"2026-02-30T25:00:00Z"',
  '"../../etc"',
  `"${"a".repeat(9000)}"`,
  `${"[".repeat(400)}${"]".repeat(400)}`,
  '{"__proto__":{"role":"operator"}}',
] as const;
const keys = [
  "value",
  "note",
  "how",
  "occurrence",
  "text",
  "yaml",
  "channel",
  "role",
  "name",
  "__proto__",
  "id",
];

/** An HTTP request in which something is wrong: its body, its framing, its path, its headers, or only its values. */
export function brokenRequest(token: string, byte: () => number): Buffer {
  const one = <Item>(list: readonly Item[]) => list[byte() % list.length] as Item;
  const pairs = Array.from({ length: byte() % 5 }, () => `"${one(keys)}":${one(values)}`);
  let body = `{${pairs.join(",")}${pairs[0] && byte() % 3 === 0 ? `,${pairs[0]}` : ""}}`;
  if (byte() % 6 === 0) body = body.slice(0, byte() % (body.length + 1));
  const [method, path] = one(calls).split(" ");
  const query =
    byte() % 4 === 0 ? `?from=${one(["NaN", "-1", "1e99", "%00"])}&limit=${one(["0", "1e9", "x"])}` : "";
  const lengths = byte() % 8 === 0 ? byte() : Buffer.byteLength(body);
  const head = [
    `${method} ${path}${query} HTTP/1.1`,
    "host: 127.0.0.1",
    `authorization: Bearer ${token}`,
    `content-type: ${byte() % 10 === 0 ? "text/plain" : "application/json"}`,
    `content-length: ${lengths}`,
    "connection: close",
  ];
  const bytes = Buffer.from(`${head.join("\r\n")}\r\n\r\n${body}`);
  if (byte() % 5 === 0)
    for (let flips = byte() % 4; flips >= 0; flips -= 1)
      bytes[(byte() * 256 + byte()) % bytes.length] = byte();
  return bytes;
}
