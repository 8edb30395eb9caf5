import type { NightLine, NightView } from "@drumlin/gateway/contract";

export const hourMs = 3_600_000;
/** Sunset of the night of 24 November 2026, epoch ms. */
export const beganMs = Date.UTC(2026, 10, 24, 20);
/** So many hours later, as ISO 8601. */
const at = (hours: number) => new Date(beganMs + hours * hourMs).toISOString();

/** A night in a line, quiet unless told. */
export function nightLine(day: number, change: Partial<NightLine> = {}): NightLine {
  const date = `2026-11-${String(day).padStart(2, "0")}`;
  return {
    date,
    from: at((day - 24) * 24),
    to: at((day - 24) * 24 + 10),
    running: false,
    watched: 1,
    litres: 150,
    drums: [{ drum: "fresh", litres: 150, mean25: 0.6, peak25: 0.9 }],
    fills: 1,
    stoppedByFloat: 1,
    attention: null,
    alarms: 0,
    ...change,
  };
}

const fill: NightView["fills"][number] = {
  id: "fresh@1",
  drum: "fresh",
  startedAt: at(1),
  endedAt: at(2),
  pausedSince: null,
  litres: 152,
  estimated: false,
  basis: "level",
  mean25: 3.9,
  peak25: 8.4,
  firstWater25: 12,
  end: "not-stopping",
  tripConfirmed: null,
  trippedAt: null,
  tripAt: null,
  watched: 0.98,
  notStopping: "past-trip-volume",
  reasons: [],
  revision: 0,
};

/** A night with a fill that did not stop by itself, a gap, a batch and a note. */
export const night: NightView = {
  date: "2026-11-24",
  timezone: "Europe/Berlin",
  from: at(0),
  to: at(10),
  running: false,
  watched: 0.97,
  unwatchedSeconds: 1080,
  unwatched: [
    { from: at(4.3), to: at(4.6), who: "press", channels: ["press/ec-1", "press/ec-2"], fills: [] },
  ],
  first: [
    {
      attention: "wake",
      subject: "fresh",
      kind: "alarm",
      condition: "drum-not-stopping",
      silenced: { as: "shelved", until: at(11) },
      over: false,
      text: "Fresh drum: did not stop",
      todo: "Lift its float and watch it trip.",
    },
    {
      attention: "tell",
      subject: "fresh",
      kind: "hold",
      condition: null,
      silenced: null,
      over: false,
      text: "Fresh drum: hold",
      todo: "Test it.",
    },
  ],
  litres: 152,
  fills: [
    fill,
    {
      ...fill,
      id: "fresh@2",
      startedAt: at(6),
      endedAt: at(6.2),
      end: "float-tripped",
      tripConfirmed: true,
      trippedAt: at(6.199),
      tripAt: 171,
      mean25: 0.6,
      litres: 79,
    },
  ],
  drums: [
    {
      drum: "fresh",
      litres: 231,
      fills: 2,
      mean25: 3.9,
      peak25: 8.4,
      watched: 0.98,
      drawn: 42,
      words: [
        { verdict: "use", since: at(-20), reasons: [] },
        { verdict: "hold", since: at(1.7), reasons: ["over 5 µS/cm came in"] },
      ],
    },
  ],
  batches: [{ at: at(3), drum: "fresh", state: "ready", salinity: 34.9, kg: 6.3 }],
  floats: [{ at: at(6.199), drum: "fresh", role: "stop", wet: true, litres: 171 }],
  draws: [{ drum: "fresh", from: at(0.4), to: at(0.5), litres: 42 }],
  alarms: [
    {
      key: "drum-not-stopping:fresh",
      occurrence: "7",
      condition: "drum-not-stopping",
      subject: "fresh",
      attention: "wake",
      text: "Drum does not stop filling",
      response: "Close the supply.",
      raisedAt: at(1.9),
      raisedInNight: true,
      endedAt: null,
      seenAt: at(1.95),
      seenBy: "Mara",
      value: 184,
      limit: 170,
      unit: "L",
      state: "shelved",
      stands: false,
      silenced: { as: "shelved", until: at(11) },
      under: null,
    },
  ],
  nodes: [{ node: "press", silentSeconds: 1080, starts: 0 }],
  acts: [
    {
      at: at(10.5),
      by: "Mara",
      button: null,
      what: "note",
      subject: "night 2026-11-24",
      until: null,
      note: "Solenoid hummed.",
    },
  ],
};
