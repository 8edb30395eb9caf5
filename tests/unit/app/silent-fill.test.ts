import { createPipeline } from "@drumlin/gateway/app";
import { describe, expect, it } from "vitest";
import { liveOf } from "./live-of.ts";

const yaml = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 } }
stages: { carbon: { kind: carbon, from: supply, to: after-carbon } }
drums:
  mix: { volume: "200 L", fed_by: after-carbon, control: automatic, level: { channel: drums/level, as: volume }, stop: drums/stop }
`;
const beginMs = Date.UTC(2026, 2, 3, 4);
const encoder = new TextEncoder();

/** The drum's view at times in s after the begin, its level and its float told each 5 s until `silentFromS`. */
function mixAt(silentFromS: number, looksS: readonly number[]) {
  const pipeline = createPipeline();
  let seq = 1;
  pipeline.push({ seq, receivedAt: beginMs, kind: "line", yaml }, () => {});
  const live = liveOf(pipeline);
  const views = [];
  for (let s = 5; s <= Math.max(...looksS); s += 5) {
    seq += 1;
    const receivedAt = beginMs + s * 1000;
    if (s < silentFromS) {
      const litres = Math.max(100, 100 + ((s - 60) * 4) / 60);
      const records = [
        { boot: 1, seq: s, up: s, n: "level", u: "m3", v: litres / 1000 },
        { n: "stop", vb: false },
      ];
      const topic = "drumlin/1/saltmarsh-house/drums/readings";
      pipeline.push(
        { seq, receivedAt, kind: "message", topic, payload: encoder.encode(JSON.stringify(records)) },
        () => {},
      );
    } else pipeline.push({ seq, receivedAt, kind: "tick" } as never, () => {});
    if (looksS.includes(s)) views.push(live.lineView()?.drums[0]);
  }
  return views.map((mix) => ({ filling: mix?.filling, flow: mix?.flow === null ? null : typeof mix?.flow }));
}

describe("a drum that fills, of which nothing more is heard", () => {
  it("fills while its level or float is heard; later nobody can tell, and no flow is shown", () => {
    expect(mixAt(600, [595, 610, 800])).toEqual([
      { filling: true, flow: "number" },
      { filling: true, flow: "number" },
      { filling: null, flow: null },
    ]);
  });
});
