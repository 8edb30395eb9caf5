import type { OnRefused } from "./broker.ts";
import type { Connection } from "./connection.ts";
import { refusedAlready } from "./connection-faults.ts";
import type { Intake } from "./intake.ts";

interface AnswersComponents {
  readonly intake: Intake;
  readonly now: () => number;
  readonly onRefused: OnRefused;
}

/** A packet of a signed-in node on its way to the disk. */
interface UnderWay {
  readonly connection: Connection;
  readonly node: string;
  readonly written: Promise<unknown>;
  readonly bytes: number;
}

/** Answers once written and once every earlier packet of the connection has its answer; refused ones count too. */
export function answerInOrder(
  { intake, now, onRefused }: AnswersComponents,
  { connection, node, written, bytes }: UnderWay,
  callback: (error?: Error | null) => void,
): void {
  if (connection.pending === 0) connection.oldestPendingAtMs = now();
  connection.pending += 1;
  intake.begin(node, bytes);
  const earlier = connection.last;
  const ended = () => {
    connection.pending -= 1;
    connection.oldestPendingAtMs = now();
    intake.end(node, bytes);
  };
  connection.last = written
    .then(() => earlier)
    .then(
      () => {
        callback();
        ended();
      },
      (error: unknown) => {
        ended();
        const message = error instanceof Error ? error.message : String(error);
        onRefused("journal-not-writing", node, message);
        // No PUBACK: the connection ends, and the node sends again.
        callback(refusedAlready(message));
      },
    );
}
