export type Says = Record<string, unknown>;

/** What a bed or a sieve gives. */
export interface Feed {
  kappa: number;
  flow: number;
  q: number;
  /** Counted since its board's start, L. */
  total: number;
  meter: (perMin: number) => number | null;
  probe: (kappa: number) => number | null;
}

/** A board: how often it speaks, what its link does, and a clock that runs a little fast. */
export class Board {
  boot = 3;
  startS = -700;
  seq = 0;
  everyS: number;
  phaseS: number;
  link: "on" | "kept" | "lost" | "off" = "on";
  counts = false;
  readonly base: Record<string, number> = {};
  /** It tells absolute times, by a clock that is off by so many s; null: by none. */
  clockS: number | null = null;
  readonly kept: Says[][] = [];
  constructor(everyS: number, phaseS: number) {
    this.everyS = everyS;
    this.phaseS = phaseS;
  }
}
