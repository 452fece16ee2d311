import type { JobInput } from '../../worker/engine/model/job.ts';
import { BESIDE } from './arbitraryTerms.ts';
import { mm2 } from './fixtures.ts';

export const COUNTED = ['ring', 'bullet', 'seal', 'boot', 'tie'] as const;
export const BY_LENGTH = ['braid', 'spool'] as const;
export const COLOURS = ['red', 'green', 'black'] as const;
export const SIZES = [1, 2] as const;
export const WIRE_PARTS = COLOURS.flatMap((base) =>
  SIZES.map((areaMm2) => ({ code: `${base}-${areaMm2}`, base, areaMm2 })),
);

/** All parts of the random jobs. */
export const CATALOGUE: JobInput['parts'] = [
  {
    kind: 'terminal',
    code: 'ring',
    description: 'Ring',
    terminalType: 'ring',
    weightG: 2.25,
    family: 'fam-a',
  },
  { kind: 'terminal', code: 'bullet', description: 'Bullet', terminalType: 'bullet', family: 'fam-a' },
  { kind: 'seal', code: 'seal', description: 'Seal' },
  { kind: 'boot', code: 'boot', description: 'Boot' },
  { kind: 'fitting', code: 'tie', description: 'Tie', fittingType: 'tie' },
  { kind: 'sleeve', code: 'braid', description: 'Braid', sleeveType: 'braided' },
  {
    kind: 'cable',
    code: 'twin',
    description: 'Twin',
    cableType: 'pvc',
    cores: [{ size: mm2(1), colour: { base: 'red' } }],
    gramsPerM: 30.5,
  },
  { kind: 'tape', code: 'spool', description: 'Tape', tapeType: 'cloth', widthMm: 19 },
  ...WIRE_PARTS.map(({ code, base, areaMm2 }) => ({
    kind: 'wire' as const,
    code,
    description: `Wire ${code}`,
    cableType: 'thin-wall',
    size: mm2(areaMm2),
    colour: { base },
    gramsPerM: 12.5,
  })),
  ...BESIDE,
];
