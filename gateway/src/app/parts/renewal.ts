import { basename } from "node:path";
import type { FileFault } from "../../database/index.ts";
import type { Journal } from "../../journal/index.ts";
import { good, type Health } from "../parts.ts";

/** What is wrong with a file, in words that go on after its name. */
export function faultWords({ why, aside }: Pick<FileFault, "why" | "aside">): string {
  const away = aside === null ? "" : ` and is set aside as ${basename(aside)}`;
  switch (why) {
    case "missing":
      return "was missing or empty";
    case "damaged":
      return `was damaged${away}`;
    case "unreadable":
      return `can't be read by this user${away}`;
    case "copied":
      return `was another user's${away}; a copy is used`;
    case "newer":
      return "was written by a newer Drumlin and stays as it is";
  }
}

/** What becomes of a store's file that can't be used as it is: said by its name, and made again from the journal. */
export function createRenewal(file: string, log: (message: string) => void) {
  let health = good;
  return {
    /** Before a fresh file is begun: a start that is cut off meanwhile runs the journal again too. */
    before(journal: Journal, fault: FileFault): void {
      const isFirst = journal.lastSeq === 0;
      if (!fault.isWhole) journal.forgetCheckpoint();
      if (isFirst && fault.why === "missing") return;
      const meanwhile = fault.why === "newer" ? `; ${basename(fault.used)} is used meanwhile` : "";
      const since = journal.firstSeq <= 1 ? "" : `, from its entry ${journal.firstSeq} on`;
      const made = fault.isWhole ? "" : `; it was made again from the journal${since}`;
      const text = `${file} ${faultWords(fault)}${meanwhile}${made}`;
      log(text);
      health = { state: "degraded", text };
    },
    /** A file was made again from itself while it was used. */
    meanwhile(fault: FileFault): void {
      const text = `${file} ${faultWords(fault)}; what could be read was kept, the rest is made again from the journal at the next start`;
      log(text);
      health = { state: "degraded", text };
    },
    /** Degraded until the next start: somebody should look at the disk. */
    health: (): Health => health,
  };
}
