import {
  type CompiledLine,
  compileLine,
  type Drum,
  drumsBehind,
  feedOfResin,
  type Line,
  nearestProbeBefore,
  pointsBehind,
  pointsByNearness,
  quantityUnits,
  readLine,
  stageInto,
} from "@drumlin/gateway/line";
import { channelOfReadingSeries } from "@drumlin/gateway/measurements";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { smallestLine } from "../../acceptance/gateway-process.ts";
import { randomLine } from "./random-line.ts";

function lineOf(yaml: string): Line {
  const read = readLine(yaml);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.line;
}

const ids = (things: readonly { readonly id: string }[]) => things.map(({ id }) => id);

/** Holds for many random lines; a failing seed is printed by fast-check. */
function holds(check: (compiled: CompiledLine, line: Line) => void): void {
  fc.assert(
    fc.property(randomLine, (line) => check(compileLine(line), line)),
    { numRuns: 100 },
  );
}

/** Points from where a drum is fed to the supply, by walking. */
function walkOf(line: Line, drum: Drum): string[] {
  const points = [drum.fedBy];
  for (let stage = stageInto(line, drum.fedBy); stage; stage = stageInto(line, stage.from))
    points.push(stage.from);
  return points;
}

const isMetered = (line: Line, point: string) =>
  line.points.some(({ id, flow }) => id === point && flow !== null) ||
  line.stages.some(({ to, flow }) => to === point && flow !== null);

describe("a compiled line agrees with a walk along the stages", () => {
  it("stages and resin before a point, and what the resin is fed with", () => {
    holds((compiled, line) => {
      for (const [id, found] of compiled.points) {
        expect(found.stageInto).toBe(stageInto(line, id));
        expect(ids(found.stagesInto)).toEqual(ids(line.stages.filter(({ to }) => to === id)));
        expect(ids(found.stagesBefore)).toEqual(found.point.after);
        const resin: string[] = [];
        for (let at = stageInto(line, id); at?.kind === "resin"; at = stageInto(line, at.from))
          resin.push(at.id);
        expect(ids(found.resinBefore)).toEqual(resin);
        const feed = feedOfResin(line, id);
        expect(found.resinFeed).toBe(feed);
        expect(found.resinFeedProbe).toBe(feed && nearestProbeBefore(line, feed.id));
        expect(found.probeBefore).toBe(nearestProbeBefore(line, id));
      }
    });
  });

  it("points and drums behind a point, and the meters between", () => {
    holds((compiled, line) => {
      for (const [id, found] of compiled.points) {
        expect(ids(found.pointsBehind)).toEqual(pointsBehind(line, id));
        expect(ids(found.pointsByNearness)).toEqual(pointsByNearness(line, id));
        expect(found.drumsBehind.map(({ drum }) => drum)).toEqual(drumsBehind(line, id));
        for (const { drum, meters } of found.drumsBehind) {
          const walked = walkOf(line, drum);
          const between = walked.slice(0, walked.indexOf(id)).filter((point) => isMetered(line, point));
          expect(meters.map(({ point }) => point)).toEqual(between);
        }
        expect(found.meter !== null).toBe(isMetered(line, id));
      }
      for (const [id, { stage, drumsBehind: behind }] of compiled.stages) {
        expect(stage.id).toBe(id);
        expect(behind).toEqual(drumsBehind(line, stage.to));
      }
    });
  });

  it("what a drum is fed by, its meters and who shares them, the point that sees its water, its floats", () => {
    holds((compiled, line) => {
      for (const drum of line.drums) {
        const found = compiled.drums.get(drum.id);
        if (!found) throw new Error(`${drum.id} is missing`);
        const walked = walkOf(line, drum);
        expect(ids(found.feedingPoints)).toEqual(walked);
        expect(found.meters.map(({ meter }) => meter.point)).toEqual(
          walked.filter((at) => isMetered(line, at)),
        );
        for (const { meter, sharedWith } of found.meters) {
          const others = line.drums.filter(
            (other) => other !== drum && walkOf(line, other).includes(meter.point),
          );
          expect(sharedWith).toEqual(ids(others));
        }
        // The nearest probe, if only what leaves the conductivity as it is lies between.
        const probe = walked.findIndex((at) => compiled.points.get(at)?.point.conductivity !== null);
        const between = found.feedingStages.slice(0, Math.max(0, probe));
        const isSeen = probe !== -1 && between.every(({ kind }) => kind === "sediment" || kind === "carbon");
        expect(found.seenAt.id).toBe(isSeen ? walked[probe] : drum.fedBy);
        expect([...found.floats.values()]).toEqual(drum.floats);
        expect(ids(found.fedTogether)).toEqual(
          ids(line.drums.filter((other) => other !== drum && other.fedBy === drum.fedBy)),
        );
      }
    });
  });

  it("temperatures: the own, then those of other points as near as they are", () => {
    holds((compiled, line) => {
      const temperatureOf = (id: string) => compiled.points.get(id)?.point.temperature ?? null;
      for (const { subject, ownTemperature, nearTemperatures } of compiled.slots) {
        if (subject.kind === "point") {
          const [own, ...near] = pointsByNearness(line, subject.id).map(temperatureOf);
          expect(ownTemperature).toBe(own);
          expect(nearTemperatures).toEqual(near.filter((channel) => channel !== null));
        } else if (subject.kind === "drum")
          expect(ownTemperature).toBe(compiled.drums.get(subject.id)?.drum.temperature);
        else expect([ownTemperature, nearTemperatures]).toEqual([null, []]);
      }
    });
  });
});

