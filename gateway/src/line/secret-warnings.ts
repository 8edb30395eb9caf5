import type { Line } from "./line.ts";
import type { Warn } from "./warn.ts";

const namesKey = /token|key|secret|passw|auth|signature|^sig$|cookie/i;
const named = /\{secret:[a-z0-9-]+\}/;

/** Letters and digits mixed, too long for a word: nobody chose it, and whoever knows it is let in. */
const looksDrawn = (text: string): boolean =>
  /^[\w.~-]{16,}$/.test(text) && /\d/.test(text) && /[a-z]/i.test(text) && !/^\d{4}-\d\d-\d\d/.test(text);

/** Whether a key stands in an address as it is: before its host, as a part of its path, or behind its question mark. */
function holdsKey(address: string): boolean {
  const { username, password, pathname, searchParams } = new URL(address);
  if (username !== "" || password !== "") return true;
  // Braces of {secret:…} are escaped in a path.
  if (pathname.split("/").some((part) => !/%7Bsecret:/i.test(part) && looksDrawn(part))) return true;
  return [...searchParams].some(
    ([name, value]) => value !== "" && !named.test(value) && (namesKey.test(name) || looksDrawn(value)),
  );
}

const instead =
  "Write {secret:NAME} in its place, and the key itself into the file secrets/NAME of the data folder.";

/** Warns of keys of others that stand in the file itself: whoever may look at the line reads them. */
export function warnOfSecrets({ notify }: Line, warn: Warn): void {
  const tell = (path: readonly string[], what: string) =>
    warn(
      "key-in-line-file",
      path,
      `${what} looks like a key: whoever may look at the line can read it, and it goes into each copy and export.`,
      instead,
    );
  for (const { id, way } of notify.destinations) {
    if (way.kind !== "webhook") continue;
    const path = ["notify", "to", id, "webhook"];
    if (holdsKey(way.webhook.url)) tell(path, `What stands in the address of ${id}`);
    for (const [name, value] of way.webhook.headers)
      if (!named.test(value) && (namesKey.test(name) || looksDrawn(value.replace(/^\w+ /, ""))))
        tell([...path, "headers", name], `The header ${name} of ${id}`);
  }
  const get = notify.heartbeat?.get;
  if (get && holdsKey(get)) tell(["notify", "heartbeat", "get"], "What stands in the heartbeat's address");
}
