import type { Act } from "../acts/index.ts";
import type { Fill, RunState } from "../fills/index.ts";
import type { CurrentMeasurement, Gone } from "../measurements/index.ts";
import { defineCell, type Records, type Stage, type StageContext } from "../path/index.ts";
import type { ActEntry } from "../readings/index.ts";
import type { Alarm, AlarmChange } from "./alarm.ts";
import { type AlarmsState, createAlarms } from "./engine.ts";

/** What stands, by `condition:subject`. For views only: no stage reads an alarm. */
export const alarmCell = defineCell<Alarm>("alarm");

const alarmActs = ["acknowledge", "shelve", "unshelve", "reset", "out-of-service", "in-service"] as const;
type Heard = CurrentMeasurement | Gone | RunState | Fill | ActEntry;

/** The stage of the path that judges conditions. */
export function createAlarmsStage(): Stage<Heard, AlarmChange> {
  let count = 0;
  let countedSeq = 0;
  let seq = 0;
  const nextId = () => {
    if (seq !== countedSeq) {
      countedSeq = seq;
      count = 0;
    }
    count += 1;
    return `${seq}.${count}`;
  };
  const alarms = createAlarms({ nextId });
  let isDirty = false;
  /** What an act that was admitted has changed: told once it is heard. */
  let changes: AlarmChange[] = [];

  const put = (change: AlarmChange, ctx: StageContext<AlarmChange>) => {
    const { key, state } = change.alarm;
    ctx.put(alarmCell, key, state === "normal" ? undefined : change.alarm);
  };
  const emitTo = (ctx: StageContext<AlarmChange>) => {
    seq = ctx.entry.seq;
    isDirty = true;
    return (change: AlarmChange) => {
      put(change, ctx);
      ctx.tell(change);
    };
  };
  const arm = (ctx: StageContext<AlarmChange>) => ctx.wakeAt("alarms", alarms.nextDeadline());

  return {
    name: "alarms",
    version: 1,
    owns: [alarmCell],
    reads: [],
    acts: alarmActs,
    hears: {
      current: ({ measurement }, ctx) => alarms.measurement(measurement, ctx.nowMs, emitTo(ctx)),
      gone: (gone, ctx) => alarms.gone(gone, ctx.nowMs, emitTo(ctx)),
      run: (run, ctx) => alarms.run(run, ctx.nowMs, emitTo(ctx)),
      fill: (fill, ctx) => alarms.fill(fill, ctx.nowMs, emitTo(ctx)),
      act({ act }, ctx) {
        if ("key" in act) for (const change of changes.splice(0)) emitTo(ctx)(change);
        else alarms.act(act, ctx.nowMs, emitTo(ctx));
      },
    },
    useLine(line, _was, ctx) {
      alarms.useLine(line, ctx.nowMs, emitTo(ctx));
    },
    admit(act: Act, ctx) {
      seq = ctx.entry.seq;
      changes = [];
      return alarms.act(act, ctx.nowMs, (change) => changes.push(change));
    },
    wake(_key, ctx) {
      alarms.pass(ctx.nowMs, emitTo(ctx));
      arm(ctx);
    },
    afterStep: arm,
    *dirty() {
      if (isDirty) yield ["all", alarms.snapshot()];
      isDirty = false;
    },
    load(rows, fromVersion, ctx) {
      if (fromVersion > 1) return false;
      const saved = rows.get("all") as AlarmsState | undefined;
      if (saved) alarms.restore(saved);
      for (const alarm of alarms.standing()) ctx.put(alarmCell, alarm.key, alarm);
      arm(ctx);
      return true;
    },
    seed(_records: Records) {},
  };
}
