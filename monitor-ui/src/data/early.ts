/** What `public/early.js` asked for while this code was on its way. */
interface Early {
  readonly stream: EventSource;
  readonly said: readonly MessageEvent<string>[];
  hear: (event: MessageEvent<string>) => void;
  readonly me: Promise<Response | null>;
}

declare global {
  var early: Early | undefined;
}

let isStreamTaken = false;
let isMeTaken = false;

/** The stream that is open already, once; what it has said is given to `hear`, and what it says from now on. */
export function earlyStream(hear: (event: MessageEvent<string>) => void): EventSource | null {
  const { early } = globalThis;
  if (!early || isStreamTaken) return null;
  isStreamTaken = true;
  early.hear = hear;
  for (const event of early.said) hear(event);
  return early.stream;
}

/** The answer to who looks, once; null where it was not asked for, or none came. */
export function earlyMe(): Promise<Response | null> {
  const asked = isMeTaken ? null : (globalThis.early?.me ?? null);
  isMeTaken = true;
  return asked ?? Promise.resolve(null);
}
