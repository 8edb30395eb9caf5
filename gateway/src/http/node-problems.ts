/** A node or a channel of one that nobody knows, and why a node did not do what it was asked. */
export const ofNodes = {
  "no-such-channel": {
    status: 404,
    title: "The line has no such channel",
    todo: "The line file names its channels.",
  },
  "no-such-node": {
    status: 404,
    title: "No node of that name was heard",
    todo: "GET /api/nodes lists them.",
  },
  "node-offline": {
    status: 409,
    title: "The node is not there now",
    todo: "Look at its power and network, then ask again.",
  },
  "node-does-not-understand": {
    status: 409,
    title: "The node does not say that it can be asked that",
    todo: "Name it under requests in the node's presence; firmware-protocol/README.md tells how.",
  },
  "node-refused": { status: 409, title: "The node refused it", todo: "The detail is the node's own reason." },
  "node-asked-already": {
    status: 429,
    title: "The node was asked that just now",
    todo: "Wait a few seconds, then ask again.",
  },
  "node-gave-no-answer": {
    status: 504,
    title: "The node gave no answer within 5 s",
    todo: "Look whether it still sends; then ask again.",
  },
  "broker-refuses-requests": {
    status: 503,
    title: "The broker lets no requests to nodes through",
    todo: "Let its rules allow the gateway to write …/request; after 10 min it can be asked again.",
  },
  "broker-away": {
    status: 503,
    title: "The broker can't be spoken to now",
    todo: "Look at the broker; the gateway tries again by itself.",
  },
} as const;
