import type { Fill, FillEnd } from "../fill.ts";
import { type Reason, reasonText } from "../reason.ts";
import type { FlowBasis } from "../run.ts";
import { type Account, newAccount, type Stretch, type UnseenStretch } from "./account.ts";
import type { Standstill } from "./standstill.ts";

/** A fill that is not over yet. Plain data. */
export interface OpenFill {
  readonly id: string;
  readonly startedAtMs: number;
  basis: FlowBasis;
  estimated: boolean;
  /** By litres, where something tells them, and by minutes. */
  readonly litres: Account;
  readonly minutes: Account;
  /** Something told litres since the fill began. */
  knowsLitres: boolean;
  waiting: Stretch[];
  /** What was booked and not wholly seen; absent in rows of versions before. */
  unseen?: readonly UnseenStretch[];
  /** Until when time was booked. */
  bookedMs: number;
  /** The meter that counts, and its total as far as it was booked. */
  meter: { readonly key: string; totalL: number; bridgedL: number } | null;
  /** The level's inflow count at the begin; null where none told. */
  readonly levelStartL: number | null;
  readonly drawnStartL: number;
  /** The nearest meter's total at the begin, and litres in the drum by its level: what the guard goes by. */
  readonly meterStart: { readonly key: string; readonly totalL: number } | null;
  contentsL: number | null;
  /** Greatest κ25 after first water that two readings in a row reached. */
  peak25: number | null;
  lastSettled25: number | null;
  /** When the float that asked for it was seen to turn dry; null: it was dry at first sight; absent in rows of versions before. */
  floatBeganMs?: number | null;
  /** The highest that its level stood while the float hung dry, L; absent: nothing told, or a row of versions before. */
  highestL?: number;
  /** At the trip it stood lower than that: it contradicts its float. */
  levelFell?: true;
  trippedAtMs: number | null;
  tripAtL: number | null;
  litresAtTrip: number | null;
  tripInSilence: boolean;
  stoppedAtMs: number | null;
  silentSinceMs: number | null;
  /** Inflow ended in a silence, and this is when something was heard again: the float is waited for. */
  backMs: number | null;
  byPerson: boolean;
  /** The meter missed water: the level counts. */
  meterDoubted: boolean;
  reasons: Reason[];
  /** When its water was last judged to be over the limit. */
  badAtMs: number | null;
  /** Witnesses contradict each other: how much came in is not known. */
  flowUnknown: boolean;
  toldMs: number;
  /** Once it has ended: of its litres those of a silence. */
  unheardL?: number;
  /** Its whole call has ended: what the meter had counted when that began, and the least that it must have brought, litres. */
  called?: { readonly meter: string; readonly fromL: number; readonly leastL: number };
  /** What its trip shows to have come beside the meter. */
  missedL?: number;
  /** So many times its litres may have come, by what its meter counted of the last calls; absent: no more. */
  atMostTimes?: number;
  /** An alarm stood over it; absent: none did, or a row of versions before. */
  isDoubted?: true;
  /** It stood for longer than a pause: how long it took in all teaches nothing. */
  hasStood?: true;
  /** When its water stood; absent: never for longer than a pause, or a row of versions before. */
  standstills?: readonly Standstill[];
  /** It may have stood in a silence as well; absent: not that anybody knows, or a row of versions before. */
  stoodUnheard?: true;
  /** Each time that it stood is noted; absent: a row of versions before. */
  readonly notesStands?: true;
  /** Other nodes may have kept packs as well, until then by the gateway's time; absent where nothing came late. */
  awaitsMs?: number;
}

/** What a fill begins with. */
export interface Begin {
  readonly drum: string;
  readonly startedAtMs: number;
  readonly basis: FlowBasis;
  readonly estimated: boolean;
  readonly meter: OpenFill["meter"];
  readonly levelStartL: number | null;
  readonly drawnStartL: number;
  readonly meterStart: OpenFill["meterStart"];
  readonly contentsL: number | null;
  readonly meterDoubted: boolean;
  readonly floatBeganMs?: number | null;
}

