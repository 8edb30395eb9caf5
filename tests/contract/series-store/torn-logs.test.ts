import { appendFileSync, globSync } from "node:fs";
import { expect, it } from "vitest";
import { startInfluxd } from "./influxd.ts";

it("an InfluxDB whose log was torn by a kill keeps what it acknowledged after it, over the next kill too", async () => {
  const influx = await startInfluxd();
  try {
    const lines = (from: number) =>
      Array.from({ length: 100 }, (_, place) => `m v=1 ${1_700_000_000_000 + from + place}`).join("\n");
    const count = async () => (await influx.ask("SELECT count(v) FROM m"))[0]?.[1];
    expect(await influx.write(lines(0))).toBe(204);
    await influx.kill();
    const [log = ""] = globSync(`${influx.folder}/wal/drumlin/*/*/*.wal`);
    // An entry of 1,000 bytes of which 100 were written.
    const half = Buffer.alloc(105, 7);
    half.writeUInt8(1, 0);
    half.writeUInt32BE(1000, 1);
    appendFileSync(log, half);
    await influx.start();
    expect(influx.torn()).toBe(1);
    expect(await influx.write(lines(1000))).toBe(204);
    await influx.kill();
    await influx.start();
    expect(await count()).toBe(200);
  } finally {
    await influx.remove();
  }
});
