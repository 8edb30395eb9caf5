import type { DrumView } from "@drumlin/gateway/contract";
import { litresOf } from "../format/drum-facts.ts";
import { BatchSheet } from "./batch-sheet.tsx";
import { ChlorineSheet } from "./chlorine-sheet.tsx";
import { FloatTestSheet } from "./float-test.tsx";
import { ReleaseSheet } from "./release-sheet.tsx";

interface DrumSheetsProps {
  readonly drum: DrumView;
  readonly asked: string | null;
  readonly onClose: () => void;
}

/** The sheet that an act of a drum asks for. */
export function DrumSheets({ drum, asked, onClose }: DrumSheetsProps) {
  if (asked === "release") return <ReleaseSheet drum={drum} litres={litresOf(drum)} onClose={onClose} />;
  if (asked === "float") return <FloatTestSheet drum={drum} onClose={onClose} />;
  if (asked === "batch") return <BatchSheet drum={drum} onClose={onClose} />;
  if (asked === "chlorine") return <ChlorineSheet drum={drum} onClose={onClose} />;
  return null;
}
