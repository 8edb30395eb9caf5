import { isMap, isNode, parseDocument } from "yaml";

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
export function assigned(
  yaml: string,
  {
    channel,
    to,
    signal,
  }: { readonly channel: string; readonly to: string; readonly signal?: string | undefined },
): LineEdit[] {
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
  ];
}
