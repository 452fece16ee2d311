import type { Job, JobInput } from '../../../worker/engine/model/job.ts';
import { parsedJob } from '../requirements.ts';

export type PartInput = JobInput['parts'][number];
export type SupplierInput = JobInput['suppliers'][number];
export type OfferInput = JobInput['offers'][number];
export type RequestInput = JobInput['request'];

/** What one loom holds: wires by colour and coverings of a cut length, mm, and parts by count. */
export interface LoomWants {
  wires?: { colour: 'red' | 'blue'; mm: number }[];
  coverings?: { kind: 'pvc' | 'tape'; part: string; mm: number }[];
  counted?: { part: string; quantity: number; supply?: 'buy' | 'stock' }[];
}

export interface Wanted {
  looms: Record<string, LoomWants>;
  lines: RequestInput['looms'];
}

/** All of a job but its looms. */
export interface Terms extends Pick<
  JobInput,
  'parts' | 'suppliers' | 'offers' | 'rates' | 'lanes' | 'fits' | 'stock'
> {
  currency?: string;
  country?: string;
  cuttingStepMm?: number;
  request?: Omit<RequestInput, 'looms'>;
}

const AS_OF = '2026-11-30';

/** A job in which a cut length is the stated length and a count the stated count, without any allowance. */
export function jobOf({ looms, lines }: Wanted, terms: Terms): Job {
  const { currency = 'GBP', country = 'GB', cuttingStepMm = 1, request = {}, ...market } = terms;
  return parsedJob({
    format: 'loomwright-job',
    version: 1,
    asOf: AS_OF,
    club: {
      currency,
      country,
      settings: {
        slackPercent: 0,
        redoMm: 0,
        stripMm: 0,
        tailMm: 0,
        spareWirePercent: 0,
        spareCoveringPercent: 0,
        sparePercent: 0,
        spareMinimum: 0,
        spareConfidencePercent: 0,
        setUpCrimps: 0,
        cuttingStepMm,
        besideSeconds: 0,
      },
    },
    ...market,
    looms: Object.entries(looms).map(([code, wants]) => loomOf(code, wants)),
    request: { ...request, looms: lines },
  } satisfies JobInput);
}

function loomOf(code: string, { wires = [], coverings = [], counted = [] }: LoomWants) {
  const bare = { point: 'p', join: 'bare' } as const;
  return {
    code,
    name: code,
    points: [{ id: 'p', kind: 'stud' as const }],
    wires: wires.map(({ colour, mm }, index) => ({
      id: `w${index}`,
      cableType: 'thin-wall',
      size: { system: 'mm2' as const, areaMm2: 1 },
      colour: { base: colour },
      from: bare,
      to: bare,
      length: { mm, basis: 'tipToTip' as const },
    })),
    coverings: coverings.map(({ kind, part, mm }, index) => ({ id: `c${index}`, kind, part, lengthMm: mm })),
    parts: counted,
  };
}

type Common = Partial<Pick<PartInput, 'family' | 'standsInFor' | 'weightG'>>;

/** A catalogue part by what it is needed as; wire by its colour. Wire, sleeve and tape weigh grams a metre. */
export function partOf(
  kind: 'red' | 'blue' | 'sleeve' | 'tape' | 'clip' | 'housing' | 'terminal' | 'seal',
  code: string,
  { weightG, ...more }: Common = {},
): PartInput {
  const names = { code, description: code, ...more };
  const heavy = weightG === undefined ? {} : { weightG };
  const heavyByLength = weightG === undefined ? {} : { gramsPerM: weightG };
  switch (kind) {
    case 'clip':
      return { kind: 'consumable', ...names, ...heavy };
    case 'housing':
      return { kind, ways: 2, ...names, ...heavy };
    case 'terminal':
      return { kind, terminalType: 'blade', ...names, ...heavy };
    case 'seal':
      return { kind, ...names, ...heavy };
    case 'sleeve':
      return { kind, sleeveType: 'pvc', ...names, ...heavyByLength };
    case 'tape':
      return { kind, tapeType: 'adhesive', widthMm: 19, ...names, ...heavyByLength };
    case 'red':
    case 'blue':
      return {
        kind: 'wire',
        ...names,
        cableType: 'thin-wall',
        size: { system: 'mm2', areaMm2: 1 },
        colour: { base: kind },
        ...heavyByLength,
      };
  }
}

export function toolOf(code: string, worksFamilies: string[]): PartInput {
  return { kind: 'tool', code, description: code, worksFamilies };
}
