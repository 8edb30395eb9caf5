import { createECDH } from "node:crypto";
import { mkdirSync, mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { asHtml, openSecrets, sendPush, vapidKeys } from "@drumlin/gateway/notifications";
import ece from "http_ece";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from "vitest";
import { sketch } from "../../gateway/src/app/sketch.ts";
import { aMessage, nowMs } from "../unit/notifications/a-message.ts";
import { startChromium } from "./chromium.ts";
import { type Fixture, goodDrum, goodPoint, standingAlarm, startFixtureServer } from "./fixture-server.ts";
import { destinations, told } from "./house/messages.ts";

const hour = 3_600_000;
const ago = (ms: number) => new Date(Date.now() - ms).toISOString();
const alarm = standingAlarm("unacknowledged", Date.now() - hour);
const fixture: Fixture = {
  now: Date.now,
  points: (atMs) => [goodPoint(atMs)],
  drums: (atMs) => [goodDrum(atMs)],
  alarms: [
    ...Array.from({ length: 9 }, (_, index) => ({
      ...standingAlarm("unacknowledged", Date.now() - 60_000),
      key: `float-chatter:f${index}`,
      condition: "float-chatter",
      attention: "tell" as const,
    })),
    alarm,
  ],
  buckets: null,
  refuse: false,
  work: [
    {
      kind: "drum",
      id: "fresh",
      by: "Mara",
      since: ago(hour),
      until: new Date(Date.now() + hour).toISOString(),
      forgotten: false,
    },
    {
      kind: "stage",
      id: "resin",
      by: "button by-the-resin",
      since: ago(3 * hour),
      until: ago(hour),
      forgotten: true,
    },
  ],
  answers: new Map<string, unknown>([
    ["/api/notifications", destinations],
    ["/api/notifications/messages", told],
    ["/api/alarms/silences", { items: [], next: null }],
    ["POST /api/seen/look", { key: alarm.key, occurrence: alarm.occurrence, stands: true }],
  ]),
};

let server: Awaited<ReturnType<typeof startFixtureServer>>;
let browser: Browser;
let context: BrowserContext;
let origin = "";
beforeAll(async () => {
  server = await startFixtureServer(fixture);
  origin = `http://127.0.0.1:${server.port}`;
  browser = await startChromium();
  context = await browser.newContext({ permissions: ["notifications"] });
});
afterAll(async () => {
  await browser?.close();
  await server?.stop();
});

/** What a push service hands to the device of a message: encrypted by the gateway, read by somebody else's code. */
async function delivered(): Promise<string> {
  const device = createECDH("prime256v1");
  device.generateKeys();
  const auth = Buffer.alloc(16, 3).toString("base64url");
  const folder = mkdtempSync(join(tmpdir(), "drumlin-shown-"));
  let body: Buffer = Buffer.alloc(0);
  await sendPush(
    { id: "d", endpoint: "https://push.example.org/1", p256dh: device.getPublicKey("base64url"), auth },
    { id: "m-9", words: aMessage(), tag: alarm.key, nowMs },
    {
      keys: vapidKeys(openSecrets(folder)),
      subject: "mailto:keeper@example.org",
      allowPrivate: false,
      ask: async (request) => {
        body = request.body as Buffer;
        return { status: 201, headers: {}, body: "" };
      },
    },
  );
  return ece.decrypt(body, { version: "aes128gcm", privateKey: device, authSecret: auth }).toString();
}

interface Shown {
  readonly title: string;
  readonly body: string;
  readonly tag: string;
  readonly requireInteraction: boolean;
}
const shownBy = (page: Page): Promise<Shown[]> =>
  page.evaluate(
    "navigator.serviceWorker.ready.then((worker) => worker.getNotifications()).then((all) => all.map(({ title, body, tag, requireInteraction }) => ({ title, body, tag, requireInteraction })))",
  );

describe("a push message on a device", () => {
  it("is shown by the page's worker, one for each alarm, and leads to it when it is tapped", async () => {
    const page = await context.newPage();
    onTestFinished(() => page.close());
    const cdp = await context.newCDPSession(page);
    const registered = Promise.withResolvers<string>();
    cdp.on("ServiceWorker.workerRegistrationUpdated", ({ registrations }) => {
      for (const { registrationId, scopeURL } of registrations)
        if (scopeURL.startsWith(origin)) registered.resolve(registrationId);
    });
    await cdp.send("ServiceWorker.enable");
    await page.goto(origin);
    await page.evaluate(
      "navigator.serviceWorker.register('/service-worker.js').then(() => navigator.serviceWorker.ready).then(() => undefined)",
    );
    const registrationId = await registered.promise;
    const data = await delivered();
    const push = (text: string) =>
      cdp.send("ServiceWorker.deliverPushMessage", { origin, registrationId, data: text });
    // A delivery by the browser's tools is not promised to reach a busy worker; what comes again takes its own place.
    const shownOf = async (text: string) => {
      await push(text);
      return shownBy(page);
    };
    await expect
      .poll(() => shownOf(data))
      .toMatchObject([
        {
          title: "Act now · Mix drum: did not stop at its float",
          body: expect.stringMatching(/Since 02:13.*\nClose the supply by hand first\.\nSaltmarsh House/s),
          tag: alarm.key,
          requireInteraction: true,
        },
      ]);
    await push(data);
    await expect
      .poll(async () => (await shownOf("no message at all")).map(({ title }) => title).toSorted())
      .toEqual(["Act now · Mix drum: did not stop at its float", "Something needs a look"]);
    const worker = context.serviceWorkers()[0] ?? (await context.waitForEvent("serviceworker"));
    // A finger can't be had here: the tap is told to the worker, which may then not claim one.
    await worker.evaluate(`(async () => {
      WindowClient.prototype.focus = async function () { return this; };
      const [notification] = await self.registration.getNotifications();
      const event = new NotificationEvent("notificationclick", { notification });
      let done;
      Object.defineProperty(event, "waitUntil", { value: (promise) => { done = promise; } });
      self.dispatchEvent(event);
      await done;
    })()`);
    await page.waitForURL(/#alarms\?at=drum-not-stopping%3Amix$/);
    await expect.poll(async () => (await shownBy(page)).length).toBe(1);
  });
});

describe("the chart in a mail", () => {
  it("is a picture that a browser decodes: curve, limit, and a gap where nothing was measured", async () => {
    const values = Array.from({ length: 180 }, (_, at) => (at >= 60 && at < 90 ? null : at < 60 ? 2 : 8));
    const png = sketch(values, 5) as Buffer;
    const html = asHtml(aMessage(), "chart").replace(
      "cid:chart",
      `data:image/png;base64,${png.toString("base64")}`,
    );
    const page = await browser.newPage();
    onTestFinished(() => page.close());
    await page.setContent(html);
    const seen = (await page.evaluate(`(async () => {
      const image = document.querySelector("img");
      await image.decode();
      const canvas = new OffscreenCanvas(image.naturalWidth, image.naturalHeight);
      const drawn = canvas.getContext("2d");
      drawn.drawImage(image, 0, 0);
      const { data, width, height } = drawn.getImageData(0, 0, canvas.width, canvas.height);
      const rows = (x, [r, g, b]) => Array.from({ length: height }, (_, y) => y).filter((y) => {
        const at = 4 * (y * width + x);
        return data[at] === r && data[at + 1] === g && data[at + 2] === b;
      });
      const [ink, limit] = [[0x22, 0x22, 0x22], [0xa3, 0x16, 0x1b]];
      return { width, height, alt: image.alt, low: rows(40, ink), gap: rows(150, ink), high: rows(300, ink), limit: rows(150, limit) };
    })()`)) as Record<"low" | "gap" | "high" | "limit", number[]> & {
      width: number;
      height: number;
      alt: string;
    };
    expect([seen.width, seen.height]).toEqual([360, 96]);
    expect(seen.alt).toContain("limit as a line");
    expect(seen.gap).toEqual([]);
    const middle = (all: readonly number[]) => all.reduce((sum, y) => sum + y, 0) / all.length;
    // 8 above the limit of 5, 2 below it; a picture counts its rows from above.
    expect(middle(seen.high)).toBeLessThan(middle(seen.limit));
    expect(middle(seen.limit)).toBeLessThan(middle(seen.low));
    expect(middle(seen.limit) - middle(seen.high)).toBeCloseTo(middle(seen.low) - middle(seen.limit), -0.5);
  });
});

const folder = process.env.DRUMLIN_SHOTS;
if (folder) mkdirSync(folder, { recursive: true });
const looks = [
  { width: 390, colorScheme: "light" },
  { width: 390, colorScheme: "dark" },
  { width: 1280, colorScheme: "light" },
  { width: 1280, colorScheme: "dark" },
] as const;

describe("pages about messages", () => {
  it.each(looks)("fit $width px, $colorScheme, and say what they have to", async ({ width, colorScheme }) => {
    const page = await browser.newPage({ viewport: { width, height: 844 }, colorScheme });
    onTestFinished(() => page.close());
    const fits = () =>
      page.evaluate("document.documentElement.scrollWidth <= innerWidth") as Promise<boolean>;
    const shot = async (name: string) => {
      await expect.poll(fits, { message: `${name} is wider than the screen` }).toBe(true);
      if (folder)
        await page.screenshot({ path: join(folder, `${name}-${width}-${colorScheme}.png`), fullPage: true });
    };
    await page.goto(`${origin}/#messages`);
    await page.getByText("keeper's device").first().waitFor();
    for (const words of [
      "E-mail to mara@example.org",
      "can't be trusted",
      "3 waiting",
      "quiet 22:00–06:00",
      "when the first has not seen it",
      "7 tries",
      "Last sign of life",
      "in German",
    ])
      await page.getByText(words).first().waitFor();
    await expect.poll(() => page.getByRole("button", { name: /^Send a test/ }).count()).toBe(4);
    await expect.poll(() => page.getByRole("button", { name: /^Remove/ }).count()).toBe(1);
    await page.locator(".device-form summary").click();
    await page.getByText("Quiet hours: then only").click();
    await page.getByLabel("Quiet from").waitFor();
    await shot("messages");
    await page.goto(`${origin}/#seen?token=abc`);
    await page.getByRole("button", { name: /^Yes, I've seen it/ }).waitFor();
    // Who works on what is said on every page.
    await expect.poll(() => page.locator(".work-bar p:not(.answer)").count()).toBe(2);
    await shot("seen");
    await page.goto(`${origin}/#alarms`);
    await page.getByText("I'm working on").first().waitFor();
    await shot("alarms");
  });

  it("asks once more before it marks as seen, and then once only", async () => {
    const page = await context.newPage();
    onTestFinished(() => page.close());
    await page.goto(`${origin}/#seen?token=abc`);
    const yes = page.getByRole("button", { name: /^Yes, I've seen it/ });
    await yes.waitFor();
    expect(server.asked.filter((one) => one === "POST /api/seen")).toEqual([]);
    await yes.click();
    await page.getByText("Marked as seen.").waitFor();
    expect(server.asked.filter((one) => one === "POST /api/seen").length).toBe(1);
  });

  it("show the alarm to which a message leads, whatever stands before it", async () => {
    const page = await browser.newPage({ viewport: { width: 390, height: 700 } });
    onTestFinished(() => page.close());
    await page.goto(`${origin}/#alarms?at=${encodeURIComponent(alarm.key)}`);
    const card = page.locator(`[data-alarm="${alarm.key}"]`);
    await card.waitFor();
    await expect.poll(async () => (await card.boundingBox())?.y ?? 9999).toBeLessThan(300);
  });
});
