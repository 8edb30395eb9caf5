import type { Alarm, AlarmChange, AlarmState, Attention } from "@drumlin/gateway/alarms";

/** What truly became of one call, as the life that made it knows. */
export interface TrueCall {
  readonly id: string;
  readonly alarm: number;
  readonly attention: Attention;
  readonly atMs: number;
  endedAtMs: number | null;
  seenAtMs: number | null;
  silencedAtMs: number | null;
  replacedAtMs: number | null;
}

interface Life {
  active: boolean;
  acked: boolean;
  shelved: boolean;
  attention: Attention;
  occurrence: string;
  raisedAtMs: number;
  clearedAtMs: number | null;
  seenAtMs: number | null;
  current: TrueCall | null;
}

/** Alarms that live by the rules of ISA-18.2, written down a second time: the tests hold the outbox to them. */
export class AlarmLife {
  readonly changes: AlarmChange[] = [];
  readonly calls: TrueCall[] = [];
  private readonly lives: Life[];
  private seq = 0;

  constructor(attentions: readonly Attention[]) {
    this.lives = attentions.map((attention) => ({
      active: false,
      acked: true,
      shelved: false,
      attention,
      occurrence: "",
      raisedAtMs: 0,
      clearedAtMs: null,
      seenAtMs: null,
      current: null,
    }));
  }

  private stateOf({ active, acked, shelved }: Life): AlarmState {
    if (shelved) return "shelved";
    if (active) return acked ? "acknowledged" : "unacknowledged";
    return acked ? "normal" : "returned-unacknowledged";
  }

  private alarmOf(index: number): Alarm {
    const life = this.lives[index] as Life;
    return {
      key: `test:a${index}`,
      occurrence: life.occurrence,
      condition: "test",
      subject: `a${index}`,
      attention: life.attention,
      state: this.stateOf(life),
      active: life.active,
      latched: false,
      under: null,
      judged: { now: true, because: null, sinceMs: 0 },
      raisedAtMs: life.raisedAtMs,
      clearedAtMs: life.clearedAtMs,
      acknowledgedAtMs: life.seenAtMs,
      acknowledgedBy: life.seenAtMs === null ? null : "somebody",
      shelvedUntilMs: null,
      value: null,
      limit: null,
      unit: "",
      text: `alarm ${index}`,
      response: "",
    };
  }

  private tell(index: number, atMs: number, why: AlarmChange["why"], from: AlarmState, annunciated: boolean) {
    const life = this.lives[index] as Life;
    const id = `${this.seq}/test:a${index}/1`;
    const calls = annunciated && (life.attention === "wake" || life.attention === "tell");
    if (calls || (why === "raised" && life.attention === "today" && !life.shelved)) {
      if (life.current) life.current.replacedAtMs = atMs;
      life.current = {
        id,
        alarm: index,
        attention: life.attention,
        atMs,
        endedAtMs: null,
        seenAtMs: null,
        silencedAtMs: null,
        replacedAtMs: null,
      };
      this.calls.push(life.current);
    }
    this.changes.push({
      kind: "alarm",
      id,
      atMs,
      from,
      to: this.stateOf(life),
      why,
      by: null,
      annunciated: calls,
      alarm: this.alarmOf(index),
    });
  }

  /** Does something to an alarm where its state allows it. */
  do(
    what: "raise" | "return" | "see" | "unsee" | "shelve" | "unshelve" | "rise",
    index: number,
    atMs: number,
  ): void {
    const life = this.lives[index] as Life;
    const from = this.stateOf(life);
    this.seq += 1;
    if (what === "raise" && !life.active) {
      Object.assign(life, {
        active: true,
        acked: false,
        seenAtMs: null,
        clearedAtMs: null,
        raisedAtMs: atMs,
      });
      life.occurrence = `${this.seq}/test:a${index}/1`;
      this.tell(index, atMs, "raised", from, !life.shelved);
    } else if (what === "return" && life.active) {
      Object.assign(life, { active: false, clearedAtMs: atMs });
      if (life.current) life.current.endedAtMs ??= atMs;
      this.tell(index, atMs, "returned", from, false);
    } else if (what === "see" && !life.acked && !life.shelved) {
      Object.assign(life, { acked: true, seenAtMs: atMs });
      if (life.current) life.current.seenAtMs ??= atMs;
      this.tell(index, atMs, "acknowledged", from, false);
    } else if (what === "unsee" && life.acked && life.active && !life.shelved) {
      Object.assign(life, { acked: false, seenAtMs: null });
      this.tell(index, atMs, "seen-undone", from, true);
    } else if (what === "shelve" && !life.shelved && from !== "normal") {
      life.shelved = true;
      if (life.current) life.current.silencedAtMs ??= atMs;
      this.tell(index, atMs, "shelved", from, false);
    } else if (what === "unshelve" && life.shelved) {
      life.shelved = false;
      if (life.active) Object.assign(life, { acked: false, seenAtMs: null });
      this.tell(index, atMs, "unshelved", from, life.active);
    } else if (what === "rise" && life.active && life.attention === "tell" && !life.shelved) {
      Object.assign(life, { attention: "wake", acked: false, seenAtMs: null });
      this.tell(index, atMs, "attention-raised", from, true);
    }
  }
}
