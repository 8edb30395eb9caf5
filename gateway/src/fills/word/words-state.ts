import type { Drum, Line } from "../../line/index.ts";
import type { BackFlowPlace } from "../back-flow/back-flow.ts";
import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { DrumPlace } from "../record/drum-record.ts";
import { type DrumWord, newDrumWord } from "./drum-word.ts";

/** What the stage works on. */
export interface Words {
  line: Line | null;
  places: ReadonlyMap<string, DrumPlace>;
  /** Points through which water can be seen to come back. */
  comesBack: ReadonlyMap<string, BackFlowPlace>;
  words: Map<string, DrumWord>;
  readonly seen: Map<string, DrumWitnesses>;
  readonly changed: Set<string>;
  /** Some of what words go by was lost, and no line said yet of which drums. */
  areLost: boolean;
}

/** What is remembered of a drum's water. */
export function wordOf(all: Words, drum: Drum): DrumWord {
  let word = all.words.get(drum.id);
  if (!word) {
    word = newDrumWord(drum.volumeL);
    all.words.set(drum.id, word);
  }
  return word;
}
