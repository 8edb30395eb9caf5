import type { Act } from "../acts/index.ts";
import type { ActRefusal, Alarm, AlarmChange } from "../alarms/index.ts";
import type { Line } from "../line/index.ts";
import type { RejectionCount } from "../logbook/index.ts";
import type { SeriesStore } from "../series/index.ts";
import type { LineView, LiveEvent } from "./contract.ts";

/** An act before the gateway has given it its id and who. */
export type GivenAct = Act extends infer One ? (One extends Act ? Omit<One, "id" | "by"> : never) : never;

/** What the HTTP room needs of the rest; `app` hands it in. */
export interface HttpComponents {
  /** The whole line as it is now; null before a line is in force. */
  readonly lineView: () => LineView | null;
  readonly line: () => Line | null;
  readonly standing: () => readonly Alarm[];
  readonly alarmChanges: (
    limit: number,
    before?: number,
  ) => readonly { readonly place: number; readonly change: AlarmChange }[];
  readonly alarmChangesAfter: (seq: number, limit: number) => readonly AlarmChange[];
  readonly rejections: () => readonly RejectionCount[];
  readonly series: Pick<SeriesStore, "buckets">;
  /** Journals and applies an act; null when it was taken. */
  readonly act: (act: GivenAct) => Promise<ActRefusal | null>;
  /** Told of each change with the journal's seq; gives the way to stop. */
  readonly subscribe: (listener: (event: LiveEvent, seq: number) => void) => () => void;
  readonly lastSeq: () => number;
  /** False while starting, stopping or unable to append. */
  readonly ready: () => boolean;
  readonly metrics: () => readonly Metric[];
  readonly now: () => number;
}

/** One OpenMetrics family with its samples. */
export interface Metric {
  readonly name: string;
  readonly help: string;
  readonly type: "counter" | "gauge";
  readonly samples: readonly { readonly labels?: Readonly<Record<string, string>>; readonly value: number }[];
}

export interface HttpOptions {
  readonly host: string;
  readonly port: number;
  /** Folder of the built pages; null serves the API only. */
  readonly pages: string | null;
}
