import { compileLine, type Line } from "../line/index.ts";
import type { ActRefused } from "./act-base.ts";
import {
  acknowledge,
  inService,
  outOfService,
  reset,
  shelve,
  unacknowledge,
  unshelve,
} from "./alarm-acts.ts";
import { batchStep } from "./batch-step.ts";
import { calibration } from "./calibration.ts";
import type { ActKind, Given } from "./define-act.ts";
import { fillByHand } from "./fill-by-hand.ts";
import { handTest } from "./hand-test.ts";
import { mediumChange } from "./medium-change.ts";
import { note } from "./note.ts";
import { proofCancel, proofStart, proofTurn } from "./proof-test.ts";
import { releaseDrum } from "./release-drum.ts";
import { releaseUndo } from "./release-undo.ts";
import { supplyClosed } from "./supply-closed.ts";
import { workDone } from "./work-done.ts";
import { workOn } from "./work-on.ts";

const rows = [
  acknowledge,
  unacknowledge,
  shelve,
  unshelve,
  reset,
  outOfService,
  inService,
  releaseDrum,
  releaseUndo,
  fillByHand,
  batchStep,
  calibration,
  mediumChange,
  handTest,
  proofStart,
  proofCancel,
  proofTurn,
  note,
  workOn,
  supplyClosed,
  workDone,
] as const;

type ActOf<Kind> = Kind extends { subject(act: infer One): string } ? One : never;

/** What people do and enter. An act is journaled first, then applied, then answered. */
export type Act = ActOf<(typeof rows)[number]>;
/** An act before the gateway has given it its id and who. */
export type GivenAct = Given<Act>;

/** Every kind of act. */
export const acts = rows as unknown as readonly ActKind<Act>[];

const kinds: ReadonlyMap<string, ActKind<Act>> = new Map(
  acts.flatMap((kind) => kind.types.map((type) => [type, kind] as const)),
);

const notKnown = "this version knows no such act";
/** Acts that earlier versions stored and that count no more, with what stands for them now. */
const retired: ReadonlyMap<string, string> = new Map([
  ["proof-test", "a float is proved only by a test that the gateway has watched (proof-start)"],
  ["assign", "a channel gets its place in the line file"],
]);
/** Stands on an act that this version can't read; it goes with copies and is never stored. */
const unread = Symbol("why it can't be read");

/**
 * A stored act, checked and in its present form. One that this version can't read keeps its id, who and type: the path
 * refuses it by name (`act-not-known`) and goes on.
 */
export function readAct(stored: unknown): Act {
  const found = (typeof stored === "object" && stored !== null ? stored : {}) as Readonly<
    Record<string, unknown>
  >;
  const type = typeof found.type === "string" ? found.type : "?";
  const read = kinds.get(type)?.read(found);
  if (read && !(read instanceof Error)) return read;
  const text = (value: unknown) => (typeof value === "string" ? value : "");
  const why = read
    ? read.issues.map(({ path, message }) => `${path.join(".")}: ${message}`).join("; ")
    : (retired.get(type) ?? notKnown);
  const marked = { ...found, type, id: text(found.id), by: text(found.by), [unread]: why };
  return marked as unknown as Act;
}

/** Why a stored act can't be read; null when it can. */
export function whyUnread(act: Act): string | null {
  return (act as { readonly [unread]?: string })[unread] ?? null;
}

/** What an act is about, for people who look through what was done. */
export function subjectOfAct(act: Act): string {
  return whyUnread(act) === null ? (kinds.get(act.type)?.subject(act) ?? "") : "";
}

/** Null when it can be read and the line has what it is about; else the refusal by name. */
export function unknownSubject(act: Act, line: Line | null): ActRefused | null {
  const why = whyUnread(act);
  if (why !== null) return { code: "act-not-known", message: `An act "${act.type}" can't be read: ${why}.` };
  return kinds.get(act.type)?.known(act, line && compileLine(line)) ?? null;
}
