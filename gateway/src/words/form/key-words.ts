/** A key of the line file in another language: what it is, and what holds where it is left out. */
export interface KeyWords {
  readonly what: string;
  readonly otherwise?: string;
}
