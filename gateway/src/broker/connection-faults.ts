import type { BrokerRefusalCode } from "./refusals.ts";

/** What the broker library says when it ends a connection by itself; the version is pinned, and the tests meet each. */
const names: readonly (readonly [says: RegExp, code: BrokerRefusalCode])[] = [
  [/^connect did not arrive in time$/, "connect-too-late"],
  [/^Client queue limit reached$/, "packets-before-sign-in"],
  [/^drain timeout$/, "does-not-read"],
  [/^unacceptable protocol version$|^Invalid protocol ?version$|^Invalid protocolId$/, "protocol-not-taken"],
  [/^empty topic|to an empty topic$|^topic has too many levels$|^[#+] is /, "topic-not-usable"],
];
/** No refusals: a client that went, was silent past its keep-alive, or was refused under another name. */
const silent = /^keep alive timeout$|^connection closed$|^premature close$|^read |^write |^This socket /i;

/** An error for the broker library of something that is counted already. */
export function refusedAlready(message: string): Error & { readonly code: string } {
  return Object.assign(new Error(message), { code: "refused" });
}

/** The name under which a fault is counted; null where it is none of the client's. */
export function faultName(error: Error & { readonly code?: string | undefined }): BrokerRefusalCode | null {
  if (error.code !== undefined || silent.test(error.message)) return null;
  return names.find(([says]) => says.test(error.message))?.[1] ?? "frame-broken";
}
