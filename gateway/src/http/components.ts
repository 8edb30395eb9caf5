import type { Accounts, Who } from "../accounts/index.ts";
import type { Act, ActRefused, GivenAct } from "../acts/index.ts";
import type { Alarm, AlarmChange } from "../alarms/index.ts";
import type { Line, LineFault } from "../line/index.ts";
import type { ActRecord, Logbook, RejectionCount } from "../logbook/index.ts";
import type { Night } from "../nights/index.ts";
import type { NotificationDesk } from "../notifications/index.ts";
import type { InfluxState, SeriesStore } from "../series/index.ts";
import type { LineView, LiveEvent } from "./contract.ts";

/**
 * Something changed, and what is shown of it when somebody looks: a view is made only when it is sent, since the latest
 * of a point, drum or node stands for all before it.
 */
export interface Told {
  /** Point, drum, fill or node; null for what is news of its own and never merged. */
  readonly key: string | null;
  /** The thing of the line whose view it is; null: a record, or the line as a whole. */
  readonly about: { readonly kind: "point" | "drum" | "node"; readonly id: string } | null;
  /** Null where it is no longer on the line. */
  readonly view: () => LiveEvent | null;
}

/** What became of a change of the line file. */
export type LineFileSaved =
  | {
      readonly ok: true;
      readonly version: string;
      readonly faults: readonly LineFault[];
      /** Places that were changed ("limits.resin-breakthrough:after-resin.limit"; "" is the whole text). */
      readonly changes: readonly { readonly at: string; readonly before: unknown; readonly after: unknown }[];
    }
  | {
      readonly ok: false;
      readonly code:
        | "line-file-changed"
        | "line-file-faulty"
        | "line-file-of-another-site"
        | "line-file-not-usable"
        | "no-line-file";
      readonly message: string;
      readonly faults: readonly LineFault[];
    };

/** A channel and its place in the line file; a level that is told as a height may bring its table. */
export interface AssignedChannel {
  readonly channel: string;
  readonly to: string;
  readonly signal?: string | undefined;
  readonly strapping?: Readonly<Record<string, string>> | undefined;
}

/** The line file, to be read, changed and taken anew. */
export interface LineFileAccess {
  read(): Promise<{ readonly yaml: string; readonly version: string; readonly faults: readonly LineFault[] }>;
  save(yaml: string, version: string): Promise<LineFileSaved>;
  setLimit(condition: string, subject: string, limit: number, version: string): Promise<LineFileSaved>;
  /** Puts a channel at a place of the line ("points/supply/conductivity"); what it said before is derived. */
  assign(asked: AssignedChannel): Promise<LineFileSaved>;
  /** Changes the text at some places, all or nothing, every comment kept; null takes away. */
  edit(
    edits: readonly {
      readonly at: readonly string[];
      readonly to: string | number | boolean | null | Readonly<Record<string, string | number | boolean>>;
    }[],
    version: string,
  ): Promise<LineFileSaved>;
  /** Pictures of lines to begin with. */
  pictures(): readonly {
    readonly id: string;
    readonly title: string;
    readonly words: string;
    readonly yaml: string;
  }[];
  /** Writes down when people are told again, every comment kept. */
  setNotify(policy: {
    readonly wake: { readonly again: string; readonly second_after: string };
    readonly tell: { readonly again: string };
    readonly today: string;
  }): Promise<LineFileSaved>;
  reload(): Promise<LineFileSaved>;
}

/** What a node is asked. */
export type AskedOfNode =
  | { readonly kind: "report-now" | "identify" }
  | { readonly kind: "set-period"; readonly periodS: number };

/** Why a node was not asked. */
export type NotAsked =
  | "unknown"
  | "offline"
  | "not-understood"
  | "asked-already"
  | "too-many"
  | "broker-away"
  | "kept-back"
  | "no-such-period";

/** What became of it. */
export type NodeAnswer =
  | { readonly outcome: "done" | "no-answer" | NotAsked }
  | { readonly outcome: "refused"; readonly reason: string };

