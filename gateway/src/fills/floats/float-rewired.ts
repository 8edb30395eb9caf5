import type { Drum, Float, Line } from "../../line/index.ts";

/**
 * Floats of which another contact tells from now on, or the same one the other way round, with their drums: what the old one
 * said last and the new one says first is no edge, and no water came between.
 */
export function rewiredFloats(line: Line, was: Line | null): readonly { drum: Drum; float: Float }[] {
  const before = new Map(
    was?.drums.flatMap(({ floats }) => floats.map((float) => [float.id, float] as const)),
  );
  return line.drums.flatMap((drum) =>
    drum.floats.flatMap((float) => {
      const old = before.get(float.id);
      const isSame = !old || (old.channel === float.channel && old.wetWhen === float.wetWhen);
      return isSame ? [] : [{ drum, float }];
    }),
  );
}
