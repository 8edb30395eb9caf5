import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";

/** What a life depends on: the pure rooms with the path, the simulator, and what describes a life. */
const rooms = [
  "../../gateway/src/quantities",
  "../../gateway/src/statistics",
  "../../gateway/src/water",
  "../../gateway/src/line",
  "../../gateway/src/acts",
  "../../gateway/src/path",
  "../../gateway/src/readings",
  "../../gateway/src/measurements",
  "../../gateway/src/fills",
  "../../gateway/src/trends",
  "../../gateway/src/alarms",
  "../../gateway/src/nights",
  "../../gateway/src/simulator",
  ".",
];
/** What only shares out lives and counts them. */
const aside =
  /^\.\/(run|runner-options|kept-lives|code-mark|expected|fault-row|other-row|results|results-page|write-results|.*\.test)\.ts$/;

/** Names the code that a life was lived with: lives of another one are not counted with it. */
export function codeMark(): string {
  const hash = createHash("sha256");
  for (const room of rooms) {
    const files = readdirSync(new URL(`${room}/`, import.meta.url), { recursive: true, encoding: "utf8" });
    for (const file of files.filter((name) => name.endsWith(".ts")).sort()) {
      const path = `${room}/${file}`;
      if (!aside.test(path)) hash.update(path).update(readFileSync(new URL(path, import.meta.url)));
    }
  }
  return hash.digest("hex").slice(0, 12);
}
