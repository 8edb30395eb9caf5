/** What a code means and what to do about it. */
export interface CodeText {
  readonly title: string;
  readonly todo: string;
}

/** A code's German: what it means, and what to do. */
export const text = (title: string, todo: string): CodeText => ({ title, todo });
