import type { Fill } from "../fills/index.ts";
import type { Line } from "../line/index.ts";
import type { Night } from "../nights/index.ts";
import { durationWords } from "../notifications/index.ts";
import { counted, headlineIn, type Language } from "../words/index.ts";
import { firstLines } from "./night-first-lines.ts";
import { type Writing, writingOf } from "./night-writing.ts";

function howItEnded({ end, tripAtL, tripConfirmed }: Fill, { words, say, litres }: Writing): string {
  const { nightParts, nightReport } = words;
  if (end === null) return nightReport.still;
  const isTrip = end === "float-tripped";
  return [
    isTrip && tripAtL !== null
      ? say(nightReport.trippedAt, { litres: litres(tripAtL) })
      : nightParts.ends[end],
    ...(isTrip && tripConfirmed === null ? [nightReport.nothingElse] : []),
  ].join(", ");
}

function fillText(fill: Fill, writing: Writing): string {
  const { words, say, titleOf, clock, litres, figure, percent } = writing;
  const { startedAtMs, endedAtMs, litres: madeL, estimated, mean25, watched } = fill;
  const report = words.nightReport;
  const span = say(report.span, {
    from: clock(startedAtMs),
    to: endedAtMs === null ? "…" : clock(endedAtMs),
  });
  const made =
    madeL === null
      ? report.litresUnknown
      : estimated
        ? say(report.aboutLitres, { litres: litres(madeL) })
        : litres(madeL);
  const said = [
    made,
    ...(mean25 === null ? [] : [say(report.average, { value: figure(mean25) })]),
    howItEnded(fill, writing),
    ...(watched < 0.95 ? [say(report.partWatched, { percent: percent(watched) })] : []),
  ];
  return `${span}  ${titleOf(fill.drum)}: ${said.join(", ")}`;
}

function batchText({ atMs, drum, state, salinity, kg }: Night["batches"][number], writing: Writing): string {
  const { language, words, say, clock, titleOf } = writing;
  const said = [
    words.nightParts.batches[state],
    ...(state === "salted" && kg !== null ? [`${kg.toLocaleString(language)} kg`] : []),
    ...(state === "ready" && salinity !== null
      ? [say(words.nightReport.salinity, { value: salinity.toLocaleString(language) })]
      : []),
  ];
  return `${clock(atMs)}  ${titleOf(drum)}: ${said.join(", ")}`;
}

const section = (title: string, lines: readonly string[], none: string): string =>
  `${title}\n${(lines.length > 0 ? lines : [none]).map((text) => `  ${text}`).join("\n")}`;

/** A part that is left out where there is nothing in it. */
const sectionIfAny = (title: string, lines: readonly string[]): readonly string[] =>
  lines.length > 0 ? [section(title, lines, "")] : [];

function watchedText({ watched, unwatched, isRunning }: Night, { words, say, clock, percent }: Writing) {
  const report = words.nightReport;
  const stretches = unwatched.map(({ fromMs, toMs, who, channels }) => {
    const span = { from: clock(fromMs), to: toMs === null ? report.now : clock(toMs) };
    return who === "gateway"
      ? say(report.gatewayOff, span)
      : say(report.nodeSilent, {
          ...span,
          node: who,
          channels: channels.map((name) => name.slice(who.length + 1)).join(", "),
        });
  });
  const share = say(isRunning ? report.watchedSoFar : report.watched, { percent: percent(watched) });
  return [share, ...stretches].join("\n");
}

function drumLines(night: Night, { words, say, titleOf, clock, figure }: Writing): readonly string[] {
  return night.drums.map(({ drum, mean25, peak25, words: said }) => {
    const water =
      mean25 === null
        ? words.nightReport.nothingMeasured
        : say(words.nightReport.highest, { value: figure(mean25), highest: figure(peak25 ?? mean25) });
    const verdicts = said.map(({ verdict, sinceMs }, index) =>
      index === 0 && sinceMs < night.fromMs
        ? words.verdicts[verdict]
        : `${words.verdicts[verdict]} ${clock(sinceMs)}`,
    );
    return `${titleOf(drum)}: ${water}${verdicts.length > 0 ? `; ${verdicts.join(", ")}` : ""}`;
  });
}

