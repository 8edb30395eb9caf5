interface TickProps {
  /** Of the chart's width, from its left, percent. */
  readonly at: number;
  readonly words: string;
}

/** Nearer to an end than this a time stands beside its place, not over it: else it is cut there, on paper wholly. Percent. */
const edge = 3;

/** What stands under a round time of a chart. */
export function Tick({ at, words }: TickProps) {
  return (
    <span class={at < edge ? "first" : at > 100 - edge ? "last" : ""} style={{ "--at": `${at}%` }}>
      {words}
    </span>
  );
}
