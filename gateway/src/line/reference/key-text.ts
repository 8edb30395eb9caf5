/** What a person has to know of a key of the line file. What it takes comes from the schema itself. */
export interface KeyText {
  /** One or two sentences: what it is, and what `true` or a number in it means. */
  readonly what: string;
  /** Unit of a bare number, and units that may be written; where the key takes a quantity. */
  readonly unit?: string;
  /** What holds where the key is left out, in words; null where nothing does. */
  readonly otherwise?: string;
  /** As it stands in a file, one line of YAML. */
  readonly example: string;
}

/** Keys by their place in the file, each with its text. */
export type KeyTexts = readonly (readonly [path: string, text: KeyText])[];

/** A key of the line file, as the reference tells of it. */
export interface LineKey {
  /** Where it stands: `drums.*.volume`; `channel.scale` in whatever names a channel. `*` stands for a name. */
  readonly path: string;
  /** What may be written: "200 L", "automatic | manual", "node/channel". */
  readonly takes: string;
  readonly isNeeded: boolean;
  readonly what: string;
  readonly unit: string | null;
  /** What holds where it is left out; null where nothing does. */
  readonly otherwise: string | null;
  readonly example: string;
}

/** A part of the file with its keys. */
export interface LineKeySection {
  readonly title: string;
  readonly keys: readonly LineKey[];
}
