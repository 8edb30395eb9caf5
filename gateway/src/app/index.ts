export { main } from "./command-line.ts";
export { createDemoLine } from "./demo-history.ts";
export { type Derived, derive } from "./derive.ts";
export { deriveMeasurements, type HistoryContext } from "./history-driver.ts";
export { lineTemplates, type Picture, pictures } from "./line-templates.ts";
export { createLiveDriver } from "./live-driver.ts";
export { createPipeline, type Outcome } from "./pipeline.ts";
export { type Gateway, type GatewayOptions, startGateway } from "./start-gateway.ts";
export { type TlsPaths, watchTls } from "./tls-files.ts";
