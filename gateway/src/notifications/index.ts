export { type Call, isOpen } from "./call.ts";
export { Dispatcher } from "./dispatcher.ts";
export { type DueMessage, due, type Entry, type Moment, type Step } from "./due.ts";
export { Outbox, type OutboxMessage } from "./outbox.ts";
export { migrations } from "./outbox-schema.ts";
export type { CallPolicy, Recipient } from "./policy.ts";
export type { Delivery } from "./retry.ts";
