/**
 * SAE J1128, low-voltage primary cable: the most over the insulation, mm, by type and SAE gauge. Read in a wire maker's
 * restatement (github.com/chunkaiw3874/Nizing-Website). SAE gauge is not AWG: an AWG size finds no row here.
 */
type SaeWall = 'standard' | 'thin' | 'extraThick';

const OUTSIDE_MM: Readonly<Record<SaeWall, Readonly<Record<string, number>>>> = {
  standard: { '20': 2.4, '18': 2.5, '16': 2.9, '14': 3.2, '12': 3.8, '10': 4.7, '8': 6 },
  thin: { '24': 1.5, '22': 1.7, '20': 1.9, '18': 2.2, '16': 2.4, '14': 2.7, '12': 3.3, '10': 4, '8': 4.9 },
  extraThick: { '20': 2.8, '18': 3, '16': 3.4, '14': 3.9, '12': 4.6, '10': 5.3, '8': 6.2 },
};

const WALL_OF_TYPE: Readonly<Record<string, SaeWall>> = {
  gpt: 'standard',
  gxl: 'standard',
  txl: 'thin',
  twp: 'thin',
  sxl: 'extraThick',
};

export const SAE_J1128 = 'SAE J1128, as a wire maker restates it';

/** mm; the type in small letters. Undefined where the table has none. */
export function saeOutsideMm(type: string, gauge: string): number | undefined {
  const wall = WALL_OF_TYPE[type];
  return wall && OUTSIDE_MM[wall][gauge];
}
