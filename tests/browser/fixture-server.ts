import { createReadStream, existsSync } from "node:fs";
import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import { extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import type {
  AlarmView,
  Buckets,
  DrumView,
  LineView,
  LiveEvent,
  PointView,
  Quantity,
} from "@drumlin/gateway/contract";

const dist = fileURLToPath(new URL("../../monitor-ui/dist/", import.meta.url));
const types: Readonly<Record<string, string>> = {
  ".html": "text/html",
  ".js": "text/javascript",
  ".css": "text/css",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".webmanifest": "application/manifest+json",
};

/** A quantity measured at `atMs`, flag 1 unless told. */
export function quantity(
  value: number | null,
  unit: string,
  atMs: number,
  flag: Quantity["flag"] = 1,
): Quantity {
  return {
    value,
    unit,
    flag: value === null ? 9 : flag,
    at: new Date(atMs).toISOString(),
    reasons: [],
  };
}

/** A point behind resin with good, judged, running water, measured at `atMs`. */
export function goodPoint(atMs: number): PointView {
  return {
    id: "after-resin",
    title: "After resin",
    conductivity25: quantity(0.62, "uS/cm", atMs),
    conductivity: quantity(0.6, "uS/cm", atMs),
    solids: quantity(0.4, "mg/L", atMs),
    temperature: quantity(18, "Cel", atMs),
    limit: 5,
    judged: { now: true, because: null },
    run: { flowing: true, basis: "flow-meter", since: null, litres: 20, flow: 3, settled: true },
    hasProbe: true,
    probe: null,
    quantities: ["conductivity25"],
  };
}

/** A drum with a level measured at `atMs`, fit for use. */
export function goodDrum(atMs: number): DrumView {
  return {
    id: "fresh",
    title: "Fresh drum",
    fedBy: "after-resin",
    holds: "fresh",
    control: "automatic",
    capacity: 200,
    volume: quantity(138, "L", atMs),
    filling: false,
    flow: null,
    timeToTrip: null,
    timeToOverflow: null,
    water: {
      verdict: "use",
      since: new Date(atMs).toISOString(),
      reasons: [],
      blend25: null,
      unwatched: 0,
      release: null,
    },
    batch: null,
    fill: null,
    expectedEnd: null,
    floats: [
      {
        id: "fresh.stop",
        role: "stop",
        state: "dry",
        changedAt: new Date(atMs - 72 * 60_000).toISOString(),
        test: null,
        lastTest: null,
        lastProvenAt: new Date(atMs - 72 * 60_000).toISOString(),
        provenBy: "fill",
        dueAt: new Date(atMs + 90 * 86_400_000).toISOString(),
        trip: 170,
        tripsAt: 170,
      },
    ],
    quantities: ["volume"],
    missing: [],
  };
}

/** A standing alarm behind resin, raised at `atMs`. */
export function standingAlarm(state: AlarmView["state"], atMs: number): AlarmView {
  return {
    key: "resin-breakthrough:after-resin",
    occurrence: "7.1",
    condition: "resin-breakthrough",
    subject: "after-resin",
    attention: "tell",
    priority: "high",
    state,
    judged: { now: true, because: null, since: new Date(atMs).toISOString() },
    raisedAt: new Date(atMs).toISOString(),
    clearedAt: null,
    acknowledgedAt:
      state.endsWith("acknowledged") && !state.endsWith("unacknowledged")
        ? new Date(atMs).toISOString()
        : null,
    acknowledgedBy: null,
    under: null,
    shelvedUntil: state === "shelved" ? new Date(atMs + 1_800_000).toISOString() : null,
    value: 7.4,
    raisedValue: null,
    limit: 5,
    unit: "uS/cm",
    text: "Resin is letting solids through",
    response: "Stop the fill, change the resin.",
  };
}

/** What a fixture gateway shows; a test changes it and cuts or refuses streams. */
export interface Fixture {
  /** Gateway's clock, epoch ms. */
  now: () => number;
  points: (nowMs: number) => PointView[];
  drums: (nowMs: number) => DrumView[];
  alarms: AlarmView[];
  buckets: Buckets | null;
  /** Buckets for what is asked; before `buckets`. */
  series?: ((fromMs: number, toMs: number, count: number, path: string) => Buckets) | undefined;
  stages?: LineView["stages"];
  nodes?: (nowMs: number) => LineView["nodes"];
  waitsFor?: LineView["waitsFor"];
  /** The house's zone; the machine's own where left out. */
  timezone?: string;
  /** New streams get 503 while true. */
  refuse: boolean;
  /** Streams stay open and say nothing, acts get no answer: a gateway that hangs. */
  hang?: boolean;
  work?: LineView["work"];
  /** Other answers, by their path; those to what is sent by "POST /path". */
  answers?: ReadonlyMap<string, unknown>;
}

/** Serves the built pages with canned answers that keep the contract; port 0 is one of the system's choice. */
export async function startFixtureServer(fixture: Fixture, port = 0) {
  const streams = new Set<ServerResponse>();
  const asked: string[] = [];
  let seq = 0;
  let underWay = 0;
  const lineView = (): LineView => ({
    site: "saltmarsh-house",
    title: "Saltmarsh House",
    timezone: fixture.timezone ?? Intl.DateTimeFormat().resolvedOptions().timeZone,
    simulated: true,
    solids: 0.64,
    now: new Date(fixture.now()).toISOString(),
    points: fixture.points(fixture.now()),
    stages: fixture.stages ?? [],
    drums: fixture.drums(fixture.now()),
    nodes: fixture.nodes?.(fixture.now()) ?? [],
    waitsFor: fixture.waitsFor ?? [],
    work: fixture.work ?? [],
  });
  let settings: unknown = null;
  const me = () => ({
    signedIn: { kind: "person", name: "keeper", role: "operator" },
    setUp: false,
    plain: false,
    given: false,
    settings,
  });
  const bodyOf = async (request: IncomingMessage): Promise<unknown> => {
    const parts: Buffer[] = [];
    for await (const part of request) parts.push(part as Buffer);
    return JSON.parse(Buffer.concat(parts).toString());
  };
  const send = (stream: ServerResponse, { event, data }: LiveEvent) => {
    seq += 1;
    stream.write(`id: ${seq}\nevent: ${event}\ndata: ${JSON.stringify(data)}\n\n`);
  };
  const json = (response: ServerResponse, status: number, body: unknown) => {
    response.writeHead(status, { "content-type": "application/json" });
    response.end(JSON.stringify(body));
  };
  const live = (response: ServerResponse) => {
    if (fixture.refuse) {
      json(response, 503, { code: "too-many-streams" });
      return;
    }
    response.writeHead(200, { "content-type": "text/event-stream" });
    response.write("retry: 200\n\n");
    streams.add(response);
    response.on("close", () => streams.delete(response));
    send(response, { event: "snapshot", data: { line: lineView(), alarms: fixture.alarms } });
  };
  const beating = setInterval(() => {
    if (fixture.hang) return;
    const beat = JSON.stringify({ now: new Date(fixture.now()).toISOString() });
    for (const stream of streams) stream.write(`event: heartbeat\ndata: ${beat}\n\n`);
  }, 5000);
  const server = createServer((request: IncomingMessage, response: ServerResponse) => {
    const { pathname, searchParams } = new URL(request.url ?? "/", "http://localhost");
    const number = (name: string) => Number(searchParams.get(name));
    asked.push(`${request.method} ${request.url}`);
    if (pathname === "/api/live") return live(response);
    underWay += 1;
    response.on("close", () => (underWay -= 1));
    if (pathname === "/api/me" && !fixture.answers?.has(pathname)) return json(response, 200, me());
    if (pathname === "/api/me/settings" && !fixture.hang) {
      void bodyOf(request).then((body) => {
        settings = body;
        json(response, 200, me());
      });
      return;
    }
    if (pathname.endsWith("/series") && fixture.series)
      return json(response, 200, fixture.series(number("from"), number("to"), number("buckets"), pathname));
    if (pathname.endsWith("/series")) return json(response, fixture.buckets ? 200 : 503, fixture.buckets);
    if (fixture.hang && pathname.startsWith("/api/")) return;
    const canned = fixture.answers?.get(
      request.method === "GET" ? pathname : `${request.method} ${pathname}`,
    );
    if (canned !== undefined) return json(response, 200, canned);
    if (pathname === "/api/line") return json(response, 200, lineView());
    if (pathname === "/api/alarms") return json(response, 200, { items: fixture.alarms, next: null });
    if (pathname === "/api/fills" || pathname === "/api/alarms/journal")
      return fixture.refuse ? json(response, 503, {}) : json(response, 200, { items: [], next: null });
    // What is done with a drum, and work, is answered with the line as it is then.
    if (request.method === "POST" && /^\/api\/(drums\/|work)/.test(pathname))
      return json(response, 200, lineView());
    if (request.method === "POST") return json(response, 200, { items: fixture.alarms, next: null });
    const file = join(dist, pathname === "/" ? "index.html" : pathname);
    if (!file.startsWith(dist) || !existsSync(file)) return json(response, 404, {});
    response.writeHead(200, { "content-type": types[extname(file)] ?? "application/octet-stream" });
    createReadStream(file).pipe(response);
  });
  await new Promise<void>((resolve) => server.listen(port, "127.0.0.1", resolve));
  const address = server.address();
  return {
    port: typeof address === "object" && address ? address.port : 0,
    /** Method and address of everything asked so far. */
    asked,
    /** How much of what was asked has no whole answer yet; streams are not counted. */
    waiting: () => underWay,
    /** What the person who is signed in has chosen. */
    chosen: () => settings,
    /** What the person has chosen, who is signed in; null: nothing. */
    choose(chosen: unknown): void {
      settings = chosen;
    },
    streams: () => streams.size,
    /** Says something on every open stream. */
    tell(event: LiveEvent): void {
      for (const stream of streams) send(stream, event);
    },
    /** Ends every open stream. */
    cut(): void {
      for (const stream of streams) stream.destroy();
    },
    async stop(): Promise<void> {
      clearInterval(beating);
      for (const stream of streams) stream.destroy();
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}
