import { MessageChannel, type MessagePort, type Worker } from "node:worker_threads";

/** What runs on a thread beside its owner's work. */
export interface Guest {
  /** Ends in order, with its port. */
  close(): void | Promise<void>;
}

/** What a guest's module exports as `serve`: it answers at the port until it is closed, and throws nothing afterwards. */
export type ServeGuest = (port: MessagePort, data: unknown) => Guest;

/**
 * Starts a module's `serve` on a thread that is there already: one of its own costs some 10 MB. Gives its line, which
 * closes when either of them ends; null while that thread is away.
 */
export type TakeIn = (service: URL, data: unknown) => MessagePort | null;

/** How a thread is asked. */
export interface GuestRequest {
  readonly type: "take-in";
  readonly service: string;
  readonly data: unknown;
  readonly port: MessagePort;
}

/** What a guest's line says before it closes, where it could not come. */
export interface NotTakenIn {
  readonly notTakenIn: string;
}

/** Asks a thread to take a guest in; gives the guest's line. */
export function sendGuest(to: Worker, service: URL, data: unknown): MessagePort {
  const { port1, port2 } = new MessageChannel();
  to.postMessage({ type: "take-in", service: service.href, data, port: port2 } satisfies GuestRequest, [
    port2,
  ]);
  return port1;
}

/** The guests of this thread. One that can't come leaves its owner alone, and is told of on its own line. */
export class Guests {
  private readonly coming = new Set<Promise<Guest | null>>();

  takeIn({ service, data, port }: GuestRequest): void {
    const come = async () => {
      try {
        const { serve } = (await import(service)) as { readonly serve: ServeGuest };
        return serve(port, data);
      } catch (error) {
        const notTakenIn = error instanceof Error ? error.message : String(error);
        port.postMessage({ notTakenIn } satisfies NotTakenIn);
        port.close();
        return null;
      }
    };
    const guest = come();
    this.coming.add(guest);
    port.once("close", () => this.coming.delete(guest));
  }

  /** Each ends in order; whatever one throws is its own. */
  async close(): Promise<void> {
    await Promise.allSettled([...this.coming].map(async (guest) => (await guest)?.close()));
  }
}