describe("slots", () => {
  it("number every channel and every series once, and find them by node", () => {
    holds((compiled, line) => {
      expect(compiled.slots.map(({ channel }) => channel)).toEqual([...line.channels.keys()]);
      expect(compiled.slots.map(({ index }) => index)).toEqual([...compiled.slots.keys()]);
      expect(compiled.series.map(({ id }) => id)).toEqual([...compiled.series.keys()]);
      expect(new Set(compiled.series.map(({ name }) => name)).size).toBe(compiled.series.length);
      for (const slot of compiled.slots) {
        expect(`${slot.node}/${slot.name}`).toBe(slot.channel);
        expect(compiled.slotOf.get(slot.channel)).toBe(slot);
        expect(compiled.slotsOfNode.get(slot.node)).toContain(slot);
        for (const { id, quantity, name } of slot.series) {
          expect(compiled.series[id]?.name).toBe(name);
          expect(compiled.seriesNamed.get(name)).toMatchObject({ id, quantity, subject: slot.subject });
          expect(quantityUnits).toHaveProperty(quantity);
        }
        for (const [senml, name] of slot.readingSeries)
          expect(channelOfReadingSeries(name)).toEqual({ channel: slot.channel, unit: senml });
      }
    });
  });

  it("name what a channel can become: litres of a drum's level, no conductivity of one that is at 25 °C", () => {
    const { slotOf } = compileLine(
      lineOf(`drumlin: 1
site: a
points: { p: { conductivity: { channel: n/pen, at25: true }, level: n/well }, q: { conductivity: n/ec } }
drums: { d: { volume: 200 L, fed_by: p, stop: { channel: n/f, wet: false }, level: { channel: n/l, strapping: { 0 m: 0 L, 1 m: 200 L } } } }`),
    );
    const namesOf = (channel: string) => slotOf.get(channel)?.series.map(({ name }) => name);
    expect(namesOf("n/pen")).toEqual(["point/p/conductivity25"]);
    expect(namesOf("n/well")).toEqual(["point/p/level"]);
    expect(namesOf("n/ec")).toEqual(["point/q/conductivity", "point/q/conductivity25", "point/q/salinity"]);
    expect(namesOf("n/l")).toEqual(["drum/d/level", "drum/d/volume"]);
    expect(slotOf.get("n/f")).toMatchObject({
      subject: { kind: "float", id: "d.stop", drum: "d", role: "stop" },
      activeWhen: false,
      readingSeries: new Map([[null, "reading/n/f[]"]]),
    });
    expect([...(slotOf.get("n/ec")?.readingSeries ?? [])]).toEqual([
      [null, "reading/n/ec[]"],
      ["S/m", "reading/n/ec[S/m]"],
    ]);
  });
});

describe("what is there", () => {
  it("is made once for each version of the line", () => {
    const line = lineOf(smallestLine);
    expect(compileLine(line)).toBe(compileLine(line));
    expect(compileLine(lineOf(smallestLine))).not.toBe(compileLine(line));
  });

  it("things of a line exist, and nothing else does: no key that every object has", () => {
    const compiled = compileLine(lineOf(smallestLine));
    expect(compiled.idsOf("drum")).toEqual(["fresh", "mix"]);
    expect(compiled.idsOf("stage")).toEqual(["carbon", "resin"]);
    expect(compiled.idsOf("node")).toEqual(["press", "drums"]);
    const asked = [
      [compiled.hasPoint, "after-carbon"],
      [compiled.hasStage, "resin"],
      [compiled.hasDrum, "mix"],
      [compiled.hasFloat, "mix.stop"],
      [compiled.hasChannel, "press/ec-1"],
      [compiled.hasNode, "drums"],
    ] as const;
    for (const [has, id] of asked) {
      expect(has(id)).toBe(true);
      for (const strange of ["nope", "", "constructor", "__proto__", "toString", "hasOwnProperty"])
        expect(has(strange), strange).toBe(false);
    }
    for (const kind of ["pump", "floor", "sounder", "button", "system"] as const) {
      expect(compiled.idsOf(kind)).toEqual([]);
      expect(compiled.has(kind, "constructor")).toBe(false);
    }
  });

  it("a drum and a point named constructor are as good as any other", () => {
    const compiled = compileLine(
      lineOf(`drumlin: 1
site: a
points: { p: {} }
stages: { constructor: { kind: resin, from: p, to: constructor } }
drums: { constructor: { volume: 200 L, fed_by: constructor, stop: n/f } }`),
    );
    expect(compiled.hasDrum("constructor")).toBe(true);
    expect(compiled.points.get("constructor")).toMatchObject({
      point: { title: "Constructor", conductivity: null, limit25UsPerCm: 5 },
      stageInto: { id: "constructor" },
      drumsBehind: [{ drum: { id: "constructor" } }],
    });
    expect(compiled.floats.get("constructor.stop")?.drum.id).toBe("constructor");
  });
});
