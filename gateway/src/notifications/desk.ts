import { isSameName } from "../accounts/index.ts";
import type { Line, Notify, NotifyWay } from "../line/index.ts";
import { fillIn, type Language, wordsIn } from "../words/index.ts";
import type { Beats } from "./beats.ts";
import type { Deliverer } from "./deliverer.ts";
import type { AskingDevice, Devices } from "./devices.ts";
import type { Dispatcher } from "./dispatcher.ts";
import type { Outbox, OutboxMessage } from "./outbox.ts";
import type { CallingAttention } from "./policy.ts";
import type { Delivery } from "./retry.ts";
import type { SeenLink, SeenLinks } from "./seen-links.ts";
import { goneWords } from "./ways/push.ts";
import { isPushService } from "./ways/push-hosts.ts";
import { areUsableKeys } from "./web-push/encrypt.ts";
import type { MessageWords } from "./words/message-words.ts";

/** A destination and how it stands. Times are the calendar's. */
export interface DestinationNow {
  readonly id: string;
  readonly title: string;
  readonly way: NotifyWay["kind"] | "device";
  /** Where it leads, as far as anybody may read it: an address, a host, a name. */
  readonly to: string;
  readonly person: string | null;
  readonly takes: CallingAttention;
  readonly turn: "first" | "second";
  readonly quiet: { readonly fromMinute: number; readonly toMinute: number } | null;
  readonly language: Language;
  readonly lastSentMs: number | null;
  readonly lastFailedMs: number | null;
  readonly error: string | null;
  readonly isFailing: boolean;
  readonly waiting: number;
}

/** A message in the list of what was told. */
export type ListedMessage = Pick<
  OutboxMessage,
  "id" | "destination" | "title" | "state" | "tries" | "error" | "madeMs" | "settledMs"
>;

interface DeskNeeds {
  readonly line: () => Line | null;
  readonly outbox: Outbox;
  readonly dispatcher: Dispatcher;
  readonly deliverer: Deliverer;
  readonly devices: Devices;
  readonly links: SeenLinks;
  readonly beats: Beats;
  readonly publicKey: string;
  /** Push services of the own network are meant on purpose. */
  readonly pushInside: boolean;
  /** How the own sign of life went, engine time. */
  readonly life: () => { readonly lastMs: number | null; readonly error: string | null };
  readonly engineMs: () => number;
  readonly at: (engineMs: number) => number;
}

/** Why a device can't take messages. */
export type DeviceRefusal = "devices-too-many" | "subscription-not-usable" | "push-service-not-known";

/** What became of messages. */
interface DeliveryCounts {
  readonly sent: number;
  readonly dropped: number;
  readonly waiting: number;
  /** How often so much waited for one destination that what was due had to wait for room. */
  readonly overfull: number;
  readonly destinations: readonly Pick<DestinationNow, "id" | "isFailing" | "waiting">[];
}

function whereTo(way: NotifyWay): string {
  if (way.kind === "mail") return way.address;
  // What follows the host may be somebody's key.
  if (way.kind === "webhook") return new URL(way.webhook.url).host;
  return way.kind === "sounder" ? way.sounder : "gateway/calls";
}

/** What pages and programs ask of the messages. */
export class NotificationDesk {
  private readonly needs: DeskNeeds;

  constructor(needs: DeskNeeds) {
    this.needs = needs;
  }

  /** Who is told what and when; null while no line is in force. */
  policy(): Notify | null {
    return this.needs.line()?.notify ?? null;
  }

  /** What pages subscribe with. */
  publicKey(): string {
    return this.needs.publicKey;
  }

  destinations(): readonly DestinationNow[] {
    const { line, devices } = this.needs;
    const named = (line()?.notify.destinations ?? []).map(({ way, ...rest }) =>
      this.now({ ...rest, way: way.kind, to: whereTo(way) }),
    );
    const held = devices.all().map(({ id, title, who, takes, endpoint, quiet, language }) =>
      this.now({
        id,
        title,
        way: "device",
        to: new URL(endpoint).host,
        person: who,
        takes,
        turn: "first",
        quiet,
        language,
      }),
    );
    return [...named, ...held];
  }

