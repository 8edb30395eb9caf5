import type { LogbookOutcome, RecordName } from "../logbook/index.ts";
import type { LiveEvent } from "./contract.ts";
import { alarmChangeView, fillView } from "./views.ts";

type Recorded<Kind extends RecordName> = Extract<LogbookOutcome, { readonly kind: Kind }>;

/** What a record is on the live stream. */
interface RecordEvent<Outcome> {
  /** Of those with the same key the latest is enough; null: each is news of its own. */
  readonly key: (outcome: Outcome) => string | null;
  readonly view: (outcome: Outcome) => LiveEvent;
}

/** How one kind of record is shown, beside its table and its export. */
interface RecordShown<Outcome> {
  /** What its list holds. */
  readonly list: string;
  /** `board`: what it tells stands on the board, whose points, drums, nodes and line are told when they change. */
  readonly event: RecordEvent<Outcome> | "board";
}

/** How each kind of record is shown. A kind that is new in the logbook fails the build until it has its row here. */
export const recordKinds: { readonly [Kind in RecordName]: RecordShown<Recorded<Kind>> } = {
  "act-done": { list: "what people did, taken or refused", event: "board" },
  alarm: {
    list: "changes of alarms",
    event: { key: () => null, view: (change) => ({ event: "alarm", data: alarmChangeView(change) }) },
  },
  fill: {
    list: "fills",
    event: { key: ({ id }) => `fill/${id}`, view: (fill) => ({ event: "fill", data: fillView(fill) }) },
  },
  batch: { list: "batches of salt water", event: "board" },
  "drum-water": { list: "words on drums' water", event: "board" },
  line: { list: "line files that came into force", event: "board" },
  presence: { list: "what nodes announced", event: "board" },
  proof: { list: "tests of floats", event: "board" },
  start: { list: "starts of the gateway", event: "board" },
  rejection: { list: "what was refused of nodes, counted", event: "board" },
  gap: { list: "what nobody heard", event: "board" },
  draw: { list: "what was drawn", event: "board" },
  "float-change": { list: "floats that changed over", event: "board" },
  night: { list: "nights that are over", event: "board" },
  work: { list: "work that began or was over", event: "board" },
};

/** What a record is on the live stream, its times in the calendar's; null: it is told from the board. */
export function eventOfRecord(kind: RecordName): RecordEvent<LogbookOutcome> | null {
  const { event } = recordKinds[kind];
  return event === "board" ? null : (event as RecordEvent<LogbookOutcome>);
}
