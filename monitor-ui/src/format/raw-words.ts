import { figure } from "./numbers.ts";

/** Units of the wire (SenML, RFC 8428) as people read them on a line, and what one of them is in those. */
const readAs: Readonly<Record<string, readonly [unit: string, factor: number]>> = {
  "S/m": ["µS/cm", 10_000],
  Cel: ["°C", 1],
  "m3/s": ["L/min", 60_000],
  "l/s": ["L/min", 60],
  m3: ["L", 1000],
  l: ["L", 1],
  Pa: ["bar", 1e-5],
  A: ["mA", 1000],
};

/** What a channel without a place says, as somebody at the line knows it: 0.0412 S/m is "412 µS/cm". */
export function rawWords(value: number, unit: string | null): string {
  const known = unit !== null && Object.hasOwn(readAs, unit) ? readAs[unit] : undefined;
  if (!known) return `${figure(value)} ${unit ?? ""}`.trim();
  // What the factor itself leaves behind the point says nothing.
  return `${figure(Number((value * known[1]).toPrecision(9)))} ${known[0]}`;
}
