/** A made-up tap water, mg/L of each ion: the example of several formulas. */
export const tapWater = {
  calcium: 55,
  magnesium: 12,
  sodium: 28,
  potassium: 3.2,
  bicarbonate: 170,
  sulfate: 77,
  chloride: 20,
};
