/**
 * Numbers that know their unit. A plain number is accepted where a flavoured one is asked for,
 * but a temperature is not accepted where a conductivity is.
 */
type Flavour<Unit extends string> = number & { readonly __unit?: Unit };

/** Conductivity, microsiemens per centimetre. */
export type UsPerCm = Flavour<"uS/cm">;
/** Resistivity, megaohm centimetres. */
export type MegohmCm = Flavour<"MOhm.cm">;
/** Temperature, degrees Celsius (ITS-90). */
export type Celsius = Flavour<"Cel">;
/** Mass concentration, milligrams per litre. */
export type MgPerL = Flavour<"mg/L">;
/** Charge concentration, milliequivalents per litre. */
export type MeqPerL = Flavour<"meq/L">;
/** Amount concentration, millimoles per litre. */
export type MmolPerL = Flavour<"mmol/L">;
/** Litres. */
export type Litre = Flavour<"L">;
/** Flow, litres per minute. */
export type LitrePerMin = Flavour<"L/min">;
/** Moment, milliseconds since 1970-01-01T00:00Z. */
export type EpochMs = Flavour<"ms">;
/** Practical salinity (PSS-78), dimensionless. */
export type PracticalSalinity = Flavour<"1">;
/** pH, dimensionless. */
export type PH = Flavour<"[pH]">;
