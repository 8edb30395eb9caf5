import type { DrumView, LineView, ProofView } from "@drumlin/gateway/contract";
import { type Sent, send } from "./send.ts";
import { line } from "./state.ts";

async function sendProof(path: string, body: object): Promise<Sent> {
  const sent = await send<LineView>(path, body);
  if (sent.taken) line.value = sent.told;
  return sent;
}

const ofFloat = (float: string, what: string) => `/api/proof-tests/${encodeURIComponent(float)}/${what}`;

/** Begins a test: from then on the drum's float says what was seen. */
export const startProof = (float: string, method: ProofView["method"]) =>
  sendProof("/api/proof-tests", { float, method });

/** Gives a running test up. */
export const cancelProof = (float: string) => sendProof(ofFloat(float, "cancel"), {});

/** Confirms that a float hung dry while it read wet. */
export const turnFloat = (float: string, test: string) => sendProof(ofFloat(float, "turn"), { test });

/** A float of a drum as the page has it now; null where the line no longer has it. */
export function floatNow(drum: string, float: string): DrumView["floats"][number] | null {
  return line.value?.drums.find(({ id }) => id === drum)?.floats.find(({ id }) => id === float) ?? null;
}
