import type { Me } from "@drumlin/gateway/contract";
import { effect } from "@preact/signals";
import { me } from "./me.ts";
import { ask, type Sent, send } from "./send.ts";
import {
  choose,
  keptAt,
  ofDevice,
  ofPerson,
  recall,
  type Settings,
  settings,
  settingsIn,
  usual,
} from "./settings.ts";
import { lost } from "./state.ts";

const places = { device: ofDevice, person: ofPerson } as const;
const wheres = ["device", "person"] as const;

/** Changes that the gateway has not answered yet, in their order; they are shown already. */
const unanswered: Partial<Settings>[] = [];
let turn: Promise<unknown> = Promise.resolve();

/** What the person chose, as the gateway knows it, and what is on its way there. */
function chosenByPerson(): Settings | null {
  const kept = settingsIn(me.value?.settings);
  return unanswered.length === 0 ? kept : Object.assign({}, kept ?? usual, ...unanswered);
}

/** Keeps the settings in this browser, and follows another tab of it and the person who is signed in. */
export function keepSettings(): void {
  effect(() => {
    // Nobody who has an account: what somebody else chose is not theirs.
    if (me.value) ofPerson.value = chosenByPerson();
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
export function chooseSettings(change: Partial<Settings>): Promise<Sent> {
  if (!hasAccount() || ofDevice.value) {
    choose(change);
    return Promise.resolve({ taken: true, told: null });
  }
  unanswered.push(change);
  ofPerson.value = chosenByPerson();
  // One after the other: two at once could come to the gateway in another order.
  const mine = turn.then(() => tellChange(change));
  turn = mine;
  return mine;
}

/** Tells the gateway one change; what the person chose meanwhile on another device stays. */
async function tellChange(change: Partial<Settings>): Promise<Sent> {
  const now = lost.value ? null : await ask<Me>("/api/me");
  const before = settingsIn((now ?? me.value)?.settings) ?? usual;
  const sent = await send<Me>("/api/me/settings", { ...before, ...change });
  unanswered.shift();
  if (sent.taken) me.value = sent.told;
  else ofPerson.value = chosenByPerson();
  return sent;
}

/** Lets this device have settings of its own, as they are now; or follow the person again. */
export function holdOnDevice(isOwn: boolean): void {
  ofDevice.value = isOwn ? settings.value : null;
}
