import type { ComponentChildren } from "preact";

/** What stands at the end of a name tells two of them apart: it stays, up to so many letters. */
const maxEnd = 9;
/** A name of more letters may have no room on a phone. */
const longFrom = 24;

/** A name that is shortened in its middle where it has no room. */
function Short({ name }: { readonly name: string }) {
  const end = Math.max(name.lastIndexOf(" ") + 1, name.length - maxEnd);
  return (
    <span class="short">
      <span>{name.slice(0, end)}</span>
      <span>{name.slice(end)}</span>
    </span>
  );
}

/** A drum's name without the word "drum"; where it has no room it is shortened in its middle. */
export const DrumName = ({ title }: { readonly title: string }) => (
  <Short name={title.replace(/ drum$/i, "")} />
);

/** A whole name: a long one can be shortened where a phone has one row for it. */
export function WholeName({ title }: { readonly title: string }): ComponentChildren {
  return title.length > longFrom ? <Short name={title} /> : title;
}
