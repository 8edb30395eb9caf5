export { type Counted, type CounterKind, countedBy, counterName } from "./counters.ts";
export { type DecodedPack, decodePack } from "./decode.ts";
export { encodeCbor, encodeJson } from "./encode.ts";
export { type PackLabels, type ReadLabels, readLabels } from "./labels.ts";
export { PackForms } from "./pack-form.ts";
export { readPlainPack } from "./plain-pack.ts";
export { type AnnouncedChannel, type ParsedPresence, type Presence, parsePresence } from "./presence.ts";
export { mostRecords, type SenmlRecord, type SenmlRefusal, type SenmlRefusalCode } from "./records.ts";
export {
  type AskedKind,
  type AskedRequest,
  askedKinds,
  encodeRequest,
  type NodeRequest,
  type ParsedRequest,
  parseRequest,
  periodRangeS,
  type RequestContext,
  type RequestRefusal,
  type SoundRequest,
} from "./request.ts";
export { absoluteFromS, type ResolvedPack, type ResolvedRecord, resolvePack } from "./resolve.ts";
export { encodeResponse, type NodeResponse, type ParsedResponse, parseResponse } from "./response.ts";
export {
  gatewayTopic,
  type NodeTopicKind,
  namePattern,
  nodeTopic,
  type ParsedTopic,
  parseTopic,
  protocolVersion,
} from "./topics.ts";
export { type UnitMeaning, unitMeaning } from "./units.ts";
