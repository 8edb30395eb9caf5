import { fillIn, type Values } from "./fill-in.ts";
import { patternOf } from "./pattern-of.ts";

/**
 * Sentences that the gateway keeps, sends and logs in English, each a template under a code: reasons for a drum's word,
 * what can't be known of a drum, and refusals of acts that people meet. A reader's language is found by the code, and
 * the code by the sentence (`readSentence`), so that records of before are read too: a template that was written once is
 * not changed, but followed by a new code.
 */
export const sentences = {
  // Reasons for a drum's word and of a fill.
  "over-limit": "water over the limit of {limit} µS/cm came in ({point})",
  "never-filled": "no fill was seen yet: what is in it came before the watch began",
  unwatched: "{percent} % of what is in it was not watched as it came in",
  "at-worst":
    "at worst it is {worst} µS/cm, over this drum's {band}: {percent} % was not watched as it came in",
  "left-at-worst":
    "at worst it is {worst} µS/cm, over this drum's {band}: some of the water that was dumped may be left in it",
  "short-at-worst": "at worst it is {worst} µS/cm, over this drum's {band}: its meter may count too little",
  "more-at-worst":
    "at worst it is {worst} µS/cm, over this drum's {band}: more may have come in than was counted",
  blend: "the blend is {blend} µS/cm, over this drum's {band}",
  "nothing-heard": "nothing was heard of this drum yet",
  "call-without-level": "the float called and tripped, and the level saw next to no water",
  "call-without-meter": "the float called and tripped, and the meter saw next to no water",
  // What keeps a batch of salt water from being used.
  "back-flow": "water came back through {point}: it may have been siphoned out of a drum",
  "chlorine-passes": "{value} mg/L of chlorine passed the carbon",
  "chlorine-in-drum": "{value} mg/L of chlorine was found in the drum itself",
  "chlorine-comes": "{value} mg/L of chlorine was found in the water that fills it",
  "chlorine-passed": "Chlorine: the test passed {days} d ago. Conductivity can't see it.",
  "chlorine-passed-today": "Chlorine: passed today. Conductivity can't see it.",
  "chlorine-due": "Chlorine: last passed {days} d ago, test it again. Conductivity can't see it.",
  "chlorine-failed": "Chlorine: the last test found {value} mg/L.",
  "chlorine-before":
    "Chlorine: passed in this drum, but {value} mg/L was found in the water that fills it. Test behind the carbon again.",
  "chlorine-first-spent":
    "Chlorine: passed, but {value} mg/L comes through the carbon before the last. Change that one.",
  "chlorine-never": "Chlorine: never tested. Conductivity can't see it.",
  "batch-not-ready": "salt is in it and it is not ready",
  "batch-heel": "only the heel of a batch is left",
  "batch-off": "its salinity is {salinity}, off its target",
  "salinity-wanted": "its salinity is {salinity}, it should be {low} to {high}",
  "no-drum-probe": "no probe is in it: measure its salinity by hand",
  "drum-probe-silent": "its probe is not heard",
  "salinity-moves": "its salinity has not stood still for 30 min yet",
  "just-added": "salt or water went in less than 30 min ago",
  // What can't be known of a drum, and what would tell.
  "no-level": "Litres: no level sensor here. Next to buy: one.",
  "no-stop": "Stop: no float here. Nothing shows when a fill ends.",
  "no-test": "Chlorine and ammonia: no probe sees them. Test by hand.",
  "no-overflow": "Overflow: no float, no floor sensor. Next to buy: a floor sensor.",
  // What guards a drum, and what passes unseen.
  "guard-level":
    "Level: a stop that fails is told at {litres} L, {minutes} min before it runs over at {flow} L/min.",
  "guard-level-late":
    "Level: its float trips too near the edge. It would be told at {litres} L: over the edge.",
  "guard-level-untaught":
    "Level: where the float trips is not known yet. A stop that fails is told at {litres} L.",
  "guard-overflow": "Overflow float: rings as soon as water reaches it. Its test holds.",
  "guard-overflow-untested":
    "Overflow float: rings as soon as water reaches it, but nothing counts on it until it is tested.",
  "guard-meter":
    "Meter: a float that never trips is told after {litres} L in one fill. After a small draw up to {over} L will have run over by then.",
  "guard-time":
    "Time: a float that never trips is told after {minutes} min. After a small draw up to {over} L will have run over by then.",
  "guard-at-its-time":
    "At the time of day at which much was drawn of late it is told only after {litres} L: up to {over} L will have run over by then.",
  "guard-none": "Nothing: no float, level or meter tells that it fills.",
  "guard-typical-flow":
    "These figures are for {flow} L/min: typical, not yours. Write greatest_flow into the line file.",
  "unseen-leak":
    "A valve that passes less than {flow} L/min is not seen by the meter: up to {litres} L in 8 h.",
  "unseen-taps": "Taps hang behind the meter: what runs there is not told from what runs into the drum.",
  "unseen-past-trip":
    "Water past a valve that does not close is not seen once its float has tripped, nor is a float that trips later each time.",
  "unseen-late-trips": "A float that trips later each time is not seen.",
  "unseen-both-stuck": "Level stuck and float stuck: only time tells.",
  "litres-coarse":
    "Read each {seconds} s, the litres of a fill are known to {percent} % at best. For {goal} %: each {better} s or faster.",
  "litres-read-each": "For the litres of a fill within {goal} % it must be read each {better} s or faster.",
  "litres-unknown":
    "How many litres a fill brings is not known: nothing counts them, and no figure is shown.",
  "litres-shared":
    "Its meter serves other drums too: while two of them fill, the litres of each are put together, not counted.",
  "unseen-unsaid":
    "A fill that nobody announces is water that nobody watched: say that you fill before you open the tap. After one that was forgotten nobody knows whether the water may be used, until a person tests it.",
  "unseen-unsaid-alone":
    "If nobody announces a fill and the float hangs, nothing tells you that the drum is running over.",
  "unseen-unsaid-level":
    "Only the level sees a fill that nobody announces: if it sticks too and the float hangs, nothing tells you that the drum is running over.",
  "unseen-unsaid-meter":
    "Only the meter sees a fill that nobody announces: if it sticks too and the float hangs, nothing tells you that the drum is running over.",
  "unseen-first": "Fewer than five fills are known: stay with it.",
  "unseen-by-hand": "Water poured in by hand is not seen.",
  "unseen-one-node": "Everything that watches it hangs on one node, {node}: if that fails, nothing watches.",
  "next-stop": "Next: a float that stops it.",
  "next-overflow": "Next: an overflow float on another node, or a floor sensor.",
  "next-level": "Next: a level sensor. It sees a slow leak, draws, and water poured in by hand.",
  "next-meter": "Next: a flow meter. It tells a level that is stuck.",
  // Refusals of acts.
  "seen-too-old": "It was marked as seen more than 10 min ago.",
  "release-not-to-undo": "No release stands that could be taken back.",
  "release-too-old":
    "It was released more than 10 min ago. If the water is in doubt, test it and release or dump it.",
  "not-empty": "Its level says that {litres} L are in it.",
  "already-use": "Its water may be used already.",
  "no-fill-runs": "No fill of this drum is running.",
  "no-test-runs": "No test of it runs.",
  "tested-already": "{person} is testing it already.",
  "float-not-heard": "Nothing is heard from the float now. Wait for its node's next message.",
  "not-reversed": "Its last test did not see it the other way round.",
  "float-reads-wet": "It reads wet. Let it hang free, and begin again.",
  "proved-as-it-reads":
    "It was seen to work the way it reads now, so it is not turned. If its contact was exchanged, change “wet” in the line file.",
  "test-too-old": "That test is too long ago: test it again.",
  "work-time-over": "The time until which you work is over already.",
  "nobody-works": "Nobody works there.",
  "silence-time-over": "The time until which to be silent is over already.",
  // Refusals of what is said of a batch.
  "salt-not-ready": "It is salt water that is not ready: say so once it is, or empty it.",
  "holds-fresh": "{drum} holds fresh water: no salt is mixed in it.",
  "salt-while-filling": "It is filling. End the fill first: salt goes into water that stands.",
  "salt-into-nothing": "It is empty. Fill it first.",
  "salt-onto-heel": "Only the heel of the old batch is in it. Empty it first.",
  "no-salt-yet": "No salt has just gone in.",
  "no-salt-to-be-ready": "No salt was entered that could be ready.",
  "rest-first": "Salt or water went in {minutes} min ago. Let it mix for 30 min, then measure it.",
  "salinity-missing": "Enter the salinity that you measured: no probe tells it.",
  "salinity-not-wanted": "Its salinity is {salinity}; it should be {low} to {high}.",
  "batch-is-not-ready": "It is not ready.",
  "batch-is-not-in-use": "It is not in use.",
  "no-salt-water": "There is no salt water in it to add water to.",
  "fill-onto-heel": "The heel of a salt batch is in it. Empty it and say so first.",
  "fill-onto-salt":
    "It holds salt water. To fill it anew, empty it and say so; to thin it, say that you add water.",
  // What came of a node that was asked.
  "node-refused": "{node} refused it. Its own words: “{reason}”",
  "node-unanswered-outside":
    "{node} gave no answer within 5 s. Look whether it still sends, and whether the broker's rules let the gateway write …/request and read …/response.",
  // Refusals of accounts.
  "sign-in-wrong": "The name or the password is wrong.",
  "sign-in-wait": "Too many wrong tries: wait {seconds} s.",
  "name-taken": "There is a {name} already.",
  "last-operator": "{name} is the last operator: make another one first.",
} as const satisfies Readonly<Record<string, string>>;

