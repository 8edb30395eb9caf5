import { randomUUID } from "node:crypto";
import { openAccounts, type Who } from "../accounts/index.ts";
import type { Act, ActRefused } from "../acts/index.ts";
import {
  createBroker,
  createOutsideBroker,
  createRefusalCounts,
  type OutsideBrokerOptions,
  type RateLimits,
} from "../broker/index.ts";
import { createHttp, type GivenAct, type TlsFiles } from "../http/index.ts";
import { openJournal } from "../journal/index.ts";
import { openLogbook } from "../logbook/index.ts";
import { channelOfReadingSeries } from "../measurements/index.ts";
import { openSqliteSeries } from "../series/index.ts";
import { createClockKeeper } from "./clock-keeper.ts";
import { derive } from "./derive.ts";
import { type GatewayCounts, gatewayMetrics } from "./gateway-metrics.ts";
import { type HostTime, steadyMs } from "./host-time.ts";
import { alarmTurned } from "./in-calendar.ts";
import { createLineFile } from "./line-file.ts";
import { createLiveDriver } from "./live-driver.ts";
import { createLiveState } from "./live-state.ts";
import { logbookRecords } from "./logbook-records.ts";
import { monitorPages } from "./monitor-pages.ts";
import type { ListenAddress } from "./options.ts";
import { createPipeline, type Outcome } from "./pipeline.ts";
import { createRetainedOutputs } from "./retained-outputs.ts";
import { createWorldFacts } from "./world-facts.ts";

const checkpointEveryMs = 10_000;
const version = "0.1.0";

export interface GatewayOptions {
  readonly data: string;
  /** The checked text of the line file. */
  readonly lineYaml: string;
  /** Where that text came from, so that pages can change it. */
  readonly lineFile?: string;
  readonly http: ListenAddress;
  readonly mqtt: ListenAddress;
  /** TLS of the page and the API. */
  readonly tls?: TlsFiles | null;
  readonly mqttTls?: TlsFiles | null;
  /** Plain HTTP on private addresses, on purpose. */
  readonly plainHttp?: boolean;
  /** Whoever asks is this one: the demo, and tests. On loopback only. */
  readonly signedIn?: Who;
  readonly simulated?: boolean;
  readonly rate?: RateLimits;
  /** Told when another gateway took the site over on that broker. */
  readonly onTakenOver?: () => void;
  /** A broker of somebody else, instead of the embedded one. */
  readonly outsideBroker?: Pick<
    OutsideBrokerOptions,
    "url" | "username" | "password" | "ca" | "takeOver"
  > | null;
  /** The machine's times; tests set them. */
  readonly host?: HostTime;
  /** Appends history with its own times before the gateway opens its doors (the demo). */
  readonly before?: (
    append: (topic: string, payload: Uint8Array, receivedAt: number) => Promise<number>,
  ) => Promise<void>;
  readonly log: (message: string) => void;
}

export interface Gateway {
  readonly httpPort: number;
  readonly mqttPort: number;
  /** For the first account; null when there is one. Printed by whoever starts the gateway. */
  readonly setUpCode: string | null;
  /** New certificates for new connections. */
  renewTls(tls: TlsFiles): void;
  renewMqttTls(tls: TlsFiles): void;
  /** Takes what stands in the line file now; the result is logged. */
  reloadLine(): Promise<void>;
  stop(): Promise<void>;
}

