/**
 * Numbers that know their unit. A plain number is accepted where a flavoured one is asked for,
 * but a temperature is not accepted where a conductivity is.
 */
type Flavour<Unit extends string> = number & { readonly __unit?: Unit };

/** Conductivity, microsiemens per centimetre. */
export type UsPerCm = Flavour<"uS/cm">;
/** Temperature, degrees Celsius (ITS-90). */
export type Celsius = Flavour<"Cel">;
/** Mass concentration, milligrams per litre. */
export type MgPerL = Flavour<"mg/L">;
/** Litres. */
export type Litre = Flavour<"L">;
/** Practical salinity (PSS-78), dimensionless. */
export type PracticalSalinity = Flavour<"1">;
