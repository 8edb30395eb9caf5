import type { DrumView } from "@drumlin/gateway/contract";
import { inState } from "./house/states.ts";
import type { Path } from "./key-path.ts";

const enter = { press: "Enter" } as const;
/** The mixing drum, filled by hand and without salt. */
const byHand = (change: Partial<DrumView>) => () => ({
  drums: (nowMs: number) =>
    inState("calm")
      .drums(nowMs)
      .map((drum) =>
        drum.id === "mix" ? { ...drum, control: "manual" as const, batch: null, ...change } : drum,
      ),
});

/** What is done with drums and at work, and about people and programs, by keys alone. */
export const dailyPaths: readonly Path[] = [
  {
    act: "begin a fill by hand",
    at: "drums/mix",
    otherwise: byHand({ filling: false, fill: null }),
    steps: [/^I'm filling now: Mix/, enter],
    sent: "POST /api/drums/mix/fill",
    says: /^Noted/,
  },
  {
    act: "end a fill by hand",
    at: "drums/mix",
    otherwise: byHand({
      filling: true,
      fill: { id: "mix@1", startedAt: new Date(Date.now() - 600_000).toISOString() } as DrumView["fill"],
    }),
    steps: [/^Filling finished: Mix/, enter],
    sent: "POST /api/drums/mix/fill",
    says: /^Noted\. Water is still seen running/,
  },
  {
    act: "say that the supply is closed",
    at: "alarms",
    otherwise: () => ({
      alarms: inState("flood").alarms.map((one) => ({
        ...one,
        ...(one.key === "drum-high-high:fresh"
          ? { key: "drum-not-stopping:fresh", condition: "drum-not-stopping" }
          : {}),
      })),
    }),
    steps: [/^I closed the supply: Fresh/, enter],
    sent: "POST /api/drums/fresh/supply-closed",
    says: /^Noted\. It ends once/,
  },
  {
    act: "say that the work is done",
    state: "trouble",
    at: "nodes",
    steps: [/^Done: Fresh/, enter],
    sent: "POST /api/work-done",
    says: /^Watched again\.$/,
  },
  {
    act: "keep somebody out for a while",
    at: "people",
    answers: {
      "POST /api/people/Mara/disabled": {
        items: [{ name: "Mara", role: "operator", madeAt: new Date(0).toISOString(), disabled: true }],
      },
    },
    steps: [/^Change…: Mara/, enter, /^Disable: Mara/, enter],
    sent: "POST /api/people/Mara/disabled",
    says: /^Mara may not sign in for now\.$/,
  },
  {
    act: "change the own password",
    at: "people",
    steps: [
      /^Current password/,
      { type: "brackish mornings" },
      /^New password/,
      { type: "brackish evenings" },
      enter,
    ],
    sent: "POST /api/me/password",
    says: /^Changed\. Everywhere else/,
  },
  {
    act: "make a program's token",
    at: "people",
    answers: { "POST /api/tokens": { name: "wall-tablet", token: "T0KEN" } },
    steps: [/^Program/, { type: "wall-tablet" }, enter],
    sent: "POST /api/tokens",
    says: /^Made\.$/,
  },
];
