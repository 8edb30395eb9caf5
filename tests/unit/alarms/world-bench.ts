import {
  type AlarmChange,
  type AnyCondition,
  alarmCell,
  createAlarms,
  createWorkStage,
} from "@drumlin/gateway/alarms";
import { readLine } from "@drumlin/gateway/line";
import { Composer, defineCell, type PathEntry, type Records, SavedRows } from "@drumlin/gateway/path";
import { createWorldStage, worldCell } from "@drumlin/gateway/readings";
import { z } from "zod";

const line = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 } }
drums: { mix: { volume: 200 L, fed_by: supply }, fresh: { volume: 200 L, fed_by: supply } }
`;
const noRecords: Records = { last: () => [], list: () => [] };
export const otherCell = defineCell<number>("other");

/** A condition of drums that goes by `{name}/{drum}` of the world: a number over 10, and "?" for unknown. */
export function rowOf(id: string, more: Partial<AnyCondition> = {}): AnyCondition {
  return {
    id: id as AnyCondition["id"],
    subjectKinds: ["drum"],
    words: { unit: "", source: "", when: "", attention: "" },
    settings: z.strictObject({ limit: z.number().optional() }),
    defaults: () => ({ limit: 10 }),
    subjects: ({ drums }) => drums.map(({ id: drum }) => ({ kind: "drum" as const, id: drum, name: drum })),
    place: () => null,
    reads: [worldCell],
    hears: (_place, subject) => [{ cell: worldCell, key: `${id}/${subject.id}` }],
    judge({ board, subject, limits }) {
      const now = board.get(worldCell, `${id}/${subject.id}`);
      if (typeof now?.value !== "number") return { is: "unknown", value: null };
      const beyond = now.value - limits.limit;
      return { is: beyond > 0, value: now.value, limit: limits.limit, beyond, tMs: now.sinceMs };
    },
    on: () => ({}),
    off: () => ({}),
    isLatching: false,
    attention: () => "tell",
    ...more,
  };
}

/** Runs rows over facts of the world; time is told in seconds. */
export function worldBench(rows: readonly AnyCondition[]) {
  const make = () =>
    new Composer({
      stages: [createWorldStage(), createWorkStage(), createAlarms(rows)],
      readLine(yaml) {
        const read = readLine(yaml);
        return read.ok ? read.line : null;
      },
    });
  let composer = make();
  let seq = 0;
  const saved = new SavedRows();
  const changes: AlarmChange[] = [];
  const answers: (string | null)[] = [];
  const push = (entry: object, atS: number) => {
    seq += 1;
    composer.push({ seq, receivedAt: atS * 1000, ...entry } as PathEntry, (event) => {
      if (event.kind === "alarm") changes.push(event as AlarmChange);
      if (event.kind === "act-done")
        answers.push((event as unknown as { refused: { code: string } | null }).refused?.code ?? null);
    });
  };
  push({ kind: "start" }, 0);
  push({ kind: "line", yaml: line }, 0);
  return {
    changes,
    /** "at key why to" of each change but those about judging; "!" where a person is called. */
    story: () =>
      changes
        .filter(({ why }) => why !== "judged" && why !== "not-judged")
        .map(
          ({ atMs, alarm, why, to, annunciated }) =>
            `${atMs / 1000} ${alarm.key} ${why} ${to}${annunciated ? "!" : ""}`,
        ),
    says: (name: string, drum: string, value: number | "?", atS: number) =>
      push({ kind: "world", part: name, fact: drum, value }, atS),
    tick: (atS: number) => push({ kind: "tick" }, atS),
    line: (yaml: string, atS: number) => push({ kind: "line", yaml }, atS),
    act(act: object, atS: number) {
      push({ kind: "act", act: { id: `act-${seq}`, by: "keeper", ...act } }, atS);
      return answers.at(-1);
    },
    standing: () => [...composer.board.entries(alarmCell)].map(([, alarm]) => alarm),
    restart(atS: number, version: number | null = null, records = noRecords) {
      saved.apply(structuredClone(composer.changes()));
      if (version !== null) saved.versions.set("alarms", version);
      composer = make();
      composer.restore(saved, records);
      push({ kind: "start" }, atS);
    },
  };
}
