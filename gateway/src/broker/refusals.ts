/** What the broker refuses by name, before anything is journaled. */
export type BrokerRefusalCode =
  | "frame-too-long"
  | "sign-in-refused"
  | "sign-in-too-often"
  | "secret-revoked"
  | "tls-failed"
  | "topic-not-yours"
  | "qos-2-not-taken"
  | "payload-too-long"
  | "journal-not-writing";

/** Titles and remedies of those names. */
export const brokerRefusals: Readonly<
  Record<BrokerRefusalCode, { readonly title: string; readonly todo: string }>
> = {
  "frame-too-long": {
    title: "A message is longer than is taken",
    todo: "Send packs of at most 64 KiB, best under 250 bytes.",
  },
  "sign-in-refused": {
    title: "A node's name or secret is wrong",
    todo: "Make a new secret: drumlin node add NAME.",
  },
  "sign-in-too-often": {
    title: "Too many wrong sign-ins from one address",
    todo: "Wait a minute, then use the right secret.",
  },
  "secret-revoked": {
    title: "A node was dropped: its secret was revoked or changed",
    todo: "Give the node its new secret.",
  },
  "tls-failed": {
    title: "A connection did not get as far as TLS",
    todo: "Give the node the certificate of the one who signed (CA), the right host name, and TLS 1.2 or newer.",
  },
  "topic-not-yours": {
    title: "A node published outside its own topics",
    todo: "Publish to drumlin/1/{site}/{your node}/readings.",
  },
  "qos-2-not-taken": {
    title: "A message came with QoS 2",
    todo: "Use QoS 1: repeats are found by boot and seq.",
  },
  "payload-too-long": { title: "A payload is over 64 KiB", todo: "Send several packs." },
  "journal-not-writing": {
    title: "The journal could not take a message in time",
    todo: "Look at the disk; the node sends again.",
  },
};
