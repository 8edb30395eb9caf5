import { gatewayTopic } from "@drumlin/firmware-protocol";
import type { Accounts } from "../../accounts/index.ts";
import { allDevices } from "../../alarms/index.ts";
import type { Broker } from "../../broker/index.ts";
import type { Journal } from "../../journal/index.ts";
import type { Line } from "../../line/index.ts";
import type { Logbook } from "../../logbook/index.ts";
import { addressWithSecrets, NotificationDesk } from "../../notifications/index.ts";
import { worldCell, worldKey } from "../../readings/index.ts";
import type { SeriesStore } from "../../series/index.ts";
import type { ClockKeeper } from "../clock-keeper.ts";
import type { GatewayOptions } from "../gateway-options.ts";
import { authoritiesOf, type Messaging, openMessaging } from "../messaging.ts";
import { definePart, type Giving, good, type Parts } from "../parts.ts";
import { createSignOfLife } from "../sign-of-life.ts";
import { createStallWatch } from "../stall-watch.ts";
import { createWorldFacts } from "../world-facts.ts";
import type { RunningPath } from "./path-part.ts";

const turnEveryMs = 1000;
/** What waits for so long for the disk or the path is not judged. */
const stalledMs = 20_000;
const pruneEveryMs = 3_600_000;
/** After an alarm has changed, its record is looked for so often, until it is there. */
const soonMs = [3, 10, 25, 60, 150, 400] as const;

interface NotificationsPartNeeds {
  readonly options: Pick<
    GatewayOptions,
    "data" | "log" | "pushInside" | "environment" | "houseCa" | "signedIn"
  >;
  readonly accounts: Giving<Accounts>;
  readonly time: ClockKeeper;
  readonly journal: Giving<Journal>;
  readonly series: Giving<SeriesStore>;
  readonly logbook: Giving<Logbook>;
  readonly path: Giving<RunningPath>;
  readonly broker: Giving<Broker>;
  readonly parts: () => Parts;
}

/** What is told to people, and the page's view of it. */
export interface RunningNotifications {
  readonly desk: NotificationDesk;
  readonly stop: () => void;
  /** What was wrong with its files at the start. */
  readonly faults: readonly string[];
}

/** Tells the path who can't be told, and which heartbeats stay away. */
function lookAroundOf(
  { time, journal, path }: NotificationsPartNeeds,
  { dispatcher, beats, devices }: Messaging,
) {
  const engineMs = () => Math.round(time.clock.engineMs());
  const { pipeline } = path.it;
  const world = createWorldFacts(journal.it, engineMs);
  const saysSo = (part: string, id: string, is: boolean) => {
    const stands = pipeline.board.get(worldCell, worldKey({ part, fact: id }))?.value === true;
    if (is !== stands) world.say({ part, fact: id, value: is });
  };
  return () => {
    const line = pipeline.line();
    for (const { id } of line?.notify.destinations ?? []) {
      if (dispatcher.isFailing(id)) saysSo("notifications", id, true);
      else if (dispatcher.standing(id).lastSentMs !== null) saysSo("notifications", id, false);
    }
    // Devices come and go with their people: one alarm stands for all of them.
    const held = devices.all();
    saysSo(
      "notifications",
      allDevices,
      held.some(({ id }) => dispatcher.isFailing(id)),
    );
    for (const expected of line?.expects ?? [])
      saysSo("heartbeat", expected.id, beats.isAway(expected, engineMs()));
    world.look();
  };
}

/** Whether the path judges: nothing has failed, the disk takes what comes, and the path has run it. */
function judgesOf({ time, parts, journal, path }: NotificationsPartNeeds): () => boolean {
  const [disk, judged] = [createStallWatch(stalledMs), createStallWatch(stalledMs)];
  return () => {
    const { lastSeq, waiting } = journal.it;
    const nowMs = time.clock.engineMs();
    const isWritten = !disk(lastSeq + waiting.entries, lastSeq, nowMs);
    const isJudged = !judged(lastSeq, path.it.driver.takenSeq(), nowMs);
    return parts().notReady() === null && isWritten && isJudged;
  };
}

/** Runs a turn a few times soon after each change of an alarm; gives the way to stop. */
function turnSoonAfterAlarms(live: RunningPath["live"], turn: () => void): () => void {
  const soon = new Set<NodeJS.Timeout>();
  const unsubscribe = live.subscribe(({ key, view }) => {
    if (key !== null || soon.size > 0 || view()?.event !== "alarm") return;
    for (const ms of soonMs) {
      const timer = setTimeout(() => {
        soon.delete(timer);
        turn();
      }, ms);
      soon.add(timer);
    }
  });
  return () => {
    unsubscribe();
    for (const timer of soon) clearTimeout(timer);
  };
}

function start(needs: NotificationsPartNeeds): RunningNotifications {
  const { options, time, path, series, logbook, broker } = needs;
  const { clock, calendar } = time;
  const { pipeline, live } = path.it;
  const { site } = pipeline.line() as Line;
  const messaging = openMessaging({
    options,
    time,
    accounts: needs.accounts.it,
    pipeline,
    series: series.it,
    logbook: logbook.it,
    broker: broker.it,
  });
  const { outbox, dispatcher, secrets } = messaging;
  const lookAround = lookAroundOf(needs, messaging);
  function turn(): void {
    try {
      dispatcher.turn();
    } catch (error) {
      // A disk that takes nothing: tried again with the next turn.
      options.log(`notifications: ${error instanceof Error ? error.message : String(error)}`);
    }
  }
  const stopListening = turnSoonAfterAlarms(live, turn);
  const turning = setInterval(() => {
    secrets.lookAtLine();
    turn();
    lookAround();
  }, turnEveryMs);
  const pruning = setInterval(() => outbox.prune(Math.round(clock.engineMs())), pruneEveryMs);
  const life = createSignOfLife({
    heartbeat: () => pipeline.line()?.notify.heartbeat ?? null,
    addressOf: (url) => addressWithSecrets(url, secrets),
    judges: judgesOf(needs),
    say: (payload) => broker.it.say(gatewayTopic(site, "heartbeat"), payload),
    engineMs: clock.engineMs,
    nowMs: clock.nowMs,
    ...authoritiesOf(options),
  });
  turn();
  const desk = new NotificationDesk({
    ...messaging,
    line: () => pipeline.line(),
    life: life.state,
    engineMs: () => Math.round(clock.engineMs()),
    at: calendar.at,
    pushInside: options.pushInside === true,
  });
  return {
    desk,
    faults: messaging.faults,
    stop() {
      stopListening();
      clearInterval(turning);
      clearInterval(pruning);
      life.stop();
      dispatcher.stop();
      outbox.close();
    },
  };
}

/** What is told to people: it follows the alarm journal by a cursor, and goes on after a restart where it stopped. */
export function notificationsPart(needs: NotificationsPartNeeds): Giving<RunningNotifications> {
  return definePart("notifications", {
    start: () => start(needs),
    stop: (running) => running.stop(),
    // Until the next start: somebody should look at the disk.
    health: ({ faults }) => (faults.length === 0 ? good : { state: "degraded", text: faults.join("; ") }),
  });
}
