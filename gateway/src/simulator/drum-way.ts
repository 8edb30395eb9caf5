import type { DrumControl } from "./drum-setting.ts";

const hourS = 3600;
const dayS = 24 * hourS;
/** How long a person who filled takes to come back and close the tap, s. */
const closesS = [30, 180] as const;

type Person = Extract<DrumControl, { readonly by: "person" }>;

/** The tap, clock or plain pipe before the float of a simulated drum. */
export function createSimulatedWay(control: DrumControl, random: () => number) {
  let isOpen = control.by === "float";
  let closesAtS: number | null = null;
  let pressed = false;

  function personActs(person: Person, litres: number, isWet: boolean, nowS: number): void {
    const { comesAtL, hours, forgetsShare } = person;
    const ofDayS = nowS % dayS;
    const isThere = ofDayS >= hours[0] * hourS && ofDayS < hours[1] * hourS;
    if (!isOpen && isThere && litres <= comesAtL) {
      isOpen = true;
      pressed = random() >= forgetsShare;
      closesAtS = null;
    }
    if (isOpen && isWet) closesAtS ??= nowS + closesS[0] + (closesS[1] - closesS[0]) * random();
    if (closesAtS !== null && nowS >= closesAtS) {
      isOpen = false;
      closesAtS = null;
    }
  }

  return {
    isOpen: () => isOpen,
    /** "I'm filling now" was pressed in this second. */
    pressed: () => pressed,
    step(litres: number, isWet: boolean, nowS: number): void {
      pressed = false;
      if (control.by === "timer") isOpen = nowS % control.everyS < control.openS;
      if (control.by === "person") personActs(control, litres, isWet, nowS);
    },
  };
}
