/** What a node answers to a request, on `…/{node}/response`, never retained. */
export interface NodeResponse {
  /** The request's. */
  readonly id: string;
  /** The start of the node that answers. */
  readonly boot: number;
  /** Null: it is done; else the name of why not, such as `request-period-not-possible`. */
  readonly refused: string | null;
}

/** The answer, or null where it is none. */
export type ParsedResponse = NodeResponse | null;

const text = new TextDecoder("utf-8", { fatal: true });
const mostBytes = 512;
const maxId = 64;
const reasonPattern = /^[a-z][a-z0-9-]{0,47}$/;

/** An answer as it stands in a message. */
export const encodeResponse = ({ id, boot, refused }: NodeResponse): string =>
  JSON.stringify({
    id,
    boot,
    result: refused === null ? "done" : "refused",
    ...(refused === null ? {} : { reason: refused }),
  });

/** Reads an answer. Never throws; null: it is not understood. */
export function parseResponse(bytes: Uint8Array): ParsedResponse {
  if (bytes.length > mostBytes) return null;
  let document: unknown;
  try {
    document = JSON.parse(text.decode(bytes));
  } catch {
    return null;
  }
  if (typeof document !== "object" || document === null) return null;
  const { id, boot, result, reason } = document as Readonly<Record<string, unknown>>;
  if (typeof id !== "string" || id === "" || id.length > maxId) return null;
  if (typeof boot !== "number" || !Number.isInteger(boot) || boot < 0 || boot > 4_294_967_295) return null;
  if (result === "done") return { id, boot, refused: null };
  const isNamed = typeof reason === "string" && reasonPattern.test(reason);
  return result === "refused" && isNamed ? { id, boot, refused: reason } : null;
}
