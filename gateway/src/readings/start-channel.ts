const startName = "/.start";

/**
 * A channel that no node can name (RFC 8428 §4.5.1: names begin with a letter or digit) and that sorts before all of its
 * node's: which start of the node the counters of a pack count from, as a whole number that is compared for equality only.
 */
export const startChannel = (node: string): string => `${node}${startName}`;

/** Whether a channel is that of its node; asked at each reading, so nothing is put together for it. */
export const isStartChannel = (channel: string, node: string): boolean =>
  channel.length === node.length + startName.length &&
  channel.endsWith(startName) &&
  channel.startsWith(node);
