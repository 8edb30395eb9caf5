import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { connectAsync, type MqttClient } from "mqtt";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { drumlin } from "../acceptance/command-line.ts";
import { startProcess } from "../acceptance/gateway-process.ts";
import { startChromium } from "./chromium.ts";
import { drawnLine } from "./drawn-line.ts";

// An empty folder, a phone of 320 px, a node over real MQTT, and no line of YAML written by hand.
const folder = mkdtempSync(join(tmpdir(), "drumlin-first-run-"));
const line = join(folder, "line.yaml");
const data = join(folder, "data");
let browser: Browser;
let page: Page;
let gateway: Awaited<ReturnType<typeof startProcess>>;
let node: MqttClient;

beforeAll(async () => {
  browser = await startChromium();
  page = await (await browser.newContext({ viewport: { width: 320, height: 640 } })).newPage();
});
afterAll(async () => {
  await browser?.close();
  await node?.endAsync(true);
  await gateway?.stop();
  rmSync(folder, { recursive: true, force: true });
});

/** Where the page says that the node's readings go. */
let topic = "";
/** The node says what it measures; without a time of its own it means now. */
const say = (records: object[]) => node.publishAsync(topic, JSON.stringify(records), { qos: 1 });
const readings = [
  { n: "probe-a", u: "S/m", v: 0.0412 },
  { n: "probe-b", u: "S/m", v: 0.00008 },
  { n: "thermometer", u: "Cel", v: 18.2 },
  { n: "meter", u: "m3/s", v: 0.001 },
  { n: "float", vb: false },
  { n: "dip", u: "m", v: 0.4 },
];
const { open, next, part, undoable, overTheBar, fits, chip, tap, hang, widthIsKept } = drawnLine(() => page);

