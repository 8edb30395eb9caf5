// The rooms in the order in which data flows. A room imports rooms before it, through their index.ts.
const pure = [
  "words",
  "quantities",
  "statistics",
  "water",
  "line",
  "acts",
  "path",
  "readings",
  "measurements",
  "fills",
  "trends",
  "alarms",
  "findings",
  "nights",
  "simulator",
];
const world = [
  "database",
  "journal",
  "series",
  "logbook",
  "accounts",
  "broker",
  "notifications",
  "http",
  "app",
];
const rooms = [...pure, ...world];
const src = "^gateway/src/";

export default {
  forbidden: [
    ...rooms.slice(0, -1).map((room, place) => ({
      name: `later-room:${room}`,
      comment: `${room} imports a later room. Move the type down, or let app/ hand the dependency in.`,
      severity: "error",
      from: { path: `${src}${room}/` },
      to: { path: `${src}(${rooms.slice(place + 1).join("|")})/` },
    })),
    {
      name: "only-through-the-front-door",
      comment: "An inside file of another room was imported. Import that room's index.ts.",
      severity: "error",
      from: { path: `${src}([^/]+)/` },
      to: { path: `${src}[^/]+/.+`, pathNot: [`${src}$1/`, `${src}[^/]+/index[.]ts$`] },
    },
    {
      name: "pure-rooms-do-no-io",
      comment: "Pure rooms hold no I/O and own no clock. Take the value as an argument.",
      severity: "error",
      from: { path: `${src}(${pure.join("|")})/` },
      to: { dependencyTypes: ["core"] },
    },
    {
      name: "pure-rooms-use-no-servers",
      comment: "Brokers, servers, loggers and database clients belong to the rooms of the world.",
      severity: "error",
      from: { path: `${src}(${pure.join("|")})/` },
      to: { path: "node_modules/(aedes|mqtt|fastify|@fastify|pino|@influxdata)" },
    },
    {
      name: "pages-know-only-the-contract",
      comment:
        "monitor-ui takes types from http/contract.ts and words from words/ and nothing else from the gateway.",
      severity: "error",
      from: { path: "^monitor-ui/" },
      to: { path: "^gateway/", pathNot: "^gateway/src/(http/contract[.]ts$|words/(form|en|de)/)" },
    },
    {
      name: "protocol-knows-nobody",
      comment: "firmware-protocol stands alone, so that any implementation can use it.",
      severity: "error",
      from: { path: "^firmware-protocol/" },
      to: { path: "^(gateway|monitor-ui|tests)/" },
    },
    {
      name: "product-imports-no-tests",
      comment: "Product code must not depend on tests.",
      severity: "error",
      from: { path: "^(gateway|monitor-ui|firmware-protocol)/" },
      to: { path: "^tests/" },
    },
    {
      name: "no-circle",
      comment: "Two files import each other. Move what both need into a third.",
      severity: "error",
      from: {},
      to: { circular: true },
    },
    {
      name: "resolvable",
      comment: "An import leads nowhere.",
      severity: "error",
      from: {},
      to: { couldNotResolve: true, pathNot: "[.]css$" },
    },
  ],
  options: {
    tsPreCompilationDeps: true,
    doNotFollow: { path: "node_modules" },
    exclude: { path: "(^|/)dist/" },
    enhancedResolveOptions: {
      exportsFields: ["exports"],
      conditionNames: ["import", "types", "default"],
      extensions: [".ts", ".tsx", ".js", ".mjs", ".json"],
    },
  },
};
