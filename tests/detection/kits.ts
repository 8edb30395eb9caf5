import {
  type DrumKit,
  type DrumSetting,
  drumBehindMembrane,
  drumBehindResin,
} from "@drumlin/gateway/simulator";

/** What a simulated drum is, what it is fitted with, and how long a life with a fault is. */
export interface Kit {
  readonly fitted: DrumKit;
  readonly setting: DrumSetting;
  /** Two drums behind one meter; what goes wrong does so at the first. */
  readonly drums: 1 | 2;
  /** Mean time between two buckets, s: in lives with a fault, where fills must come often, and in quiet ones. */
  readonly bucketEveryS: number;
  readonly quietBucketEveryS: number;
  /** Good fills before the fault, and time after it, s. */
  readonly calmS: number;
  readonly afterS: number;
  /** Only its quiet lives are of interest. */
  readonly quietOnly: boolean;
  /** When the keeper dips a meter each day and, where the water is good, answers for a drum whose word isn't `use`; null: never, s of the day. */
  readonly testsAtS: number | null;
}

const hourS = 3600;
const none: DrumKit = { meter: false, level: false, overflow: false, inlet: false };
const kit = (fitted: Partial<DrumKit>, more: Partial<Kit> = {}): Kit => ({
  fitted: { ...none, ...fitted },
  setting: drumBehindResin,
  drums: 1,
  bucketEveryS: 600,
  quietBucketEveryS: 2400,
  calmS: 4 * hourS,
  afterS: 4 * hourS,
  quietOnly: false,
  testsAtS: null,
  ...more,
});

/** A clock opens the valve for half an hour every two hours; the float closes it before. */
const timer = {
  ...drumBehindResin,
  control: { by: "timer", everyS: 2 * hourS, openS: hourS / 2 },
} as const satisfies DrumSetting;
/** Somebody fills when 50 L are gone, at any hour that is somebody's; one press in twenty is forgotten. */
const manual = {
  ...drumBehindResin,
  control: { by: "person", comesAtL: 150, hours: [0, 24], forgetsShare: 0.05 },
} as const satisfies DrumSetting;
/** 50 L are gone once an hour: five fills and more before the fault. */
const byHand = { setting: manual, calmS: 8 * hourS } as const;
/** As a drum's page proposes where a press is forgotten: a test before the first bucket. */
const tested = { ...byHand, quietOnly: true, testsAtS: 7 * hourS } as const;
/** Before five calls are known a float alone is told after 8 h: 1.5 times what 200 L take at 0.6 L/min. */
const slow = {
  setting: drumBehindMembrane,
  bucketEveryS: 1500,
  quietBucketEveryS: 6000,
  calmS: 8 * hourS,
  afterS: 12 * hourS,
} as const;
/** A house that draws a bucket every ten minutes, all day. */
const busy = { quietBucketEveryS: 600, quietOnly: true } as const;
const rough = { setting: { ...drumBehindResin, levelSpreadL: 0.5 }, quietOnly: true } as const;

/** Every kit, by name: a stop float alone, with one more witness, with two; other ways of filling; other water. */
export const kits: ReadonlyMap<string, Kit> = new Map([
  ["float", kit({})],
  ["meter", kit({ meter: true })],
  ["level", kit({ level: true })],
  ["overflow", kit({ overflow: true })],
  ["timer", kit({ inlet: true }, { setting: timer })],
  ["manual", kit({}, byHand)],
  ["manual, morning test", kit({}, tested)],
  ["membrane", kit({}, slow)],
  ["meter+level", kit({ meter: true, level: true })],
  ["meter+overflow", kit({ meter: true, overflow: true })],
  ["level+overflow", kit({ level: true, overflow: true })],
  ["timer+level", kit({ inlet: true, level: true }, { setting: timer })],
  ["manual+meter", kit({ meter: true }, byHand)],
  ["manual+level", kit({ level: true }, byHand)],
  ["membrane+meter", kit({ meter: true }, slow)],
  ["membrane+level", kit({ level: true }, slow)],
  ["two-drums+meter", kit({ meter: true }, { drums: 2 })],
  ["two-drums+meter+level", kit({ meter: true, level: true }, { drums: 2 })],
  ["float, busy", kit({}, busy)],
  ["meter+level, busy", kit({ meter: true, level: true }, busy)],
  ["level, 0.5 L noise", kit({ level: true }, rough)],
  ["meter+level, 0.5 L noise", kit({ meter: true, level: true }, rough)],
]);

export function kitOf(name: string): Kit {
  const found = kits.get(name);
  if (!found) throw new Error(`no kit ${name}`);
  return found;
}

/** Names of the drums of a kit, and what their channels are called after. */
export const drumsOf = ({ drums }: Kit): readonly (readonly [drum: string, suffix: string])[] =>
  drums === 1
    ? [["mix", ""]]
    : [
        ["mix", ""],
        ["spare", "-2"],
      ];

/** Over that the water may not be used, uS/cm at 25 °C: behind a membrane 1.2 × a tenth of its feed of 400. */
export const bandOf = ({ setting }: Kit): number => (setting.behind === "resin" ? 10 : 48);

function drumText({ fitted, setting }: Kit, [drum, suffix]: readonly [string, string]): string {
  const parts = [
    `volume: ${setting.volumeL} L`,
    "fed_by: made",
    `control: ${setting.control.by === "person" ? "manual" : "automatic"}`,
    `stop: { channel: drums/stop${suffix}, trips_at: ${setting.tripsL} L, releases_at: ${setting.releasesL} L }`,
    `greatest_flow: ${1.25 * setting.flowLPerMin} L/min`,
    ...(fitted.overflow ? [`floats: { overflow: drums/over${suffix} }`] : []),
    ...(fitted.level ? [`level: { channel: drums/level${suffix}, as: volume }`] : []),
    ...(fitted.inlet ? [`inlet: { channel: drums/inlet${suffix} }`] : []),
  ];
  return `  ${drum}: { ${parts.join(", ")} }`;
}

/** The line file of a kit. The meter has no taps behind it. */
export function lineOf(kitted: Kit): string {
  const { behind } = kitted.setting;
  const vessel = behind === "resin" ? "vessel: 2 L, pipe: 0.2 L, " : "";
  return `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, made: { conductivity: press/ec-2, temperature: press/t-2 } }
stages: { ${behind}: { kind: ${behind}, ${vessel}from: supply, to: made${kitted.fitted.meter ? ", flow: press/flow-1" : ""} } }
drums:
${drumsOf(kitted)
  .map((one) => drumText(kitted, one))
  .join("\n")}
`;
}