/** What the HTTP room needs of the rest; `app` hands it in. */
export interface HttpComponents {
  /** The whole line as it is now; null before a line is in force. */
  readonly lineView: () => LineView | null;
  readonly line: () => Line | null;
  readonly lineFile: LineFileAccess;
  /** Where nodes sign in; port null: the broker is somebody else's, at `broker`. */
  readonly mqtt: () => {
    readonly port: number | null;
    readonly tls: boolean;
    readonly broker: string | null;
  };
  readonly standing: () => readonly Alarm[];
  readonly alarmChanges: (
    limit: number,
    before?: number,
  ) => readonly { readonly place: number; readonly change: AlarmChange }[];
  /** Alarm changes of [fromMs, toMs). */
  readonly alarmChangesIn: (fromMs: number, toMs: number) => readonly AlarmChange[];
  readonly alarmChangesAfter: (seq: number, limit: number) => readonly AlarmChange[];
  readonly rejections: () => readonly RejectionCount[];
  readonly series: Pick<SeriesStore, "buckets">;
  /** How sending to InfluxDB goes, and to which server and database; null where none is used. */
  readonly influx: () => { readonly server: string; readonly state: InfluxState } | null;
  /** Derivations of the past: asked for from a time on, calendar, in somebody's name; how far they are. */
  readonly derivation: {
    readonly askSince: (fromMs: number, by: string) => void;
    readonly state: () => {
      readonly running: { readonly fromMs: number; readonly toMs: number; readonly percent: number } | null;
      readonly waiting: number;
      readonly failure: string | null;
    };
  };
  /** Journals and applies an act of somebody; null when it was taken. */
  readonly act: (act: GivenAct, by: string) => Promise<ActRefused | null>;
  /** Acts, newest first, with what they changed; `before` is the place of the last one of the page before. */
  readonly acts: (limit: number, before?: number) => readonly ActRecord[];
  /** Acts of one kind that were taken, newest first. */
  readonly actsOf: (type: Act["type"], limit: number, before?: number) => readonly ActRecord[];
  readonly fills: Logbook["fills"];
  readonly fill: Logbook["fill"];
  /** A night by the date of its evening; null where there is none. */
  readonly night: (date: string) => Night | null;
  /** Nights, newest first; `beforeMs` is the begin of the last one of the page before. */
  readonly nights: (asked: { readonly limit: number; readonly beforeMs?: number }) => readonly Night[];
  readonly proofs: Logbook["proofs"];
  readonly records: Logbook["page"];
  /** Who is told, and what was. */
  readonly notifications: Pick<NotificationDesk, keyof NotificationDesk>;
  /** Asks a node something; resolves with its answer, or with why there is none. */
  readonly askNode: (node: string, asked: AskedOfNode) => Promise<NodeAnswer>;
  readonly accounts: Omit<Accounts, "close" | "newSetUpCode">;
  /** Told of each change with the journal's seq; gives the way to stop. */
  readonly subscribe: (listener: (told: Told, seq: number) => void) => () => void;
  readonly lastSeq: () => number;
  /** Why the gateway is not ready (starting, stopping, a part that failed), by the part's name; null when it is. */
  readonly notReady: () => string | null;
  /** What does less than it should, by the part's name. */
  readonly degraded: () => readonly string[];
  readonly metrics: () => readonly Metric[];
  readonly now: () => number;
  /** Time that only goes on, ms: for how long something has lasted. */
  readonly elapsedMs: () => number;
}

/** One OpenMetrics family with its samples. */
export interface Metric {
  readonly name: string;
  readonly help: string;
  readonly type: "counter" | "gauge";
  readonly samples: readonly { readonly labels?: Readonly<Record<string, string>>; readonly value: number }[];
}

/** Certificate (with its chain) and key, PEM. */
export interface TlsFiles {
  readonly cert: string;
  readonly key: string;
}

/** What the server is started with, besides what it shows. */
export interface HttpOptions {
  /** Another address than loopback is listened on only once an account exists, with TLS or `plainHttp`. */
  readonly host: string;
  readonly port: number;
  /** Folder of the built pages; null serves the API only. */
  readonly pages: string | null;
  readonly tls?: TlsFiles | null;
  /** Plain HTTP on private addresses, on purpose. */
  readonly plainHttp?: boolean;
  /** Whoever asks is this one: the demo, and tests. On loopback only. */
  readonly signedIn?: Who | null;
  /** Told when the door moved or could not, and of errors that nobody expected. */
  readonly log?: (message: string) => void;
  /** Told what was refused before any request was seen, for the figures. */
  readonly onRefused?: (code: string, detail: string) => void;
}
