import type { TestSpecification } from "vitest/node";
import { BaseSequencer } from "vitest/node";

/** Files that take longest: begun last, one of them would run on alone. Those that wait and those that count take turns. */
const slow = [
  "clock-set",
  "drum-quiet",
  "parts",
  "hung-gateway",
  "drum-words",
  "outside-broker",
  "outside-broker-lost",
  "layout",
  "damaged-files",
  "killed-gateway",
  "access",
  "honest-look",
  "alarm-reaches-a-person",
  "text-size",
  "by-keys",
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
