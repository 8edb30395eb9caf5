import type { LineDrawing, LinePictures } from "@drumlin/gateway/contract";

type Place = LineDrawing["places"][number];

const place = (kind: Place["of"]["kind"], id: string, role: string, channel: string | null): Place => ({
  place: `${kind}s/${id}/${role}`,
  of: { kind, id },
  role,
  channel,
});
const stage = (id: string, kind: "carbon" | "resin", from: string, to: string) => ({
  id,
  title: kind === "resin" ? "Resin" : "Carbon",
  kind,
  from,
  to,
  vessel: kind === "resin" ? 8 : 20,
  typical: kind === "carbon",
});
const drum = (id: string, title: string, fedBy: string, volume: number) =>
  ({ id, title, fedBy, volume, control: "automatic", holds: id === "mix" ? "salt" : "fresh" }) as const;

/** A line that is half drawn: a channel waits for its place. */
export const drawn: LineDrawing = {
  version: "1",
  yaml: [
    "drumlin: 1",
    "site: saltmarsh-house",
    "title: Saltmarsh House",
    "points:",
    "  supply: { conductivity: { channel: press/ec-1, resolution: 1 uS/cm }, temperature: press/t-1 }",
    "  after-resin: {}",
    "",
  ].join("\n"),
  warnings: [{ line: 4, message: "The limit is high.", instead: "Write 5." }],
  title: "Saltmarsh House",
  disinfectant: "unknown",
  points: [
    { id: "supply", title: "Supply", limit: null },
    { id: "after-carbon", title: "Behind carbon", limit: null },
    { id: "after-resin", title: "After resin", limit: 5 },
  ],
  stages: [
    stage("carbon", "carbon", "supply", "after-carbon"),
    stage("resin", "resin", "after-carbon", "after-resin"),
  ],
  drums: [
    drum("fresh", "Fresh drum", "after-carbon", 200),
    drum("mix", "Mix drum", "after-resin", 200),
    drum("top-up", "Top-up drum", "after-resin", 60),
  ],
  places: [
    place("point", "supply", "conductivity", "press/ec-1"),
    place("point", "supply", "temperature", "press/t-1"),
    place("point", "supply", "pressure", "press/p-1"),
    place("point", "after-carbon", "flow", "press/flow-1"),
    place("point", "after-resin", "conductivity", null),
    place("stage", "resin", "flow", null),
    place("drum", "fresh", "stop", null),
    place("drum", "fresh", "level", "drums/level-1"),
    place("drum", "mix", "stop", "drums/float-2"),
    place("drum", "mix", "inlet", "drums/valve"),
    place("drum", "top-up", "stop", null),
    place("floor", "floor", "floor", null),
  ],
  heard: [
    {
      channel: "press/ec-2",
      value: 0.0001,
      unit: "S/m",
      at: new Date().toISOString(),
      fits: ["points/after-resin/conductivity", "points/supply/conductivity"],
    },
    {
      channel: "drums/float-1",
      value: 0,
      unit: null,
      at: new Date().toISOString(),
      fits: ["drums/fresh/stop"],
    },
  ],
  mqtt: { port: 1883, tls: false, broker: null },
};

const picture = (id: string, title: string, words: string, drums: LineDrawing["drums"]) => ({
  id,
  title,
  words,
  stages: drawn.stages,
  drums,
  yaml: drawn.yaml,
});

/** Pictures to choose from. */
export const pictures: LinePictures = {
  items: [
    picture("one", "One drum", "Tap water through carbon and resin, into one drum.", drawn.drums.slice(1, 2)),
    picture(
      "two",
      "Carbon, then resin, two drums",
      "A drum of fresh water behind the carbon, one for salt behind the resin.",
      drawn.drums.slice(0, 2),
    ),
    picture("three", "Three drums", "Two drums hang behind the resin.", drawn.drums),
  ],
};