/** Codes of those sentences. */
export type SentenceCode = keyof typeof sentences;

/** A sentence by its code, with what stands in its braces. */
export interface Said {
  readonly code: SentenceCode;
  readonly values: Values;
}

/** The sentence of a code. */
export const say = (code: SentenceCode, values: Values = {}): string => fillIn(sentences[code], values);

type Reader = ReturnType<typeof patternOf> & { readonly code: SentenceCode };
/** Made when the first sentence is read: a page that starts has none to read yet. */
let readers: readonly Reader[] | null = null;

/** Braces that hold what somebody named, or said: a node may be called 007. */
const given: ReadonlySet<string> = new Set(["node", "drum", "point", "person", "name", "reason"]);
const isNumber = /^-?\d+(\.\d+)?(e[+-]?\d+)?$/;

/** The code of a sentence and what stands in it, numbers as such; null for one that is none of these. */
export function readSentence(text: string): Said | null {
  readers ??= (Object.keys(sentences) as SentenceCode[]).map((code) => ({
    code,
    ...patternOf(sentences[code]),
  }));
  for (const { code, names, pattern } of readers) {
    const found = pattern.exec(text);
    if (!found) continue;
    const values = names.map((name, index) => {
      const said = found[index + 1] as string;
      return [name, isNumber.test(said) && !given.has(name) ? Number(said) : said] as const;
    });
    return { code, values: Object.fromEntries(values) };
  }
  return null;
}
