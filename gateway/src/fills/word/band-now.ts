import type { Line } from "../../line/index.ts";
import type { BoardView } from "../../path/index.ts";
import type { DrumPlace } from "../record/drum-record.ts";
import { placesOf } from "../record/places.ts";
import { bandOf } from "./holds.ts";

const placed = new WeakMap<Line, ReadonlyMap<string, DrumPlace>>();

/** What a drum's water may read at most now, uS/cm at 25 °C; null: nothing says. */
export function bandNow25(line: Line, drum: string, board: Pick<BoardView, "get">): number | null {
  const places = placed.get(line) ?? placesOf(line);
  placed.set(line, places);
  const place = places.get(drum);
  return place ? bandOf(place, board) : null;
}