describe("the first run, from an empty folder to a judged number", () => {
  it("a missing file is begun where the site is named, and asked for where it isn't", async () => {
    const refused = await drumlin(["run", "--line", line, "--data", data]);
    expect([refused.code, refused.errors]).toEqual([2, expect.stringContaining("--site NAME")]);
    gateway = await startProcess({ line, data }, ["--site", "saltmarsh-house"]);
  });

  it("the printed code makes the first account, and the page asks for a picture", async () => {
    await page.goto(`http://127.0.0.1:${gateway.http}/`);
    await page.getByText("Nothing is drawn yet").waitFor();
    // Nobody is led to a drawing that can't be changed yet.
    expect(await page.getByRole("link", { name: "Draw the line" }).count()).toBe(0);
    await page.getByRole("link", { name: "Make the account" }).click();
    const code = /Set-up code, for the first one: (\S+)/.exec(gateway.printed())?.[1] ?? "";
    await page.getByLabel("Set-up code").fill(code);
    await page.getByLabel("Name").fill("Mara");
    await page.getByLabel("Password").fill("brackish mornings");
    await page.getByRole("button", { name: "Make the account" }).click();
    await page.getByRole("link", { name: "Draw the line" }).click();
    // Nothing can be named before a picture is chosen.
    await page.getByText("Each begins with a sediment filter").waitFor();
    expect(await page.locator(".steps-on .first").count()).toBe(0);
    await page.getByRole("button", { name: "Carbon, then resin, two drums" }).click();
    await page.getByRole("heading", { name: "Name what you tap" }).waitFor();
    await widthIsKept();
  });

  it("parts are named and sized; each step is undone by one tap, also after a reload", async () => {
    await part(/^Mix/).click();
    await page.getByLabel("Name", { exact: true }).fill("Salt drum");
    await page.getByLabel("Holds, litres").fill("about 200");
    await page.getByRole("button", { name: "Save", exact: true }).click();
    // What is wrong is said where it can be read, not under the bar at the bottom.
    const problem = page.getByText("Enter how many litres it holds");
    await problem.waitFor();
    const bottom = async () => {
      const [own, bar] = [await problem.boundingBox(), await page.locator(".nav").boundingBox()];
      return (own?.y ?? 0) + (own?.height ?? 0) - (bar?.y ?? 0);
    };
    await expect.poll(bottom).toBeLessThanOrEqual(0);
    await page.getByLabel("Holds, litres").fill("120,5");
    await page.getByRole("button", { name: "By hand" }).click();
    await page.getByRole("button", { name: "Save", exact: true }).click();
    await undoable("Mix drum changed");
    // The way back stands where the thumb is, over the bar at the bottom, wherever the page is scrolled to.
    for (const scrolled of ["0", "document.documentElement.scrollHeight / 2"]) {
      await page.evaluate(`scrollTo(0, ${scrolled})`);
      await expect.poll(overTheBar).toBe(true);
    }
    await part(/^Salt drum.*120.5\sL · filled by hand/).waitFor();
    await page.reload();
    await page.getByRole("button", { name: "Undo: Mix drum changed" }).click();
    await part(/^Mix.*200\sL · fills by itself/).waitFor();
    await page.getByText("Undone: Mix drum changed").waitFor();
    // The limit is proposed with its source.
    await part(/^After resin/).click();
    await page.getByText(/ASTM D1193.*ISO 3696/).waitFor();
    await expect.poll(() => page.getByLabel("Limit, µS/cm at 25 °C").inputValue()).toBe("5");
    // A vessel of 1 L: first water is 2 L.
    await part(/^Resin/).click();
    await page.getByLabel("Its vessel holds, litres").fill("1");
    await page.getByRole("button", { name: "Save", exact: true }).click();
    await undoable("Resin changed");
  });

  it("a filter is added and taken out again: what hangs behind it follows", async () => {
    await part(/^After carbon/).click();
    await page.getByRole("button", { name: "Add membrane: After carbon" }).click();
    await undoable("Membrane after After carbon added");
    const names = async () => (await page.locator(".drawn .part b").allTextContents()).join(" > ");
    await expect
      .poll(names)
      .toMatch(/After carbon > Fresh drum > Membrane > After membrane > Resin > After resin > Mix drum/);
    await part(/^Membrane/).click();
    await page.getByRole("button", { name: "Take it out: Membrane" }).click();
    await undoable("Membrane taken out");
    await expect.poll(names).toMatch(/After carbon > Fresh drum > Resin > After resin > Mix drum$/);
    await widthIsKept();
  });

  it("a node gets its secret by a button; its channels are heard", async () => {
    await page.locator(".steps-on .first").focus();
    await page.keyboard.press("Enter");
    // A step begins at its top, for the eye and for the keys; one that is gone back to stands where it was left.
    await page.getByLabel("Name of the node").waitFor();
    await expect.poll(() => page.evaluate("[scrollY, document.activeElement.tagName]")).toEqual([0, "H1"]);
    await page.getByLabel("Name of the node").fill("Préss, ");
    await page.getByRole("button", { name: "Add the node" }).click();
    await page.getByText("now it says press.").waitFor();
    await expect.poll(() => page.getByLabel("Name of the node").inputValue()).toBe("press");
    await page.getByRole("button", { name: "Add the node" }).click();
    await page.getByRole("button", { name: "Make a secret for press" }).click();
    const lines = await page.locator(".node-secret .cmd pre").first().textContent();
    const password = /password (\S+)/.exec(lines ?? "")?.[1] ?? "";
    // The lines to try have it in place, and the port that is listened on.
    const command = await page.getByText("mosquitto_pub").textContent();
    expect(command).toContain(`-p ${gateway.mqtt} -u press -P ${password}`);
    // A reading for the supply, its temperature, and for what comes out of the resin.
    const sent = JSON.parse(/'(\[.*\])'/s.exec(command ?? "")?.[1] ?? "[]") as { n: string }[];
    expect(sent.map(({ n }) => n)).toEqual(["t-1", "ec-1", "ec-2"]);
    // Nothing is known but what the page shows.
    const [, host, port] = /-h (\S+) -p (\d+)/.exec(command ?? "") ?? [];
    topic = /-t (\S+)/.exec(command ?? "")?.[1] ?? "";
    node = await connectAsync(`mqtt://${host}:${port}`, { username: "press", password });
    await say(readings);
    await page.getByText("6 without a place").waitFor();
    await widthIsKept();
    await next();
  });

  it("only places that take what a channel says are offered", async () => {
    await page.getByRole("button", { name: /thermometer/ }).click();
    const isEach = async () => {
      const found = await fits();
      return found.length > 0 && found.every((words) => /^temperature: /.test(words));
    };
    await expect.poll(isEach).toBe(true);
    await page.getByRole("button", { name: /thermometer/ }).click();
    const { yaml: before } = await lineFile();
    const answer = await page.evaluate(
      `fetch('/api/nodes/press/assign', { method: 'POST', headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ channel: 'press/thermometer', to: 'points/supply/conductivity' }) }).then((a) => a.json())`,
    );
    expect(answer).toMatchObject({ status: 422, code: "unit-does-not-fit" });
    expect((await lineFile()).yaml).toBe(before);
  });

  it("taps that come faster than the gateway answers are done in turn, and what is in the hand stays there", async () => {
    const { promise: answered, resolve: answer } = Promise.withResolvers<void>();
    await page.route("**/api/nodes/press/assign", async (route) => {
      await answered;
      await route.continue();
    });
    await tap("press/probe-a", "Supply", "^conductivity");
    await tap("press/thermometer", "Supply", "^temperature");
    await chip("press/meter").click();
    answer();
    await undoable("press/thermometer placed");
    await page.getByText("press/thermometer is Supply, temperature").waitFor();
    await page.unroute("**/api/nodes/press/assign");
    await expect.poll(() => chip("press/meter").getAttribute("aria-pressed")).toBe("true");
    await chip("press/meter").click();
    // It was heard once, before it had its place: what it said then stands there.
    await page
      .locator(".slots .slot.taken", { hasText: "press/thermometer" })
      .getByText(/^(was )?18\.2\s°C$/)
      .waitFor();
  });

  it("channels are placed by tapping the drawing; a probe that hangs there is never replaced unasked", async () => {
    await hang("press/meter", "Supply", "^flow");
    await hang("press/float", "Fresh drum", "^stop float");
    await page.getByRole("button", { name: /probe-b/ }).click();
    await page
      .locator(".slots")
      .getByRole("button", { name: /press\/probe-a/ })
      .click();
    await page.getByText("press/probe-a stands here. press/probe-b takes its place").waitFor();
    await page.getByRole("button", { name: "Leave it" }).click();
    await page
      .locator(".drawn > li", { has: page.locator(".part", { hasText: "After resin" }) })
      .getByRole("button", { name: /^conductivity/ })
      .click();
    await undoable("press/probe-b placed");
    await widthIsKept();
  });

  it("a depth is asked how deep the drum is: its litres are seen before it is placed, and the file has the table", async () => {
    await tap("press/dip", "Fresh drum", "^level");
    await page.getByRole("button", { name: "Place it" }).click();
    await page.getByText("Enter the depth in cm, such as 75.").waitFor();
    await page.getByLabel("Depth of the water when it is full, cm").fill("62,5");
    await page.getByText("0.40 m = 128 L").waitFor();
    await page.getByRole("button", { name: "Place it" }).click();
    await undoable("press/dip placed");
    await page.getByText("Every channel that was heard has its place.").waitFor();
    expect((await lineFile()).yaml).toMatch(/channel: press\/dip[\s\S]*?0\.625 m"?: "?200 L/);
  });

  it("by keyboard alone a channel is taken away, and the step undone", async () => {
    const slot = page.locator(".slots").getByRole("button", { name: /press\/float/ });
    await slot.focus();
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: "Take press/float away" }).focus();
    await page.keyboard.press("Enter");
    await undoable("press/float taken away");
    await slot.waitFor({ state: "detached" });
    await page.getByRole("button", { name: "Undo: press/float taken away" }).focus();
    await page.keyboard.press("Enter");
    await slot.waitFor();
  });

  it("what comes out is the line file, with its comments", async () => {
    await next();
    await page.getByRole("heading", { name: "The line file" }).waitFor();
    const text = readFileSync(line, "utf8");
    expect(text).toContain("# To the edge over which it would run.");
    expect(text).toContain("stop: press/float");
    await expect
      .poll(async () => (await page.locator(".cmd pre").first().textContent())?.trim())
      .toBe(text.trim());
    expect((await drumlin(["check", line])).code).toBe(0);
  });

  it("the number behind the resin is judged", async () => {
    await page.getByRole("link", { name: "To the line" }).click();
    const look = page.locator('[data-point="after-resin"]');
    await expect
      .poll(
        async () => {
          await say(readings);
          return await look.getAttribute("class");
        },
        { interval: 1000 },
      )
      .toMatch(/\bok\b/);
    // 0.8 µS/cm at 18.2 °C, brought to 25 °C.
    await expect.poll(async () => Number(await look.locator(".val b").textContent())).toBeGreaterThan(0.9);
  });

  it("its probe is calibrated, with a comma", async () => {
    await say(readings.map((one) => (one.n === "meter" ? { ...one, v: 0 } : one)));
    await page.getByRole("link", { name: "Supply", exact: true }).click();
    await page
      .getByLabel(/True conductivity of the standard/)
      .first()
      .fill("424,4");
    await page.getByRole("button", { name: "Calibrate", exact: true }).click();
    await page.getByText("Calibrated.").waitFor();
  });

  it("the mixing drum is filled by hand: it counts, ends, and the drum says what is missing", async () => {
    await page.goto(`http://127.0.0.1:${gateway.http}/#draw/parts`);
    await part(/^Mix/).click();
    await page.getByRole("button", { name: "By hand" }).click();
    await page.getByRole("button", { name: "Save", exact: true }).click();
    await undoable("Mix drum changed");
    await say(readings);
    await open("Line");
    const mix = page.locator(".drum", { hasText: "Mix" });
    await mix.getByRole("button", { name: "what you can do" }).click();
    await mix.getByRole("button", { name: "I'm filling now" }).click();
    await mix.getByText(/^Noted/).waitFor();
    await say(readings);
    await mix.getByRole("button", { name: "Filling finished" }).click();
    await mix.getByText("The fill has ended.").waitFor();
    await mix.getByRole("button", { name: "Filling finished" }).waitFor({ state: "detached" });
    await mix.getByText("unknown").first().waitFor();
  });
});

async function lineFile(): Promise<{ yaml: string }> {
  return (await page.evaluate("fetch('/api/line/file').then((answer) => answer.json())")) as { yaml: string };
}
