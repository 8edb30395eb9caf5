import type { LineDrawing } from "@drumlin/gateway/contract";
import { signal } from "@preact/signals";
import type { Edit } from "../draw/rows.ts";
import { w } from "../words/words.ts";
import { ask, type Sent, send } from "./send.ts";

/** A change that was made here, and what the file was before it. */
interface Made {
  readonly what: string;
  readonly before: string;
  /** Version that it made: it is taken back only while nobody changed the file since. */
  readonly version: string;
}

const remembered = "drumlin.drawn";
const maxMade = 40;

function recall(): readonly Made[] {
  try {
    const kept: unknown = JSON.parse(sessionStorage.getItem(remembered) ?? "[]");
    return Array.isArray(kept) ? kept : [];
  } catch {
    return [];
  }
}

/** The line as it is drawn; null when it could not be loaded, undefined before. */
export const drawing = signal<LineDrawing | null | undefined>(undefined);
/** Changes of this tab, the newest last; kept over a reload. */
const made = signal<readonly Made[]>(recall());

/** How often it was asked for, and which of these answers is shown. */
let [asked, shown] = [0, 0];

/** Asks for the line as it is drawn now. What was known stays where there is no answer, or one to a later question came first. */
export async function loadDrawing(): Promise<void> {
  asked += 1;
  const mine = asked;
  const answer = await ask<LineDrawing>("/api/line/drawing");
  if (mine < shown) return;
  if (answer) shown = mine;
  drawing.value = answer ?? drawing.value ?? null;
}

function keep(next: readonly Made[]): void {
  made.value = next.slice(-maxMade);
  try {
    sessionStorage.setItem(remembered, JSON.stringify(made.value));
  } catch {
    // A private window may keep nothing: then it lasts until the reload.
  }
}

async function sent(what: string, path: string, body: object): Promise<Sent> {
  const before = drawing.value?.yaml;
  const answer = await send<{ version: string }>(path, body);
  if (answer.taken && before !== undefined)
    keep([...made.value, { what, before, version: answer.told.version }]);
  await loadDrawing();
  return answer;
}

/** Changes the line file at some places; `what` names it where it can be taken back. */
export const change = (what: string, edits: readonly Edit[]): Promise<Sent> =>
  sent(what, "/api/line/edit", { version: drawing.value?.version ?? "", edits });

/** Begins with a picture's file. */
export const choosePicture = (what: string, yaml: string): Promise<Sent> =>
  sent(what, "/api/line/file", { version: drawing.value?.version ?? "", yaml });

/** Gives a channel its place; `instead` names the one that stands there and is to go, `strapping` turns heights into litres. */
export const placeChannel = (
  what: string,
  asked: {
    readonly channel: string;
    readonly to: string;
    readonly instead?: string;
    readonly strapping?: Readonly<Record<string, string>>;
  },
): Promise<Sent> =>
  sent(what, `/api/nodes/${encodeURIComponent(asked.channel.split("/")[0] ?? "")}/assign`, asked);

/** The change that can be taken back now; null: none, or somebody changed the file since. */
export function lastMade(): Made | null {
  const last = made.value.at(-1);
  return last && last.version === drawing.value?.version ? last : null;
}

/** Takes the last change back. */
export async function takeBack(): Promise<Sent> {
  const last = lastMade();
  if (!last) return { taken: false, problem: w.draw.changedSince };
  const answer = await send("/api/line/file", { version: last.version, yaml: last.before });
  if (answer.taken) keep(made.value.slice(0, -1));
  await loadDrawing();
  return answer;
}
