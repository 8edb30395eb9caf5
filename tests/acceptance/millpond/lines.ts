/** What a vat is fitted with, and how its line file tells of it. */
export interface Kit {
  readonly meter?: boolean;
  readonly level?: boolean;
  readonly manual?: boolean;
  /** Its inlet says whether it is open. */
  readonly inlet?: boolean;
  readonly overflow?: boolean;
  /** A salt vat with a probe in it. */
  readonly salt?: boolean;
  /** Keys of its stop float, such as where it trips. */
  readonly float?: string;
  readonly medium?: "resin" | "membrane";
  readonly taps?: boolean;
  readonly vats?: readonly string[];
  /** A second feed with a vat of its own, behind a membrane. */
  readonly beside?: boolean;
  readonly slow?: boolean;
  readonly band?: number;
  readonly limit?: number;
  readonly zone?: string;
  readonly feeds?: boolean;
}

function vatOf(name: string, kit: Kit, point: string) {
  const keys = [
    "volume: 200 L",
    `fed_by: ${point}`,
    `control: ${kit.manual ? "manual" : "automatic"}`,
    `stop: { channel: yard/up-${name}${kit.float ? `, ${kit.float}` : ""} }`,
    ...(kit.overflow ? [`floats: { overflow: yard/over-${name} }`] : []),
    ...(kit.level ? [`level: { channel: yard/l-${name}, as: volume }`] : []),
    ...(kit.inlet ? [`inlet: { channel: yard/in-${name} }`] : []),
    ...(kit.salt ? [`holds: salt, conductivity: yard/ec-${name}, temperature: yard/t-${name}`] : []),
    ...(kit.salt ? ["target: { salinity: 35 }"] : []),
    ...(kit.band ? [`target: { conductivity: ${kit.band} uS/cm }`] : []),
    ...(kit.feeds ? ["feeds: automatic"] : []),
  ];
  return `  ${name}: { ${keys.join(", ")} }`;
}

/** The line file of a kit. */
export function lineOf(kit: Kit): string {
  const taps = kit.taps === undefined ? "" : `, taps: ${kit.taps}`;
  const flow = (id: string) => (kit.meter ? `, flow: { channel: wall/q-${id}${taps} }` : "");
  const vessel = kit.medium === "membrane" ? "kind: membrane" : "kind: resin, vessel: 2 L, pipe: 0.2 L";
  const limit = kit.limit ? `, limit: ${kit.limit} uS/cm` : "";
  const points = [
    "  tapwater: { conductivity: wall/ec-0, temperature: wall/t-0 }",
    "  charred: {}",
    `  good: { conductivity: wall/ec-a, temperature: wall/t-a${limit} }`,
    ...(kit.beside ? ["  sieved: { conductivity: wall/ec-b, temperature: wall/t-b }"] : []),
  ];
  const stages = [
    "  char: { kind: carbon, from: tapwater, to: charred }",
    `  bed: { ${vessel}, from: charred, to: good${flow("a")} }`,
    ...(kit.beside ? [`  sieve: { kind: membrane, from: charred, to: sieved${flow("b")} }`] : []),
  ];
  const vats = [
    ...(kit.vats ?? ["vat"]).map((name) => vatOf(name, kit, "good")),
    ...(kit.beside ? [vatOf("keg", kit, "sieved")] : []),
  ];
  return `drumlin: 1
site: saltmarsh-house
${kit.zone ? `timezone: ${kit.zone}\n` : ""}points:\n${points.join("\n")}
stages:\n${stages.join("\n")}
drums:\n${vats.join("\n")}
`;
}

export const meter: Kit = { meter: true };
export const level: Kit = { level: true };
export const both: Kit = { meter: true, level: true };
export const float: Kit = {};
export const inlet: Kit = { inlet: true };
export const slow = (kit: Kit): Kit => ({ ...kit, slow: true });
export const byHand = (kit: Kit): Kit => ({ ...kit, manual: true });
