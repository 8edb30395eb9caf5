import type { FastifyInstance } from "fastify";
import { readLine } from "../../line/index.ts";
import type { HttpComponents, LineFileSaved } from "../components.ts";
import { limitSetSchema, lineFileSaveSchema, lineTextSchema } from "../contract.ts";
import { bodyOf } from "../read-request.ts";
import { Refusal } from "../refusal.ts";

/** The line as it is now. */
export function lineRoutes(server: FastifyInstance, components: HttpComponents): void {
  server.get("/api/line", async () => {
    const view = components.lineView();
    if (!view) throw new Refusal("not-ready", "No line is in force yet.");
    return view;
  });

  const saved = (result: LineFileSaved) => {
    if (!result.ok) throw new Refusal(result.code, result.message);
    return { version: result.version, faults: result.faults };
  };
  server.get("/api/line/file", async () => components.lineFile.read());
  server.post("/api/line/check", async (request) => {
    const { yaml } = bodyOf(lineTextSchema, request.body);
    const read = readLine(yaml);
    return { ok: read.ok, faults: read.faults };
  });
  server.post("/api/line/file", async (request) => {
    const { yaml, version } = bodyOf(lineFileSaveSchema, request.body);
    return saved(await components.lineFile.save(yaml, version));
  });
  server.post("/api/line/limits", async (request) => {
    const { condition, subject, limit, version } = bodyOf(limitSetSchema, request.body);
    return saved(await components.lineFile.setLimit(condition, subject, limit, version));
  });
  server.post("/api/line/reload", async () => saved(await components.lineFile.reload()));
}
