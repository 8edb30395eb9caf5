/** The node of a channel: `press` of `press/ec-1`. Of a name that is no channel's, nothing is left. */
export const nodeOf = (channel: string): string => channel.slice(0, Math.max(0, channel.indexOf("/")));

/** The name that a node has for its channel: `ec-1` of `press/ec-1`. */
export const nameAtNode = (channel: string): string => channel.slice(channel.indexOf("/") + 1);
