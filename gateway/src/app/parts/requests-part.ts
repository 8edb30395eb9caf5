import type { Broker } from "../../broker/index.ts";
import type { Journal } from "../../journal/index.ts";
import type { Line } from "../../line/index.ts";
import { nodeCell } from "../../readings/index.ts";
import type { Clock } from "../clock.ts";
import { definePart, type Giving } from "../parts.ts";
import { FloatAsks } from "../requests/float-asks.ts";
import { NodeRequests } from "../requests/node-requests.ts";
import { waitingEdges } from "../requests/waiting-edges.ts";
import type { RunningPath } from "./path-part.ts";

interface RequestsPartNeeds {
  readonly clock: Clock;
  readonly journal: Giving<Journal>;
  readonly path: Giving<RunningPath>;
  readonly broker: Giving<Broker>;
}

/** Asking, and who asks by itself. */
export interface RunningRequests {
  readonly requests: NodeRequests;
  readonly asks: FloatAsks;
}

/** What nodes are asked: a reading now, which one it is, how often they send. Answers are heard as they are journaled. */
export function requestsPart({ clock, journal, path, broker }: RequestsPartNeeds): Giving<RunningRequests> {
  return definePart("requests", {
    start() {
      const { pipeline } = path.it;
      const requests = new NodeRequests({
        site: (pipeline.line() as Line).site,
        engineMs: clock.engineMs,
        send: (topic, payload) => broker.it.ask(topic, payload),
        node(id) {
          const node = pipeline.board.get(nodeCell, id);
          return node
            ? { boot: node.boot, isOnline: node.online === true, requests: node.requests ?? [] }
            : null;
        },
      });
      journal.it.onCommitted((entries) => {
        for (const entry of entries)
          if (entry.kind === "message" && entry.topic.endsWith("/response"))
            requests.hear(entry.topic, entry.payload);
      });
      const asks = new FloatAsks({
        engineMs: clock.engineMs,
        ask: (node) => requests.ask(node, { kind: "report-now" }),
        node(id) {
          const node = pipeline.board.get(nodeCell, id);
          return {
            understands: node?.requests?.includes("report-now") === true,
            periodMs: node?.periodMs ?? null,
          };
        },
      });
      path.it.onFloatEdge((edge) => asks.take(edge));
      for (const edge of waitingEdges(pipeline.line() as Line, pipeline.board)) asks.take(edge);
      return { requests, asks };
    },
    stop({ requests, asks }) {
      asks.stop();
      requests.stop();
    },
  });
}
