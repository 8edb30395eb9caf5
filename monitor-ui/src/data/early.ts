/** What `public/early.js` asked for while this code was on its way. */
interface Early {
  readonly stream: EventSource;
  readonly said: readonly MessageEvent<string>[];
  hear: (event: MessageEvent<string>) => void;
  readonly me: Promise<Response | null>;
}

declare global {
  /** null: the page was here first, and has asked for itself. */
  var early: Early | null | undefined;
}

// What comes after this code was not waited for: it must not ask again, and is never taken for news later.
globalThis.early ??= null;
const asked = globalThis.early;

let isStreamTaken = false;
let isMeTaken = false;

/** The stream that is open already, once; what it has said is given to `hear`, and what it says from now on. */
export function earlyStream(hear: (event: MessageEvent<string>) => void): EventSource | null {
  if (!asked || isStreamTaken) return null;
  isStreamTaken = true;
  asked.hear = hear;
  for (const event of asked.said) hear(event);
  return asked.stream;
}

/** The answer to who looks, once; null where it was not asked for, or none came. */
export function earlyMe(): Promise<Response | null> {
  const me = isMeTaken ? null : asked?.me;
  isMeTaken = true;
  return me ?? Promise.resolve(null);
}
