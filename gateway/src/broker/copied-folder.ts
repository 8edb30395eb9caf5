import { randomBytes } from "node:crypto";
import type { MqttClient } from "mqtt";
import { connectWithinMs } from "./client-options.ts";

/** A question goes to the broker and on to the other run, the answer back: two ways there and back, and one to spare. */
const waysInPatience = 3;

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

/** What a run under the same name asked. */
interface Asked {
  readonly by: Run;
  /** It was put out, and does not only begin. */
  readonly isPutOut: boolean;
  /** What it is answered. */
  readonly answer: string;
}

/** To other programs what runs ask each other says what the presence does, under which they speak. */
const said = (me: Run, more: object) => JSON.stringify({ state: "online", ...me, ...more });

/** What another run under this one's name asks; null where none asks. */
export function askedOf(text: string, me: Run): Asked | null {
  const by = saidByAnother(text, me);
  if (typeof by?.asks !== "string") return null;
  return { by, isPutOut: by.begins !== true, answer: said(me, { answers: by.asks }) };
}

/** What came of asking. */
export interface FoundCopy {
  /** The other run under this one's name; null when none is found. */
  readonly other: Run | null;
  /** The broker did not even pass the question back to who asked. */
  readonly isMute: boolean;
}

/** How a copy is waited for. */
interface CopyWait {
  /** From the broker's answer on, ms; what the way there and back takes comes on top. */
  readonly waitMs: number;
  readonly isPutOut: boolean;
  /** Time that only goes on, ms. */
  readonly steadyMs: () => number;
}

/**
 * Asks whether another run under this one's name is there; none is when none says so within `waitMs`, and what its way takes over
 * a link as slow as this one. Only what is said now counts: a broker keeps what a run that is gone had said. `client` signed in under
 * a name of its own: under the common one it would put the other out. With `isPutOut` one that asks is answered, and counts too
 * unless it only begins: both may have been put out. Were one that begins counted, and its clock behind, both would stop.
 */
export async function findCopy(
  client: MqttClient,
  { topic, me }: { readonly topic: string; readonly me: Run },
  { waitMs, isPutOut, steadyMs }: CopyWait,
): Promise<FoundCopy> {
  const asks = randomBytes(6).toString("hex");
  const question = said(me, { asks, ...(isPutOut ? {} : { begins: true }) });
  const found = Promise.withResolvers<Run | null>();
  const none = () => found.resolve(null);
  const askedMs = steadyMs();
  let isMute = true;
  let timer = setTimeout(none, connectWithinMs);
  client.on("message", (from, bytes, { retain }) => {
    if (from !== topic || retain) return;
    const text = bytes.toString();
    if (text === question) isMute = false;
    const heard = saidByAnother(text, me);
    if (heard?.answers === asks) found.resolve(heard);
    const asked = isPutOut ? askedOf(text, me) : null;
    if (!asked) return;
    client.publish(topic, asked.answer);
    if (asked.isPutOut) found.resolve(asked.by);
  });
  // A broker that does not let it ask, or ends the connection for it (MQTT 3.1.1 §3.3.5-2), can't be asked: the gateway works there.
  client.once("close", none);
  client.subscribeAsync(topic, { qos: 0 }).then(() => {
    const answeredInMs = steadyMs() - askedMs;
    clearTimeout(timer);
    timer = setTimeout(none, waitMs + waysInPatience * answeredInMs);
    client.publish(topic, question);
  }, none);
  return found.promise.finally(() => clearTimeout(timer)).then((other) => ({ other, isMute }));
}
