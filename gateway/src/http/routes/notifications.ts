import type { FastifyInstance, FastifyRequest } from "fastify";
import type { DestinationNow } from "../../notifications/index.ts";
import type { HttpComponents } from "../components.ts";
import {
  type DestinationView,
  deviceSchema,
  type NotificationsView,
  policySetSchema,
  seenTokenSchema,
} from "../contract.ts";
import { signedBy, whoAsked } from "../gate.ts";
import { giveAct } from "../give-act.ts";
import { noteLineChanges } from "../note-line-changes.ts";
import { bodyOf, type Query, wholeOf } from "../read-request.ts";
import { Refusal } from "../refusal.ts";
import { alarmView, iso } from "../views.ts";

const clockOf = (minute: number): string =>
  `${String(Math.floor(minute / 60)).padStart(2, "0")}:${String(minute % 60).padStart(2, "0")}`;

/** "22:00" as minute of the day. */
const minuteOf = (clock: string): number => Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3));

function destinationView(now: DestinationNow): DestinationView {
  const { lastSentMs, lastFailedMs, isFailing, quiet, ...rest } = now;
  return {
    ...rest,
    quiet: quiet && { from: clockOf(quiet.fromMinute), to: clockOf(quiet.toMinute) },
    lastSentAt: iso(lastSentMs),
    lastFailedAt: iso(lastFailedMs),
    failing: isFailing,
  };
}

function notificationsView({ notifications }: HttpComponents): NotificationsView {
  const policy = notifications.policy();
  const { lastMs, error } = notifications.life();
  const minutes = (ms: number | undefined) => Math.round((ms ?? 0) / 60_000);
  return {
    destinations: notifications.destinations().map(destinationView),
    policy: {
      wakeAgain: minutes(policy?.wake.againMs),
      secondAfter: minutes(policy?.wake.secondAfterMs),
      tellAgain: minutes(policy?.tell.againMs),
      today: clockOf(policy?.todayAtMinute ?? 0),
      page: policy?.page ?? null,
    },
    pushKey: notifications.publicKey(),
    life: { asked: (policy?.heartbeat ?? null) !== null, lastAt: iso(lastMs), error },
  };
}

/** The signed-in person: programs have no pockets. */
function personOf(request: FastifyRequest): string {
  const who = whoAsked(request);
  if (who?.kind !== "person") throw new Refusal("person-needed", "A program can't do this.");
  return who.name;
}

/** Destinations, policy, devices, and what was told. */
function messageRoutes(server: FastifyInstance, components: HttpComponents): void {
  const { notifications, lineFile } = components;
  const view = () => notificationsView(components);
  server.get("/api/notifications", async () => view());
  server.get<{ Querystring: Query }>("/api/notifications/messages", async (request) => ({
    items: notifications
      .messages(wholeOf("limit", request.query.limit, { otherwise: 100, min: 1, max: 1000 }))
      .map(({ id, destination, title, state, tries, error, madeMs, settledMs }) => ({
        id,
        destination,
        title,
        madeAt: iso(madeMs),
        state,
        settledAt: iso(settledMs),
        tries,
        error,
      })),
    next: null,
  }));
  server.post("/api/notifications/policy", async (request) => {
    const { wakeAgain, secondAfter, tellAgain, today } = bodyOf(policySetSchema, request.body);
    const saved = await lineFile.setNotify({
      wake: { again: `${wakeAgain} min`, second_after: `${secondAfter} min` },
      tell: { again: `${tellAgain} min` },
      today,
    });
    if (!saved.ok) throw new Refusal(saved.code, saved.message);
    noteLineChanges(components.accounts, signedBy(request), saved.changes);
    return view();
  });
  server.post<{ Params: { id: string } }>("/api/notifications/:id/test", async (request) => {
    const delivery = await notifications.test(request.params.id, signedBy(request));
    if (!delivery) throw new Refusal("no-such-destination", request.params.id.slice(0, 100));
    return { delivered: delivery.delivered, why: delivery.delivered ? null : delivery.why };
  });
}

/** Devices that take messages by Web Push. */
function deviceRoutes(server: FastifyInstance, components: HttpComponents): void {
  const { notifications, accounts } = components;
  server.post("/api/notifications/devices", async (request) => {
    const { keys, quiet, ...device } = bodyOf(deviceSchema, request.body);
    const hours = quiet && { fromMinute: minuteOf(quiet.from), toMinute: minuteOf(quiet.to) };
    const refused = notifications.addDevice({ ...device, ...keys, quiet: hours, who: personOf(request) });
    if (refused) throw new Refusal(refused, new URL(device.endpoint).host);
    const { title, takes, language } = device;
    accounts.note({
      by: signedBy(request),
      what: "device-added",
      subject: title,
      before: null,
      after: { takes, language, quiet },
    });
    return notificationsView(components);
  });
  server.delete<{ Params: { id: string } }>("/api/notifications/devices/:id", async (request) => {
    const who = whoAsked(request);
    const owner = who?.role === "operator" ? null : (who?.name ?? "");
    const was = notifications.destinations().find(({ id }) => id === request.params.id);
    if (!notifications.dropDevice(request.params.id, owner))
      throw new Refusal("no-such-destination", request.params.id.slice(0, 100));
    accounts.note({
      by: signedBy(request),
      what: "device-removed",
      subject: was?.title ?? request.params.id,
      before: was ? { takes: was.takes, language: was.language } : null,
      after: null,
    });
    return notificationsView(components);
  });
}

/** Links of messages that mark an alarm as seen, and heartbeats of others. */
function linkRoutes(server: FastifyInstance, components: HttpComponents): void {
  const { notifications, standing } = components;
  const linkOf = (request: FastifyRequest) => {
    const { token } = bodyOf(seenTokenSchema, request.body);
    const link = notifications.seenLink(token, personOf(request));
    if (!link)
      throw new Refusal("link-not-usable", "It was used, has run out, or was sent to somebody else.");
    return { token, link };
  };
  server.post("/api/seen/look", async (request) => {
    const { link } = linkOf(request);
    const stands = standing().some(
      ({ key, occurrence }) => key === link.key && occurrence === link.occurrence,
    );
    return { key: link.key, occurrence: link.occurrence, stands };
  });
  server.post("/api/seen", async (request) => {
    const { token, link } = linkOf(request);
    if (!notifications.useSeenLink(token)) throw new Refusal("link-not-usable", "It was used just now.");
    const { key, occurrence } = link;
    try {
      await giveAct(components, { type: "acknowledge", key, occurrence }, signedBy(request));
    } catch (error) {
      // A disk that takes nothing for a while: whoever was called tries the same link again.
      notifications.releaseSeenLink(token);
      throw error;
    }
    return { items: standing().map(alarmView), next: null };
  });
  server.post<{ Params: { id: string } }>("/api/heartbeats/:id", async (request, reply) => {
    if (!notifications.beat(request.params.id))
      throw new Refusal("no-such-heartbeat", request.params.id.slice(0, 100));
    return reply.code(204).send();
  });
}

/** Who is told, and what was. */
export function notificationsRoutes(server: FastifyInstance, components: HttpComponents): void {
  messageRoutes(server, components);
  deviceRoutes(server, components);
  linkRoutes(server, components);
}
