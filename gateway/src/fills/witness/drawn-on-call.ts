/** For how long of a fall water came in, ms, and when the fall was over. */
interface Meanwhile {
  readonly ms: number;
  readonly toMs: number;
}

/** The drum called while its level fell: what came in meanwhile is owed until its rise shows how fast. Plain data. */
export interface Owed extends Meanwhile {
  readonly blurMs: number;
  /** Where it stood before the one fall that made it; absent: more than one did, or a row of versions before. */
  readonly stoodL?: number;
  /** Falls before the last one. */
  readonly earlier?: readonly Meanwhile[];
}

/** What was owed is paid, by one reading of how low the drum was drawn: the rise will tell that better. Plain data. */
export interface Foot extends Meanwhile {
  /** Taken to have come in meanwhile, litres. */
  readonly cameL: number;
  /** Where it stood before; absent: more than one draw was made by then. */
  readonly stoodL?: number;
}
