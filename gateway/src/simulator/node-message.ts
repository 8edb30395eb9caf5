/** A message as a node sends it. */
export interface NodeMessage {
  readonly node: string;
  readonly topic: string;
  readonly payload: Uint8Array;
}

/** The nodes of the house. */
export const houseNodes = ["press", "drums"] as const;
/** A node of the simulated house. */
export type HouseNode = (typeof houseNodes)[number];
