/** What comes out of a bed, told by what went through. */
export interface Column {
  /** So many litres of the supply pass in a second (0: it stands); gives κ25 at the probe, uS/cm. */
  pass(litres: number, supply: number): number;
}

interface Bed {
  /** Litres after which half of the supply comes through, and over how many it goes from 27 to 73 %. */
  readonly halfL: number;
  readonly zoneL: number;
  /** κ25 of a fresh bed's water, uS/cm. */
  readonly leakage?: number;
  /** Water that stands in the vessel goes towards this κ25, by so many seconds a factor e. */
  readonly standing?: number;
  readonly standsS?: number;
  /** Water in the vessel and up to the probe, L. */
  readonly voidL?: number;
}

/**
 * A bed with a logistic breakthrough curve (Bohart and Adams, J. Am. Chem. Soc. 42 (1920) 523: c/c0 = 1/(1 + e^(K(V50 − V))))
 * and its water in four mixed cells one after the other.
 */
export function createColumn({
  halfL,
  zoneL,
  leakage = 0.2,
  standing = 0.2,
  standsS = 7200,
  voidL = 1,
}: Bed): Column {
  let throughL = 0;
  const cells = [leakage, leakage, leakage, leakage];
  return {
    pass(litres, supply) {
      if (litres <= 0) {
        const share = 1 - Math.exp(-1 / standsS);
        for (const [index, kappa] of cells.entries()) cells[index] = kappa + (standing - kappa) * share;
        return cells[3] as number;
      }
      throughL += litres;
      let into = leakage + (supply - leakage) / (1 + Math.exp((halfL - throughL) / zoneL));
      const share = 1 - Math.exp(-litres / (voidL / 4));
      for (const [index, kappa] of cells.entries()) {
        cells[index] = kappa + (into - kappa) * share;
        into = cells[index] as number;
      }
      return cells[3] as number;
    },
  };
}
