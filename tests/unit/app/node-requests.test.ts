import { encodeResponse } from "@drumlin/firmware-protocol";
import fc from "fast-check";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { type AskableNode, NodeRequests } from "../../../gateway/src/app/requests/node-requests.ts";

beforeEach(() => {
  vi.useFakeTimers({ now: 1_800_000_000_000 });
});
afterEach(() => {
  vi.useRealTimers();
});

const everything: AskableNode = {
  boot: 17,
  isOnline: true,
  requests: ["report-now", "identify", "set-period"],
};

function house(nodes: Readonly<Record<string, AskableNode>> = { press: everything }, isThere = true) {
  const sent: { readonly topic: string; readonly said: Record<string, unknown>; readonly atMs: number }[] =
    [];
  const requests = new NodeRequests({
    site: "loch",
    node: (id) => nodes[id] ?? null,
    send(topic, payload) {
      if (isThere) sent.push({ topic, said: JSON.parse(payload), atMs: Date.now() });
      return isThere ? "sent" : "away";
    },
    engineMs: Date.now,
  });
  const answer = (node: string, said: { id?: unknown; boot?: number; refused?: string | null }) =>
    requests.hear(
      `drumlin/1/loch/${node}/response`,
      Buffer.from(
        encodeResponse({ id: String(said.id), boot: said.boot ?? 17, refused: said.refused ?? null }),
      ),
    );
  return { requests, sent, answer };
}

it("a node is asked under its own topic, for the start that it has, and its answer is the outcome", async () => {
  const { requests, sent, answer } = house();
  const asked = requests.ask("press", { kind: "set-period", periodS: 5 });
  expect(sent).toMatchObject([
    { topic: "drumlin/1/loch/press/request", said: { boot: 17, request: "set-period", period_s: 5 } },
  ]);
  answer("press", { id: sent[0]?.said.id, refused: "request-period-not-possible" });
  expect(await asked).toEqual({ outcome: "refused", reason: "request-period-not-possible" });
});

it.each([
  ["unknown", "barn", everything],
  ["offline", "press", { ...everything, isOnline: false }],
  ["offline", "press", { ...everything, boot: null }],
  ["not-understood", "press", { ...everything, requests: ["report-now" as const] }],
  ["not-understood", "press", { ...everything, requests: [] }],
])("nothing is sent: %s", async (outcome, id, press) => {
  const { requests, sent } = house({ press });
  expect(await requests.ask(id, { kind: "identify" })).toEqual({ outcome });
  expect(sent).toEqual([]);
});

it("what is asked while the broker is away is not sent later", async () => {
  const { requests, sent } = house(undefined, false);
  expect(await requests.ask("press", { kind: "identify" })).toEqual({ outcome: "broker-away" });
  await vi.advanceTimersByTimeAsync(60_000);
  expect([sent, requests.counts().waiting]).toEqual([[], 0]);
});

it("a node that does not answer within 5 s is no longer waited for; what it says then is counted", async () => {
  const { requests, sent, answer } = house();
  const asked = requests.ask("press", { kind: "identify" });
  await vi.advanceTimersByTimeAsync(5000);
  expect(await asked).toEqual({ outcome: "no-answer" });
  answer("press", { id: sent[0]?.said.id });
  answer("press", { id: "made-up" });
  requests.hear("drumlin/1/loch/press/response", Buffer.from("{"));
  expect(requests.counts()).toEqual({
    waiting: 0,
    outcomes: [{ kind: "identify", outcome: "no-answer", count: 1 }],
    useless: [
      { why: "late", count: 1 },
      { why: "not-asked", count: 1 },
      { why: "not-understood", count: 1 },
    ],
  });
});

it("an answer of another start, or of another node, is no answer", async () => {
  const { requests, sent, answer } = house({ press: everything, drums: everything });
  const asked = requests.ask("press", { kind: "identify" });
  answer("press", { id: sent[0]?.said.id, boot: 16 });
  answer("drums", { id: sent[0]?.said.id });
  expect(requests.counts().useless).toEqual([
    { why: "another-boot", count: 1 },
    { why: "not-asked", count: 1 },
  ]);
  answer("press", { id: sent[0]?.said.id });
  expect(await asked).toEqual({ outcome: "done" });
});

it("a node is asked what it reads at most once in 3 s, few wait at once, and each is answered within 5 s, whatever is asked", async () => {
  const ids = Array.from({ length: 100 }, (_, at) => `node-${at}`);
  const step = fc.record({
    node: fc.nat(99),
    kind: fc.constantFrom("report-now" as const, "identify" as const),
    afterMs: fc.constantFrom(0, 0, 0, 0, 1, 100, 900, 3000),
    answers: fc.boolean(),
  });
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 50, maxLength: 300 }), async (steps) => {
      const { requests, sent, answer } = house(Object.fromEntries(ids.map((id) => [id, everything])));
      const took: Promise<number>[] = [];
      for (const { node, kind, afterMs, answers } of steps) {
        const fromMs = Date.now();
        const before = sent.length;
        took.push(requests.ask(ids[node] as string, { kind }).then(() => Date.now() - fromMs));
        expect(requests.counts().waiting).toBeLessThanOrEqual(64);
        if (answers && sent.length > before) answer(ids[node] as string, { id: sent.at(-1)?.said.id });
        await vi.advanceTimersByTimeAsync(afterMs);
      }
      await vi.advanceTimersByTimeAsync(5000);
      expect(Math.max(...(await Promise.all(took)))).toBeLessThanOrEqual(5000);
      const reports = sent.filter(({ said }) => said.request === "report-now");
      for (const [topic, times] of Map.groupBy(reports, ({ topic }) => topic))
        for (const [at, { atMs }] of times.entries())
          if (at > 0) expect([topic, atMs - (times[at - 1]?.atMs ?? 0) >= 3000]).toEqual([topic, true]);
    }),
    { numRuns: 60 },
  );
});

it("an answer that comes again is told from one to nothing that was asked, and is only its own node's", async () => {
  const { requests, sent, answer } = house({ press: everything, drums: everything });
  const asked = requests.ask("press", { kind: "identify" });
  const id = sent[0]?.said.id;
  answer("press", { id });
  expect(await asked).toEqual({ outcome: "done" });
  answer("press", { id });
  answer("drums", { id });
  const late = requests.ask("press", { kind: "identify" });
  await vi.advanceTimersByTimeAsync(5000);
  expect(await late).toEqual({ outcome: "no-answer" });
  answer("drums", { id: sent[1]?.said.id });
  expect(requests.counts().useless).toEqual([
    { why: "repeated", count: 1 },
    { why: "not-asked", count: 2 },
  ]);
});

it("a report that could not be sent is none that was asked for just now", async () => {
  const there = { isThere: false };
  const requests = new NodeRequests({
    site: "loch",
    node: () => everything,
    send: () => (there.isThere ? "sent" : "away"),
    engineMs: Date.now,
  });
  expect(await requests.ask("press", { kind: "report-now" })).toEqual({ outcome: "broker-away" });
  there.isThere = true;
  const asked = requests.ask("press", { kind: "report-now" });
  await vi.advanceTimersByTimeAsync(5000);
  expect(await asked).toEqual({ outcome: "no-answer" });
});