  private now(
    of: Omit<DestinationNow, "lastSentMs" | "lastFailedMs" | "error" | "isFailing" | "waiting">,
  ): DestinationNow {
    const { dispatcher, outbox } = this.needs;
    const { lastSentMs, lastFailedMs, error } = dispatcher.standing(of.id);
    return {
      ...of,
      lastSentMs: this.inCalendar(lastSentMs),
      lastFailedMs: this.inCalendar(lastFailedMs),
      error,
      isFailing: dispatcher.isFailing(of.id),
      waiting: outbox.waitingFor(of.id),
    };
  }

  private inCalendar(ms: number | null): number | null {
    return ms === null ? null : this.needs.at(ms);
  }

  /** The newest messages of the last 60 days. */
  messages(limit: number): readonly ListedMessage[] {
    return this.needs.outbox.messages(0, limit).map((message) => ({
      ...message,
      madeMs: this.needs.at(message.madeMs),
      settledMs: this.inCalendar(message.settledMs),
    }));
  }

  /** Sends a message that shows that a way works; gives what became of it. Null: there is no such destination. */
  async test(id: string, by: string): Promise<Delivery | null> {
    const destination = this.destinations().find((one) => one.id === id);
    if (!destination) return null;
    const { language } = destination;
    const { messages } = wordsIn(language);
    const { dispatcher, deliverer, engineMs, line } = this.needs;
    const words: MessageWords = {
      language,
      subject: messages.test,
      attention: "tell",
      alarms: [
        {
          attention: "tell",
          headline: messages.test,
          facts: fillIn(messages.testBy, { person: by }),
          news: "",
          isOver: false,
          todo: messages.nothingToDo,
          stake: "",
          consequences: [],
          link: null,
          seenLink: null,
        },
      ],
      more: 0,
      late: null,
      site: line()?.title ?? "Drumlin",
      night: null,
    };
    const delivery = await deliverer.test(id, words);
    dispatcher.note(id, delivery, false, engineMs());
    return delivery;
  }

  /** Null: taken. One that comes anew takes the place of that person's devices which are gone. */
  addDevice(device: AskingDevice): DeviceRefusal | null {
    const { devices, dispatcher, engineMs, line, pushInside } = this.needs;
    if (!isPushService(device.endpoint, line()?.notify.pushHosts ?? [], pushInside))
      return "push-service-not-known";
    const [p256dh, auth] = [Buffer.from(device.p256dh, "base64url"), Buffer.from(device.auth, "base64url")];
    if (!areUsableKeys({ p256dh, auth })) return "subscription-not-usable";
    for (const { id, who } of devices.all())
      if (isSameName(who, device.who) && dispatcher.standing(id).error === goneWords) devices.drop(id);
    return devices.put(device, engineMs()) ? null : "devices-too-many";
  }

  /** Takes a device away: anybody's own, or any where `who` is null. False where there is none. */
  dropDevice(id: string, who: string | null): boolean {
    const device = this.needs.devices.all().find((one) => one.id === id);
    if (!device || (who !== null && device.who !== who)) return false;
    return this.needs.devices.drop(id);
  }

  /** What a link is for; null where this person can't use it. */
  seenLink(token: string, who: string): SeenLink | null {
    return this.needs.links.find(token, who, this.needs.engineMs());
  }

  /** Uses a link up; false where somebody did before. */
  useSeenLink(token: string): boolean {
    return this.needs.links.use(token, this.needs.engineMs());
  }

  /** What a link was used for was not taken: it is as if it had not been used. */
  releaseSeenLink(token: string): void {
    this.needs.links.release(token);
  }

  /** A heartbeat came; false where the line expects none of that name. */
  beat(id: string): boolean {
    if (!this.needs.line()?.expects.some((one) => one.id === id)) return false;
    this.needs.beats.heard(id, this.needs.engineMs());
    return true;
  }

  /** How the gateway's own sign of life went. */
  life(): { readonly lastMs: number | null; readonly error: string | null } {
    const { lastMs, error } = this.needs.life();
    return { lastMs: this.inCalendar(lastMs), error };
  }

  /** Messages by what became of them, and what never became one: for the figures. */
  counts(): DeliveryCounts {
    const { outbox } = this.needs;
    const destinations = this.destinations();
    return {
      ...outbox.standings.totals(),
      waiting: destinations.reduce((sum, { waiting }) => sum + waiting, 0),
      overfull: outbox.overfull(),
      destinations,
    };
  }
}
