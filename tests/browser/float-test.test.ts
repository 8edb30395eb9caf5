import { connectAsync, type MqttClient } from "mqtt";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { newSite, startProcess } from "../acceptance/gateway-process.ts";
import { startChromium } from "./chromium.ts";

const yaml = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 } }
stages: { carbon: { kind: carbon, from: supply, to: after-carbon } }
drums:
  good: { volume: "200 L", fed_by: after-carbon, stop: drums/good }
  stuck: { volume: "200 L", fed_by: after-carbon, control: manual, stop: drums/stuck, flow: tap/flow }
  turned: { volume: "200 L", fed_by: after-carbon, stop: { channel: drums/turned, wet: true } }
`;

let browser: Browser;
let gateway: Awaited<ReturnType<typeof startProcess>>;
let node: MqttClient;
let tap: MqttClient;
let page: Page;

beforeAll(async () => {
  const site = await newSite(["drums", "tap"], yaml);
  gateway = await startProcess(site);
  node = await connectAsync(`mqtt://127.0.0.1:${gateway.mqtt}`, {
    username: "drums",
    password: site.secrets.drums as string,
  });
  tap = await connectAsync(`mqtt://127.0.0.1:${gateway.mqtt}`, {
    username: "tap",
    password: site.secrets.tap as string,
  });
  browser = await startChromium();
  page = await browser.newPage({
    viewport: { width: 390, height: 844 },
    extraHTTPHeaders: { authorization: `Bearer ${site.token}` },
  });
  await page.goto(`http://127.0.0.1:${gateway.http}/`);
});
afterAll(async () => {
  await browser?.close();
  await node?.endAsync(true);
  await tap?.endAsync(true);
  await gateway?.stop();
});

let aheadS = 0;

/** The contact for 4 s of the node's own clock, which is a little ahead: nobody has to wait. */
async function hold(float: string, closed: boolean): Promise<void> {
  for (let reading = 0; reading < 3; reading += 1) {
    aheadS += 2;
    const t = Date.now() / 1000 + aheadS;
    const records = [{ n: float, vb: closed, t }];
    await node.publishAsync("drumlin/1/saltmarsh-house/drums/readings", JSON.stringify(records), { qos: 1 });
  }
}

const sheet = () => page.getByRole("dialog");
const says = (text: string | RegExp) => sheet().getByText(text).first().waitFor();

async function openTest(drum: string): Promise<void> {
  const card = page.locator(".drum", { hasText: drum });
  await card.getByRole("button", { name: "what you can do" }).click();
  await sheet().getByRole("button", { name: "Test a float…" }).click();
}

async function beginTest(drum: string): Promise<void> {
  await openTest(drum);
  await sheet().getByRole("button", { name: "Begin the test" }).click();
  await says("Lift the stop float now and hold it up.");
}

describe("a float is tested on a phone, the page waiting with the keeper", () => {
  it("one that trips: each step is shown as it is seen, and it is proved", async () => {
    await hold("good", false);
    await page
      .locator(".drum", { hasText: "Good" })
      .getByText("Stop float dry")
      .waitFor({ state: "attached" });
    await beginTest("Good");
    await hold("good", true);
    await says("Wet seen. Let it go.");
    await expect.poll(() => sheet().locator(".steps li.done").count()).toBe(2);
    await hold("good", false);
    await says(/Dry, wet, dry\. Proved\./);
    await says(/not that it floats/);
    await sheet().getByRole("button", { name: "Done" }).click();
    await sheet().waitFor({ state: "detached" });
  });

  it("one that does not move: given up, nothing is written down as proved", async () => {
    await hold("stuck", false);
    await page
      .locator(".drum", { hasText: "Stuck" })
      .getByText("Stop float dry")
      .waitFor({ state: "attached" });
    await beginTest("Stuck");
    await hold("stuck", false);
    await expect.poll(() => sheet().locator(".steps li.done").count()).toBe(1);
    await sheet().getByRole("button", { name: "Give up" }).click();
    await says("Given up. Nothing was changed.");
    await page.keyboard.press("Escape");
  });

  it("one that is wired the other way round: it asks again before a known sense is turned", async () => {
    await hold("turned", true);
    const drum = page.locator(".drum", { hasText: "Turned" });
    await drum.getByText("Stop float wet").waitFor({ state: "attached" });
    await openTest("Turned");
    await says("If it is afloat, wait until the drum is lower.");
    await sheet().getByRole("button", { name: "Begin the test" }).click();
    await says("Lift the stop float now and hold it up.");
    await hold("turned", false);
    await hold("turned", true);
    await says(/It read wet while it hung.*Nothing was changed\./);
    await drum.getByText("Stop float wet").waitFor({ state: "attached" });
    await sheet().getByRole("button", { name: "It hung free: swap wet and dry" }).click();
    await says(/Swapped: it now reads dry while it hangs/);
    await sheet().getByRole("button", { name: "Done" }).click();
    await hold("turned", true);
    await drum.getByText("Stop float dry").waitFor({ state: "attached" });
    const told = () =>
      page.evaluate<object[]>(
        "fetch('/api/proof-tests').then((answer) => answer.json()).then(({ items }) => items)",
      );
    await expect.poll(told).toMatchObject([
      { float: "turned.stop", method: "lifted", result: "turned", proves: ["contact", "wire"] },
      { float: "stuck.stop", result: "cancelled", proves: [] },
      {
        float: "good.stop",
        result: "passed",
        proves: ["contact", "wire"],
        saw: [{ state: "dry" }, { state: "wet" }, { state: "dry" }],
      },
    ]);
  });
});

