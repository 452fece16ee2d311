/**
 * IEC 60228, class 5 (flexible) conductors: the most at 20 °C, Ω/km, which is mΩ/m; plain copper and tinned. Read at
 * mycableengineering.com; uecables.com agrees from 1 mm² up. ISO 6722 asks for less: a vehicle cable is not looked up here.
 */
// prettier-ignore
const CLASS_5: readonly (readonly [areaMm2: number, plain: number, tinned: number])[] = [
  [0.5, 39, 40.1], [0.75, 26, 26.7], [1, 19.5, 20], [1.5, 13.3, 13.7], [2.5, 7.98, 8.21], [4, 4.95, 5.09],
  [6, 3.3, 3.39], [10, 1.91, 1.95], [16, 1.21, 1.24], [25, 0.78, 0.795], [35, 0.554, 0.565], [50, 0.386, 0.393],
];

export const IEC_60228 = 'IEC 60228 class 5, as restated at mycableengineering.com';

/** mΩ/m; undefined of an area that the standard does not have. */
export function classFiveMilliohmPerM(areaMm2: number, tinned: boolean): number | undefined {
  return CLASS_5.find(([area]) => area === areaMm2)?.[tinned ? 2 : 1];
}
