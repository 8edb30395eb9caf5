/** The line files of the houses whose lives are kept. Channels are the same in all, so that one model serves them. */
const points = `points:
  supply: { conductivity: press/ec-1, temperature: press/t-1 }
  after-resin: { conductivity: press/ec-2, temperature: press/t-2 }
`;
const floats = "stop: drums/stop, floats: { overflow: drums/over }";
const resin = "kind: resin, from: after-carbon, to: after-resin, vessel: 2 L, pipe: 0.2 L";
const head = "drumlin: 1\nsite: saltmarsh-house\n";

/** A meter behind resin, two drums, both with overflow floats. */
export const metered = `${head}${points}stages:
  carbon: { kind: carbon, from: supply, to: after-carbon }
  resin: { ${resin}, flow: press/flow-1 }
drums:
  fresh: { volume: 200 L, fed_by: after-carbon, control: automatic, stop: drums/fresh-stop, level: { channel: drums/fresh-level, as: volume } }
  mix: { volume: 200 L, fed_by: after-resin, control: automatic, ${floats} }
`;
/** A level in the drum and a stop float of known trip volume; the drum feeds by itself. */
export const levelled = `${head}${points}stages:
  carbon: { kind: carbon, from: supply, to: after-carbon }
  resin: { ${resin} }
drums:
  mix: { volume: 200 L, fed_by: after-resin, control: automatic, feeds: automatic, stop: { channel: drums/stop, trips_at: 160 L }, floats: { overflow: drums/over }, level: { channel: drums/level, as: volume } }
`;
/** The smallest kit: two probes, one temperature, one float. */
export const smallest = `${head}points:
  supply: { conductivity: press/ec-1, temperature: press/t-1 }
  after-resin: { conductivity: press/ec-2 }
stages:
  carbon: { kind: carbon, from: supply, to: after-carbon }
  resin: { kind: resin, from: after-carbon, to: after-resin }
drums:
  mix: { volume: 200 L, fed_by: after-resin, control: automatic, stop: drums/stop }
`;
/** An inlet contact, a drum that a person fills, a probe with a coarse step. */
export const byHand = `${head}points:
  supply: { conductivity: press/ec-1, temperature: press/t-1 }
  after-resin: { conductivity: { channel: press/ec-2, resolution: 0.5 uS/cm }, temperature: press/t-2 }
stages:
  carbon: { kind: carbon, from: supply, to: after-carbon }
  resin: { ${resin} }
drums:
  fresh: { volume: 200 L, fed_by: after-carbon, control: manual, stop: drums/fresh-stop }
  mix: { volume: 200 L, fed_by: after-resin, control: automatic, ${floats}, inlet: { channel: drums/inlet, open: true }, target: { conductivity: 6 uS/cm } }
`;

/** Every house, in the order in which seeds take them. */
export const houses = [metered, levelled, smallest, byHand] as const;

/** The same house with something changed, as a keeper would: its limit, a drum taken out, or a channel moved. */
export function changedLine(line: string, how: "limit" | "drum-out" | "channel-moved"): string {
  if (how === "limit") return `${line}limits: { resin-breakthrough: { limit: 12 } }\n`;
  if (how === "channel-moved") return line.replace("press/ec-2", "press/ec-9");
  return line.replace(/^ {2}mix: .*\n/m, "  spare: { volume: 100 L, fed_by: after-resin }\n");
}
