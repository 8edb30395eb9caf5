import type { TestSpecification } from "vitest/node";
import { BaseSequencer } from "vitest/node";

/** Files that take longest: begun last, one of them would run on alone. */
const slow = [
  "drum-quiet",
  "clock-set",
  "drum-words",
  "parts",
  "hung-gateway",
  "outside-broker",
  "damaged-files",
  "honest-look",
];

const rankOf = ({ moduleId }: TestSpecification): number => {
  const index = slow.findIndex((name) => moduleId.endsWith(`/${name}.test.ts`));
  return index === -1 ? slow.length : index;
};

/** The files in the usual order, those that take longest before them. */
export class SlowestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const usual = await super.sort(files);
    return usual.toSorted((a, b) => rankOf(a) - rankOf(b));
  }
}
