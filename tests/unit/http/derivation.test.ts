import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openAccounts } from "@drumlin/gateway/accounts";
import { createHttp } from "@drumlin/gateway/http";
import { afterAll, afterEach, beforeAll, expect, it, vi } from "vitest";
import { deriveCommand } from "../../../gateway/src/app/commands/derive.ts";
import { noComponents } from "./no-components.ts";

const accounts = openAccounts({ folder: mkdtempSync(join(tmpdir(), "drumlin-derivation-")), now: Date.now });
const token = accounts.tokens.add("script", "operator", "test");
const fromMs = Date.UTC(2026, 2, 1);
const toMs = Date.UTC(2026, 2, 5);
type State = ReturnType<ReturnType<typeof noComponents>["derivation"]["state"]>;
let http: Awaited<ReturnType<typeof createHttp>>;
const asked: [fromMs: number, by: string][] = [];
/** What is answered, one after the other; the last one again and again. */
let states: State[] = [];
const running = (percent: number): State => ({
  running: { fromMs, toMs, percent },
  waiting: 1,
  failure: null,
});
const atRest: State = { running: null, waiting: 0, failure: null };

beforeAll(async () => {
  await accounts.people.add({ name: "Mara", role: "operator", password: "brackish mornings", by: "test" });
  const derivation = {
    askSince: (from: number, by: string) => void asked.push([from, by]),
    state: () => (states.length > 1 ? states.shift() : states[0]) ?? atRest,
  };
  http = await createHttp(
    { ...noComponents(accounts), now: Date.now, derivation },
    { host: "127.0.0.1", port: 0, pages: null },
  );
});
afterAll(async () => {
  await http.stop();
  accounts.close();
});
afterEach(() => vi.restoreAllMocks());

/** The command at this gateway: its exit code, and what it said. */
async function derive(...args: readonly string[]) {
  const [said, told]: [string[], string[]] = [[], []];
  vi.spyOn(console, "log").mockImplementation((text: string) => void said.push(text));
  vi.spyOn(console, "error").mockImplementation((text: string) => void told.push(text));
  const code = await deriveCommand.run(["--url", `http://127.0.0.1:${http.port}`, "--token", token, ...args]);
  return { code, said, told };
}

it("drumlin derive asks a running gateway, says how far it is, and ends once it is in force", async () => {
  states = [atRest, running(0), running(40), running(40), running(99), atRest];
  const { code, said, told } = await derive("--from", "2026-03-01T00:00:00Z");
  expect(asked.splice(0)).toEqual([[fromMs, "program:script"]]);
  expect(told).toEqual(["  0 %", " 40 %", " 99 %"]);
  expect(said).toEqual(["derived since 2026-03-01T00:00:00.000Z: it is in force"]);
  expect(code).toBe(0);
});

it("one that fails is said, with what becomes of it; a time that is to come is refused, and asks for nothing", async () => {
  states = [atRest, running(3), { running: null, waiting: 1, failure: "the store's thread ended." }];
  await expect(derive("--from", "2026-03-01T00:00:00Z")).rejects.toThrow(
    "the store's thread ended. The gateway tries it again by itself.",
  );
  asked.splice(0);
  const { code, told } = await derive("--from", "2500-01-01T00:00:00Z");
  expect([code, asked]).toEqual([1, []]);
  expect(told).toEqual([expect.stringMatching(/^body-not-understood: .*before now/)]);
  await expect(
    deriveCommand.run(["--url", "http://127.0.0.1:1", "--from", "2026-03-01T00:00:00Z"]),
  ).rejects.toThrow(/^no gateway answers at http:\/\/127\.0\.0\.1:1/);
});

it("twenty may wait: one more is refused by name, and asks for nothing", async () => {
  states = [{ running: null, waiting: 19, failure: null }, atRest];
  expect((await derive("--from", "2026-03-01T00:00:00Z")).code).toBe(0);
  expect(asked.splice(0)).toHaveLength(1);
  states = [{ running: null, waiting: 20, failure: null }];
  const { code, told } = await derive("--from", "2026-03-01T00:00:00Z");
  expect([code, asked]).toEqual([1, []]);
  expect(told).toEqual([expect.stringMatching(/^requests-too-many: .*20 derivations wait already/)]);
});
