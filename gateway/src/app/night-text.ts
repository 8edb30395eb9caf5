import type { Fill } from "../fills/index.ts";
import type { Line } from "../line/index.ts";
import type { Night } from "../nights/index.ts";

/** What a night says in its writer's terms: titles for ids, times of the site's zone. */
interface Writing {
  readonly titleOf: (id: string) => string;
  readonly clock: (ms: number) => string;
}

const whole = (value: number) => value.toFixed(0);
/** Never more than it is: 99.97 % is no 100 %. */
const percent = (share: number) =>
  `${share >= 0.9 && share < 1 ? (Math.floor(share * 1000) / 10).toFixed(1) : Math.floor(share * 100)} %`;
const figure = (value: number) => (Math.abs(value) >= 100 ? value.toFixed(0) : value.toPrecision(2));

function writingOf(line: Line, timezone: string): Writing {
  const titles = new Map([...line.stages, ...line.points, ...line.drums].map(({ id, title }) => [id, title]));
  const format = new Intl.DateTimeFormat("en-GB", {
    timeZone: timezone,
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
  });
  return { titleOf: (id) => titles.get(id) ?? id, clock: (ms) => format.format(ms) };
}

const ends: Readonly<Record<NonNullable<Fill["end"]>, string>> = {
  "float-tripped": "float tripped",
  "inflow-stopped": "inflow stopped before the float",
  "stopped-by-person": "stopped by a person",
  "not-stopping": "did not stop at its float",
};

function fillText(fill: Fill, { titleOf, clock }: Writing): string {
  const { startedAtMs, endedAtMs, litres, estimated, mean25, end, tripAtL, tripConfirmed, watched } = fill;
  const span = `${clock(startedAtMs)} to ${endedAtMs === null ? "…" : clock(endedAtMs)}`;
  const made = litres === null ? "litres unknown" : `${estimated ? "about " : ""}${whole(litres)} L`;
  const how =
    end === null
      ? "still filling"
      : `${ends[end]}${end === "float-tripped" && tripAtL !== null ? ` at ${whole(tripAtL)} L` : ""}${
          end === "float-tripped" && tripConfirmed === null ? ", nothing else to confirm it" : ""
        }`;
  const quality = mean25 === null ? "" : `, average ${figure(mean25)} µS/cm`;
  const seen = watched < 0.95 ? `, ${percent(watched)} watched` : "";
  return `${span}  ${titleOf(fill.drum)}: ${made}${quality}, ${how}${seen}`;
}

const batchWords: Readonly<Record<Night["batches"][number]["state"], string>> = {
  unknown: "not known",
  empty: "emptied",
  filling: "filling",
  fresh: "fresh water, not salted yet",
  salted: "salt went in",
  mixing: "mixing",
  ready: "ready",
  "in-use": "in use",
  heel: "only the heel is left",
};

function batchText(
  { atMs, drum, state, salinity, kg }: Night["batches"][number],
  { clock, titleOf }: Writing,
): string {
  const salt = state === "salted" && kg !== null ? `, ${kg} kg` : "";
  const at = state === "ready" && salinity !== null ? ` at salinity ${salinity}` : "";
  return `${clock(atMs)}  ${titleOf(drum)}: ${batchWords[state]}${salt}${at}`;
}

function silencedText(silenced: Night["first"][number]["silenced"], { clock }: Writing): string {
  if (silenced === null) return "";
  if (silenced.as === "out-of-service") return " (switched off)";
  return silenced.untilMs === null ? " (silent)" : ` (silent until ${clock(silenced.untilMs)})`;
}

const section = (title: string, lines: readonly string[], none: string): string =>
  `${title}\n${(lines.length > 0 ? lines : [none]).map((text) => `  ${text}`).join("\n")}`;

