import { createAttempts, type NodeCredentials, originOf } from "../accounts/index.ts";
import type { BrokerRefusalCode } from "./refusals.ts";

/** Wrong sign-ins of one name from one address, and of all names from it, that are told apart from a flood. */
const ofNameFromAddress = { burst: 10, everyMs: 6000 } as const;
const ofAddress = { burst: 200, everyMs: 300 } as const;
const maxOrigins = 10_000;

/** CONNACK return codes (MQTT 3.1.1, table 3.1). */
export type ConnackCode = 2 | 3 | 4 | 5;

/** What became of a CONNECT. */
export type SignedIn =
  | { readonly ok: true; readonly secret: string | null }
  | {
      readonly ok: false;
      readonly returnCode: ConnackCode;
      /** Null where it was no refusal but an inability, told elsewhere. */
      readonly code: BrokerRefusalCode | null;
      /** Where it is one of ours. */
      readonly node: string | null;
      readonly detail: string;
    };

type Checked = Pick<NodeCredentials, "verify" | "inForce" | "isCostly">;

/**
 * Checks names and secrets of nodes. A right secret is let in whatever else comes from its address: a wrong one costs
 * microseconds, and nobody guesses 128 random bits. Where the check is costly the limit goes before it.
 */
export function createSignIn(credentials: Checked, now: () => number) {
  const wrong = createAttempts(maxOrigins);

  const tooOften = (node: string | null, detail: string): SignedIn => ({
    ok: false,
    returnCode: 5,
    code: "sign-in-too-often",
    node,
    detail,
  });

  return async (address: string, name: string, password: Uint8Array | undefined): Promise<SignedIn> => {
    const secret = credentials.inForce(name);
    const node = secret === null ? null : name;
    const origin = originOf(address);
    const detail = `${name.slice(0, 64)} from ${address}`;
    const ofName = { key: `${name.slice(0, 64)} ${origin}`, ...ofNameFromAddress };
    const isCostly = credentials.isCostly(name);
    if (isCostly && wrong.begin([ofName], now()) > 0) return tooOften(node, detail);
    const right = password !== undefined && (await credentials.verify(name, password));
    // Revoked or changed while it was checked: then it is no longer right.
    if (right && credentials.inForce(name) === secret) {
      if (isCostly) wrong.giveBack([ofName], now());
      return { ok: true, secret };
    }
    const limits = isCostly ? [] : [ofName];
    if (wrong.begin([...limits, { key: origin, ...ofAddress }], now()) > 0) return tooOften(node, detail);
    return { ok: false, returnCode: 4, code: "sign-in-refused", node, detail };
  };
}
