import { type AskedKind, encodeResponse, nodeTopic, parseRequest } from "@drumlin/firmware-protocol";
import type { HouseNode, NodeMessage } from "./node-message.ts";

/** What the demo's nodes may be asked; their period is the demo's. */
export const simulatedRequests: readonly AskedKind[] = ["report-now", "identify"];

interface Asked {
  readonly site: string;
  readonly node: HouseNode;
  readonly boot: number;
  readonly bytes: Uint8Array;
  readonly retained: boolean;
}

/** What a node says to a request: the reading that was asked for, and its answer; nothing to what is not for it. */
export function simulatedAnswers(
  { site, node, boot, bytes, retained }: Asked,
  pack: () => NodeMessage,
): readonly NodeMessage[] {
  const read = parseRequest(bytes, { boot, channels: [], requests: simulatedRequests, retained });
  if (!read.ok) return [];
  const { id, request } = read.request;
  const answer = encodeResponse({ id, boot, refused: null });
  return [
    ...(request === "report-now" ? [pack()] : []),
    { node, topic: nodeTopic(site, node, "response"), payload: new TextEncoder().encode(answer) },
  ];
}
