import { isMap, isNode, parseDocument } from "yaml";
import type { AssignedChannel } from "../http/index.ts";

/** One change of a line file: the keys down to it, and what stands there then; null takes it away. */
export interface LineEdit {
  readonly at: readonly string[];
  readonly to: string | number | boolean | null | Readonly<Record<string, string | number | boolean>>;
}

/**
 * A line file's text with the changes made one after the other, every comment kept. Null where one can't be made: a
 * value stands where keys are needed.
 */
export function edited(yaml: string, edits: readonly LineEdit[]): string | null {
  const document = parseDocument(yaml);
  try {
    for (const { at, to } of edits) {
      if (to === null) {
        if (document.hasIn(at)) document.deleteIn(at);
      } else document.setIn(at, typeof to === "object" ? document.createNode(to) : to);
    }
  } catch {
    return null;
  }
  return document.toString({ lineWidth: 0 });
}

/** What a place held before some changes and holds after them: for the audit. */
export interface LineChange {
  readonly at: string;
  readonly before: unknown;
  readonly after: unknown;
}

/** Each place of some changes, with what stood there and what stands there now. */
export function changesOf(before: string, after: string, edits: readonly LineEdit[]): LineChange[] {
  const [was, is] = [parseDocument(before), parseDocument(after)];
  const plain = (document: typeof was, at: readonly string[]): unknown => {
    const found = document.getIn(at);
    return isNode(found) ? found.toJSON() : (found ?? null);
  };
  return edits.map(({ at }) => ({ at: at.join("."), before: plain(was, at), after: plain(is, at) }));
}

/** The changes that put a channel at a place of the line; what else is said of that place stays. */
export function assigned(yaml: string, { channel, to, signal, strapping }: AssignedChannel): LineEdit[] {
  const document = parseDocument(yaml);
  const at = to.split("/");
  // A stop float may stand by itself or among the floats.
  const among = [...at.slice(0, 2), "floats", "stop"];
  const place = at[0] === "drums" && at[2] === "stop" && document.hasIn(among) ? among : at;
  const needsMap = at[0] === "drums" && (at[2] === "level" || at[2] === "inlet");
  if (!needsMap && !isMap(document.getIn(place))) return [{ at: place, to: channel }];
  const as = { level: "depth", volume: "volume", pressure: "pressure" }[signal ?? ""];
  return [
    { at: [...place, "channel"], to: channel },
    ...(at[2] === "level" && as !== undefined ? [{ at: [...place, "as"], to: as }] : []),
    ...(at[2] === "level" && strapping ? [{ at: [...place, "strapping"], to: strapping }] : []),
  ];
}

/** Places of a file's text that are told one by one; a file that is written anew has more than anybody reads. */
const maxPlaces = 40;
/** Addresses and headers of messages: somebody may have written a key into one. */
const mayHoldSecrets = /^notify\..*\.(url|get|body|headers(\..*)?)$/;

/** Every value of a text by its place, in the order of the file. */
function leavesOf(yaml: string): ReadonlyMap<string, unknown> {
  const leaves = new Map<string, unknown>();
  const walk = (value: unknown, at: string): void => {
    if (typeof value !== "object" || value === null || Object.keys(value).length === 0) leaves.set(at, value);
    else for (const [key, inner] of Object.entries(value)) walk(inner, at === "" ? key : `${at}.${key}`);
  };
  walk(parseDocument(yaml).toJS(), "");
  return leaves;
}

/** A change of what is not shown: whether something stood there, and stands there now. */
const hidden = ({ at, before, after }: LineChange): LineChange => ({
  at,
  before: before === null ? null : "not shown",
  after: after === null ? null : "not shown",
});

/** Places at which two texts that were read differ, with what stood and what stands there (null: nothing); 40 at most. */
export function differencesOf(before: string, after: string): LineChange[] {
  const [was, is] = [leavesOf(before), leavesOf(after)];
  return [...new Set([...was.keys(), ...is.keys()])]
    .map((at) => ({ at, before: was.get(at) ?? null, after: is.get(at) ?? null }))
    .filter((change) => JSON.stringify(change.before) !== JSON.stringify(change.after))
    .slice(0, maxPlaces)
    .map((change) => (mayHoldSecrets.test(change.at) ? hidden(change) : change));
}
