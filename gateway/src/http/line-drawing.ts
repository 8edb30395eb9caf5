import { placesOf, readLine, signalThere } from "../line/index.ts";
import type { AssignedChannel, HttpComponents } from "./components.ts";
import type { LineDrawing, LinePictures } from "./contract/drawing.ts";
import { Refusal } from "./refusal.ts";

/** What the page draws the line by: its parts, their places, and channels that have none. */
export async function lineDrawing(components: HttpComponents): Promise<LineDrawing> {
  const line = components.line();
  const view = components.lineView();
  if (!line || !view) throw new Refusal("not-ready", "No line is in force yet.");
  const { yaml, version, faults } = await components.lineFile.read();
  const places = placesOf(line);
  return {
    version,
    yaml,
    warnings: faults.map(({ line: at, message, instead }) => ({ line: at, message, instead })),
    title: line.title,
    disinfectant: line.disinfectant,
    points: line.points.map(({ id, title, limit25UsPerCm }) => ({ id, title, limit: limit25UsPerCm })),
    stages: line.stages.map(({ id, title, kind, from, to, vesselVolumeL, typical }) => ({
      id,
      title,
      kind,
      from,
      to,
      vessel: vesselVolumeL,
      typical,
    })),
    drums: line.drums.map(({ id, title, fedBy, volumeL, control, holds }) => ({
      id,
      title,
      fedBy,
      volume: volumeL,
      control,
      holds,
    })),
    places: places.map(({ place, of, role, channel }) => ({ place, of: { ...of }, role, channel })),
    heard: view.nodes.flatMap(({ unassigned }) =>
      unassigned.map((heard) => ({
        ...heard,
        fits: places.filter((place) => signalThere(place, heard) !== null).map(({ place }) => place),
      })),
    ),
    mqtt: components.mqtt(),
  };
}

/** Pictures of lines to begin with, and the file that each makes. */
export function linePictures({ lineFile }: HttpComponents): LinePictures {
  return {
    items: lineFile.pictures().map(({ id, title, words, yaml }) => {
      const read = readLine(yaml);
      const { stages, drums } = read.ok ? read.line : { stages: [], drums: [] };
      return {
        id,
        title,
        words,
        stages: stages.map((stage) => ({
          id: stage.id,
          title: stage.title,
          kind: stage.kind,
          from: stage.from,
          to: stage.to,
        })),
        drums: drums.map((drum) => ({ id: drum.id, title: drum.title, fedBy: drum.fedBy })),
        yaml,
      };
    }),
  };
}

/** Puts a channel at a place, when it says what the place is for, and nobody else stands there unasked. */
export async function assignChannel(
  { line: lineOf, lineView, lineFile }: HttpComponents,
  {
    channel,
    to,
    instead,
    strapping,
  }: Omit<AssignedChannel, "signal"> & { readonly instead?: string | undefined },
) {
  const line = lineOf();
  const there = line && placesOf(line).find(({ place }) => place === to);
  if (!there) throw new Refusal("no-such-place", `The line has no place ${to.slice(0, 100)}.`);
  if (there.channel !== null && there.channel !== channel && there.channel !== instead)
    throw new Refusal("place-taken", `${there.channel} stands there. Say that it is to be replaced.`);
  const heard = lineView()
    ?.nodes.flatMap(({ unassigned }) => unassigned)
    .find((one) => one.channel === channel);
  const signal = heard ? signalThere(there, heard) : (there.signals[0] ?? null);
  if (heard && signal === null)
    throw new Refusal(
      "unit-does-not-fit",
      `${channel} says ${heard.value} ${heard.unit ?? "without a unit"}: that can't be what ${to} is for.`,
    );
  return lineFile.assign({ channel, to, signal: signal ?? undefined, strapping });
}
