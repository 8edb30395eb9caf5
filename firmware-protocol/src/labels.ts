/** The three labels of a node's pack, each null when not sent. */
export interface PackLabels {
  /** Different at each start of the node; compared for equality only. 0 to 2^32 − 1. */
  readonly boot: number | null;
  /** Packs since that start. 0 to 2^32 − 1. */
  readonly seq: number | null;
  /** Seconds since that start when the pack was made; not negative. */
  readonly up: number | null;
}

/** The labels, or which one is not understood. */
export type ReadLabels =
  | { readonly ok: true; readonly labels: PackLabels }
  | { readonly ok: false; readonly code: "label-boot" | "label-seq" | "label-up"; readonly message: string };

const mostU32 = 4_294_967_295;

const isU32 = (value: unknown): boolean =>
  value === undefined || (Number.isInteger(value) && (value as number) >= 0 && (value as number) <= mostU32);

const notU32 = (name: "boot" | "seq"): ReadLabels => ({
  ok: false,
  code: `label-${name}`,
  message: `"${name}" must be a whole number from 0 to ${mostU32}.`,
});

/** Reads `boot`, `seq` and `up` from the labels of a pack's first record. */
export function readLabels(labels: Readonly<Record<string, unknown>>): ReadLabels {
  const { boot, seq, up } = labels;
  if (!isU32(boot)) return notU32("boot");
  if (!isU32(seq)) return notU32("seq");
  if (up !== undefined && !(typeof up === "number" && up >= 0 && up < 1e10)) {
    return {
      ok: false,
      code: "label-up",
      message: '"up" must be the seconds since the node started, 0 or more.',
    };
  }
  return {
    ok: true,
    labels: { boot: (boot as number) ?? null, seq: (seq as number) ?? null, up: (up as number) ?? null },
  };
}
