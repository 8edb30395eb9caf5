import { type Attention, doesCall } from "../alarms/index.ts";
import { toDoIn } from "../words/index.ts";
import type { FirstThing, Night, NightAlarm } from "./night.ts";

const order: Readonly<Record<Attention, number>> = { wake: 0, tell: 1, today: 2, record: 3 };
/** Under this share of the night (or in a fill) nobody need look into it. */
const unwatchedShare = 0.02;
const minuteMs = 60_000;

type Parts = Pick<Night, "alarms" | "drums" | "fills" | "unwatched" | "watched" | "unwatchedMs">;
type TitleOf = (subject: string) => string;

/** Whether an alarm asks for something this morning: what ended by itself and called nobody does not, what is silent does if it calls. */
function asks({ stands, silenced, state, attention, under }: NightAlarm): boolean {
  if (under !== null || attention === "record") return false;
  if (silenced !== null) return doesCall(attention);
  return stands && !(state === "returned-unacknowledged" && attention === "today");
}

function ofAlarms(alarms: readonly NightAlarm[], titleOf: TitleOf): readonly FirstThing[] {
  const told = new Set<string>();
  const things: FirstThing[] = [];
  for (const alarm of alarms) {
    const { key, attention, subject, condition, text, response, silenced } = alarm;
    if (!asks(alarm) || told.has(key)) continue;
    told.add(key);
    const about = `${titleOf(subject)}: ${text.charAt(0).toLowerCase()}${text.slice(1)}`;
    const over = alarm.endedAtMs !== null;
    const todo = over ? toDoIn("en", { condition, isOver: over, told: response }) : response;
    things.push({ attention, subject, kind: "alarm", condition, silenced, over, text: about, todo });
  }
  return things;
}

/**
 * What to do first this morning: what stands and called, also where somebody made it silent; drums that may not be used;
 * trips that nothing confirmed; what nobody watched.
 */
export function firstThings(
  { alarms, drums, fills, unwatched, watched, unwatchedMs }: Parts,
  titleOf: TitleOf,
): readonly FirstThing[] {
  const things: FirstThing[] = [...ofAlarms(alarms, titleOf)];
  for (const { drum, words } of drums) {
    const word = words.at(-1);
    // Salt water that is being mixed asks for nothing in the morning.
    const isMixing = word?.batch === "salted" || word?.batch === "mixing";
    if (word && word.verdict !== "use" && !isMixing)
      things.push({
        attention: word.verdict === "hold" ? "tell" : "today",
        subject: drum,
        kind: word.verdict,
        condition: null,
        silenced: null,
        over: false,
        text: `${titleOf(drum)}: ${word.verdict}${word.reasons.length > 0 ? `, ${word.reasons.join(", ")}` : ""}`,
        todo:
          word.verdict === "hold"
            ? "Don't use it. Test it by hand, dump it, or dilute it; then release it."
            : "Test it by hand before you use it.",
      });
  }
  const unconfirmed = new Map<string, string>();
  for (const { drum, end, tripConfirmed } of fills)
    if (end === "inflow-stopped" || (end === "float-tripped" && tripConfirmed === false))
      unconfirmed.set(drum, end);
  for (const [drum, end] of unconfirmed)
    things.push({
      attention: "today",
      subject: drum,
      kind: "trip",
      condition: null,
      silenced: null,
      over: false,
      text: `${titleOf(drum)}: ${end === "inflow-stopped" ? "inflow stopped before the float" : "the float tripped, and inflow went on"}`,
      todo: "Lift the stop float and see whether the valve closes.",
    });
  const inFill = unwatched.some((one) => one.fills.length > 0);
  if (1 - watched > unwatchedShare || inFill)
    things.push({
      attention: "today",
      subject: "",
      kind: "unwatched",
      condition: null,
      silenced: null,
      over: false,
      text: inFill
        ? "Part of a fill was not watched"
        : `${Math.round(unwatchedMs / minuteMs)} min of the night were not watched`,
      todo: "Check the power and network of what fell silent.",
    });
  // Sorting keeps the order of those that are as urgent.
  return things.sort((a, b) => order[a.attention] - order[b.attention]);
}
