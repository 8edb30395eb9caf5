import type { Results } from "./results.ts";

type FaultResult = Results["faults"][number];
type CalmResult = Results["calm"][number];
type OtherResult = Results["others"][number];
type QuietResult = Results["quiet"][number];

const row = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
const table = (head: readonly string[], rows: readonly (readonly string[])[]) =>
  [row(head), row(head.map(() => "---")), ...rows.map(row)].join("\n");

const minutes = (value: number | null) => (value === null ? "–" : `${value} min`);
const percent = (share: number | null) => (share === null ? "–" : `${Math.round(1000 * share) / 10} %`);
const worseOf = ({ worse }: { readonly worse: readonly string[] }) =>
  worse.length === 0 ? "as expected" : worse.join("; ");

const faultCells = (one: FaultResult): readonly string[] => [
  one.fault,
  `${one.seen} of ${one.seeds}`,
  `${one.told} of ${one.seeds}`,
  one.told === 0 ? "–" : `${minutes(one.minutesToTell)} (${minutes(one.minutesToTellP90)})`,
  one.floods === 0 ? "–" : `${one.floods} of ${one.seeds}`,
  `${one.litresOnFloor} L`,
  worseOf(one),
];
const faultHead = [
  "fault",
  "seen",
  "somebody called",
  "fault to call, median (90 %)",
  "floods if nobody comes",
  "most on the floor by then",
  "against what is expected",
];

const calmLine = (one: CalmResult): string =>
  `Calm hours before the fault${one.topUps ? ", 3 L top-ups" : ""}: ${one.wakes + one.tells} calls in ${one.lives} lives (${one.hours} hours): ${worseOf(one)}.`;

const otherLine = (one: OtherResult): string => {
  const calls = one.calls === 0 ? "" : `; with ${one.faults.join(", ")} ${one.calls} in all`;
  return `The other drum, which nothing befell, each life counted once: ${one.wakes} wakes and ${one.tells} tells in ${one.lives} lives (${one.hours} hours${calls}): ${worseOf(one)}.`;
};

const quietCells = (one: QuietResult): readonly string[] => [
  one.kit,
  `${one.days} (${one.seeds})`,
  String(one.wakes),
  String(one.tells),
  String(one.phantomFills),
  percent(one.tripsConfirmedShare),
  one.litresErrorP90Percent === null ? "–" : `${one.litresErrorP90Percent} %`,
  percent(one.useWhenTrue),
  percent(one.useWhenFalse),
  worseOf(one),
];
const quietHead = [
  "kit",
  "days (lives)",
  "false wakes",
  "false tells",
  "phantom fills",
  "trips confirmed",
  "litres off, 90 %",
  "`use` while good",
  "`use` while bad",
  "against what is expected",
];

/** The page of what a run found: each kit with each fault, then the quiet lives. */
export function resultsPage({ made, faults, calm, others, quiet }: Results): string {
  const kits = [...new Set(faults.map(({ kit }) => kit))];
  const worse = [...faults, ...calm, ...others, ...quiet].filter((one) => one.worse.length > 0).length;
  const seeds = [...new Set(faults.map((one) => one.seeds))].sort((a, b) => a - b);
  const parts = [
    "# What is found, how soon, and with how much water on the floor",
    `Written by \`tests/detection/write-results.ts\` from a run of \`npm run detection -- drums\`; not by hand. Made ${made.date}, commit ${made.commit ?? "not known"} (code ${made.code}), nodes that send each ${made.periodS} s.`,
    "Simulated drums of 200 L at 4 L/min (0.5 behind a membrane), whose true litres are known, over the real path. A fault comes after some hours of good fills. *Seen*: any condition rose; *somebody called*: one that tells or wakes. The litres are the most in any life at the moment of the call, or at the life's end where nobody was called. What is expected of each stands in `tests/detection/expected.ts`.",
    `${faults.length} rows of faults (${seeds.join(", ") || "no"} seeds), ${calm.length} of the calm hours before them, ${others.length} of a drum beside, ${quiet.length} of quiet lives; ${worse} are worse than expected.`,
    ...kits.flatMap((kit) => [
      `## ${kit}`,
      ...calm.filter((one) => one.kit === kit).map(calmLine),
      ...others.filter((one) => one.kit === kit).map(otherLine),
      table(faultHead, faults.filter((one) => one.kit === kit).map(faultCells)),
    ]),
    ...(quiet.length === 0 ? [] : ["## Quiet lives", table(quietHead, quiet.map(quietCells))]),
  ];
  return `${parts.join("\n\n")}\n`;
}
