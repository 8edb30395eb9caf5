import { createHash } from "node:crypto";
import type { Delivery } from "../retry.ts";
import { encryptPush } from "../web-push/encrypt.ts";
import { type VapidKeys, vapidAuthorization } from "../web-push/vapid.ts";
import { asShortText } from "../words/as-text.ts";
import type { MessageWords } from "../words/message-words.ts";
import { askOutside, OutsideError, retryAfterMs } from "./ask-outside.ts";

/** A device that takes messages: what its browser gave the page. */
export interface Subscription {
  readonly id: string;
  readonly endpoint: string;
  /** Base64url. */
  readonly p256dh: string;
  readonly auth: string;
}

/** What Web Push needs. */
export interface PushNeeds {
  readonly keys: VapidKeys;
  /** Who answers for what is sent, a `mailto:` or `https:` address (RFC 8292 §2.1). */
  readonly subject: string;
  /** Push services of the own network, for tests and closed houses. */
  readonly allowPrivate: boolean;
  readonly ask?: typeof askOutside;
  readonly ca?: string;
}

/** A device that is gone says so until it is added again or removed. */
export const goneWords = "This device no longer takes messages: add it again, or remove it.";
const keptForS = { wake: 3600, tell: 24 * 3600, today: 24 * 3600 } as const;
const urgencyOf = { wake: "high", tell: "high", today: "normal" } as const;
/** Long texts are cut: a push message is a line or two. */
const maxText = 1500;

/** What the service worker shows. `tag`: a newer message about the same takes the place of the older one. */
function payloadOf(id: string, words: MessageWords, tag: string): Buffer {
  const { subject, attention, alarms, site } = words;
  const link = alarms[0]?.link ?? null;
  const page = link === null ? "#alarms" : `#${link.split("#")[1] ?? "alarms"}`;
  const body = asShortText(words).slice(0, maxText);
  return Buffer.from(JSON.stringify({ id, title: subject.slice(0, 200), body, attention, tag, site, page }));
}

/** Sends a message to one device (RFC 8030). Resolves with what became of it: `goneWords` where nobody lives there any more. */
export async function sendPush(
  { endpoint, p256dh, auth }: Subscription,
  {
    id,
    words,
    tag,
    nowMs,
  }: { readonly id: string; readonly words: MessageWords; readonly tag: string; readonly nowMs: number },
  { keys, subject, allowPrivate, ask = askOutside, ca }: PushNeeds,
): Promise<Delivery> {
  const fail = (why: string, more: object = {}): Delivery => ({
    delivered: false,
    forGood: false,
    why,
    ...more,
  });
  try {
    const answer = await ask({
      url: endpoint,
      method: "POST",
      headers: {
        authorization: vapidAuthorization(endpoint, keys, { subject, nowMs }),
        "content-encoding": "aes128gcm",
        "content-type": "application/octet-stream",
        ttl: String(keptForS[words.attention]),
        urgency: urgencyOf[words.attention],
        // RFC 8030 §5.4: at most 32 characters of base64url.
        topic: createHash("sha256").update(tag).digest("base64url").slice(0, 32),
      },
      body: encryptPush(payloadOf(id, words, tag), {
        p256dh: Buffer.from(p256dh, "base64url"),
        auth: Buffer.from(auth, "base64url"),
      }),
      allowPrivate,
      ...(ca === undefined ? {} : { ca }),
    });
    const { status } = answer;
    if (status >= 200 && status < 300) return { delivered: true };
    if (status === 404 || status === 410) return { delivered: false, forGood: true, why: goneWords };
    const afterMs = retryAfterMs(answer, nowMs);
    return fail(`The push service answered ${status}.`, afterMs === undefined ? {} : { afterMs });
  } catch (error) {
    if (error instanceof OutsideError) return fail(error.message);
    throw error;
  }
}