/** A fill that begins. */
export function newFill({ drum, ...begin }: Begin): OpenFill {
  return {
    id: `${drum}@${begin.startedAtMs}`,
    ...begin,
    litres: newAccount(),
    minutes: newAccount(),
    knowsLitres: begin.basis === "flow-meter" || begin.basis === "level",
    waiting: [],
    bookedMs: begin.startedAtMs,
    peak25: null,
    lastSettled25: null,
    trippedAtMs: null,
    tripAtL: null,
    litresAtTrip: null,
    tripInSilence: false,
    stoppedAtMs: null,
    silentSinceMs: null,
    backMs: null,
    byPerson: false,
    reasons: [],
    badAtMs: null,
    flowUnknown: false,
    notesStands: true,
    toldMs: begin.startedAtMs,
  };
}

/** How a fill came to its end. */
export interface Ending {
  readonly end: FillEnd;
  readonly endedAtMs: number;
  readonly tripConfirmed: boolean | null;
  readonly notStopping: Fill["notStopping"];
}

/** Litres as booked and still waiting; null where nothing tells them. */
export function litresOf(open: OpenFill): number | null {
  if (!open.knowsLitres) return null;
  return open.litres.came + open.waiting.reduce((sum, { litres }) => sum + (litres ?? 0), 0);
}

/** What waits longer than this for a reading that sees it was not seen. */
const seenWithinMs = 90_000;

/** Of a running fill: litres whose readings are in, and those that waited for theirs in vain. */
function bookedOf(open: OpenFill): number {
  const late = open.waiting.filter(({ toMs }) => toMs < open.bookedMs - seenWithinMs);
  return open.litres.came + late.reduce((sum, { litres }) => sum + (litres ?? 0), 0);
}

/** What a fill is told with. */
interface Telling {
  readonly drum: string;
  readonly open: OpenFill;
  /** Null while it runs. */
  readonly ending: Ending | null;
  /** While it runs: why its stop is taken to have failed. */
  readonly notStopping: Fill["notStopping"];
  /** What a level has seen drawn in all, litres. */
  readonly drawnL: number;
}

const overOf = ({ came, over = 0, overDose = 0 }: Account): Pick<Fill, "over"> =>
  over > 0 && came > 0 ? { over: { share: Math.min(1, over / came), dose25: overDose / over } } : {};

/** The fill as it is told. */
export function fillOf({ drum, open, ending, notStopping, drawnL }: Telling): Fill {
  const account = open.knowsLitres && open.litres.came > 0 ? open.litres : open.minutes;
  const litres = litresOf(open);
  // Of one that nobody has seen anything of yet, too: what waits in vain for its readings is known to be unseen.
  const isRunning = ending === null && open.knowsLitres;
  const bookedL = isRunning ? bookedOf(open) : account.came;
  const seenL = isRunning && account !== open.litres ? 0 : account.watched + account.bridged;
  return {
    kind: "fill",
    id: open.id,
    drum,
    startedAtMs: open.startedAtMs,
    endedAtMs: ending?.endedAtMs ?? null,
    pausedSinceMs: ending ? null : open.stoppedAtMs,
    litres,
    basis: open.basis,
    estimated: open.estimated,
    mean25: account.watched > 0 ? account.watchedDose / account.watched : null,
    peak25: open.peak25,
    firstWater25: account.first > 0 ? account.firstDose / account.first : null,
    end: ending?.end ?? null,
    tripConfirmed: ending?.tripConfirmed ?? null,
    trippedAtMs: open.trippedAtMs,
    tripAtL: open.tripAtL,
    watched: account.came > 0 ? Math.min(1, account.watched / account.came) : 0,
    notStopping: ending?.notStopping ?? notStopping,
    reasons: open.reasons.map(reasonText),
    because: [...open.reasons],
    revision: 0,
    drawnL: Math.max(0, drawnL - open.drawnStartL),
    known: bookedL > 0 ? Math.min(1, seenL / bookedL) : 0,
    ...(isRunning ? { bookedL } : {}),
    ...(open.unheardL === undefined ? {} : { unheardL: open.unheardL }),
    ...(open.missedL === undefined ? {} : { missedL: open.missedL }),
    ...(open.atMostTimes === undefined || open.basis !== "flow-meter"
      ? {}
      : { atMostTimes: open.atMostTimes }),
    ...overOf(account),
    dose25: account.watched + account.bridged > 0 ? account.dose / (account.watched + account.bridged) : null,
    badAtMs: open.badAtMs,
    ...(open.flowUnknown || open.meterDoubted ? { flowUnknown: true as const } : {}),
  };
}
