/** What stands at the end of a name tells two of them apart: it stays, up to so many letters. */
const maxEnd = 9;

/** A drum's name without the word "drum"; where it has no room it is shortened in its middle. */
export function DrumName({ title }: { readonly title: string }) {
  const name = title.replace(/ drum$/i, "");
  const end = Math.max(name.lastIndexOf(" ") + 1, name.length - maxEnd);
  return (
    <span class="short">
      <span>{name.slice(0, end)}</span>
      <span>{name.slice(end)}</span>
    </span>
  );
}
