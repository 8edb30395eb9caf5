import type { Me } from "@drumlin/gateway/contract";
import { effect } from "@preact/signals";
import { me } from "./me.ts";
import { type Sent, send } from "./send.ts";
import { choose, keptAt, ofDevice, ofPerson, recall, type Settings, settings } from "./settings.ts";

const places = { device: ofDevice, person: ofPerson } as const;
const wheres = ["device", "person"] as const;

/** Keeps the settings in this browser, and follows another tab of it and the person who is signed in. */
export function keepSettings(): void {
  effect(() => {
    // Nobody who has an account: what somebody else chose is not theirs.
    if (me.value) ofPerson.value = me.value.settings ?? null;
  });
  for (const where of wheres)
    effect(() => {
      const kept = places[where].value;
      try {
        if (kept) localStorage.setItem(keptAt[where], JSON.stringify(kept));
        else localStorage.removeItem(keptAt[where]);
      } catch {
        // A private window may keep nothing: then they last until the reload.
      }
    });
  addEventListener("storage", ({ key }) => {
    for (const where of wheres) if (key === keptAt[where]) places[where].value = recall(where);
  });
}

/** Whether somebody is signed in whose account can keep what they choose. */
export const hasAccount = (): boolean => me.value?.signedIn?.kind === "person" && !me.value.given;

/** Changes settings where they hold: of this device alone where it has its own, or nobody has an account; else the person's. */
export async function chooseSettings(change: Partial<Settings>): Promise<Sent> {
  if (!hasAccount() || ofDevice.value) {
    choose(change);
    return { taken: true, told: null };
  }
  const [before, wanted] = [ofPerson.value, { ...settings.value, ...change }];
  ofPerson.value = wanted;
  const sent = await send<Me>("/api/me/settings", wanted);
  if (sent.taken) me.value = sent.told;
  else ofPerson.value = before;
  return sent;
}

/** Lets this device have settings of its own, as they are now; or follow the person again. */
export function holdOnDevice(isOwn: boolean): void {
  ofDevice.value = isOwn ? settings.value : null;
}
