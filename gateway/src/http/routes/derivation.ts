import type { FastifyInstance } from "fastify";
import { deriveSchema } from "../bodies.ts";
import type { HttpComponents } from "../components.ts";
import type { DerivationView } from "../contract.ts";
import { signedBy } from "../gate.ts";
import { bodyOf } from "../read-request.ts";
import { Refusal } from "../refusal.ts";
import { iso } from "../views.ts";

/** Derivations that may wait; those that wait together run as one. */
const maxWaiting = 20;

/** The past derived anew, beside what is live: asking for it, and how far it is. */
export function derivationRoutes(server: FastifyInstance, { derivation, now }: HttpComponents): void {
  function view(): DerivationView {
    const { running, waiting, failure } = derivation.state();
    return {
      running: running && { from: iso(running.fromMs), to: iso(running.toMs), percent: running.percent },
      waiting,
      failure,
    };
  }
  server.get("/api/derivation", async () => view());
  server.post("/api/derivation", async (request) => {
    const fromMs = Date.parse(bodyOf(deriveSchema, request.body).from);
    if (fromMs >= now()) throw new Refusal("body-not-understood", "from: it must be before now.");
    const { waiting } = derivation.state();
    if (waiting >= maxWaiting)
      throw new Refusal(
        "requests-too-many",
        `${waiting} derivations wait already; they run as one, from the earliest on.`,
      );
    derivation.askSince(fromMs, signedBy(request));
    return view();
  });
}
