import type { NotificationsView } from "@drumlin/gateway/contract";
import { type Sent, send } from "./send.ts";

/** Why this device can't take messages; null: it can. */
export function whyNoMessages(): string | null {
  if (!isSecureContext)
    return "Only over a safe connection (https): ask whoever runs the gateway for a certificate.";
  if (!("serviceWorker" in navigator) || !("PushManager" in globalThis))
    return "This browser can't. On a phone, put the page on the home screen first, and open it from there.";
  return Notification.permission === "denied"
    ? "Messages are switched off for this page in the browser."
    : null;
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
    return { taken: false, problem: "The browser was not allowed to show messages." };
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
      problem: `The browser's push service can't be reached: ${error instanceof Error ? error.message : ""}`,
    };
  }
}
