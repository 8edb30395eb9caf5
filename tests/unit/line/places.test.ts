import { drawnPictures, emptyLine } from "@drumlin/gateway/app";
import { placesOf, readLine, signalThere } from "@drumlin/gateway/line";
import { describe, expect, it } from "vitest";
import { assigned, edited } from "../../../gateway/src/app/line-edits.ts";

const yaml = `drumlin: 1
site: saltmarsh-house
points:
  # The tap by the door.
  supply: { conductivity: press/ec-1 }
drums:
  # Blue, by the wall.
  fresh:
    volume: 200 L
    fed_by: supply
    stop: { channel: drums/float-1, trips_at: 170 L }
`;
const placesIn = (text: string) => {
  const read = readLine(text);
  if (!read.ok) throw new Error(read.faults.map(({ message }) => message).join(" "));
  return placesOf(read.line);
};
const place = (text: string, name: string) => {
  const found = placesIn(text).find((one) => one.place === name);
  if (!found) throw new Error(`no place ${name}`);
  return found;
};
const put = (text: string, channel: string, to: string, signal?: string) =>
  edited(text, assigned(text, { channel, to, signal })) ?? "";

describe("places of a line", () => {
  it("are free or taken, with one floor more than there are", () => {
    expect(place(yaml, "points/supply/conductivity").channel).toBe("press/ec-1");
    expect(place(yaml, "points/supply/temperature").channel).toBeNull();
    expect(place(yaml, "drums/fresh/stop").channel).toBe("drums/float-1");
    expect(place(yaml, "drums/fresh/floats/overflow").channel).toBeNull();
    const two = `${yaml}floors:\n  floor: press/wet-1\n`;
    expect(
      placesIn(two)
        .filter(({ role }) => role === "floor")
        .map((one) => one.place),
    ).toEqual(["floors/floor", "floors/floor-2"]);
  });

  it.each([
    // A thermometer was once taken as the supply's conductivity, and a level as the resin's.
    ["points/supply/conductivity", 18.2, "Cel", null],
    ["points/supply/conductivity", 0.42, "m", null],
    ["points/supply/conductivity", 0.0412, "S/m", "conductivity"],
    ["points/supply/conductivity", 412, null, "conductivity"],
    ["points/supply/conductivity", 0, null, null],
    ["points/supply/temperature", 291.35, "K", "temperature"],
    ["points/supply/flow", 0, null, "flow"],
    ["drums/fresh/stop", 1, null, "contact"],
    ["drums/fresh/stop", 0.42, null, null],
    ["drums/fresh/stop", 1, "m", null],
    ["drums/fresh/level", 0.42, "m", "level"],
    ["drums/fresh/level", 0.12, "m3", "volume"],
    ["drums/fresh/level", 4000, "Pa", "pressure"],
    ["drums/fresh/level", 18, "Cel", null],
  ])("%s takes %s %s as %s", (name, value, unit, signal) => {
    expect(signalThere(place(yaml, name), { value, unit })).toBe(signal);
  });
});

describe("changes of the line file", () => {
  it("keep comments, and what else is said of a float", () => {
    const text = put(yaml, "drums/float-9", "drums/fresh/stop");
    expect(text).toContain("# The tap by the door.");
    expect(text).toContain("{ channel: drums/float-9, trips_at: 170 L }");
  });

  it("go where the stop float stands: among the others, where it is there", () => {
    const among = yaml.replace(/stop: .*/, "floats: { stop: drums/float-1 }");
    expect(put(among, "drums/float-9", "drums/fresh/stop")).toContain("floats: { stop: drums/float-9 }");
  });

  it("say how a level tells", () => {
    const text = put(yaml, "drums/litres", "drums/fresh/level", "volume");
    const read = readLine(text);
    expect(read.ok && read.line.drums[0]?.level).toMatchObject({ channel: "drums/litres", as: "volume" });
  });

  it("take away, and are nothing where keys can't be", () => {
    const without = edited(yaml, [{ at: ["drums", "fresh", "stop"], to: null }]) ?? "";
    expect(place(without, "drums/fresh/stop").channel).toBeNull();
    expect(edited(yaml, [{ at: ["site", "title"], to: "x" }])).toBeNull();
  });
});

describe("pictures to begin with", () => {
  it.each(drawnPictures("saltmarsh-house", "Mara's: house"))(
    "$id is a line without a fault, no channel placed",
    ({ yaml: text }) => {
      const read = readLine(text);
      expect(read.faults.filter(({ severity }) => severity === "error")).toEqual([]);
      expect(read.ok && [read.line.title, read.line.channels.size]).toEqual(["Mara's: house", 0]);
    },
  );

  it("a begun file has nothing but the supply", () => {
    expect(placesIn(emptyLine("saltmarsh-house")).every(({ channel }) => channel === null)).toBe(true);
  });
});
