/** A catalogue of the same shape in another language: what is missing, or too much, is not built. */
export type Translated<Words> = Words extends string
  ? string
  : Words extends (...given: infer Given) => string
    ? (...given: Given) => string
    : { readonly [Key in keyof Words]: Translated<Words[Key]> };

/** A sentence that counts, by the plural categories of English and German (Unicode CLDR: one, other). */
export interface Counting {
  readonly one: string;
  readonly other: string;
}
