import type { Problem } from "@drumlin/gateway/contract";
import { problemWords } from "../format/problems.ts";
import { w } from "../words/words.ts";
import { lost } from "./state.ts";

/** How long an answer is waited for, ms. */
const answerWithinMs = 8000;

/** What came of something that was sent: the answer, or what went wrong in plain words. */
export type Sent<Told = unknown> =
  | { readonly taken: true; readonly told: Told }
  | { readonly taken: false; readonly problem: string };

/** Said where no answer came in time: the act may have arrived all the same. */
export const noAnswer = (): string => w.frame.noAnswer;

/** Sends an act; nothing is sent while the page has no contact. Waits 8 s at most. */
export function send<Told>(path: string, body: object): Promise<Sent<Told>> {
  return sent<Told>(path, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(body),
  });
}

/** Asks for something to be taken away, as `send` does. */
export function remove<Told>(path: string): Promise<Sent<Told>> {
  return sent<Told>(path, { method: "DELETE" });
}

async function sent<Told>(path: string, init: RequestInit): Promise<Sent<Told>> {
  if (lost.value) return { taken: false, problem: w.frame.nothingSent };
  try {
    const answer = await fetch(path, { ...init, signal: AbortSignal.timeout(answerWithinMs) });
    const told: unknown = await answer.json();
    return answer.ok
      ? { taken: true, told: told as Told }
      : { taken: false, problem: problemWords(told as Problem) };
  } catch {
    return { taken: false, problem: noAnswer() };
  }
}

/** Asks for something; null when it can't be had within 8 s. */
export async function ask<Answer>(path: string): Promise<Answer | null> {
  try {
    const answer = await fetch(path, { signal: AbortSignal.timeout(answerWithinMs) });
    return answer.ok ? ((await answer.json()) as Answer) : null;
  } catch {
    return null;
  }
}
