export { codes } from "./codes.ts";
export { conditions } from "./conditions.ts";
export { lineFaults } from "./line-faults.ts";
export { messages } from "./messages.ts";
export { nightParts, nightReport } from "./nights.ts";
export { sentences } from "./sentences.ts";
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
