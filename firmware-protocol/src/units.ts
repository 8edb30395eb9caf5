interface Secondary {
  readonly primary: string;
  readonly scale: number;
  readonly offset: number;
}

// RFC 8428 §12.1, primary units, and those that RFC 8798 §2 adds to them.
const primary: ReadonlySet<string> = new Set(
  "m kg g s A K cd mol Hz rad sr N Pa J W C V F Ohm S Wb T H Cel lm lx Bq Gy Sv kat m2 m3 m/s m/s2 m3/s W/m2 cd/m2 bit bit/s lat lon pH dB dBW count / %RH %EL EL 1/s 1/min S/m B VA VAs var vars J/m kg/m3 deg NTU".split(
    " ",
  ),
);

// RFC 8428 §12.1: not recommended to produce, but to be read.
const legacy: Readonly<Record<string, Secondary>> = {
  l: { primary: "m3", scale: 1e-3, offset: 0 },
  "l/s": { primary: "m3/s", scale: 1e-3, offset: 0 },
};

// RFC 8798 §3, secondary units; only with `bver` 26 (RFC 9100 §4: bit 4 is "secondary units").
const secondary: Readonly<Record<string, Secondary>> = {
  ms: { primary: "s", scale: 1e-3, offset: 0 },
  min: { primary: "s", scale: 60, offset: 0 },
  h: { primary: "s", scale: 3600, offset: 0 },
  MHz: { primary: "Hz", scale: 1e6, offset: 0 },
  kW: { primary: "W", scale: 1e3, offset: 0 },
  kVA: { primary: "VA", scale: 1e3, offset: 0 },
  kvar: { primary: "var", scale: 1e3, offset: 0 },
  Ah: { primary: "C", scale: 3600, offset: 0 },
  Wh: { primary: "J", scale: 3600, offset: 0 },
  kWh: { primary: "J", scale: 3.6e6, offset: 0 },
  varh: { primary: "vars", scale: 3600, offset: 0 },
  kvarh: { primary: "vars", scale: 3.6e6, offset: 0 },
  kVAh: { primary: "VAs", scale: 3.6e6, offset: 0 },
  "Wh/km": { primary: "J/m", scale: 3.6, offset: 0 },
  KiB: { primary: "B", scale: 1024, offset: 0 },
  GB: { primary: "B", scale: 1e9, offset: 0 },
  "Mbit/s": { primary: "bit/s", scale: 1e6, offset: 0 },
  "B/s": { primary: "bit/s", scale: 8, offset: 0 },
  "MB/s": { primary: "bit/s", scale: 8e6, offset: 0 },
  mV: { primary: "V", scale: 1e-3, offset: 0 },
  mA: { primary: "A", scale: 1e-3, offset: 0 },
  dBm: { primary: "dBW", scale: 1, offset: -30 },
  "ug/m3": { primary: "kg/m3", scale: 1e-9, offset: 0 },
  "mm/h": { primary: "m/s", scale: 1 / 3_600_000, offset: 0 },
  "m/h": { primary: "m/s", scale: 1 / 3600, offset: 0 },
  ppm: { primary: "/", scale: 1e-6, offset: 0 },
  "/100": { primary: "/", scale: 0.01, offset: 0 },
  "/1000": { primary: "/", scale: 0.001, offset: 0 },
  hPa: { primary: "Pa", scale: 100, offset: 0 },
  mm: { primary: "m", scale: 1e-3, offset: 0 },
  cm: { primary: "m", scale: 1e-2, offset: 0 },
  km: { primary: "m", scale: 1e3, offset: 0 },
  "km/h": { primary: "m/s", scale: 1 / 3.6, offset: 0 },
};

/** What a unit means in primary units, or why it is refused. */
export type UnitMeaning =
  | { readonly ok: true; readonly unit: string; readonly scale: number; readonly offset: number }
  | {
      readonly ok: false;
      readonly code: "unit-percent" | "unit-secondary-needs-version-26" | "unit-not-listed";
      readonly message: string;
    };

/** Meanings that were worked out, by version: units that are known are few. */
const known = new Map<number, Map<string, UnitMeaning>>();

/**
 * The meaning of a SenML unit under a version: primary units as they are, legacy `l` and `l/s` converted,
 * secondary units only under version 26. `%` is refused: RFC 8428 makes it a synonym of `/`, not a percentage.
 */
export function unitMeaning(unit: string, version: number): UnitMeaning {
  const before = known.get(version)?.get(unit);
  if (before) return before;
  const meaning = workOut(unit, version);
  if (!meaning.ok) return meaning;
  const of = known.get(version) ?? new Map<string, UnitMeaning>();
  known.set(version, of.set(unit, meaning));
  return meaning;
}

function workOut(unit: string, version: number): UnitMeaning {
  if (unit === "%") {
    return {
      ok: false,
      code: "unit-percent",
      message: 'The unit "%" means a ratio from 0 to 1 in RFC 8428, not per cent: send "/" for a ratio.',
    };
  }
  if (primary.has(unit)) return { ok: true, unit, scale: 1, offset: 0 };
  const old = Object.hasOwn(legacy, unit) ? legacy[unit] : undefined;
  if (old) return { ok: true, unit: old.primary, scale: old.scale, offset: old.offset };
  const second = Object.hasOwn(secondary, unit) ? secondary[unit] : undefined;
  if (!second) {
    return {
      ok: false,
      code: "unit-not-listed",
      message: `The unit "${unit.slice(0, 20)}" is not one that this gateway reads: send a primary unit of RFC 8428 (S/m, Cel, m, m3, m3/s, Pa).`,
    };
  }
  if (version !== 26) {
    return {
      ok: false,
      code: "unit-secondary-needs-version-26",
      message: `The unit "${unit}" is a secondary unit: send "bver":26 in the first record, or "${second.primary}".`,
    };
  }
  return { ok: true, unit: second.primary, scale: second.scale, offset: second.offset };
}
