import type { FastifyInstance, FastifyRequest } from "fastify";
import { quantityUnits } from "../../line/index.ts";
import type { HttpComponents } from "../components.ts";
import { type Query, timeOf, wholeOf } from "../read-request.ts";
import { Refusal } from "../refusal.ts";

/** Series of points and drums in buckets. */
export function seriesRoutes(server: FastifyInstance, components: HttpComponents): void {
  type SeriesRequest = FastifyRequest<{
    Params: { id: string };
    Querystring: Query;
  }>;
  const seriesOf = (kind: "point" | "drum") => async (request: SeriesRequest) => {
    const { id } = request.params;
    const line = components.line();
    const known = kind === "point" ? line?.points : line?.drums;
    if (!known?.some((candidate) => candidate.id === id))
      throw new Refusal("point-unknown", `There is no ${kind} ${id}.`);
    const quantity = request.query.quantity ?? (kind === "point" ? "conductivity25" : "volume");
    if (!Object.hasOwn(quantityUnits, quantity))
      throw new Refusal(
        "query-not-understood",
        `quantity must be one of ${Object.keys(quantityUnits).join(", ")}.`,
      );
    const to = timeOf(request.query.to, components.now(), "to");
    const from = timeOf(request.query.from, to - 6 * 3_600_000, "from");
    if (!(from < to)) throw new Refusal("query-not-understood", "from must be before to.");
    const buckets = wholeOf("buckets", request.query.buckets, { otherwise: 300, min: 1, max: 2000 });
    const subject = quantity === "flow" && kind === "point" ? "flow" : kind;
    return {
      unit: quantityUnits[quantity as keyof typeof quantityUnits],
      ...(await components.series.buckets(`${subject}/${id}/${quantity}`, from, to, buckets)),
    };
  };
  server.get("/api/points/:id/series", seriesOf("point"));
  server.get("/api/drums/:id/series", seriesOf("drum"));
}
