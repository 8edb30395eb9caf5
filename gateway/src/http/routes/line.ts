import type { FastifyInstance, FastifyRequest } from "fastify";
import { lineReference, nodeOf } from "../../line/index.ts";
import { languages } from "../../words/index.ts";
import {
  assignSchema,
  limitSetSchema,
  lineEditSchema,
  lineFileSaveSchema,
  lineTextSchema,
} from "../bodies.ts";
import type { HttpComponents, LineFileSaved } from "../components.ts";
import { signedBy } from "../gate.ts";
import type { HeavyWork } from "../heavy-work.ts";
import { assignChannel, lineDrawing, linePictures } from "../line-drawing.ts";
import { noteLineChanges } from "../note-line-changes.ts";
import { bodyOf, type Query } from "../read-request.ts";
import { Refusal } from "../refusal.ts";

/** The line as it is now. */
export function lineRoutes(server: FastifyInstance, components: HttpComponents, work: HeavyWork): void {
  server.get("/api/line", async () => {
    const view = components.lineView();
    if (!view) throw new Refusal("not-ready", "No line is in force yet.");
    return view;
  });

  const saved = (request: FastifyRequest, result: LineFileSaved) => {
    if (!result.ok) throw new Refusal(result.code, result.message);
    noteLineChanges(components.accounts, signedBy(request), result.changes);
    return { version: result.version, faults: result.faults };
  };
  server.get("/api/line/file", async () => {
    try {
      return await components.lineFile.read();
    } catch (error) {
      throw new Refusal("line-file-not-usable", error instanceof Error ? error.message : String(error));
    }
  });
  server.get<{ Querystring: Query }>("/api/line/reference", async ({ query }) => {
    const language = languages.find((one) => one === (query.language ?? "en"));
    if (!language) throw new Refusal("query-not-understood", `language must be ${languages.join(" or ")}.`);
    return { sections: lineReference(language) };
  });
  server.get("/api/line/pictures", async () => linePictures(components));
  server.get("/api/line/drawing", async () => lineDrawing(components));
  server.post("/api/line/edit", async (request) => {
    const { edits, version } = bodyOf(lineEditSchema, request.body);
    return saved(request, await components.lineFile.edit(edits, version));
  });
  server.post("/api/line/check", async (request) => {
    const { yaml } = bodyOf(lineTextSchema, request.body);
    return work.run(signedBy(request), { kind: "check", yaml });
  });
  server.post("/api/line/file", async (request) => {
    const { yaml, version } = bodyOf(lineFileSaveSchema, request.body);
    return saved(request, await components.lineFile.save(yaml, version));
  });
  server.post("/api/line/limits", async (request) => {
    const { condition, subject, limit, version } = bodyOf(limitSetSchema, request.body);
    return saved(request, await components.lineFile.setLimit(condition, subject, limit, version));
  });
  server.post<{ Params: { id: string } }>("/api/nodes/:id/assign", async (request) => {
    const asked = bodyOf(assignSchema, request.body);
    const { channel } = asked;
    if (nodeOf(channel) !== request.params.id)
      throw new Refusal(
        "no-such-channel",
        `${channel.slice(0, 100)} is no channel of ${request.params.id.slice(0, 63)}.`,
      );
    return saved(request, await assignChannel(components, asked));
  });
  server.post("/api/line/reload", async (request) => saved(request, await components.lineFile.reload()));
}
