import type { Job } from '../../../worker/engine/model/job.ts';
import { isUsable, usableMm } from './amounts.ts';
import type { Rules } from './rules.ts';

export interface CountNeed {
  kind: 'count';
  part: string;
  quantity: number;
}

export interface LengthNeed {
  kind: 'length';
  part: string;
  /** Cut lengths, mm. */
  pieces: number[];
  /** Only the total counts. */
  joinable: boolean;
  /** All of it from one supplier. */
  oneSupplier: boolean;
  /** At most one length by the metre. */
  oneMetre: boolean;
  /** Fixed lengths and a length by the metre may serve together. */
  together: boolean;
}

export type Need = CountNeed | LengthNeed;

/**
 * What the instances of this folder need: consumables by count; wire tip to tip without any allowance; PVC sleeve and tape
 * of a stated length. Nothing else is read: no spares, no equal parts.
 */
export function needsOf(job: Job, rules: Rules): Need[] {
  const counts = new Map<string, number>();
  const pieces = new Map<string, number[]>();
  for (const line of job.request.looms) {
    const loom = job.looms.find(({ code }) => code === line.loom);
    if (!loom) throw new Error(`no loom ${line.loom}`);
    const cut = (part: string | undefined, mm: number | undefined) => {
      if (part === undefined || mm === undefined) throw new Error('a length without a part or a figure');
      const step = job.club.settings.cuttingStepMm ?? 1;
      const each = Array<number>(line.quantity).fill(Math.ceil(mm / step) * step);
      pieces.set(part, [...(pieces.get(part) ?? []), ...each]);
    };
    for (const wire of loom.wires) cut(wirePart(job, wire), wire.length?.mm);
    for (const covering of loom.coverings) cut(covering.part, covering.lengthMm);
    for (const { part, quantity } of loom.parts)
      counts.set(part, (counts.get(part) ?? 0) + quantity * line.quantity);
  }
  return [
    ...[...counts].map(([part, quantity]): Need => ({ kind: 'count', part, quantity })),
    ...[...pieces].map(([part, mm]) => lengthNeed(job, part, mm, rules)),
  ];
}

function wirePart(job: Job, wire: Job['looms'][number]['wires'][number]): string | undefined {
  return job.parts.find((part) => part.kind === 'wire' && part.colour.base === wire.colour.base)?.code;
}

function lengthNeed(job: Job, part: string, pieces: number[], rules: Rules): LengthNeed {
  const kind = job.parts.find(({ code }) => code === part)?.kind;
  const joined = kind === 'tape' && rules.joinableTape;
  const setting = job.request.settings?.oneColourOneSupplier ?? job.club.settings.oneColourOneSupplier;
  return {
    kind: 'length',
    part,
    pieces: [...pieces].sort((a, b) => b - a),
    joinable: joined || !rules.wholePieces,
    oneSupplier: kind === 'wire' && rules.oneColourOneSupplier && (setting ?? true),
    oneMetre: !joined && rules.oneMetreLength && !inSeveral(job, part, pieces, rules),
    together: joined || rules.hankWithMetre,
  };
}

/** Whether the longest length by the metre, with all fixed lengths that there are, is too short, and all of them are not. */
function inSeveral(job: Job, part: string, pieces: readonly number[], rules: Rules): boolean {
  const total = pieces.reduce((sum, mm) => sum + mm, 0);
  const kind = job.parts.find(({ code }) => code === part)?.kind;
  const setting = job.request.settings?.oneColourOneSupplier ?? job.club.settings.oneColourOneSupplier;
  const oneSupplier = kind === 'wire' && rules.oneColourOneSupplier && (setting ?? true);
  const offers = job.offers.filter(
    (offer) => isUsable(job, offer, rules) && 'part' in offer && offer.part === part && offer.form !== 'pack',
  );
  const sellers = oneSupplier ? [...new Set(offers.map(({ supplier }) => supplier))] : [undefined];
  const shortest = Math.min(...pieces);
  const sums = sellers.map((seller) => {
    let [fixed, longest, all] = [0, 0, 0];
    for (const offer of offers) {
      if (seller !== undefined && offer.supplier !== seller) continue;
      if (offer.form === 'length' && usableMm(offer, rules) >= shortest) {
        const mm = usableMm(offer, rules) * (rules.stock ? (offer.stockPacks ?? Infinity) : Infinity);
        fixed += mm;
        all += mm;
      }
      if (offer.form !== 'metre') continue;
      const stock = rules.stock ? (offer.stockMm ?? Infinity) : Infinity;
      const mm = Math.floor(stock / offer.stepMm) * offer.stepMm;
      if (mm < shortest) continue;
      longest = Math.max(longest, mm);
      all += mm;
    }
    return { withOne: fixed + longest, all };
  });
  return sums.every(({ withOne }) => withOne < total) && sums.some(({ all }) => all >= total);
}
