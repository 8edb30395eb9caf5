/** What the broker refuses by name, before anything is journaled. */
export type BrokerRefusalCode =
  | "frame-too-long"
  | "frame-broken"
  | "protocol-not-taken"
  | "connect-too-late"
  | "packets-before-sign-in"
  | "connections-too-many"
  | "connection-replaced"
  | "does-not-read"
  | "sign-in-refused"
  | "sign-in-too-often"
  | "secret-revoked"
  | "tls-failed"
  | "topic-not-yours"
  | "topic-not-usable"
  | "filter-not-yours"
  | "filters-too-many"
  | "rate-too-high"
  | "qos-2-not-taken"
  | "payload-too-long"
  | "journal-not-writing";

/** Titles and remedies of those names. */
export const brokerRefusals: Readonly<
  Record<BrokerRefusalCode, { readonly title: string; readonly todo: string }>
> = {
  "frame-too-long": {
    title: "A message is longer than is taken",
    todo: "Send packs of at most 64 KiB, best under 250 bytes; subscribe with at most 2 KiB.",
  },
  "frame-broken": {
    title: "What came is no MQTT 3.1.1",
    todo: "Look at the program that sent it; the detail says what is wrong.",
  },
  "protocol-not-taken": {
    title: "A connection asked for another version of MQTT",
    todo: "Set the client to MQTT 3.1.1.",
  },
  "connect-too-late": {
    title: "A connection said nothing for 10 s",
    todo: "Send CONNECT at once; look at who opens connections from that address.",
  },
  "packets-before-sign-in": {
    title: "Too many messages came before the sign-in was answered",
    todo: "Wait for CONNACK, then publish.",
  },
  "connections-too-many": {
    title: "A connection was ended to make room for others",
    todo: "Look at who opens so many connections from that address.",
  },
  "connection-replaced": {
    title: "A node's oldest connection was ended: it had four",
    todo: "Let each node hold one connection; two devices with one name need a name each.",
  },
  "does-not-read": {
    title: "A client did not read what it had subscribed to for 10 s",
    todo: "Look at the client; it is told again after it signs in.",
  },
  "sign-in-refused": {
    title: "A node's name or secret is wrong",
    todo: "Make a new secret: drumlin node add NAME.",
  },
  "sign-in-too-often": {
    title: "Too many wrong sign-ins from one address",
    todo: "Use the right secret: that is let in at any time.",
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
  "topic-not-usable": {
    title: "A topic is empty, has # or + in it, or over 100 levels",
    todo: "Publish to drumlin/1/{site}/{your node}/readings.",
  },
  "filter-not-yours": {
    title: "A node asked to hear what is not for it",
    todo: "Subscribe to drumlin/1/{site}/{your node}/request or drumlin/1/{site}/gateway/#.",
  },
  "filters-too-many": {
    title: "A connection subscribed to more than 16 filters",
    todo: "One filter is enough: drumlin/1/{site}/gateway/#.",
  },
  "rate-too-high": {
    title: "A node sends faster than 50 packs or 1 MiB a second and is slowed",
    todo: "Send less often, or several records in one pack. Nothing is lost.",
  },
  "qos-2-not-taken": {
    title: "A message came with QoS 2",
    todo: "Use QoS 1: repeats are found by boot and seq.",
  },
  "payload-too-long": { title: "A payload is over 64 KiB", todo: "Split it into several messages." },
  "journal-not-writing": {
    title: "The journal could not take a message in time",
    todo: "Look at the disk; the node sends again.",
  },
};
