import { conditionRows, hasHeadline } from "@drumlin/gateway/alarms";
import {
  asHtml,
  asText,
  clockWords,
  durationWords,
  headlineOf,
  messageWords,
} from "@drumlin/gateway/notifications";
import { languages } from "@drumlin/gateway/words";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { aCall, aMessage, line, nowMs, wording } from "./a-message.ts";

const minute = 60_000;

describe("what a message says", () => {
  it("says on one screen what, where, since when, the number and its limit, what to do, what is at stake", () => {
    const high = aCall(
      { isConsequence: true },
      { key: "drum-high-high:mix", condition: "drum-high-high", under: "drum-not-stopping:mix" },
    );
    const words = aMessage(aCall(), {
      calls: [high],
      seenLink: () => "https://house.example/#seen?token=abc",
    });
    expect(words.subject).toBe("Act now · Mix drum: did not stop at its float");
    expect(asText(words)).toBe(
      `Act now: Mix drum: did not stop at its float
Since 02:13 · contents 176 L, limit 170 L

What to do: Close the supply by hand first.
If nothing is done: The drum overflows in a few minutes: water on the floor, near mains electricity.
Comes with it: Mix drum: over its highest level

Look: https://house.example/#alarms?at=drum-not-stopping%3Amix
I've seen it (you'll be asked to confirm): https://house.example/#seen?token=abc

Saltmarsh House · A second pair of eyes, never the safety device.`.replace("limit 170 L", "limit 170"),
    );
  });

  it("tells what came of it to those who were called", () => {
    const over = aCall(
      { endedAtMs: nowMs - minute, seenAtMs: nowMs - 2 * minute, seenBy: "Mara" },
      { active: false },
    );
    const words = messageWords(
      [
        { call: over, step: "seen" },
        { call: over, step: "ended" },
      ],
      { madeMs: nowMs, list: false },
      wording(),
    );
    expect(words.subject).toBe("Ended 02:24 · Mix drum: did not stop at its float");
    expect(words.alarms).toMatchObject([{ news: "Ended 02:24 · Seen by Mara 02:23", todo: "" }]);
  });

  it("of what has ended and is held says what is left to look at, not what was urgent", () => {
    const held = aCall({ endedAtMs: nowMs - minute }, { active: false, latched: true });
    for (const [language, subject, todo] of [
      [
        "en",
        "Ended 02:24, needs a reset · Mix drum: did not stop at its float",
        "What to do: Look for water on the floor, and stay clear of wet sockets and cables.",
      ],
      [
        "de",
        "Vorbei seit 02:24, muss zurückgesetzt werden · Mix drum: hat am Schwimmer nicht gestoppt",
        "Was zu tun ist: Nach Wasser am Boden sehen; Abstand zu nassen Steckdosen und Kabeln halten.",
      ],
    ] as const) {
      const words = messageWords(
        [{ call: held, step: "again" }],
        { madeMs: nowMs, list: false },
        wording({ language }),
      );
      expect(words.subject).toBe(subject);
      expect(asText(words)).toContain(todo);
      for (const text of [asText(words), asHtml(words, null)])
        expect(text).not.toMatch(/Act now|Close the supply|Sofort|Zulauf|overflows in|läuft in/);
    }
  });

  it("says how long nobody has seen it, and that it is late", () => {
    const words = messageWords(
      [{ call: aCall(), step: "again" }],
      { madeMs: nowMs - 20 * minute, list: false },
      wording(),
    );
    expect(asText(words)).toContain("Still not seen after 12 min");
    expect(asText(words)).toContain("This message is late: it is from 02:05.");
  });

  it("counts what is too much for a screen", () => {
    const calls = Array.from({ length: 1000 }, (_, index) =>
      aCall(
        { id: `${index}/x/1`, attention: index === 700 ? "wake" : "tell" },
        { key: `fill-long:d${index}`, condition: "fill-long" },
      ),
    );
    const words = messageWords(
      calls.map((call) => ({ call, step: "call" as const })),
      { madeMs: nowMs, list: false },
      wording(),
    );
    expect(words.subject).toBe("Act now · Mix drum: filling for too long · and 999 more");
    expect(asText(words).length).toBeLessThan(2000);
    expect(asText(words)).toContain("And 995 more: see the page.");
  });

  it("never lets a name make a header, a tag or a second line", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary-ascii" }), fc.string({ unit: "binary-ascii" }), (name, todo) => {
        const words = aMessage(
          aCall({}, { subject: `${name}\r\nBcc: x@example.org`, response: `${todo}<script>` }),
        );
        expect(words.subject).not.toMatch(/[\r\n\u2028\u2029\p{Cc}]/u);
        expect(asHtml(words, null)).not.toContain("<script>");
      }),
      { numRuns: 100 },
    );
  });

  it("calls litres contents only where they are, and tells no number of what is over", () => {
    const disagrees = { condition: "float-disagrees", unit: "L", value: 12, limit: 8 };
    expect(aMessage(aCall({}, disagrees)).alarms[0]?.facts).toBe("Since 02:13 · 12 L, limit 8");
    const over = aCall({ endedAtMs: nowMs }, { ...disagrees, value: -66.2, active: false });
    expect(aMessage(over).alarms[0]?.facts).toBe("Since 02:13");
  });

  it("says times and durations as the page does", () => {
    expect(clockWords(nowMs - minute, nowMs, "Europe/Lisbon")).toBe("02:24");
    expect(clockWords(nowMs - 26 * 60 * minute, nowMs, "UTC")).toBe("Sun 00:25");
    expect(clockWords(nowMs - 30 * 24 * 60 * minute, nowMs, "UTC")).toBe("31 Jan, 02:25");
    expect(
      [40_000, 12 * minute, 72 * minute, 3 * 60 * minute, 72 * 60 * minute].map((ms) => durationWords(ms)),
    ).toEqual(["40 s", "12 min", "1 h 12 min", "3 h", "3 days"]);
    expect(clockWords(nowMs - 26 * 60 * minute, nowMs, "UTC", "de")).toBe("So 00:25");
    expect(clockWords(nowMs - 30 * 24 * 60 * minute, nowMs, "UTC", "de")).toBe("31. Jan., 02:25");
    expect(durationWords(72 * 60 * minute, "de")).toBe("3 Tage");
  });

  it("speaks the language of its destination, in every word", () => {
    const rising = aCall({}, { unit: "uS/cm", value: 8.44, limit: 5 });
    const high = aCall(
      { isConsequence: true },
      { key: "drum-high-high:mix", condition: "drum-high-high", under: "drum-not-stopping:mix" },
    );
    const words = messageWords(
      [{ call: rising, step: "again" }],
      { madeMs: nowMs - 20 * minute, list: false },
      wording({ language: "de", calls: [high], seenLink: () => "https://house.example/#seen?token=abc" }),
    );
    expect(words.subject).toBe("Sofort handeln · Mix drum: hat am Schwimmer nicht gestoppt");
    expect(asText(words)).toBe(`Diese Nachricht kommt verspätet: Sie ist von 02:05.

Sofort handeln: Mix drum: hat am Schwimmer nicht gestoppt
Seit 02:13 · Leitfähigkeit 8,44 µS/cm, Grenzwert 5
Nach 12 min noch nicht gesehen

Was zu tun ist: Jetzt das Zulaufventil schließen. Abstand zu nassen Steckdosen und Kabeln halten. Dann Schwimmer und Ventil prüfen.
Wenn nichts geschieht: Der Behälter läuft in wenigen Minuten über: Wasser am Boden, nahe an Netzspannung.
Kommt mit: Mix drum: über dem Höchststand

Ansehen: https://house.example/#alarms?at=drum-not-stopping%3Amix
Gesehen (fragt noch einmal nach): https://house.example/#seen?token=abc

Saltmarsh House · Ein zweites Paar Augen, nie die Sicherheitseinrichtung.`);
    const html = asHtml(words, "chart");
    expect(html).toContain('<html lang="de">');
    // Nothing is left in another language.
    expect(html.replaceAll(/<[^>]+>/g, " ")).not.toMatch(
      /\b(Look|What to do|Since|limit|seen|Act now|Comes with)\b/,
    );
  });

  it("has words for each condition in each language, and pages take them from the same file", () => {
    const without = languages.flatMap((language) =>
      conditionRows.filter(({ id }) => !hasHeadline(language, id)).map(({ id }) => `${language} ${id}`),
    );
    expect(without).toEqual([]);
    const alarm = { ...aCall().alarm, condition: "drum-not-stopping", subject: "mix" };
    expect(headlineOf(alarm, line)).toBe("Mix drum: did not stop at its float");
    expect(headlineOf(alarm, line, "de")).toBe("Mix drum: hat am Schwimmer nicht gestoppt");
    const float = { ...alarm, condition: "float-stuck", subject: "mix.stop" };
    expect(headlineOf(float, line, "de")).toBe("Mix drum, Stoppschwimmer: hat sich nicht bewegt");
  });
});
