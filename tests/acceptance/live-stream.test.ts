import { connectAsync } from "mqtt";
import { afterAll, beforeAll, expect, it } from "vitest";
import { eventually, newSite, startProcess } from "./gateway-process.ts";

const yaml = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 }, after-resin: { conductivity: { channel: press/ec-2, at25: true } } }
stages: { resin: { kind: resin, from: supply, to: after-resin, flow: press/flow-1 } }
`;
let gateway: Awaited<ReturnType<typeof startProcess>>;
let site: Awaited<ReturnType<typeof newSite>>;
beforeAll(async () => {
  site = await newSite(["press"], yaml);
  gateway = await startProcess(site);
});
afterAll(() => gateway.stop());

/** Opens a stream and gives its events until `enough`. */
async function events(
  headers: Record<string, string>,
  enough: (seen: readonly { id: string; event: string; data: unknown }[]) => boolean,
) {
  const abort = new AbortController();
  const answer = await gateway.api("/api/live?every=0", { headers, signal: abort.signal });
  const seen: { id: string; event: string; data: unknown }[] = [];
  let text = "";
  const decoder = new TextDecoder();
  for await (const chunk of answer.body as unknown as AsyncIterable<Uint8Array>) {
    text += decoder.decode(chunk, { stream: true });
    for (let end = text.indexOf("\n\n"); end >= 0; end = text.indexOf("\n\n")) {
      const match = /^id: (\d+)\nevent: (\w+)\ndata: (.*)$/s.exec(text.slice(0, end));
      if (match)
        seen.push({
          id: match[1] as string,
          event: match[2] as string,
          data: JSON.parse(match[3] as string),
        });
      text = text.slice(end + 2);
    }
    if (enough(seen)) break;
  }
  abort.abort();
  return seen;
}

it("a stream begins with a snapshot; one that was away gets the alarms that it missed, once", async () => {
  const press = await connectAsync(`mqtt://127.0.0.1:${gateway.mqtt}`, {
    username: "press",
    password: site.secrets.press as string,
  });
  const before = await events({}, (seen) => seen.length >= 1);
  expect(before[0]).toMatchObject({
    event: "snapshot",
    data: { line: { site: "saltmarsh-house" }, alarms: [] },
  });
  for (const ago of [40, 30, 20, 10, 1]) {
    const t = Date.now() / 1000 - ago;
    const pack = [
      { n: "flow-1", u: "m3/s", v: 5e-5, t },
      { n: "ec-2", u: "S/m", v: 0.03, t },
    ];
    await press.publishAsync("drumlin/1/saltmarsh-house/press/readings", JSON.stringify(pack), { qos: 1 });
  }
  // Packs are acknowledged before the path has run over them.
  await eventually(
    () => gateway.json<{ items: object[] }>("/api/alarms?standing=true"),
    ({ items }) => items.length > 0,
  );
  const resumed = await events({ "last-event-id": before[0]?.id as string }, (seen) =>
    seen.some(({ event }) => event === "alarm"),
  );
  expect(resumed[0]).toMatchObject({
    event: "snapshot",
    data: { alarms: [{ key: "resin-breakthrough:after-resin", state: "unacknowledged" }] },
  });
  const missed = resumed.filter(({ event }) => event === "alarm");
  expect(missed[0]).toMatchObject({ data: { why: "raised-gross", from: "normal", annunciated: true } });
  const last = missed.at(-1)?.id as string;
  const again = await events({ "last-event-id": last }, (seen) => seen.length >= 1);
  expect(
    again.filter(({ event, data }) => event === "alarm" && (data as { why: string }).why === "raised-gross"),
  ).toEqual([]);
  await press.endAsync();
});