describe("a drum that is filled by hand, and its word", () => {
  const card = () => page.locator("[data-drum=stuck]");
  const shows = (text: string | RegExp) => card().getByText(text).first().waitFor();
  /** A phone's card folds away what is as it should be. */
  const rests = () => card().getByText("not filling").waitFor({ state: "attached" });
  const word = (text: string) => card().locator(".word", { hasText: text }).waitFor();
  const closed = () => sheet().waitFor({ state: "detached" });
  let lastS = 0;

  /** What its meter counts for so long: the node's own clock is a little ahead, nobody has to wait. */
  async function flows(lPerMin: number, forS: number): Promise<void> {
    for (let passedS = 0; passedS < forS; passedS += 5) {
      lastS = Math.max(Date.now() / 1000, lastS + 5);
      const records = [{ n: "flow", u: "m3/s", v: lPerMin / 60_000, t: lastS }];
      await tap.publishAsync("drumlin/1/saltmarsh-house/tap/readings", JSON.stringify(records), { qos: 1 });
    }
  }
  async function choose(name: string): Promise<void> {
    await card().getByRole("button", { name: "what you can do" }).click();
    await sheet().getByRole("button", { name }).click();
  }
  /** Chooses what is done at once, and leaves the sheet once it shows. */
  async function does(name: string, meanwhile = async () => {}): Promise<void> {
    await choose(name);
    await meanwhile();
    await sheet().getByRole("button", { name }).waitFor({ state: "detached" });
    await page.keyboard.press("Escape");
    await closed();
  }

  it("who said by mistake that they fill takes it back, before any water was seen", async () => {
    await flows(0, 10);
    await does("I'm filling now");
    await shows(/^Said to be filling since .+ · no water seen yet$/);
    await does("I'm not filling");
    await rests();
    await choose("I'm filling now");
    await sheet().getByRole("button", { name: "I'm not filling" }).click();
    await says("Taken back.");
    await page.keyboard.press("Escape");
    await closed();
    await rests();
  });

  it("counts a fill from the keeper's word on, says how much of the usual time is left, and ends by the keeper's word", async () => {
    await flows(0, 10);
    await flows(10, 40);
    await choose("Filling finished");
    await says("Noted. Water is still seen running");
    await page.keyboard.press("Escape");
    await closed();
    await flows(0, 10);
    await does("Filling finished");
    await rests();
    await does("I'm filling now", () => flows(10, 10));
    // 200 L at 10 L/min.
    await shows(/^(19|20|21)\smin of the usual time left$/);
    await flows(0, 10);
    await does("Filling finished");
    await rests();
  });

  it("chlorine behind the carbon holds it; a figure that is none is refused in words", async () => {
    await choose("Chlorine test…");
    await sheet().getByRole("button", { name: "Save", exact: true }).click();
    await says("Enter what the test read, for example");
    await sheet().getByRole("button", { name: "It read" }).click();
    await sheet().getByLabel("Chlorine, mg/L").fill("0,4");
    await sheet().getByRole("button", { name: "Save", exact: true }).click();
    await closed();
    await word("hold");
    await shows(/chlorine/i);
  });

  it("is released with what was done, and the release is taken back", async () => {
    await choose("Release this water…");
    await sheet().getByRole("button", { name: "Release", exact: true }).click();
    await says("First say what you did");
    await sheet().getByRole("button", { name: "I tested it" }).click();
    await sheet().getByLabel("Conductivity you found").fill("0,8");
    await sheet().getByRole("button", { name: "Release", exact: true }).click();
    await closed();
    await word("use");
    await shows(/Released by/);
    await does("Undo the release");
    await word("hold");
  });
});
