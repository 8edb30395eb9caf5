import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { conditionRows, readLineFile } from "@drumlin/gateway/alarms";
import { main, nightLines, nightReport, nightText } from "@drumlin/gateway/app";
import { nightView } from "@drumlin/gateway/http";
import { isRecorded, type Logbook, type LogbookOutcome, openLogbook } from "@drumlin/gateway/logbook";
import { afterAll, describe, expect, it, vi } from "vitest";
import { englishIn } from "../unit/words/catalogues.ts";
import { LogHouse } from "./log-run.ts";
import { readLogScript } from "./log-script.ts";

const lineFile = `  drumlin: 1
  site: saltmarsh-house
  title: Saltmarsh House
  timezone: Europe/Berlin
  points:
    supply: { conductivity: press/ec-1, temperature: press/t-1 }
    after-resin: { conductivity: press/ec-2 }
  stages:
    resin: { kind: resin, from: supply, to: after-resin, vessel: 2 L, pipe: 0.2 L, flow: press/flow-1 }
  drums:
    fresh: { volume: 200 L, fed_by: after-resin, control: automatic, stop: { channel: drums/stop, wet: true } }
    mix: { volume: 200 L, fed_by: supply, control: manual, level: { channel: drums/level, as: volume } }
`;
const quiet = "t-1 20 C, ec-1 400 uS/cm, ec-2 0.6 uS/cm, flow-1";
const folders: string[] = [];
const books: Logbook[] = [];
afterAll(() => {
  for (const book of books) book.close();
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

/** A house that lives by a script from 20:00 on (site's zone) into a logbook. */
function lived(eveningMs: number, happenings: string, more = "") {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-night-"));
  const book = openLogbook({ folder });
  folders.push(folder);
  books.push(book);
  const script = readLogScript(`line house:\n${lineFile}${more}${happenings}`);
  const told: LogbookOutcome[] = [];
  const house = new LogHouse(script, conditionRows, {
    beginMs: eveningMs,
    take: (event) => isRecorded(event) && told.push(event),
  });
  for (const statement of script.statements) house.take(statement);
  book.record(told);
  const read = readLineFile(`${lineFile}${more}`.replace(/^ {2}/gm, ""));
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  const { line } = read;
  return {
    folder,
    book,
    line,
    text(date: string, atMin: number) {
      const night = nightReport(book, line, date, eveningMs + atMin * 60_000);
      return night && nightText(night, line);
    },
  };
}

const online = "at 0 s press online, period 60 s\nat 0 s drums online, period 60 s\n";
const pressSpeaks = (fromMin: number, toMin: number, flow: number) =>
  `from ${fromMin} to ${toMin} min every 60 s press: ${quiet} ${flow} L/min\n`;
const drumsSpeak = (fromMin: number, toMin: number, stop: string, level: number, everyS = 60) =>
  `from ${fromMin} to ${toMin} min every ${everyS} s drums: stop ${stop}, level ${level} L
from ${fromMin}.1 to ${toMin} min every ${everyS * 4} s drums: level ${level + 0.3} L
`;

describe("a night", () => {
  // 20:00 on 10 November 2026 in Berlin is 19:00 UTC.
  const house = lived(
    Date.UTC(2026, 10, 10, 19),
    `${online}${pressSpeaks(0, 100, 0)}${pressSpeaks(100, 140, 4)}${pressSpeaks(140, 318, 0)}${pressSpeaks(336, 400, 0)}${pressSpeaks(430, 720, 0)}
${drumsSpeak(0, 100, "wet", 150)}${drumsSpeak(100, 140, "dry", 150)}${drumsSpeak(140, 190, "wet", 150)}
${drumsSpeak(190, 200, "wet", 150, 15)}${drumsSpeak(200, 205, "wet", 132, 15)}${drumsSpeak(205, 210, "wet", 126, 15)}
${drumsSpeak(210, 400, "wet", 126)}${drumsSpeak(430, 720, "wet", 126)}
at 400 min restart, down 30 min
at 700 min act note {"text":"Solenoid hummed."}
`,
  );

  it("opens with how much of it was watched, gaps between fills too; the gateway's own absence is one line", () => {
    const text = house.text("2026-11-10", 720) ?? "";
    // 19 min of the node and 30 min of the gateway, of ten hours.
    expect(text.split("\n\n")[0]).toBe(
      "Saltmarsh House, night of 2026-11-10, 21:00 to 07:00 (Europe/Berlin)",
    );
    expect(text.split("\n\n")[1]?.split("\n")).toEqual([
      "Watched 91.8 %.",
      "Not heard from 01:17 to 01:36: node press (ec-1, ec-2, flow-1, t-1).",
      "Not watched from 02:40 to 03:10: the gateway was off.",
    ]);
  });

  it("then what to do first, then fills, water, floats, draws, alarms, nodes, and what people did", () => {
    const text = house.text("2026-11-10", 720) ?? "";
    expect(text.split("\n\n").map((part) => part.split("\n")[0])).toEqual([
      expect.stringContaining("night of"),
      "Watched 91.8 %.",
      "To do first",
      expect.stringMatching(/^Fills, 1\d\d L$/),
      "Water",
      "Floats",
      "Draws",
      "Alarms",
      "Nodes",
      "Done by people",
    ]);
    expect(text).toContain("1. Fresh drum: unknown, 45 % of what is in it was not watched");
    expect(text).toMatch(/21:40 to 22:\d\d {2}Fresh drum: 160 L, average 0\.\d+ µS\/cm, float tripped/);
    expect(text).toMatch(/21:40 {2}Fresh drum, stop float: dry/);
    expect(text).toMatch(/22:20 {2}Fresh drum, stop float: wet/);
    expect(text).toMatch(/23:2\d {2}Mix drum: 24 L/);
    expect(text).toMatch(/01:\d\d {2}Node press: silent, ended 01:\d\d/);
    expect(text).toContain("press: silent for 19 min");
    expect(text).toContain('07:40  keeper: note, "Solenoid hummed."');
  });

  it("says for how long as a person would: hours and minutes", () => {
    const night = nightReport(house.book, house.line, "2026-11-10", Date.UTC(2026, 10, 11, 7));
    if (!night) throw new Error("There is no such night.");
    const nodes = night.nodes.map((node) => ({ ...node, silentMs: 340 * 60_000 }));
    expect(nightText({ ...night, nodes }, house.line)).toContain("press: silent for 5 h 40 min");
  });

  it("is told in the language of the site's messages: words, reasons and figures", () => {
    const notify = { ...house.line.notify, language: "de" as const };
    const night = nightReport(house.book, house.line, "2026-11-10", Date.UTC(2026, 10, 11, 7));
    const text = (night && nightText(night, { ...house.line, notify })) ?? "";
    expect(text.split("\n\n").map((part) => part.split("\n")[0])).toEqual([
      "Saltmarsh House, Nacht vom 2026-11-10, 21:00 bis 07:00 (Europe/Berlin)",
      "91,8 % überwacht.",
      "Zuerst zu tun",
      "Füllungen, 160 L",
      "Wasser",
      "Schwimmer",
      "Entnahmen",
      "Alarme",
      "Knoten",
      "Eingriffe",
    ]);
    expect(text).toContain("Von 02:40 bis 03:10 nicht überwacht: Das Gateway war aus.");
    expect(text).toMatch(/1\. Fresh drum: unklar, /);
    expect(text).toMatch(/160 L, Mittelwert 0,\d+ µS\/cm, Schwimmer hat/);
    expect(text).toContain("Fresh drum, Stoppschwimmer: trocken");
    expect(text).toContain("Knoten press: ");
    expect(text).toContain('keeper: Notiz, "Solenoid hummed."');
    // Of the file's own names and what the person wrote in English, no word is left.
    expect(englishIn(text.replaceAll(/Saltmarsh House|Fresh drum|Mix drum|"[^"]*"/g, ""))).toBe(false);
  });

  it("an alarm that was over before it, and still to be seen, has the day on which it ended; one that ended in it the time", () => {
    const night = nightReport(house.book, house.line, "2026-11-10", Date.UTC(2026, 10, 11, 7));
    const [alarm] = night?.alarms ?? [];
    if (!night || !alarm) throw new Error("the night has no alarm");
    const endedAt = (...[day, hour, minute]: [number, number, number]) => ({
      ...alarm,
      isNew: false,
      endedAtMs: Date.UTC(2026, 10, day, hour, minute),
    });
    const alarms = [endedAt(8, 19, 5), endedAt(10, 22, 30)];
    const lines = nightText({ ...night, alarms }, house.line).split("\n");
    const ends = lines.flatMap((one) => /ended (.+)$/.exec(one)?.[1] ?? []);
    // 19:05 and 22:30 UTC are 20:05 and 23:30 in Berlin.
    expect(ends).toEqual([expect.stringMatching(/^(?=.*\b8\b)(?=.*Nov).*20:05$/), "23:30"]);
  });

  it("in the morning the list of what to do goes by now; a night that has not begun is none", () => {
    expect(house.text("2026-11-10", 59)).toBeNull();
    expect(house.text("2026-11-11", 720)).toBeNull();
    expect(house.text("2026-11-31", 720)).toBeNull();
    expect(house.text("2026-11-10", 200)).toContain("not over yet");
    expect(house.text("2026-11-10", 200)).toContain("Watched 100 % so far.");
  });

  it("is listed by its record, in its hours of then", () => {
    const [night, ...others] = nightLines(house.book, house.line, Date.UTC(2026, 10, 11, 8), { limit: 30 });
    expect(others).toEqual([]);
    expect(night).toMatchObject({
      date: "2026-11-10",
      fromMs: Date.UTC(2026, 10, 10, 20),
      toMs: Date.UTC(2026, 10, 11, 6),
    });
    const later = { ...house.line, night: { from: "18:00", to: "05:00" } };
    expect(nightReport(house.book, later, "2026-11-10", Date.UTC(2026, 10, 11, 8))?.toMs).toBe(night?.toMs);
  });

  it("drumlin night prints it while the gateway runs, and ends with 1 where something is to be done", async () => {
    const printed: string[] = [];
    const spy = vi.spyOn(console, "log").mockImplementation((text: string) => void printed.push(text));
    const json = await main(["night", "2026-11-10", "--data", house.folder, "--json"]);
    const plain = await main(["night", "--data", house.folder]);
    spy.mockRestore();
    expect([json, plain]).toEqual([0, 0]);
    expect(JSON.parse(printed[0] ?? "")).toMatchObject({
      date: "2026-11-10",
      from: "2026-11-10T20:00:00.000Z",
      to: "2026-11-11T06:00:00.000Z",
      unwatched: [{ who: "press" }, { who: "gateway", channels: [] }],
    });
    expect(printed[1]).toContain("Watched 91.8 %.");
    expect(await main(["night", "2026-13-01", "--data", house.folder])).toBe(2);
  });
});

describe("work in a night", () => {
  const house = lived(
    Date.UTC(2026, 10, 10, 19),
    `${online}${pressSpeaks(0, 720, 0)}
at 170 min press: button-1 dry
at 180 min press: button-1 wet
at 181 min press: button-1 dry
at 200 min press: button-1 wet
at 201 min press: button-1 dry
at 210 min act work-on {"subject":{"kind":"drum","id":"fresh"},"untilS":14400}
at 300 min press: button-1 wet
`,
    "  buttons: { by-the-resin: { channel: press/button-1, work: { stage: resin, minutes: 60 } } }\n",
  );

  it("is a line whoever began it, by page or by button, with its end: said once", () => {
    const told = house.text("2026-11-10", 720)?.split("\n\n").at(-1)?.split("\n");
    // Pressed at 23:00 for an hour, pressed again at 23:20; pressed at 01:00 and left to its time.
    expect(told).toEqual([
      "Done by people",
      "  23:00  button by-the-resin: started work, Resin, until 00:00",
      "  23:20  button by-the-resin: finished work, Resin",
      "  23:30  keeper: started work, Fresh drum, until 00:00",
      "  01:00  button by-the-resin: started work, Resin, until 02:00",
    ]);
  });

  it("is the same in the API", () => {
    const night = nightReport(house.book, house.line, "2026-11-10", Date.UTC(2026, 10, 11, 7));
    const acts = night && nightView(night).acts;
    expect(acts).toHaveLength(4);
    // Within seconds of the press: the path waits a little for what belongs to it.
    expect(acts?.[0]).toEqual({
      at: expect.stringMatching(/^2026-11-10T22:00:0/),
      by: "button by-the-resin",
      button: "by-the-resin",
      what: "work-on",
      subject: "resin",
      until: expect.stringMatching(/^2026-11-10T23:00:0/),
      note: null,
    });
    expect(acts?.[2]).toMatchObject({ by: "keeper", button: null, until: "2026-11-10T23:00:00.000Z" });
  });
});

// Clock changes: Directive 2000/84/EC, last Sunday of March and October at 01:00 UTC (2026: 29 March, 25 October).
it("has 9 hours when the clocks go forward in it: an hour unwatched is more of it", () => {
  const house = lived(
    Date.UTC(2026, 2, 28, 19),
    `${online}${pressSpeaks(0, 120, 0)}${pressSpeaks(180, 700, 0)}`,
  );
  const text = house.text("2026-03-28", 690) ?? "";
  expect(text).toContain("21:00 to 07:00");
  expect(text).not.toContain("GMT");
  // 61 min of 540.
  expect(text).toContain("Watched 88 %");
  expect(house.book.nights(9)).toMatchObject([
    { date: "2026-03-28", fromMs: Date.UTC(2026, 2, 28, 20), toMs: Date.UTC(2026, 2, 29, 5) },
  ]);
});

it("has 11 hours when they go back: the hour that comes twice is watched twice", () => {
  // 20:00 on 24 October in Berlin is 18:00 UTC.
  const house = lived(
    Date.UTC(2026, 9, 24, 18),
    `${online}${pressSpeaks(0, 400, 0)}${pressSpeaks(460, 780, 0)}`,
  );
  const text = house.text("2026-10-24", 780) ?? "";
  // 61 min of 660, from 02:39 (summer) to 02:40 (winter).
  expect(text).toContain("Watched 90.7 %");
  expect(text).toContain("Not heard from 02:39 GMT+2 to 02:40 GMT+1");
  expect(house.book.nights(9)).toMatchObject([
    { date: "2026-10-24", fromMs: Date.UTC(2026, 9, 24, 19), toMs: Date.UTC(2026, 9, 25, 6) },
  ]);
});

it("a gateway whose history begins with times of its own ends no night before them", () => {
  // What is appended before a history stands at 0: half a century of nights would pass otherwise.
  const house = lived(
    0,
    `at 0 s tick\nat ${Date.UTC(2026, 2, 3, 19) / 60_000} min press: ${quiet} 0 L/min\n`,
  );
  expect(house.book.nights(9)).toEqual([]);
  expect(nightLines(house.book, house.line, Date.UTC(2026, 2, 3, 21) + 0.25, { limit: 9 })).toMatchObject([
    { date: "2026-03-03", isRunning: true },
  ]);
});
