/** What the gateway gives as a reason for a drum's word, as it stands on a card. One that is not known here stays as it came. */
const shorter: readonly (readonly [RegExp, string])[] = [
  [/^water over the limit of (\S+ µS\/cm) came in \(.+\)$/, "over $1 came in"],
  [
    /^no fill was seen yet: what is in it came before the watch began$/,
    "no fill seen yet: this water is older than the watch",
  ],
  [/^(\d+ %) of what is in it was not watched as it came in$/, "$1 of it came in unwatched"],
  [/^the blend is (\S+ µS\/cm), over this drum's (\S+)$/, "$1 on average, over this drum's $2"],
  [
    /^at worst it is (\S+ µS\/cm), over this drum's (\S+): (\d+ %) was not watched as it came in$/,
    "$3 of it came in unwatched: at worst $1",
  ],
  [/^nothing was heard of this drum yet$/, "nothing heard of this drum yet"],
];

/** A reason in the words of the page. */
export function reasonOfWord(reason: string): string {
  for (const [pattern, words] of shorter) if (pattern.test(reason)) return reason.replace(pattern, words);
  return reason;
}