function floatLines({ floats }: Night, { words, say, titleOf, clock, litres }: Writing): readonly string[] {
  const { floatRoles, nightReport } = words;
  return floats.map(({ atMs, drum, role, wet, litres: atL }) => {
    const state = wet ? nightReport.wet : nightReport.dry;
    const said = atL === null ? state : say(nightReport.at, { state, litres: litres(atL) });
    const name = Object.hasOwn(floatRoles, role) ? floatRoles[role as keyof typeof floatRoles] : role;
    return `${clock(atMs)}  ${titleOf(drum)}, ${name}: ${said}`;
  });
}

function alarmLines({ alarms, fromMs }: Night, writing: Writing): readonly string[] {
  const { language, words, say, titleOf, clock, dayAndClock } = writing;
  const report = words.nightReport;
  return alarms.map((alarm) => {
    const { raisedAtMs, isNew, endedAtMs, seenBy } = alarm;
    const said = [
      headlineIn(language, alarm, titleOf),
      ...(endedAtMs === null
        ? []
        : [say(report.ended, { time: endedAtMs < fromMs ? dayAndClock(endedAtMs) : clock(endedAtMs) })]),
      ...(seenBy === null ? [] : [say(report.seenBy, { person: byText(seenBy, writing) })]),
    ];
    return `${isNew ? clock(raisedAtMs) : report.before}  ${said.join(", ")}`;
  });
}

function nodeLines({ nodes }: Night, { language, words, say }: Writing): readonly string[] {
  const report = words.nightReport;
  return nodes.map(({ node, silentMs, starts }) => {
    const said = [
      silentMs > 0
        ? say(report.silentFor, { duration: durationWords(silentMs, language) })
        : report.heardThroughout,
      ...(starts > 0 ? [counted(language, report.started, starts)] : []),
    ];
    return `${node}: ${said.join(", ")}`;
  });
}

/** Who did something: a person by name, else what it came through. */
function byText(by: string, { words, say }: Writing): string {
  const named = words.nightParts.by;
  const [, kind, name = ""] = /^(button |program:)(.+)$/.exec(by) ?? [];
  if (kind === undefined) return by === "command line" ? named.commandLine : by;
  return say(kind === "button " ? named.button : named.program, { name });
}

function actLines({ acts }: Night, writing: Writing): readonly string[] {
  const { words, say, titleOf, clock } = writing;
  const known: Readonly<Record<string, string>> = words.nightParts.acts;
  return acts.map(({ atMs, by, what, subject, untilMs, note }) => {
    const said = [
      known[what] ?? what,
      ...(subject === "" ? [] : [titleOf(subject)]),
      ...(untilMs === null ? [] : [say(words.nightReport.until, { time: clock(untilMs) })]),
      ...(note === null ? [] : [`"${note}"`]),
    ];
    return `${clock(atMs)}  ${byText(by, writing)}: ${said.join(", ")}`;
  });
}

/**
 * A night as text: how much of it was watched first, then what to do, then what happened. In the language of the site's
 * messages, unless told.
 */
export function nightText(night: Night, line: Line, language: Language = line.notify.language): string {
  const writing = writingOf(line, night.timezone, language);
  const { words, say, titleOf, clock, litres } = writing;
  const report = words.nightReport;
  const head = say(report.head, {
    site: line.title,
    date: night.date,
    from: clock(night.fromMs),
    to: clock(night.toMs),
    zone: night.timezone,
  });
  const fills =
    night.litres === null ? report.fills : say(report.fillsMade, { litres: litres(night.litres) });
  return [
    night.isRunning ? `${head}, ${report.notOver}` : head,
    watchedText(night, writing),
    section(report.first, firstLines(night, writing), report.nothing),
    section(
      fills,
      night.fills.map((fill) => fillText(fill, writing)),
      report.none,
    ),
    section(report.water, drumLines(night, writing), report.noDrum),
    section(report.floats, floatLines(night, writing), report.noneChanged),
    ...sectionIfAny(
      report.batches,
      night.batches.map((turn) => batchText(turn, writing)),
    ),
    section(
      report.draws,
      night.draws.map(
        ({ fromMs, drum, litres: drawnL }) => `${clock(fromMs)}  ${titleOf(drum)}: ${litres(drawnL)}`,
      ),
      report.noneSeen,
    ),
    section(report.alarms, alarmLines(night, writing), report.none),
    section(report.nodes, nodeLines(night, writing), report.allHeard),
    ...sectionIfAny(report.doneByPeople, actLines(night, writing)),
  ].join("\n\n");
}
