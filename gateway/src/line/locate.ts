import { type Document, isMap, isPair, isScalar, isSeq, LineCounter, type Node, parseDocument } from "yaml";
import type { LineFault } from "./line.ts";
import { wordsOfYaml } from "./yaml-words.ts";

/** A YAML text with the way from a path to its line and column. */
export interface LocatedYaml {
  readonly value: unknown;
  readonly faults: readonly LineFault[];
  /** Where the value at `path` stands; the nearest parent where it is missing. `atKey`: where its key stands. */
  at(path: readonly PropertyKey[], atKey?: boolean): { readonly line: number; readonly column: number };
}

/** Longest line file, bytes; a longer one is refused by name. */
const maxBytes = 256 * 1024;
/** Deepest nesting of keys; a line file has 6. */
const maxDepth = 32;

function positionOf(document: Document, path: readonly PropertyKey[], atKey: boolean): number {
  let node: unknown = document.contents;
  let offset = (node as Node | null)?.range?.[0] ?? 0;
  for (const [depth, step] of path.entries()) {
    const last = depth === path.length - 1;
    if (isMap(node)) {
      const pair = node.items.find(
        (item) => isPair(item) && isScalar(item.key) && String(item.key.value) === String(step),
      );
      if (!pair) return offset;
      const key = pair.key as Node;
      const value = pair.value as Node | null;
      offset = (last && !atKey ? (value?.range?.[0] ?? key.range?.[0]) : key.range?.[0]) ?? offset;
      node = value;
    } else if (isSeq(node)) {
      node = node.items[Number(step)];
      offset = (node as Node | undefined)?.range?.[0] ?? offset;
    } else return offset;
  }
  return offset;
}

const notFollowed = [
  "The file uses * or & in a way that can't be followed.",
  "Write values out, without * and &.",
] as const;
const tooDeep = [
  `Keys stand within keys more than ${maxDepth} deep.`,
  "Take the steps back that were not meant: a line file has six at most.",
] as const;

/** What is wrong with how values stand within each other: one holds itself by an alias, or they go too deep; else null. */
function nestingFault(
  value: unknown,
  above: readonly unknown[] = [],
): typeof notFollowed | typeof tooDeep | null {
  if (typeof value !== "object" || value === null) return null;
  if (above.includes(value)) return notFollowed;
  if (above.length >= maxDepth) return tooDeep;
  const below = [...above, value];
  for (const inner of Object.values(value)) {
    const fault = nestingFault(inner, below);
    if (fault) return fault;
  }
  return null;
}

function notAMap(contents: unknown): [code: string, message: string, instead: string] {
  const toBegin = '"drumlin new" writes a line file to begin with.';
  if (contents === null || contents === undefined)
    return ["file-empty", "There is nothing in the file.", toBegin];
  return ["file-without-keys", 'The file does not begin with a key such as "drumlin: 1".', toBegin];
}

/** Reads YAML 1.2 with its places. Doubled keys and syntax faults come out as located faults. */
export function locatedYaml(text: string): LocatedYaml {
  const counter = new LineCounter();
  const fault = (offset: number, code: string, message: string, instead: string): LineFault => {
    const { line, col } = counter.linePos(offset);
    return {
      code,
      severity: "error",
      line: Math.max(1, line),
      column: Math.max(1, col),
      path: "",
      message,
      instead,
    };
  };
  if (text.length > maxBytes) {
    return {
      value: null,
      faults: [
        {
          code: "line-too-long",
          severity: "error",
          line: 1,
          column: 1,
          path: "",
          message: `The file has ${text.length} signs; ${maxBytes} is the most.`,
          instead: "Keep one line in one file.",
        },
      ],
      at: () => ({ line: 1, column: 1 }),
    };
  }
  const document = parseDocument(text, { lineCounter: counter, prettyErrors: false, uniqueKeys: true });
  const faults = document.errors.slice(0, 1).map((error) => {
    // What follows the first one is mostly its doing.
    const { message, instead } = wordsOfYaml(error, text);
    return fault(error.pos[0], "not-yaml", message, instead);
  });
  if (faults.length === 0 && !isMap(document.contents)) faults.push(fault(0, ...notAMap(document.contents)));
  let value: unknown = null;
  let nesting: ReturnType<typeof nestingFault> = null;
  try {
    if (faults.length === 0) value = document.toJS({ maxAliasCount: 20 });
    nesting = nestingFault(value);
  } catch {
    // Aliases without their anchor, or too many of them, are found only here.
    nesting = notFollowed;
  }
  if (nesting) {
    value = null;
    const [message, instead] = nesting;
    faults.push(fault(0, "not-yaml", message, instead));
  }
  return {
    value,
    faults,
    at(path, atKey = false) {
      const { line, col } = counter.linePos(positionOf(document, path, atKey));
      return { line: Math.max(1, line), column: Math.max(1, col) };
    },
  };
}
