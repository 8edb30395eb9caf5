import type { Line } from "../line/index.ts";
import { fillIn, type Language, type Values, type Words, wordsIn } from "../words/index.ts";

/** What a night says in its writer's terms: titles for ids, times of the site's zone, words and figures of a language. */
export interface Writing {
  readonly language: Language;
  readonly words: Words;
  readonly titleOf: (id: string) => string;
  readonly clock: (ms: number) => string;
  /** The same with its day, for what lies before the night: "Tue, 24 Nov, 05:02". */
  readonly dayAndClock: (ms: number) => string;
  /** A template of the report with its braces filled. */
  readonly say: (template: string, values: Values) => string;
  readonly litres: (litresL: number) => string;
  /** Never more than it is: 99.97 % is no 100 %. */
  readonly percent: (share: number) => string;
  /** Two digits, or a whole number from 100 on. */
  readonly figure: (value: number) => string;
}

/** Clocks are set back by an hour, on Lord Howe by half of one: a time of day that comes again does so after that. */
const setBackByMs = [3_600_000, 1_800_000] as const;

/** The time of day in a zone, "22:43"; with the zone's offset where the night has it twice: "02:39 GMT+2". */
function clockIn(timeZone: string): (ms: number) => string {
  const form = { timeZone, hour: "2-digit", minute: "2-digit", hourCycle: "h23" } as const;
  const clock = new Intl.DateTimeFormat("en-GB", form);
  const whole = new Intl.DateTimeFormat("en-GB", { ...form, timeZoneName: "shortOffset" });
  return (ms) => {
    const time = clock.format(ms);
    const isTwice = setBackByMs.some((by) =>
      [ms - by, ms + by].some((other) => clock.format(other) === time),
    );
    return isTwice ? whole.format(ms) : time;
  };
}

/** How a night of a line is written, in a zone and a language. */
export function writingOf(line: Line, timezone: string, language: Language): Writing {
  const titles = new Map([...line.stages, ...line.points, ...line.drums].map(({ id, title }) => [id, title]));
  const clock = clockIn(timezone);
  const day = new Intl.DateTimeFormat(language === "en" ? "en-GB" : language, {
    timeZone: timezone,
    weekday: "short",
    day: "numeric",
    month: "short",
  });
  const set = (value: number, form: Intl.NumberFormatOptions) =>
    value.toLocaleString(language, { useGrouping: false, ...form });
  const digits = (count: number) => ({ minimumFractionDigits: count, maximumFractionDigits: count });
  return {
    language,
    words: wordsIn(language),
    titleOf: (id) => titles.get(id) ?? id,
    clock,
    dayAndClock: (ms) => `${day.format(ms)}, ${clock(ms)}`,
    say: fillIn,
    litres: (litresL) => `${set(litresL, digits(0))} L`,
    percent: (share) =>
      share >= 0.9 && share < 1
        ? set(Math.floor(share * 1000) / 10, digits(1))
        : set(Math.floor(share * 100), digits(0)),
    figure: (value) =>
      Math.abs(value) >= 100
        ? set(value, digits(0))
        : set(value, { minimumSignificantDigits: 2, maximumSignificantDigits: 2 }),
  };
}
