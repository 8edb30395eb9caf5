import type { Language } from "../words/index.ts";

/** A form that a webhook is sent in, with what stands in its headers and body; secrets by their names alone. */
export interface WebhookSettings {
  readonly url: string;
  readonly form: "json" | "text";
  readonly body: string | null;
  readonly headers: ReadonlyMap<string, string>;
  readonly priority: Readonly<Record<"wake" | "tell" | "today", string>>;
  /** An address of the own network is meant on purpose. */
  readonly allowPrivate: boolean;
}

/** The way by which a destination is reached. */
export type NotifyWay =
  | { readonly kind: "mail"; readonly address: string }
  | { readonly kind: "webhook"; readonly webhook: WebhookSettings }
  | { readonly kind: "mqtt" }
  | { readonly kind: "sounder"; readonly sounder: string };

/** Who is told, of what, when not, and how. */
export interface NotifyDestination {
  readonly id: string;
  readonly title: string;
  /** Whose it is: the name of their account, where they have one. */
  readonly person: string | null;
  readonly takes: "wake" | "tell" | "today";
  readonly turn: "first" | "second";
  /** Minutes of the day. */
  readonly quiet: { readonly fromMinute: number; readonly toMinute: number } | null;
  readonly language: Language;
  readonly way: NotifyWay;
}

/** The mail server that takes what is sent. Its password is a secret: it does not stand here. */
export interface MailServer {
  readonly server: string;
  readonly port: number;
  readonly security: "starttls" | "tls" | "none";
  readonly user: string | null;
  readonly from: string;
}

/** Who is told what and when. */
export interface Notify {
  /** Where the page is reached from outside; messages link there. */
  readonly page: string | null;
  /** Of messages, where a destination names no other. */
  readonly language: Language;
  readonly wake: { readonly againMs: number; readonly secondAfterMs: number };
  readonly tell: { readonly againMs: number };
  readonly todayAtMinute: number;
  readonly mail: MailServer | null;
  /** Push services besides those that are known, by host. */
  readonly pushHosts: readonly string[];
  readonly destinations: readonly NotifyDestination[];
  /** Said to somebody outside while the path judges. */
  readonly heartbeat: {
    readonly get: string | null;
    readonly mqtt: boolean;
    readonly everyMs: number;
    readonly allowPrivate: boolean;
  } | null;
}

/** A heartbeat that has to come. */
export interface Expected {
  readonly id: string;
  readonly title: string;
  readonly everyMs: number;
}
