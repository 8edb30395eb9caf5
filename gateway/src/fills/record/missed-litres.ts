import type { DrumWitnesses } from "../drum-witnesses.ts";
import { enoughFills, leastWholeL } from "../learned.ts";
import { settleWaiting } from "./book-inflow.ts";
import type { Call, DrumRecord } from "./drum-record.ts";
import type { OpenFill } from "./open-fill.ts";
import type { Following } from "./running.ts";

/** A meter that nobody calibrated counts so much too little (common practice, no source). */
const countsShare = 0.8;
/** Of a call of which it counted less than half nobody knows the litres: that tells nothing of the others. */
const leastBelieved = 0.5;

/** In running water so much of a silence between good readings is taken for as good. */
const gapMs = 5 * 60_000;

/**
 * The float tripped, and was seen to turn dry before: from release to trip no less comes in than fits between them, and no
 * fill has brought less than that. Of a drum without a level, whose own meter counts: a level tells by itself.
 */
export function noteCalled({ record, said }: Following, call: Call, spanL: number | null): void {
  const { open } = record;
  const [meter] = said.meters;
  if (open?.basis !== "flow-meter" || said.level !== null || !meter || meter.isShared) return;
  const leastL = leastWholeL(record.learned, enoughFills);
  if (!call.isWhole || call.meterL === null || leastL === null || open.meter?.key !== meter.key) return;
  open.called = { meter: meter.key, fromL: call.meterL, leastL: Math.min(leastL, spanL ?? leastL) };
}

/**
 * What a meter left out of a fill as its house was without power: it came in all the same where less than fits was counted, for
 * a valve that needs no power lets it in. Else, after so long, nobody knows what came: nothing proves that none did. Returns
 * what was added, L.
 */
function settleLeftOut({ said, seeing }: Following, open: OpenFill, isTooLittle: boolean): number {
  const left = said.meters.find(({ key }) => key === open.meter?.key)?.leftOut;
  if (open.basis !== "flow-meter" || !left || left.fromMs < open.startedAtMs) return 0;
  const { fromMs, toMs, litres } = left;
  if (!isTooLittle) {
    if (said.level === null && toMs - fromMs > gapMs) open.missedL = litres;
    return 0;
  }
  open.waiting.push({ fromMs, toMs, litres, isFirst: false });
  settleWaiting(open, seeing, said.atMs, true);
  open.estimated = true;
  return litres;
}

/** At its end: where the meter counted much less than that, the rest came in beside it. */
export function markMissed(of: Following, open: OpenFill): void {
  const { called, unheardL = 0 } = open;
  const meter = called && of.said.meters.find(({ key }) => key === called.meter);
  const isCalled = called !== undefined && meter !== undefined && !open.flowUnknown;
  // What came in a silence is put together from what a fill brings: it is in the fill already.
  const countedL = isCalled ? meter.totalL - called.fromL + unheardL : 0;
  const addedL = settleLeftOut(of, open, isCalled && countedL < called.leastL);
  if (!isCalled) return;
  if (countedL + addedL < countsShare * called.leastL) open.missedL = called.leastL - countedL - addedL;
}

/** So many times what fits between release and trip a call may have brought, as more was drawn meanwhile (common practice, no source). */
const drawnTimes = 1.25;

/** Fills that a level has borne out, and by how much the next one may differ from them (common practice, no source). */
const timesAsked = 3;
const leastTimes = 1.05;

/**
 * From release to trip no less comes in than fits between them, and often some more, as it is drawn on: by the least share of that
 * which its own meter counted of the last calls, it may count that much too little. A level that stands after its fills says by how
 * much it does.
 */
export function markShort(
  { callShares, levelTimes = [] }: DrumRecord,
  { meters: [meter], level }: DrumWitnesses,
  open: OpenFill,
): void {
  if (level?.litres != null && open.meter && levelTimes.length >= timesAsked) {
    open.atMostTimes = Math.max(leastTimes, ...levelTimes);
    return;
  }
  if (!meter || meter.isShared || open.meter?.key !== meter.key) return;
  const share = Math.max(leastBelieved, Math.min(...callShares));
  if (share < 1) open.atMostTimes = drawnTimes / share;
  else delete open.atMostTimes;
}
