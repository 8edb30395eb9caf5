import type { Socket } from "node:net";
import type { EntryWaiter } from "../journal/index.ts";
import type { OnRefused } from "./broker.ts";
import { refusedAlready } from "./connection-faults.ts";
import type { Intake } from "./intake.ts";
import { pubacks } from "./pubacks.ts";

interface AnswersComponents {
  readonly socket: Pick<Socket, "write" | "destroy" | "destroyed">;
  readonly intake: Intake;
  readonly now: () => number;
  readonly onRefused: OnRefused;
}

/**
 * Gives a packet its answer; with an error there is none, and the connection ends. A number: of the message to which a
 * PUBACK is written here.
 */
type Answer = ((error?: Error | null) => void) | number;

/** So many answered packets may lie before those that wait. */
const maxAnswered = 512;

/** A packet of a signed-in node on its way to the disk. */
class UnderWay implements EntryWaiter {
  readonly node: string;
  readonly bytes: number;
  readonly answer: Answer;
  isStored = false;
  /** It gets no answer. */
  isRefused = false;
  /** Told once it has its answer, or never gets one. */
  onOver: (() => void) | null = null;
  private readonly answers: Answers;

  constructor(answers: Answers, of: Pick<UnderWay, "node" | "bytes" | "answer">) {
    this.answers = answers;
    this.node = of.node;
    this.bytes = of.bytes;
    this.answer = of.answer;
  }

  stored(): void {
    this.isStored = true;
    this.answers.goOn();
  }

  refused(error: Error): void {
    this.answers.refuse(this, error);
  }
}

/**
 * The answers of one connection: each packet gets its own once it is written and every earlier one has got its own; those
 * that are not for the disk have their place too. Without promises: they cost more than the journal.
 */
export class Answers {
  private readonly components: AnswersComponents;
  private readonly underWay: UnderWay[] = [];
  private answered = 0;
  private isGoingOn = false;
  /** Messages whose PUBACK is to be written: those of one commit go in one piece. */
  private acknowledged: number[] = [];
  private waiting = 0;
  private oldestAtMs = 0;

  constructor(components: AnswersComponents) {
    this.components = components;
  }

  /** Packets without an answer. */
  get pending(): number {
    return this.waiting;
  }

  /** When the oldest of them came or the last answer went. */
  get oldestPendingAtMs(): number {
    return this.oldestAtMs;
  }

  /** A packet came: `answer` is called in its turn, once what is given back was told. */
  begin(node: string, bytes: number, answer: Answer): EntryWaiter & { stored(): void } {
    if (this.waiting === 0) this.oldestAtMs = this.components.now();
    this.waiting += 1;
    const packet = new UnderWay(this, { node, bytes, answer });
    this.underWay.push(packet);
    this.components.intake.begin(node, bytes);
    return packet;
  }

  /** Resolves once every packet so far has its answer, or never gets one. */
  last(): Promise<void> {
    const last = this.underWay.at(-1);
    if (this.waiting === 0 || !last || last.isRefused) return Promise.resolve();
    return new Promise((resolve) => {
      last.onOver = resolve;
    });
  }

  /** Answers whoever is next and on disk. */
  goOn(): void {
    if (this.isGoingOn) return;
    this.isGoingOn = true;
    for (
      let packet = this.underWay[this.answered];
      packet !== undefined && (packet.isStored || packet.isRefused);
      packet = this.underWay[this.answered]
    ) {
      this.answered += 1;
      if (packet.isRefused) continue;
      this.give(packet.answer);
      this.over(packet);
    }
    if (this.answered >= maxAnswered || this.answered === this.underWay.length) {
      this.underWay.splice(0, this.answered);
      this.answered = 0;
    }
    this.isGoingOn = false;
  }

  /** The journal did not take it: no PUBACK, the connection ends, and the node sends again. */
  refuse(packet: UnderWay, { message }: Error): void {
    packet.isRefused = true;
    this.over(packet);
    this.components.onRefused("journal-not-writing", packet.node, message);
    if (typeof packet.answer === "number") this.components.socket.destroy();
    else packet.answer(refusedAlready(message));
    this.goOn();
  }

  private give(answer: Answer): void {
    if (typeof answer === "number") {
      if (this.acknowledged.length === 0) process.nextTick(() => this.flush());
      this.acknowledged.push(answer);
    } else {
      // The library writes its own: in their order.
      this.flush();
      answer();
    }
  }

  private flush(): void {
    const { acknowledged } = this;
    const { socket } = this.components;
    if (acknowledged.length === 0) return;
    this.acknowledged = [];
    if (socket.destroyed) return;
    socket.write(pubacks(acknowledged));
  }

  private over({ node, bytes, onOver }: UnderWay): void {
    this.waiting -= 1;
    this.oldestAtMs = this.components.now();
    this.components.intake.end(node, bytes);
    onOver?.();
  }
}
