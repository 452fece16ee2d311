import type { Job, JobInput } from '../../../worker/engine/model/job.ts';
import { parsedJob } from '../needs.ts';

export type PartInput = JobInput['parts'][number];
export type SupplierInput = JobInput['suppliers'][number];
export type OfferInput = JobInput['offers'][number];
export type SettingsInput = NonNullable<JobInput['request']['settings']>;

/** What a job of one loom needs. */
export interface Wanted {
  /** Wires by colour, each of a cut length, mm. */
  wires: { colour: 'red' | 'blue'; mm: number }[];
  /** Sleeve or tape of a length, mm. */
  coverings: { kind: 'pvc' | 'tape'; part: string; mm: number }[];
  counted: { part: string; quantity: number }[];
  quantity: number;
}

export interface Market {
  currency: string;
  parts: PartInput[];
  suppliers: SupplierInput[];
  offers: OfferInput[];
  settings: SettingsInput;
  cuttingStepMm: number;
}

/** A job in which a cut length is the stated length, without any allowance. */
export function jobOf(wanted: Wanted, market: Market): Job {
  const bare = { point: 'p', join: 'bare' } as const;
  return parsedJob({
    format: 'loomwright-job',
    version: 1,
    asOf: '2026-11-30',
    club: {
      currency: market.currency,
      settings: {
        slackPercent: 0,
        redoMm: 0,
        stripMm: 0,
        tailMm: 0,
        spareWirePercent: 0,
        spareCoveringPercent: 0,
        cuttingStepMm: market.cuttingStepMm,
        besideSeconds: 0,
      },
    },
    parts: market.parts,
    suppliers: market.suppliers,
    offers: market.offers,
    looms: [
      {
        code: 'loom',
        name: 'loom',
        points: [{ id: 'p', kind: 'stud' }],
        wires: wanted.wires.map(({ colour, mm }, index) => ({
          id: `w${index}`,
          cableType: 'thin-wall',
          size: { system: 'mm2', areaMm2: 1 },
          colour: { base: colour },
          from: bare,
          to: bare,
          length: { mm, basis: 'tipToTip' },
        })),
        coverings: wanted.coverings.map(({ kind, part, mm }, index) => ({
          id: `c${index}`,
          kind,
          part,
          lengthMm: mm,
        })),
        parts: wanted.counted,
      },
    ],
    request: { looms: [{ loom: 'loom', quantity: wanted.quantity }], settings: market.settings },
  } satisfies JobInput);
}

/** A catalogue part by what it is needed as; wire by its colour. The weight in grams: of a piece, or of a metre. */
export function partOf(
  kind: 'red' | 'blue' | 'sleeve' | 'tape' | 'counted',
  code: string,
  weight?: number,
): PartInput {
  const names = { code, description: code };
  const heavy = weight === undefined ? {} : { weightG: weight };
  const heavyByLength = weight === undefined ? {} : { gramsPerM: weight };
  switch (kind) {
    case 'counted':
      return { kind: 'consumable', ...names, ...heavy };
    case 'sleeve':
      return { kind: 'sleeve', sleeveType: 'pvc', ...names, ...heavyByLength };
    case 'tape':
      return { kind: 'tape', tapeType: 'adhesive', widthMm: 19, ...names, ...heavyByLength };
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
