import type { BenchCovering, BenchFitting, BenchLoom } from '../../engine/model/bench.ts';
import { table, under, type Block } from '../block.ts';
import type { Leg } from './legs.ts';
import type { PartWords } from './words.ts';

const KINDS: Record<BenchCovering['kind'], string> = {
  braided: 'braided sleeve',
  pvc: 'PVC sleeving',
  heatShrink: 'heat-shrink',
  tape: 'tape',
  conduit: 'conduit',
  other: 'covering',
};

/** All coverings of a loom: what each goes over, and how long it is cut; inner ones before those that lie over them. */
export function coverings(loom: BenchLoom, words: PartWords): Block[] {
  const number = (head: string) => ({ head, align: 'right' }) as const;
  return under(
    'Coverings',
    table(
      [
        { head: '', tick: true },
        { head: 'Id' },
        { head: 'What', wraps: true },
        { head: 'Over', wraps: true },
        number('Across, mm'),
        number('Cut, mm'),
        number('Finished, mm'),
      ],
      innerFirst(loom.coverings).map((each) => [
        '',
        each.covering,
        partOf(each, words),
        overWords(each),
        each.beneathMm === undefined ? '' : `${each.beneathMm}`,
        each.cutMm === undefined ? 'measure' : `${each.cutMm}`,
        each.finishedMm === undefined ? '' : `${each.finishedMm}`,
      ]),
    ),
  );
}

function partOf({ kind, part }: BenchCovering, words: PartWords): string {
  return part === undefined ? `${KINDS[kind]}, no part chosen` : words.described(part);
}

/** "trunk, 20 mm over its end, beneath C4" */
function overWords({ branches, overlapStartMm, overlapEndMm, outer }: BenchCovering): string {
  return [
    branches === undefined ? 'its place is not stated' : branches.join(', '),
    ...(overlapStartMm === undefined ? [] : [`${overlapStartMm} mm over its start`]),
    ...(overlapEndMm === undefined ? [] : [`${overlapEndMm} mm over its end`]),
    ...(outer === undefined ? [] : [`beneath ${outer}`]),
  ].join(', ');
}

function innerFirst(all: readonly BenchCovering[]): BenchCovering[] {
  const inners = new Map<string, BenchCovering[]>();
  for (const each of all)
    if (each.outer !== undefined) inners.set(each.outer, [...(inners.get(each.outer) ?? []), each]);
  const placed = new Set<BenchCovering>();
  const place = (each: BenchCovering): BenchCovering[] => {
    if (placed.has(each)) return [];
    placed.add(each);
    return [...(inners.get(each.covering) ?? []).flatMap(place), each];
  };
  return all.flatMap(place);
}

/** What goes on a leg, by its branch. */
export interface OnBranch {
  coverings: readonly BenchCovering[];
  fittings: readonly BenchFitting[];
}

/** A covering over several branches goes on with the first of their legs. */
export function byBranch(
  { coverings: all, fittings }: BenchLoom,
  legs: readonly Leg[],
): ReadonlyMap<string, OnBranch> {
  const order = new Map(legs.map(({ branch }, index) => [branch?.branch, index]));
  const found = new Map<string, { coverings: BenchCovering[]; fittings: BenchFitting[] }>();
  const of = (branch: string) => {
    const known = found.get(branch) ?? { coverings: [], fittings: [] };
    found.set(branch, known);
    return known;
  };
  for (const each of innerFirst(all)) {
    const [first] = [...(each.branches ?? [])].sort((a, b) => (order.get(a) ?? 0) - (order.get(b) ?? 0));
    if (first !== undefined) of(first).coverings.push(each);
  }
  for (const each of fittings) if (each.branch !== undefined) of(each.branch).fittings.push(each);
  return found;
}

/** Wound on, or put round the loom, when all ends are done. */
const LATER = ['tape'];
const LATER_FITTINGS = /clip|tie/i;

/** What is threaded on a leg before the terminals at its outer end, in order; then what is put on when its ends are done. */
export function threading(
  leg: Leg,
  on: OnBranch | undefined,
  words: PartWords,
): { before: string[]; after: string[] } {
  if (!on || !leg.branch) return { before: [], after: [] };
  const { branch, inner } = leg;
  const turned = inner !== undefined && inner !== branch.from;
  const away = ({ atMm = 0 }: BenchFitting) => (turned ? branch.lengthMm - atMm : atMm);
  const fittings = [...on.fittings].sort((a, b) => away(a) - away(b));
  const isLater = ({ part, threadedBefore }: BenchFitting) =>
    threadedBefore === undefined && LATER_FITTINGS.test(words.described(part));
  return {
    before: [
      ...on.coverings
        .filter(({ kind }) => !LATER.includes(kind))
        .map((each) => `covering ${each.covering}: ${partOf(each, words)}${cutWords(each)}`),
      ...fittings.filter((each) => !isLater(each)).map((each) => fittingWords(each, branch.from, words)),
    ],
    after: [
      ...on.coverings
        .filter(({ kind }) => LATER.includes(kind))
        .map((each) => `covering ${each.covering}: ${partOf(each, words)}${cutWords(each)}`),
      ...fittings.filter(isLater).map((each) => fittingWords(each, branch.from, words)),
    ],
  };
}

function cutWords({ cutMm }: BenchCovering): string {
  return cutMm === undefined ? '' : `, cut ${cutMm} mm`;
}

/** "2 × p-clip-10, P-clip, 500 mm from rear" */
export function fittingWords(
  { part, quantity, atMm, threadedBefore }: BenchFitting,
  from: string | undefined,
  words: PartWords,
): string {
  const count = quantity === 1 ? '' : `${quantity} × `;
  const place = atMm === undefined ? '' : `, ${atMm} mm${from === undefined ? '' : ` from ${from}`}`;
  const before = threadedBefore === undefined ? '' : `, before ${threadedBefore}`;
  return `${count}${words.described(part)}${place}${before}`;
}
