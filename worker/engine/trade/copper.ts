/** Conductivity of annealed copper at 20 °C, m/(Ω·mm²): IEC 60028:1925 gives 1/58 Ω·mm²/m (tnlab.org). */
const CONDUCTIVITY = 58;
/** Rise of copper's resistance from 20 °C, per kelvin: Industrial Power Engineering Handbook, p. 970. */
const RISE_PER_K = 0.00393;
const STANDARD_C = 20;

/** Resistance of so much copper at 20 °C, mΩ/m. Without the lay of strands, which adds a few percent. */
export function copperMilliohmPerM(areaMm2: number): number {
  return 1000 / (CONDUCTIVITY * areaMm2);
}

/** How many times its resistance at 20 °C copper has at a temperature: 1.25545 at 85 °C. */
export function resistanceRatio(celsius: number): number {
  return 1 + RISE_PER_K * (celsius - STANDARD_C);
}

/** Millivolts lost in a length of wire at a temperature; its resistance is that at 20 °C. */
export function millivoltsLost(wire: {
  amps: number;
  milliohmPerM: number;
  lengthMm: number;
  celsius: number;
}): number {
  return (wire.amps * wire.milliohmPerM * resistanceRatio(wire.celsius) * wire.lengthMm) / 1000;
}
