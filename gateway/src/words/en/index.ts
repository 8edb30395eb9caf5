export { sentences } from "../form/sentences.ts";
export { conditions } from "./conditions.ts";
export { messages } from "./messages.ts";
export { nightParts, nightReport } from "./nights.ts";
export {
  alarmChanges,
  alarmStates,
  attentions,
  flagReasons,
  floatRoles,
  names,
  notJudged,
  stageKinds,
  verdicts,
} from "./states.ts";
