import { fillIn } from "./fill-in.ts";

/** What a headline is made of. */
export interface Headlined {
  readonly condition: string;
  readonly subject: string;
  /** The condition's own words, for one that has no others. */
  readonly text: string;
}

/** The part of a catalogue that headlines are made with. */
interface HeadlineWords {
  readonly conditions: Readonly<Record<string, { readonly headline: string }>>;
  readonly names: { readonly node: string; readonly gateway: string };
}

/** An alarm in one line, its subject first: "After resin: letting salts through". `titleOf` names what it is about. */
export function headlineOf(
  { conditions, names }: HeadlineWords,
  { condition, subject, text }: Headlined,
  titleOf: (subject: string) => string,
): string {
  const known = Object.hasOwn(conditions, condition) ? conditions[condition] : undefined;
  const node = subject === "gateway" ? names.gateway : fillIn(names.node, { id: subject });
  const headline = known?.headline ?? `{subject}: ${text.charAt(0).toLowerCase()}${text.slice(1)}`;
  return fillIn(headline, { subject: titleOf(subject), node });
}
