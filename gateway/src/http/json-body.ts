import type { FastifyInstance } from "fastify";
import { Refusal } from "./refusal.ts";

/** A string with the colon that makes it a key, another string, or a bracket: all that matters in a text that is JSON. */
const tokens = /("[^"\\]*(?:\\.[^"\\]*)*")(\s*:)?|[{}[\]]/gs;

/**
 * The first key that stands twice in one object of a JSON text; null when none does. RFC 8259 §4 leaves open which of the
 * two counts, so that two programs can read two different things in one text (RFC 7493 §2.3 forbids it).
 */
export function repeatedKey(json: string): string | null {
  const open: (Set<string> | null)[] = [];
  for (const [token, text, colon] of json.matchAll(tokens)) {
    if (token === "{") open.push(new Set());
    else if (token === "[") open.push(null);
    else if (token === "}" || token === "]") open.pop();
    else if (colon !== undefined) {
      const keys = open.at(-1);
      // "\u0061" is "a".
      const key = JSON.parse(text as string) as string;
      if (keys?.has(key)) return key;
      keys?.add(key);
    }
  }
  return null;
}

/** Reads JSON bodies as Fastify does (no `__proto__`), and refuses a key that stands twice. */
export function readJsonBodies(server: FastifyInstance): void {
  const parse = server.getDefaultJsonParser("error", "error");
  server.removeContentTypeParser("application/json");
  server.addContentTypeParser("application/json", { parseAs: "string" }, (request, body: string, done) => {
    parse(request, body, (error, value) => {
      const key = error ? null : repeatedKey(body);
      if (key === null) done(error, value);
      else done(new Refusal("body-not-understood", `"${key.slice(0, 60)}" stands twice in one object.`));
    });
  });
}
