import type { Size } from '../model/size.ts';
import { tradeSizeOf } from './wireSizes.ts';

/**
 * ISO 6722, single-core cables of road vehicles: the most resistance of the conductor at 20 °C, and the most over the
 * insulation, thin wall and thick wall. Read in a wire maker's restatement (pages flrya, flryb, flyw headed "ISO 6722
 * compliant", github.com/chunkaiw3874/Nizing-Website, Nizing/en), not in the standard itself.
 */
interface Row {
  areaMm2: number;
  /** Strands as marked, n × mm: symmetric (type A) and asymmetric (type B). */
  strands: readonly (readonly [number, number])[];
  /** mΩ/m. The conductor is the same in either wall. */
  milliohmPerM?: number;
  /** mm; of type A where it differs. */
  thin?: { mm: number; typeA?: number };
  thickMm?: number;
}

/** The page's 45 × 0.31 for 3 mm² computes to 3.4 mm² and is left out. Its resistances of 25 to 70 mm² are rounded: left out. */
// prettier-ignore
const ROWS: readonly Row[] = [
  { areaMm2: 0.13, strands: [[7, 0.16]], milliohmPerM: 136, thin: { mm: 1.05 } },
  { areaMm2: 0.22, strands: [[7, 0.2]], milliohmPerM: 84.4, thin: { mm: 1.2 } },
  { areaMm2: 0.35, strands: [[7, 0.26], [12, 0.2]], milliohmPerM: 54.4, thin: { mm: 1.4, typeA: 1.3 } },
  { areaMm2: 0.5, strands: [[19, 0.19], [16, 0.2]], milliohmPerM: 37.1, thin: { mm: 1.6 }, thickMm: 2.3 },
  { areaMm2: 0.75, strands: [[19, 0.23], [24, 0.2]], milliohmPerM: 24.7, thin: { mm: 1.9 }, thickMm: 2.5 },
  { areaMm2: 1, strands: [[19, 0.26], [32, 0.2]], milliohmPerM: 18.5, thin: { mm: 2.1 }, thickMm: 2.7 },
  { areaMm2: 1.5, strands: [[19, 0.32], [30, 0.25]], milliohmPerM: 12.7, thin: { mm: 2.4 }, thickMm: 3 },
  { areaMm2: 2, strands: [[19, 0.36], [30, 0.3]], milliohmPerM: 9.42, thin: { mm: 2.8 }, thickMm: 3.3 },
  { areaMm2: 2.5, strands: [[19, 0.41], [50, 0.25]], milliohmPerM: 7.6, thin: { mm: 3 }, thickMm: 3.6 },
  { areaMm2: 3, strands: [], milliohmPerM: 6.15, thin: { mm: 3.4 }, thickMm: 4.1 },
  { areaMm2: 4, strands: [[56, 0.3]], milliohmPerM: 4.71, thin: { mm: 3.7 }, thickMm: 4.4 },
  { areaMm2: 6, strands: [[84, 0.3]], milliohmPerM: 3.14, thin: { mm: 4.3 }, thickMm: 5 },
  { areaMm2: 10, strands: [], milliohmPerM: 1.82, thickMm: 6.5 },
  { areaMm2: 16, strands: [[126, 0.4]], milliohmPerM: 1.16, thin: { mm: 7.2 }, thickMm: 8.3 },
  { areaMm2: 25, strands: [], thickMm: 10.4 },
  { areaMm2: 35, strands: [], thickMm: 11.6 },
  { areaMm2: 50, strands: [], thickMm: 13.5 },
  { areaMm2: 70, strands: [], thickMm: 15.5 },
];

export const ISO_6722 = 'ISO 6722, as a wire maker restates it';

/** Upper temperature by the type's letters, °C (restated by makers of these types). Other types: not at hand. */
const UPPER_C: readonly (readonly [RegExp, number])[] = [
  [/^flryw/, 125],
  [/^flry/, 105],
];

/** The row of a size: by its area, its strands, or the trade size that its mark is sold as. AWG and SAE have none. */
export function isoRow(size: Size): Row | undefined {
  if (size.system === 'mm2') return ROWS.find(({ areaMm2 }) => areaMm2 === size.areaMm2);
  const byStrands =
    size.system === 'metricStrands'
      ? ROWS.find(({ strands }) => strands.some(([n, mm]) => n === size.strands && mm === size.strandMm))
      : undefined;
  return byStrands ?? ROWS.find(({ areaMm2 }) => areaMm2 === tradeSizeOf(size)?.areaMm2);
}

/** The thick-wall row of an area, or of the next larger one, since a smaller cable is no thicker. */
export function thickRowFrom(area: number): { areaMm2: number; thickMm: number } | undefined {
  return ROWS.flatMap(({ areaMm2, thickMm }) =>
    thickMm !== undefined && areaMm2 >= area ? [{ areaMm2, thickMm }] : [],
  )[0];
}

/** °C; the type in small letters: "flry-b". */
export function isoUpperC(type: string): number | undefined {
  return UPPER_C.find(([letters]) => letters.test(type))?.[1];
}
