import type { Reading } from "../readings/index.ts";

/** Channels that nobody assigned are kept up to this many a node. */
const maxOfNode = 32;

/** The state as plain JSON: channel names by node. */
export interface UnassignedState {
  readonly channels: readonly (readonly [node: string, channels: readonly string[]])[];
  readonly dropped: number;
}

/** Knows the channels that the line doesn't use: at most 32 a node; readings of further ones are dropped and counted. */
export function createUnassigned() {
  let channels = new Map<string, string[]>();
  let dropped = 0;
  return {
    /** True when the reading's channel is among the node's 32. */
    take({ node, channel }: Reading): boolean {
      const known = channels.get(node) ?? [];
      if (known.includes(channel)) return true;
      if (known.length >= maxOfNode) {
        dropped += 1;
        return false;
      }
      channels.set(node, [...known, channel]);
      return true;
    },
    /** Forgets channels that now have a use, so that others get their turn. */
    forget(used: (channel: string) => boolean): void {
      for (const [node, known] of channels) {
        const left = known.filter((channel) => !used(channel));
        if (left.length > 0) channels.set(node, left);
        else channels.delete(node);
      }
    },
    dropped: (): number => dropped,
    snapshot: (): UnassignedState => ({ channels: [...channels], dropped }),
    restore(state: UnassignedState): void {
      channels = new Map(state.channels.map(([node, known]) => [node, [...known]]));
      dropped = state.dropped;
    },
  };
}