function watchedText({ watched, unwatched, isRunning }: Night, { clock }: Writing): string {
  const stretches = unwatched.map(({ fromMs, toMs, who, channels }) => {
    const span = `from ${clock(fromMs)} to ${toMs === null ? "now" : clock(toMs)}`;
    return who === "gateway"
      ? `Not watched ${span}: the gateway was off.`
      : `Not heard ${span}: node ${who} (${channels.map((name) => name.slice(who.length + 1)).join(", ")}).`;
  });
  return [`Watched ${percent(watched)}${isRunning ? " so far" : ""}.`, ...stretches].join("\n");
}

function drumLines(night: Night, { titleOf, clock }: Writing): readonly string[] {
  return night.drums.map(({ drum, mean25, peak25, words }) => {
    const water =
      mean25 === null
        ? "nothing measured came in"
        : `average ${figure(mean25)} µS/cm, highest ${figure(peak25 ?? mean25)}`;
    const said = words.map(({ verdict, sinceMs }, index) =>
      index === 0 && sinceMs < night.fromMs ? verdict : `${verdict} ${clock(sinceMs)}`,
    );
    return `${titleOf(drum)}: ${water}${said.length > 0 ? `; ${said.join(", ")}` : ""}`;
  });
}

/** A night as text: how much of it was watched first, then what to do, then what happened. */
export function nightText(night: Night, line: Line): string {
  const writing = writingOf(line, night.timezone);
  const { titleOf, clock } = writing;
  const first = night.first.map(
    ({ text, todo, silenced }, index) => `${index + 1}. ${text}${silencedText(silenced, writing)}. ${todo}`,
  );
  const head = `${line.title}, night of ${night.date}, ${clock(night.fromMs)} to ${clock(night.toMs)} (${night.timezone})${
    night.isRunning ? ", not over yet" : ""
  }`;
  const made = night.litres === null ? "" : `, ${whole(night.litres)} L`;
  return [
    head,
    watchedText(night, writing),
    section("To do first", first, "Nothing."),
    section(
      `Fills${made}`,
      night.fills.map((fill) => fillText(fill, writing)),
      "None.",
    ),
    section("Water", drumLines(night, writing), "No drum."),
    section(
      "Floats",
      night.floats.map(
        ({ atMs, drum, role, wet, litres }) =>
          `${clock(atMs)}  ${titleOf(drum)}, ${role}: ${wet ? "wet" : "dry"}${litres === null ? "" : ` at ${whole(litres)} L`}`,
      ),
      "None changed.",
    ),
    ...(night.batches.length > 0
      ? [
          section(
            "Batches",
            night.batches.map((turn) => batchText(turn, writing)),
            "",
          ),
        ]
      : []),
    section(
      "Draws",
      night.draws.map(({ fromMs, drum, litres }) => `${clock(fromMs)}  ${titleOf(drum)}: ${whole(litres)} L`),
      "None seen.",
    ),
    section(
      "Alarms",
      night.alarms.map(({ raisedAtMs, isNew, subject, text, endedAtMs, seenBy }) => {
        const ended = endedAtMs === null ? "" : `, ended ${clock(endedAtMs)}`;
        const seen = seenBy === null ? "" : `, seen by ${seenBy}`;
        return `${isNew ? clock(raisedAtMs) : "before"}  ${titleOf(subject)}: ${text.charAt(0).toLowerCase()}${text.slice(1)}${ended}${seen}`;
      }),
      "None.",
    ),
    section(
      "Nodes",
      night.nodes.map(({ node, silentMs, starts }) => {
        const silent = silentMs > 0 ? `silent for ${Math.round(silentMs / 60_000)} min` : "heard throughout";
        return `${node}: ${silent}${starts > 0 ? `, started ${starts === 1 ? "once" : `${starts} times`}` : ""}`;
      }),
      "All heard.",
    ),
    ...(night.acts.length > 0
      ? [
          section(
            "Done by people",
            night.acts.map(
              ({ atMs, by, what, subject, untilMs, note }) =>
                `${clock(atMs)}  ${by}: ${what}${subject === "" ? "" : ` ${titleOf(subject)}`}${untilMs === null ? "" : ` until ${clock(untilMs)}`}${note === null ? "" : `, "${note}"`}`,
            ),
            "",
          ),
        ]
      : []),
  ].join("\n\n");
}
