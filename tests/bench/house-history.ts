import { createPipeline } from "@drumlin/gateway/app";
import { saltmarshHouseYaml } from "@drumlin/gateway/simulator";
import { createDemoLine } from "../../gateway/src/app/demo-history.ts";
import { figure } from "./figures.ts";

/** The demo's two weeks through the path alone, as `npm start` runs them: no network, no disk. */
export async function houseHistory(): Promise<void> {
  const demo = createDemoLine({ site: "saltmarsh-house", endMs: Date.UTC(2026, 10, 25, 9) });
  const messages: { topic: string; payload: Uint8Array; receivedAt: number }[] = [];
  await demo.append(async (topic, payload, receivedAt) => messages.push({ topic, payload, receivedAt }));
  const pipeline = createPipeline();
  let outcomes = 0;
  const take = () => {
    outcomes += 1;
  };
  pipeline.push(
    { kind: "line", seq: 1, receivedAt: demo.startMs - 1, yaml: saltmarshHouseYaml({ membrane: false }) },
    take,
  );
  const [begun, cpu] = [performance.now(), process.cpuUsage()];
  for (const [index, message] of messages.entries()) {
    pipeline.push({ kind: "message", seq: index + 2, ...message }, take);
    if (index % 5000 === 0) pipeline.changes();
  }
  const seconds = (performance.now() - begun) / 1000;
  const { user, system } = process.cpuUsage(cpu);
  figure("house-history", seconds, "s", `${messages.length} packs of two weeks, ${outcomes} outcomes`);
  figure("house-history-cpu", (user + system) / messages.length, "us", "of the processor for each pack");
}
