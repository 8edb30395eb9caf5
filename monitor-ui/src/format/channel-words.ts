import type { NodeView } from "@drumlin/gateway/contract";
import { gatewayNowMs, line, lost } from "../data/state.ts";
import { say, w } from "../words/words.ts";
import { staleMs } from "./freshness.ts";
import { figure } from "./numbers.ts";
import { inUnit } from "./units.ts";

/** A channel of the line with what it said last. */
export type ChannelView = NodeView["channels"][number];

type Contacts = typeof w.nodeWords.contacts;

/** A contact as what it is of: a float or the floor wet, a valve open, a pump running, a button pressed. */
function contactWords(of: string, isOn: boolean): string {
  const contacts = w.nodeWords.contacts;
  const words = Object.hasOwn(contacts, of) ? contacts[of as keyof Contacts] : contacts.float;
  return isOn ? words.on : words.off;
}

function valueWords({ of, quantity, now }: ChannelView, value: number): string {
  if (quantity === "state") return contactWords(of.kind, value !== 0);
  // At the water's own temperature: no scale of solids holds there.
  return quantity === "conductivity" ? `${figure(value)} µS/cm` : inUnit(value, now.unit);
}

/** What a channel said last: "412 µS/cm", "dry", "was 18.0 °C" where it is old; "" where nothing of it is known. */
export function channelWords(shown: ChannelView | undefined): string {
  const value = shown?.now.value ?? shown?.now.was ?? null;
  if (!shown || value === null) return "";
  const words = valueWords(shown, value);
  const { at } = shown.now;
  const isOld =
    lost.value || shown.now.value === null || at === null || gatewayNowMs.value - Date.parse(at) > staleMs;
  return isOld ? say(w.drum.was, { volume: words }) : words;
}

/** A channel by its name, where the line shows it. */
export const channelNamed = (name: string | null): ChannelView | undefined =>
  line.value?.nodes
    .find(({ id }) => name?.startsWith(`${id}/`))
    ?.channels.find(({ channel }) => channel === name);
