import { randomBytes } from "node:crypto";
import type { MqttClient } from "mqtt";

/** One run of a gateway: what tells it from another one that works with a copy of its data folder, and so under its name. */
export interface Run {
  readonly instance: string;
  /** Random, made at its start. */
  readonly run: string;
  /** Of two runs under one name the one of the lower rank stays: that which began first, and before it whoever took over last. */
  readonly rank: number;
}

interface Said extends Run {
  readonly asks?: unknown;
  /** It asks before it starts, and does not if it is answered. */
  readonly begins?: unknown;
  readonly answers?: unknown;
}

/** The run that begins now, at `startedAtMs`. */
export function beginRun(instance: string, startedAtMs: number, takesOver: boolean): Run {
  return { instance, run: randomBytes(6).toString("hex"), rank: takesOver ? -startedAtMs : startedAtMs };
}

/** Whether the first of two runs under one name stays, and the other stops; each of them finds the same. */
export function stays(me: Run, other: Run): boolean {
  return me.rank === other.rank ? me.run < other.run : me.rank < other.rank;
}

/** What another run under the same name says; null where it is none. */
function saidByAnother(text: string, me: Run): Said | null {
  try {
    const said = JSON.parse(text) as Partial<Said> | null;
    if (said?.instance !== me.instance || typeof said.run !== "string" || said.run === me.run) return null;
    return typeof said.rank === "number" ? (said as Said) : null;
  } catch {
    return null;
  }
}

/** The answer of a run that works to what another one under its name asks; null where none asks. */
export function answerTo(text: string, me: Run): string | null {
  const asks = saidByAnother(text, me)?.asks;
  return typeof asks === "string" ? JSON.stringify({ ...me, answers: asks }) : null;
}

/**
 * Asks whether another run under this one's name is there, and gives it; null when none says so within `waitMs`. Only what is
 * said now counts: a broker keeps what a run that is gone had said. `client` signed in under a name of its own: under the common
 * one it would put the other out. With `isPutOut` one that asks is answered, and counts too unless it only begins: both may have been
 * put out. Were one that begins counted, and its clock behind, both would stop.
 */
export async function findCopy(
  client: MqttClient,
  { topic, me }: { readonly topic: string; readonly me: Run },
  { waitMs, isPutOut }: { readonly waitMs: number; readonly isPutOut: boolean },
): Promise<Run | null> {
  const asks = randomBytes(6).toString("hex");
  const found = Promise.withResolvers<Run | null>();
  const timer = setTimeout(() => found.resolve(null), waitMs);
  client.on("message", (from, bytes, { retain }) => {
    const said = from === topic && !retain ? saidByAnother(bytes.toString(), me) : null;
    if (!said) return;
    if (said.answers === asks) found.resolve(said);
    if (!isPutOut || said.asks === undefined) return;
    client.publish(topic, answerTo(bytes.toString(), me) ?? "");
    if (said.begins !== true) found.resolve(said);
  });
  // A broker that does not let it ask can't be asked: the gateway works there all the same.
  client.subscribeAsync(topic, { qos: 0 }).then(
    () => client.publish(topic, JSON.stringify({ ...me, asks, ...(isPutOut ? {} : { begins: true }) })),
    () => found.resolve(null),
  );
  return found.promise.finally(() => clearTimeout(timer));
}
