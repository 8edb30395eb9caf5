import { compileLine, type Drum, drumsBehind, type Line } from "../line/index.ts";
import { drumsJudgedOn } from "./judged-probe.ts";

/** Drums that a node has to do with. */
export interface NodeDrums {
  /** It watches whether they flood: their floats, level, inlet or meter hang on it. */
  readonly watched: readonly Drum[];
  /** Those, and the ones of which its probes judge the water. */
  readonly all: readonly Drum[];
}

/** Drums that a node watches: their floats, level, inlet or meter hang on it. */
function drumsWatchedOn(line: Line, node: string): readonly Drum[] {
  const own = new Set(
    compileLine(line)
      .slotsOfNode.get(node)
      ?.map(({ channel }) => channel),
  );
  // A meter on the way watches every drum behind it.
  const behind = new Set(
    [
      ...line.stages.map(({ to, flow }) => ({ at: to, flow })),
      ...line.points.map(({ id, flow }) => ({ at: id, flow })),
    ]
      .filter(({ flow }) => flow && own.has(flow))
      .flatMap(({ at }) => drumsBehind(line, at)),
  );
  return line.drums.filter(
    (drum) =>
      behind.has(drum) ||
      [
        ...drum.floats.map(({ channel }) => channel),
        drum.level?.channel,
        drum.inlet?.channel,
        drum.flow,
      ].some((channel) => channel && own.has(channel)),
  );
}

/** Drums of a node, in the line's order. */
export function drumsOfNode(line: Line, node: string): NodeDrums {
  const watched = drumsWatchedOn(line, node);
  const judged = drumsJudgedOn(line, node);
  return { watched, all: line.drums.filter((drum) => watched.includes(drum) || judged.includes(drum)) };
}
