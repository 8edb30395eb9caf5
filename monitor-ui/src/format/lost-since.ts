import { gatewayHeardMs, gatewayNowMs } from "../data/state.ts";
import { say, w } from "../words/words.ts";
import { clock } from "./numbers.ts";

/** "No contact since 02:44": asked only of a page without contact, since each word of the stream moves that time. */
export const lostSince = (): string =>
  say(w.frame.lostSince, { time: clock(new Date(gatewayHeardMs.value).toISOString(), gatewayNowMs.value) });
