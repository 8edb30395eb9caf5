import type { DrumView, ProofView } from "@drumlin/gateway/contract";
import { clock } from "./numbers.ts";

/** Floats by their role. */
export const floatNames = {
  stop: "Stop float",
  start: "Start float",
  overflow: "Overflow float",
  low: "Low float",
} as const;

export type Role = keyof typeof floatNames;
type Method = ProofView["method"];

/** Ways to try a float, in the order in which they are offered. */
export const methods: readonly { readonly value: Method; readonly words: string; readonly shows: string }[] =
  [
    {
      value: "lifted",
      words: "By hand",
      shows: "Shows that the contact and its wire work, not that the float swims.",
    },
    {
      value: "bucket",
      words: "In a bucket",
      shows: "Shows contact, wire and that it swims, not that it sits at the right height.",
    },
    {
      value: "water",
      words: "With the drum's water",
      shows: "Shows everything: contact, wire, float and height.",
    },
  ];

const dayMs = 86_400_000;

/** When a float was seen to work, or that it wants a test: "proved 05:46", "not proved yet", "test due". */
export function provedWords(
  { lastProvenAt, dueAt }: Pick<DrumView["floats"][number], "lastProvenAt" | "dueAt">,
  nowMs: number,
): string {
  const leftDays = dueAt === null ? null : Math.ceil((Date.parse(dueAt) - nowMs) / dayMs);
  const due =
    leftDays === null || leftDays > 14
      ? ""
      : leftDays <= 0
        ? " · test due"
        : ` · test due in ${leftDays} ${leftDays === 1 ? "day" : "days"}`;
  return (lastProvenAt === null ? "not proved yet" : `proved ${clock(lastProvenAt, nowMs)}`) + due;
}

/** What to do now, by what is waited for. */
export function askedFor(method: Method, role: Role, waitsFor: "wet" | "dry"): string {
  const name = floatNames[role].toLowerCase();
  if (waitsFor === "wet")
    return {
      lifted: `Lift the ${name} now and hold it up.`,
      bucket: `Raise the bucket until the ${name} swims, and hold it there.`,
      water: `Let water in until it lifts the ${name}. Stay with it.`,
    }[method];
  return {
    lifted: "Wet seen. Let it go.",
    bucket: "Wet seen. Take the bucket away.",
    water: "Wet seen. Let water out until it hangs again.",
  }[method];
}

/** How a test ended, in one sentence or two. */
export function resultWords({ result, method }: Pick<ProofView, "result" | "method">): string {
  switch (result) {
    case "passed":
      return `Dry, wet, dry. Proved. ${methods.find(({ value }) => value === method)?.shows ?? ""}`;
    case "turned":
      return "Turned round: it now reads dry while it hangs. Proved.";
    case "reversed":
      return "It read wet while it hung, and dry when it was lifted. Nothing was changed.";
    case "no-change":
      return "It didn't move. Nothing was changed. Check the float and its wire.";
    case "stayed":
      return "It stayed wet: it was not seen to fall again. Nothing was changed.";
    case "flickered":
      return "It flickered: that proves nothing. Nothing was changed. Check its contact and wire.";
    case "silent":
      return "Its node said nothing. Nothing was changed.";
    case "cancelled":
      return "Given up. Nothing was changed.";
  }
}
