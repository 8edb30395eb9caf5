import type { Broker } from "../../broker/index.ts";
import type { Line } from "../../line/index.ts";
import { definePart, type Giving, type Part } from "../parts.ts";
import { createRetainedOutputs } from "../retained-outputs.ts";
import type { RunningHttp } from "./http-part.ts";
import type { RunningPath } from "./path-part.ts";

/** What other programs read on the broker. */
export function outputsPart(
  path: Giving<RunningPath>,
  broker: Giving<Broker>,
  http: Giving<RunningHttp>,
): Part {
  return definePart("outputs", {
    start() {
      const { pipeline, live } = path.it;
      return createRetainedOutputs({
        site: (pipeline.line() as Line).site,
        broker: broker.it,
        lineView: () => live.lineView(),
        standing: http.it.standing,
        subscribe: (listener) => live.subscribe(listener),
      });
    },
    stop: (outputs) => outputs.stop(),
  });
}
