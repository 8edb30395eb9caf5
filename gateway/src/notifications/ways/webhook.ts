import { createHmac } from "node:crypto";
import type { WebhookSettings } from "../../line/index.ts";
import type { Delivery } from "../retry.ts";
import { hostOfUrl } from "../secret-hosts.ts";
import { SecretError, type Secrets } from "../secrets.ts";
import { asShortText, asText } from "../words/as-text.ts";
import { type MessageWords, onOneLine } from "../words/message-words.ts";
import { askOutside, OutsideError, retryAfterMs } from "./ask-outside.ts";
import { addressWithSecrets, withSecrets } from "./with-secrets.ts";

/** What a webhook is sent. */
export interface WebhookMessage {
  readonly id: string;
  readonly destination: string;
  readonly words: MessageWords;
  readonly atMs: number;
}

/** What calling a webhook needs. */
export interface WebhookNeeds {
  readonly secrets: Secrets;
  readonly ask?: typeof askOutside;
  readonly withinMs?: number;
  readonly ca?: string;
}

/** The key with which a destination's messages are signed, by its name among the secrets. */
export const webhookKey = (destination: string): string => `webhook-${destination}`;

/**
 * `Drumlin-Signature` of a body: `t={seconds since 1970},v1={hex}`, an HMAC-SHA-256 (RFC 2104, FIPS 180-4) over the time, a
 * dot and the body as sent. Whoever checks it also checks that the time is near.
 */
export function signatureOf(body: string, atMs: number, key: string): string {
  const t = Math.floor(atMs / 1000);
  return `t=${t},v1=${createHmac("sha256", key).update(`${t}.${body}`).digest("hex")}`;
}

function jsonBody({ id, words, atMs }: WebhookMessage): string {
  const { subject, attention, alarms, more, site } = words;
  const told = alarms.map(({ headline, facts, news, todo, attention: of, link }) => ({
    attention: of,
    headline,
    facts,
    news,
    todo,
    link,
  }));
  return JSON.stringify({
    drumlin: 1,
    id,
    at: new Date(atMs).toISOString(),
    site,
    attention,
    title: subject,
    text: asShortText(words),
    alarms: told,
    more,
  });
}

/** Fills a template. Secrets stand in headers only; a body is often logged by whoever gets it. */
function filled(
  template: string,
  settings: WebhookSettings,
  words: MessageWords,
  secrets: Secrets | null,
): string {
  const values: Readonly<Record<string, string>> = {
    title: words.subject,
    text: asShortText(words),
    whole: asText(words),
    attention: words.attention,
    priority: settings.priority[words.attention],
    link: words.alarms[0]?.link ?? "",
  };
  return template.replaceAll(/\{(secret:)?([a-z0-9-]+)\}/g, (whole, isSecret, name: string) => {
    if (isSecret) return secrets ? withSecrets(whole, secrets, hostOfUrl(settings.url)) : whole;
    return values[name] ?? whole;
  });
}

/** HTTP headers carry Latin-1 at most (RFC 9110 §5.5): what is beyond is put into RFC 2047's form, which relays read. */
function headerText(text: string): string {
  const line = onOneLine(text);
  return /^[\x20-\x7e]*$/.test(line) ? line : `=?UTF-8?B?${Buffer.from(line, "utf8").toString("base64")}?=`;
}

function requestOf(settings: WebhookSettings, message: WebhookMessage, secrets: Secrets) {
  const { words, id, destination, atMs } = message;
  const headers: Record<string, string> = { "user-agent": "drumlin", "idempotency-key": id };
  for (const [name, template] of settings.headers)
    headers[name.toLowerCase()] = headerText(filled(template, settings, words, secrets));
  if (settings.form === "text") {
    headers["content-type"] ??= "text/plain; charset=utf-8";
    return { headers, body: filled(settings.body ?? "{text}", settings, words, null) };
  }
  const body = jsonBody(message);
  headers["content-type"] = "application/json";
  headers["drumlin-signature"] = signatureOf(body, atMs, secrets.getOrMake(webhookKey(destination)));
  return { headers, body };
}

/** Sends one message to a webhook. Resolves with what became of it; never rejects. */
export async function sendWebhook(
  settings: WebhookSettings,
  message: WebhookMessage,
  { secrets, ask = askOutside, withinMs, ca }: WebhookNeeds,
): Promise<Delivery> {
  const fail = (why: string, afterMs?: number): Delivery => ({
    delivered: false,
    forGood: false,
    why,
    ...(afterMs === undefined ? {} : { afterMs }),
  });
  try {
    const { headers, body } = requestOf(settings, message, secrets);
    const answer = await ask({
      url: addressWithSecrets(settings.url, secrets),
      method: "POST",
      headers,
      body,
      allowPrivate: settings.allowPrivate,
      ...(withinMs === undefined ? {} : { withinMs }),
      ...(ca === undefined ? {} : { ca }),
    });
    const { status } = answer;
    if (status >= 200 && status < 300) return { delivered: true };
    if (status >= 300 && status < 400)
      return fail(`It answered ${status}, "look elsewhere": that is not followed. Write the new address.`);
    return fail(`It answered ${status}.`, retryAfterMs(answer, message.atMs));
  } catch (error) {
    if (error instanceof OutsideError || error instanceof SecretError) return fail(error.message);
    throw error;
  }
}
