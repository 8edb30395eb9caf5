import type { NotificationsView } from "@drumlin/gateway/contract";
import { say, w } from "../words/words.ts";
import { type Sent, send } from "./send.ts";

/** Why this device can't take messages; null: it can. */
export function whyNoMessages(): string | null {
  if (!isSecureContext) return w.told.whyNot.insecure;
  if (!("serviceWorker" in navigator) || !("PushManager" in globalThis)) return w.told.whyNot.browser;
  return Notification.permission === "denied" ? w.told.whyNot.denied : null;
}

function bytesOf(base64url: string): Uint8Array<ArrayBuffer> {
  const plain = atob(base64url.replaceAll("-", "+").replaceAll("_", "/"));
  return Uint8Array.from(plain, (letter) => letter.charCodeAt(0));
}

/** Starts what shows messages while no page is open. */
async function startWorker(): Promise<ServiceWorkerRegistration> {
  await navigator.serviceWorker.register("/service-worker.js");
  return navigator.serviceWorker.ready;
}

/** What a device is told, and when not. */
export interface DeviceWishes {
  readonly title: string;
  readonly takes: "wake" | "tell" | "today";
  readonly language: "en" | "de";
  readonly quiet: { readonly from: string; readonly to: string } | null;
}

/** Asks the browser for messages, and the gateway to send them here. */
export async function takeMessages(
  publicKey: string,
  wishes: DeviceWishes,
): Promise<Sent<NotificationsView>> {
  if ((await Notification.requestPermission()) !== "granted")
    return { taken: false, problem: w.told.notAllowed };
  try {
    const worker = await startWorker();
    const subscription = await worker.pushManager.subscribe({
      userVisibleOnly: true,
      applicationServerKey: bytesOf(publicKey),
    });
    const { endpoint, keys } = subscription.toJSON();
    return await send("/api/notifications/devices", { endpoint, keys, ...wishes });
  } catch (error) {
    return {
      taken: false,
      problem: say(w.told.noPush, { error: error instanceof Error ? error.message : "" }),
    };
  }
}
