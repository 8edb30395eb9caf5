/** What is in a drum, as far as it was watched: ideally mixed. Plain JSON. */
export interface Contents {
  /** Litres in it by what came in since it was known to be empty; draws may have made it less. Null: not known. */
  readonly litres: number | null;
  /** Mean reference conductivity of the watched part, uS/cm. */
  readonly blend25: number | null;
  /** Share that nobody watched, 0 to 1. */
  readonly unwatched: number;
}

/** Nothing is known of what is in the drum. */
export const unknownContents: Contents = { litres: null, blend25: null, unwatched: 1 };
/** The drum is empty. */
export const emptyContents: Contents = { litres: 0, blend25: null, unwatched: 0 };

/** What came in with a fill. */
export interface CameIn {
  readonly litres: number;
  readonly watched: number;
  readonly mean25: number | null;
}

/** The contents after a fill came to `beforeL` litres: conductivities add up by volume in dilute water. */
export function blended(contents: Contents, beforeL: number, cameIn: CameIn): Contents {
  const totalL = beforeL + cameIn.litres;
  if (!(totalL > 0)) return contents;
  const knownBeforeL = contents.blend25 === null ? 0 : beforeL * (1 - contents.unwatched);
  const knownInL = cameIn.mean25 === null ? 0 : cameIn.litres * cameIn.watched;
  const knownL = knownBeforeL + knownInL;
  return {
    litres: totalL,
    blend25:
      knownL > 0 ? ((contents.blend25 ?? 0) * knownBeforeL + (cameIn.mean25 ?? 0) * knownInL) / knownL : null,
    unwatched: Math.min(1, Math.max(0, 1 - knownL / totalL)),
  };
}
