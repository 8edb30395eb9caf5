import { compileLine, type Drum, drumsBehind, type Line } from "../line/index.ts";

/** Drums that a node watches: their floats, level, inlet or meter hang on it. */
export function drumsOnNode(line: Line, node: string): readonly Drum[] {
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
