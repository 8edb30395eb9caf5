import type { DrumView, LineView, PointView } from "@drumlin/gateway/contract";

/** A value older than this is shown as missing, ms: the gateway's own rule for what it still gives out. */
export const staleMs = 100_000;

/** When a node that is away was last heard, epoch ms; null while it is not known to be away. */
function awaySince(line: LineView | null, channel: string | undefined): number | null {
  const node = line?.nodes.find(({ id }) => id === channel?.split("/")[0]);
  return node?.online === false && node.lastSeen !== null ? Date.parse(node.lastSeen) : null;
}

/** When a point that is silent now was last heard, epoch ms; null while it is heard, or never was. */
export function pointSilentSince(line: LineView | null, point: PointView, nowMs: number): number | null {
  if (!point.hasProbe || point.conductivity25.at === null) return null;
  const atMs = Date.parse(point.conductivity25.at);
  if (nowMs - atMs > staleMs) return atMs;
  return awaySince(line, point.probe?.channel) === null ? null : atMs;
}

/** When a drum that nothing tells about now was last heard: its level or the water that feeds it, the older; epoch ms or null. */
export function drumSilentSince(line: LineView | null, drum: DrumView, nowMs: number): number | null {
  const feeding = line?.points.find(({ id }) => id === drum.fedBy);
  const levelAtMs = drum.volume.at === null ? null : Date.parse(drum.volume.at);
  const silent = [
    levelAtMs !== null && nowMs - levelAtMs > staleMs ? levelAtMs : null,
    feeding ? pointSilentSince(line, feeding, nowMs) : null,
  ].filter((atMs) => atMs !== null);
  return silent.length === 0 ? null : Math.min(...silent);
}
