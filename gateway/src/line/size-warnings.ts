import type { Line, Point } from "./line.ts";
import type { LineFile } from "./schema.ts";
import type { Warn } from "./warn.ts";

/** A limit above it can't catch anything behind resin or a membrane: tap water itself begins at some 50 uS/cm (common practice, no source). */
const maxLimitUsPerCm = 200;
/** A housing under it, or over it, is a slip of the unit (common practice, no source). */
const vesselL = { min: 0.1, max: 2000 } as const;
/** A drum in a room of animals (common practice, no source). */
const drumL = { min: 2, max: 20_000 } as const;
/** The smaller and the larger gallon, litres: NIST SP 811 (2008), app. B; UK Units of Measurement Regulations 1995. */
const gallonL = { us: 3.785411784, imperial: 4.54609 } as const;

const rounded = (value: number): string => String(Number(value.toPrecision(3)));

function warnOfLimit({ id, limit25UsPerCm, after }: Point, line: Line, file: LineFile, warn: Warn): void {
  const isPurified = line.stages.some(
    (stage) => after.includes(stage.id) && (stage.kind === "resin" || stage.kind === "membrane"),
  );
  if (limit25UsPerCm === null || !isPurified || limit25UsPerCm <= maxLimitUsPerCm) return;
  const written = String(file.points[id]?.limit ?? "");
  const isMilli = /mS/.test(written);
  warn(
    "limit-over-feed",
    ["points", id, "limit"],
    `The limit of ${id} is ${rounded(limit25UsPerCm)} uS/cm: unpurified tap water is often less, so nothing would be told.`,
    isMilli ? `Did you mean ${written.replace("mS", "uS")}?` : "5 uS/cm behind resin is usual.",
  );
}

function warnOfVessel(
  { id, key }: { readonly id: string; readonly key: "vessel" | "media" },
  litres: number,
  written: string,
  warn: Warn,
): void {
  if (litres >= vesselL.min && litres <= vesselL.max) return;
  const small = litres < vesselL.min;
  warn(
    small ? "vessel-very-small" : "vessel-very-large",
    ["stages", id, key],
    `The ${key} of ${id} is ${written}: that is ${rounded(litres)} L.`,
    small && /m\s*l/i.test(written) ? `Did you mean ${written.replace(/m\s*l/i, "L")}?` : "Check the unit.",
  );
}

function warnOfDrum(id: string, litres: number, written: string, warn: Warn): void {
  if (litres >= drumL.min && litres <= drumL.max) return;
  warn(
    litres < drumL.min ? "drum-very-small" : "drum-very-large",
    ["drums", id, "volume"],
    `${id} would hold ${rounded(litres)} L (written ${written}).`,
    "Check the number and its unit.",
  );
}

/** Whether a volume is in gallons and says not whose. */
const isBareGallon = (text: string): boolean => /^[\s\d.,]+(gal|gals|gallons?)\s*$/i.test(text);

function warnOfGallons(path: readonly PropertyKey[], written: string, warn: Warn): void {
  if (!isBareGallon(written)) return;
  const count = Number.parseFloat(written.replace(",", "."));
  warn(
    "which-gallon",
    path,
    `${written} is taken as US gallons, ${rounded(count * gallonL.us)} L; imperial gallons would be ${rounded(count * gallonL.imperial)} L.`,
    `Write "${rounded(count)} us gal" or "${rounded(count)} imp gal".`,
  );
}

/** Warns of sizes that are more likely a slip of the unit than the keeper's own. */
export function warnOfSizes(line: Line, file: LineFile, warn: Warn): void {
  for (const point of line.points) warnOfLimit(point, line, file, warn);
  for (const [id, stage] of Object.entries(file.stages)) {
    const built = line.stages.find((each) => each.id === id);
    const count = stage.vessels ?? 1;
    for (const key of ["vessel", "media"] as const) {
      const written = stage[key];
      if (written === undefined || !built) continue;
      const litres = (key === "vessel" ? built.vesselVolumeL : built.mediaVolumeL) / count;
      warnOfVessel({ id, key }, litres, String(written), warn);
      warnOfGallons(["stages", id, key], String(written), warn);
    }
  }
  for (const { id, volumeL } of line.drums) {
    const written = String(file.drums[id]?.volume ?? "");
    warnOfDrum(id, volumeL, written, warn);
    warnOfGallons(["drums", id, "volume"], written, warn);
  }
}
