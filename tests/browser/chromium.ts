import { type Browser, chromium } from "playwright-core";

/** The system's Chromium, which speaks to nobody by itself. */
export function startChromium(): Promise<Browser> {
  return chromium.launch({
    executablePath: process.env.DRUMLIN_CHROMIUM ?? "/usr/bin/chromium",
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  });
}
