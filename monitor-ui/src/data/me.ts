import type { Me, Problem } from "@drumlin/gateway/contract";
import { computed, signal } from "@preact/signals";
import { problemWords } from "../format/problems.ts";
import { earlyMe } from "./early.ts";
import { noAnswer } from "./send.ts";

/** Who is signed in; null while it is not known. */
export const me = signal<Me | null>(null);
/** Whether the gateway must be told first who looks. */
export const mustSignIn = computed(() => me.value !== null && me.value.signedIn === null && !me.value.setUp);
/** Whether acts are offered; the gateway has the last word. */
export const mayAct = computed(() => me.value === null || me.value.signedIn?.role === "operator");

/** Whether somebody else is signed in now: in another tab of this browser, which shares the session. */
function isSomebodyElse(now: Me): boolean {
  const [before, after] = [me.value?.signedIn, now.signedIn];
  return before != null && after !== null && (before.name !== after.name || before.kind !== after.kind);
}

/** Asks who is signed in. What was known stays when there is no answer; for somebody else the page starts anew. */
export async function askMe(): Promise<void> {
  try {
    const answer = (await earlyMe()) ?? (await fetch("/api/me", { signal: AbortSignal.timeout(8000) }));
    if (!answer.ok) return;
    const now = (await answer.json()) as Me;
    if (isSomebodyElse(now)) location.reload();
    else me.value = now;
  } catch {
    // The live stream says that the gateway is away.
  }
}

/** Signs in, makes the first account, or signs out. Starts the page anew when it went well; else gives what went wrong. */
export async function changeMe(
  what: "sign-in" | "sign-out" | "set-up",
  body: Readonly<Record<string, string>> = {},
): Promise<string> {
  try {
    const answer = await fetch(`/api/${what}`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(body),
      signal: AbortSignal.timeout(8000),
    });
    if (!answer.ok) return problemWords((await answer.json()) as Problem);
    // Nothing that somebody else was shown stays behind.
    if (what === "sign-out") sessionStorage.clear();
    // A link in a message goes on where it led.
    if (location.hash.startsWith("#seen")) location.reload();
    else location.assign("/");
    return "";
  } catch {
    return noAnswer();
  }
}
