import { say } from "../words/index.ts";
import { AccountError } from "./account-error.ts";
import { createAttempts, type TryLimit } from "./attempts.ts";
import { keyOf } from "./name-key.ts";
import { originOf } from "./origin.ts";

/**
 * Tries: a few at once, then one now and then. Right ones are given back, and a device on which the person has signed in
 * before has tries of its own, whatever others do (OWASP: "Slow down online guessing attacks with device cookies"; from
 * memory). Guessing is slow, and nobody is ever shut out.
 */
const triesOfNameFromAddress = { burst: 5, everyMs: 60_000 } as const;
const triesOfAddress = { burst: 30, everyMs: 20_000 } as const;
/** From everywhere; NIST SP 800-63B §5.2.2 has 100 failures in a row as the most that are let through at full speed. */
const triesOfName = { burst: 100, everyMs: 60_000 } as const;
const triesOfDevice = { burst: 5, everyMs: 30_000 } as const;
const maxOrigins = 10_000;

/** What tries to sign in are held to; `elapsedMs` is time that only goes on. */
export function createSignInLimits(elapsedMs: () => number) {
  const attempts = createAttempts(maxOrigins);
  const fromAddress = (address: string) => `from ${originOf(address)}`;
  return {
    /** Limits of somebody who says to be `name`, at an address. */
    ofName: (name: string, address: string): readonly TryLimit[] => [
      { key: `${keyOf(name)} ${fromAddress(address)}`, ...triesOfNameFromAddress },
      { key: fromAddress(address), ...triesOfAddress },
      { key: keyOf(name), ...triesOfName },
    ],
    /** Limits of a device on which that person has signed in before. */
    ofDevice: (device: string): readonly TryLimit[] => [{ key: `device ${device}`, ...triesOfDevice }],
    /** Takes a try, before the check, so that many at once count too. Throws AccountError `too-many-sign-ins`. */
    begin(limits: readonly TryLimit[]): void {
      const waitMs = attempts.begin(limits, elapsedMs());
      if (waitMs === 0) return;
      const waitS = Math.ceil(waitMs / 1000);
      throw new AccountError("too-many-sign-ins", say("sign-in-wait", { seconds: waitS }), waitS);
    },
    /** It was right. */
    giveBack: (limits: readonly TryLimit[]): void => attempts.giveBack(limits, elapsedMs()),
  };
}

/** What tries to sign in are held to. */
export type SignInLimits = ReturnType<typeof createSignInLimits>;
