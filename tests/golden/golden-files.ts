import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { gunzipSync, gzipSync } from "node:zlib";
import type { Projection, Section } from "./projection.ts";

const fileAt = (name: string) => new URL(name, import.meta.url);

/** Digests of one life's sections. */
export type Digests = Readonly<Record<Section, string>>;

/** Why lives no longer give what they gave, and what they give instead. */
export interface Agreed {
  /** The fault that was ended, in words: "R.2: an overflow alarm was lost over two changes of the line". */
  readonly fault: string;
  /** By seed: the digests of the sections that changed. */
  readonly lives: Readonly<Record<string, Partial<Digests>>>;
}

/** The commit whose path the golden lives were made with. */
export const goldenCommit = "5973d35";

/** Lives in all, and those of them whose whole text is kept as well. */
export const lifeCount = 200;
export const isKeptWhole = (seed: number): boolean => seed % 10 === 3;

const readJson = <Value>(name: string): Value => JSON.parse(readFileSync(fileAt(name), "utf8")) as Value;
const writeJson = (name: string, value: unknown) =>
  writeFileSync(fileAt(name), `${JSON.stringify(value, null, 1)}\n`);

/** Digests by seed, as the golden commit gave them. */
export const readDigests = (): Record<string, Digests> => readJson("digests.json");
export const writeDigests = (digests: Record<string, Digests>) => writeJson("digests.json", digests);

/** Differences that were agreed on since, oldest first; the later one of a life and section is in force. */
export const readAgreed = (): readonly Agreed[] =>
  existsSync(fileAt("agreed.json")) ? readJson("agreed.json") : [];
export const writeAgreed = (agreed: readonly Agreed[]) => writeJson("agreed.json", agreed);

/** The whole text of a life that is kept whole. */
export const readWhole = (seed: number): Projection =>
  JSON.parse(gunzipSync(readFileSync(fileAt(`lives/${seed}.json.gz`))).toString()) as Projection;
export const writeWhole = (seed: number, projection: Projection) =>
  writeFileSync(fileAt(`lives/${seed}.json.gz`), gzipSync(JSON.stringify(projection), { level: 9 }));

/** What a life must give now: as it was, but for what was agreed on. */
export function expectedOf(seed: number, golden: Digests, agreed: readonly Agreed[]): Digests {
  return Object.assign({}, golden, ...agreed.map(({ lives }) => lives[seed] ?? {})) as Digests;
}
