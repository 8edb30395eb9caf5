import { drumsKeys, settingsKeys } from "./drum-keys.ts";
import { notifyKeys } from "./notify-keys.ts";
import { pointsKeys, siteKeys } from "./site-keys.ts";
import { besidesKeys, stagesKeys } from "./stage-keys.ts";

const all = [siteKeys, pointsKeys, stagesKeys, drumsKeys, settingsKeys, besidesKeys, notifyKeys].flat();

/** Whether a place in a file is the one that a key of the reference stands for: `*` is any name, `[]` any place of a list. */
function isAt(key: string, path: readonly PropertyKey[]): boolean {
  const steps = key.split(".");
  return (
    steps.length === path.length &&
    steps.every(
      (step, at) =>
        step === "*" || step === String(path[at]) || (step === "[]" && Number.isInteger(path[at])),
    )
  );
}

/** How the key at a place of the file is written, as the reference shows it; null where it knows none. */
export function exampleAt(path: readonly PropertyKey[]): string | null {
  const found =
    all.find(([key]) => isAt(key, path)) ?? all.find(([key]) => key === `channel.${String(path.at(-1))}`);
  return found?.[1].example ?? null;
}
