export { isLoopback } from "./addresses.ts";
export type { GivenAct, HttpComponents, HttpOptions, Metric, TlsFiles } from "./components.ts";
export type { DrumView, LineView, LiveEvent, NodeView, PointView, Quantity, StageView } from "./contract.ts";
export { createHttp } from "./create-http.ts";
export { calls } from "./open-api.ts";
export { everyCode } from "./problems.ts";
export { alarmChangeView, fillView, iso } from "./views.ts";
