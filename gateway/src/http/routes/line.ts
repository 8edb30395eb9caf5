import type { FastifyInstance } from "fastify";
import type { HttpComponents } from "../components.ts";
import { Refusal } from "../refusal.ts";

/** The line as it is now. */
export function lineRoutes(server: FastifyInstance, components: HttpComponents): void {
  server.get("/api/line", async () => {
    const view = components.lineView();
    if (!view) throw new Refusal("not-ready", "No line is in force yet.");
    return view;
  });
}