/** Starts a gateway on a data folder: goes on where it stopped, then opens its doors. Undoes itself when a part fails. */
export async function startGateway(options: GatewayOptions): Promise<Gateway> {
  const { data, lineYaml, log } = options;
  const begun: (() => Promise<void> | void)[] = [];
  const undo = async () => {
    for (const step of begun.splice(0).reverse()) await step();
  };
  try {
    const time = createClockKeeper({ folder: data, log, ...(options.host ? { host: options.host } : {}) });
    const { clock, calendar } = time;
    const now = clock.nowMs;
    const journal = await openJournal({
      folder: data,
      now: clock.engineMs,
      onTrouble: (trouble) =>
        log(
          trouble === null
            ? "journal: written again"
            : `journal: can't be written, nothing is acknowledged until it can: ${trouble} Look at the disk of ${data}.`,
        ),
    });
    begun.push(() => journal.close());
    for (const path of journal.setAside)
      log(`journal: ${path} was damaged; what could be read was kept, the file stays there`);
    time.resume(journal.lastReceivedAt);
    const series = await openSqliteSeries({ folder: data });
    begun.push(() => series.close());
    const logbook = openLogbook({ folder: data });
    begun.push(() => logbook.close());

    const accounts = openAccounts({ folder: data, now, elapsedMs: clock.engineMs });
    begun.push(() => accounts.close());

    const pipeline = createPipeline();
    const live = createLiveState({
      engineMs: clock.engineMs,
      calendar,
      simulated: options.simulated === true,
      board: pipeline.board,
      line: () => pipeline.line(),
    });
    const waitingActs = new Map<string, (refused: ActRefused | null) => void>();
    const counts: GatewayCounts = {
      readings: 0,
      rejections: 0,
      repeats: 0,
      storeFailures: 0,
      entryFailures: 0,
    };
    const refusals = createRefusalCounts(now);
    const onRefused = refusals.note;
    let deriving: Promise<void> = Promise.resolve();
    /** A calibration for the past changes what was measured since: that part of the past is derived anew, one after the other. */
    const deriveAfter = (given: Act, atMs: number): void => {
      if (
        given.type === "calibration" &&
        given.validFromMs !== undefined &&
        calendar.at(given.validFromMs) < atMs
      )
        deriveSince(calendar.at(given.validFromMs));
    };
    let deriveFromMs: number | null = null;
    /** One derivation after the other; what is asked for while one waits joins it. */
    function deriveSince(fromMs: number): void {
      const waits = deriveFromMs !== null;
      deriveFromMs = Math.min(deriveFromMs ?? fromMs, fromMs);
      if (!waits)
        deriving = deriving.then(deriveNow).catch((error: unknown) => log(`derive: ${String(error)}`));
    }
    async function deriveNow(): Promise<void> {
      const fromMs = deriveFromMs;
      deriveFromMs = null;
      const inForce = pipeline.line();
      if (fromMs === null || !inForce) return;
      const since = new Date(fromMs).toISOString();
      await driver.flush();
      const nowMs = now();
      const derived = await derive(
        { line: inForce, series, logbook, nowMs, isCancelled: () => stopped },
        fromMs,
        nowMs,
      );
      if (!derived) {
        log(
          `derive: given up by the stop. While it is stopped: drumlin derive --data ${data} --from ${since}`,
        );
        return;
      }
      const { replaced, measurements, fills } = derived;
      log(
        `derived since ${since}: ${measurements} measurements, ${replaced} other than before; ${fills.revised + fills.added + fills.withdrawn} fills changed`,
      );
    }
    /** A channel that has just got its place: all that it ever said means something now. */
    async function deriveOf(channel: string): Promise<void> {
      const names = (await series.names()).filter(
        (name) => channelOfReadingSeries(name)?.channel === channel,
      );
      for (const name of names)
        for await (const [first] of series.range(name, 0, now())) {
          if (first) deriveSince(first.tMs);
          break;
        }
    }
    let stopped = false;
    const onOutcome = (outcome: Outcome, seq: number): void => {
      live.take(outcome, seq);
      if (outcome.kind === "reading") counts.readings += 1;
      else if (outcome.kind === "rejection") counts.rejections += 1;
      else if (outcome.kind === "pack" && outcome.repeat) counts.repeats += 1;
      else if (outcome.kind === "act-done") {
        if (outcome.refused === null) deriveAfter(outcome.act, calendar.at(outcome.atMs));
        waitingActs.get(outcome.act.id)?.(outcome.refused);
        waitingActs.delete(outcome.act.id);
      }
    };
    const driver = createLiveDriver({
      pipeline,
      journal,
      series,
      logbook,
      calendar,
      onOutcome,
      onEntryFailure(seq, error) {
        counts.entryFailures += 1;
        log(`journal entry ${seq} could not be run and is passed over: ${error.message}`);
      },
      onStoreFailure(error) {
        counts.storeFailures += 1;
        log(`series: ${error.message}`);
      },
    });
    const fromSeq = driver.restore(
      await journal.loadCheckpoint(),
      journal.firstSeq,
      logbookRecords(logbook, calendar),
    );
    for await (const entries of journal.read(fromSeq)) {
      time.take(entries);
      driver.takeAll(entries);
    }
    journal.onCommitted(time.take);
    journal.onCommitted((entries) => driver.takeSoon(entries));

    await journal.append(
      { kind: "start", version, instance: journal.instance },
      options.before ? 0 : undefined,
    );
    if (logbook.lastLine() !== lineYaml)
      await journal.append({ kind: "line", yaml: lineYaml }, options.before ? 0 : undefined);
    if (options.before) {
      await options.before((topic, payload, receivedAt) =>
        journal.append({ kind: "message", topic, payload }, receivedAt),
      );
      await driver.flush();
    }
    driver.catchUp();
    const line = pipeline.line();
    if (!line) throw new Error("The line file did not come into force.");

    let stopping = false;
    const tick = setInterval(() => {
      const deadline = pipeline.nextDeadline();
      if (!stopping && deadline !== null && deadline <= clock.engineMs())
        journal.append({ kind: "tick" }).catch(() => {});
    }, 250);
    let saving: NodeJS.Timeout | undefined;
    // A large state takes long to write: it is then written less often, so that it never takes over 5 % of the time.
    const saveAfter = (waitMs: number): void => {
      saving = setTimeout(async () => {
        const begunMs = steadyMs();
        await driver.checkpoint().catch((error: unknown) => log(`checkpoint: ${String(error)}`));
        if (!stopping) saveAfter(Math.max(checkpointEveryMs, 20 * (steadyMs() - begunMs)));
      }, waitMs);
    };
    saveAfter(checkpointEveryMs);
    time.start(journal);
    begun.push(() => {
      time.stop();
      clearInterval(tick);
      clearTimeout(saving);
    });

    const foreignNodes = (topic: string): ReadonlySet<string> =>
      new Set(
        (pipeline.line()?.foreign ?? [])
          .filter((mapped) => mapped.topic === topic)
          .map(({ channel }) => channel.slice(0, channel.indexOf("/"))),
      );
    const broker = options.outsideBroker
      ? await createOutsideBroker(
          {
            journal,
            onRefused,
            log,
            room: () => driver.room(),
            onTakenOver() {
              log("broker: another gateway took this site over; this one stops");
              options.onTakenOver?.();
            },
          },
          {
            ...options.outsideBroker,
            site: line.site,
            instance: journal.instance,
            foreignTopics: line.foreign.map(({ topic }) => topic),
          },
        )
      : await createBroker(
          {
            journal,
            credentials: accounts.nodes,
            now: clock.engineMs,
            room: () => driver.room(),
            onRefused,
            foreignNodes,
          },
          {
            site: line.site,
            host: options.mqtt.host,
            port: options.mqtt.port,
            tls: options.mqttTls ?? null,
            ...(options.rate ? { rate: options.rate } : {}),
          },
        );
    begun.push(() => broker.stop());
    accounts.onChange(() => broker.dropRevoked());
    const world = createWorldFacts(journal, clock.engineMs);
    const seeing = setInterval(() => {
      if (options.outsideBroker)
        world.say({ part: "broker", fact: "connected", value: broker.isConnected() });
      world.look();
    }, 1000);
    begun.push(() => clearInterval(seeing));

    const lineFile = createLineFile({
      path: options.lineFile ?? null,
      inForce: () => pipeline.yaml() ?? "",
      site: line.site,
      now,
      assigned: (channel) =>
        void deriveOf(channel).catch((error: unknown) => log(`derive: ${String(error)}`)),
      async apply(yaml) {
        await journal.append({ kind: "line", yaml });
        driver.catchUp();
        broker.useForeign((pipeline.line()?.foreign ?? []).map(({ topic }) => topic));
      },
    });

    function act(given: GivenAct, by: string): Promise<ActRefused | null> {
      const whole = { ...given, id: randomUUID(), by } as Act;
      return new Promise((resolve, reject) => {
        waitingActs.set(whole.id, resolve);
        journal.append({ kind: "act", act: whole }).catch((error: unknown) => {
          waitingActs.delete(whole.id);
          reject(error instanceof Error ? error : new Error(String(error)));
        });
      });
    }

    const standing = () => pipeline.standing().map((alarm) => alarmTurned(alarm, calendar.at));
    const metrics = () => gatewayMetrics({ journal, driver, broker, pipeline, counts, refusals });

    const http = await createHttp(
      {
        lineView: () => live.lineView(),
        line: () => pipeline.line(),
        lineFile,
        rawContact: (channel) => live.rawContact(channel),
        standing,
        alarmChanges: (limit, before) => logbook.alarmChanges(limit, before),
        alarmChangesAfter: (seq, limit) => logbook.alarmChangesAfter(seq, limit),
        actsOf: (type, limit, before) => logbook.actsOf(type, limit, before),
        fills: (asked) => logbook.fills(asked),
        fill: (id) => logbook.fill(id),
        rejections: () => [...refusals.values(), ...logbook.rejections()],
        series,
        act,
        acts: (limit, before) => logbook.acts(limit, before),
        accounts,
        subscribe: (listener) => live.subscribe(listener),
        lastSeq: () => driver.takenSeq(),
        ready: () => !stopping && journal.trouble === null,
        metrics,
        now,
        elapsedMs: clock.engineMs,
      },
      {
        host: options.http.host,
        port: options.http.port,
        pages: monitorPages(),
        tls: options.tls ?? null,
        plainHttp: options.plainHttp === true,
        signedIn: options.signedIn ?? null,
        log,
        onRefused: (code, detail) => refusals.note(code, null, detail),
      },
    );
    begun.push(() => http.stop());
    const outputs = createRetainedOutputs({
      site: line.site,
      broker,
      lineView: () => live.lineView(),
      standing,
      subscribe: (listener) => live.subscribe(listener),
    });
    begun.push(() => outputs.stop());

    return {
      httpPort: http.port,
      mqttPort: broker.port,
      setUpCode: options.signedIn || accounts.people.exist() ? null : accounts.newSetUpCode(),
      renewTls: (tls) => http.renew(tls),
      renewMqttTls: (tls) => broker.renew(tls),
      async reloadLine() {
        const result = await lineFile.reload();
        log(result.ok ? "line: read again" : `line: the old one stays in force. ${result.message}`);
      },
      async stop() {
        if (stopping) return;
        stopping = true;
        clearInterval(tick);
        clearInterval(seeing);
        clearTimeout(saving);
        await http.stop();
        outputs.stop();
        await broker.stop();
        await journal.append({ kind: "stop" }).catch(() => {});
        stopped = true;
        await deriving;
        await driver.flush();
        await driver.checkpoint().catch((error: unknown) => log(`checkpoint: ${String(error)}`));
        time.stop();
        accounts.close();
        logbook.close();
        await series.close();
        await journal.close();
        begun.length = 0;
      },
    };
  } catch (error) {
    await undo();
    throw error;
  }
}
