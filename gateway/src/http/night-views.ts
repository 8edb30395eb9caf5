import type { Attention } from "../alarms/index.ts";
import { isMoreUrgent } from "../alarms/index.ts";
import type { Night, NightAlarm } from "../nights/index.ts";
import type { NightLine, NightView } from "./contract.ts";
import { fillView, iso } from "./views.ts";

const silencedView = (silenced: NightAlarm["silenced"]): NightView["alarms"][number]["silenced"] =>
  silenced && { as: silenced.as, until: iso(silenced.untilMs) };

/** A night as the API shows it. */
export function nightView(night: Night): NightView {
  const { date, timezone, isRunning, watched, litres } = night;
  return {
    date,
    timezone,
    from: iso(night.fromMs),
    to: iso(night.toMs),
    running: isRunning,
    watched,
    unwatchedSeconds: Math.round(night.unwatchedMs / 1000),
    unwatched: night.unwatched.map(({ fromMs, toMs, who, channels, fills }) => ({
      from: iso(fromMs),
      to: iso(toMs),
      who,
      channels: [...channels],
      fills: [...fills],
    })),
    first: night.first.map(({ silenced, ...thing }) => ({ ...thing, silenced: silencedView(silenced) })),
    litres,
    fills: night.fills.map(fillView),
    drums: night.drums.map(({ drawnL, words, ...drum }) => ({
      ...drum,
      drawn: drawnL,
      words: words.map(({ verdict, sinceMs, reasons }) => ({
        verdict,
        since: iso(sinceMs),
        reasons: [...reasons],
      })),
    })),
    floats: night.floats.map(({ atMs, drum, role, wet, litres: volume }) => ({
      at: iso(atMs),
      drum,
      role,
      wet,
      litres: volume,
    })),
    batches: night.batches.map(({ atMs, drum, state, salinity, kg }) => ({
      at: iso(atMs),
      drum,
      state,
      salinity,
      kg,
    })),
    draws: night.draws.map(({ drum, fromMs, toMs, litres: drawn }) => ({
      drum,
      from: iso(fromMs),
      to: iso(toMs),
      litres: drawn,
    })),
    alarms: night.alarms.map(({ raisedAtMs, isNew, endedAtMs, seenAtMs, silenced, ...alarm }) => ({
      ...alarm,
      silenced: silencedView(silenced),
      state: alarm.state as NightView["alarms"][number]["state"],
      raisedAt: iso(raisedAtMs),
      raisedInNight: isNew,
      endedAt: iso(endedAtMs),
      seenAt: iso(seenAtMs),
    })),
    nodes: night.nodes.map(({ node, silentMs, starts }) => ({
      node,
      silentSeconds: Math.round(silentMs / 1000),
      starts,
    })),
    acts: night.acts.map(({ atMs, untilMs, ...act }) => ({ at: iso(atMs), until: iso(untilMs), ...act })),
  };
}

/** A night in one line. */
export function nightLine({ date, isRunning, watched, litres, ...night }: Night): NightLine {
  const raised = night.alarms.filter(({ isNew, attention }) => isNew && attention !== "record");
  return {
    date,
    from: iso(night.fromMs),
    to: iso(night.toMs),
    running: isRunning,
    watched,
    litres,
    drums: night.drums.map(({ drum, litres: own, mean25, peak25 }) => ({
      drum,
      litres: own,
      mean25,
      peak25,
    })),
    fills: night.fills.length,
    stoppedByFloat: night.fills.filter(({ end }) => end === "float-tripped").length,
    attention: raised.reduce<Attention | null>(
      (most, { attention }) => (most === null || isMoreUrgent(attention, most) ? attention : most),
      null,
    ),
    alarms: raised.length,
  };
}
