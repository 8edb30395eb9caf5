// Appends as fast as it can and prints the seq of each entry once it is on disk, until it is killed.
import { openJournal } from "@drumlin/gateway/journal";

const [folder] = process.argv.slice(2);
const journal = await openJournal({ folder: folder as string, now: Date.now });
let sent = 0;
async function one(): Promise<void> {
  for (;;) {
    sent += 1;
    const seq = await journal.append({
      kind: "message",
      topic: "t",
      payload: new TextEncoder().encode(`pack ${sent}`),
    });
    process.stdout.write(`${seq}\n`);
  }
}
await Promise.all(Array.from({ length: 50 }, one));
