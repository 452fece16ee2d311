import type { JobInput } from '../../../worker/engine/model/job.ts';
import { randomFrom, type Random } from '../../sourcing/random.ts';
import { CATALOGUE, standInFamily, type Item } from './catalogue.ts';
import { memberLoom, some, type Loom } from './members.ts';
import { priceListsOf } from './priceLists.ts';
import { sellersOf } from './sellers.ts';

/** How many looms, of how many kinds; wires of a kind at the least and the most, and of how many colours. */
interface Shape {
  looms: number;
  kinds: number;
  wires: readonly [number, number];
  colours: readonly [number, number];
  suppliers: readonly [number, number];
  /** How long price lists are, percent. */
  lists: number;
}

export const FAMILIES = {
  oneLoom: { looms: 1, kinds: 1, wires: [80, 120], colours: [30, 38], suppliers: [8, 12], lists: 62 },
  tenLooms: { looms: 10, kinds: 4, wires: [50, 110], colours: [22, 34], suppliers: [10, 13], lists: 80 },
  fortyLooms: { looms: 40, kinds: 8, wires: [40, 110], colours: [20, 34], suppliers: [12, 14], lists: 90 },
} as const satisfies Record<string, Shape>;
export type Family = keyof typeof FAMILIES;

interface Asked {
  family: Family;
  /** The first looms are ordered ahead, with samples of what only the others need. */
  twoOrders: boolean;
  seed: number;
}

/**
 * A club's looms as they are: wires of shared colours cut into many lengths, connector families with others that stand in
 * for them as a whole and tools of their own, assorted kits, sleeves by length, hanks and reels beside wire by the metre,
 * postage by value, by weight and free from a threshold, minimum orders, breaks, stand-ins that are confirmed, and some
 * stock on the shelf. Allowances, spares and rules are the defaults. What is needed the first shop sells without end, so
 * that everything can be met. The same seed makes the same job.
 */
export function loomsJob({ family, twoOrders, seed }: Asked): JobInput {
  const { looms: count, kinds, wires, colours, suppliers, lists }: Shape = FAMILIES[family];
  const random = randomFrom(seed * 7_919 + count * 31);
  const looms = Array.from({ length: kinds }, (_, at) =>
    memberLoom(
      `kind-${at + 1}`,
      { wires: random.whole(...wires), colours: random.whole(...colours) },
      random,
    ),
  );
  // As a vehicle has them: one at the front, one for the rear.
  if (kinds === 1) looms.push(memberLoom('rear', { wires: 20, colours: 10 }, random));
  const items = itemsFor(looms);
  const sellers = sellersOf(random.whole(...suppliers), random);
  const quantities = kinds === 1 ? [1, 1] : sharesOf(count, kinds, random);
  return {
    format: 'loomwright-job',
    version: 1,
    asOf: '2026-11-24',
    club: { currency: 'GBP', country: 'GB', settings: { cuttingStepMm: 5, besideSeconds: 0 } },
    parts: items.map(({ part }) => part),
    suppliers: sellers.map(({ supplier }) => supplier),
    offers: priceListsOf(items, sellers, lists, random),
    stock: stockOf(items, random),
    looms,
    request: {
      looms: twoOrders ? linesOfTwo(looms, quantities) : linesOf(looms, quantities),
      ...(twoOrders ? { samples: 2 } : {}),
    },
  };
}

/** What the looms name, what stands in for it, and the tools of the families among both. */
function itemsFor(looms: readonly Loom[]): Item[] {
  const text = JSON.stringify(looms);
  const named = new Set(CATALOGUE.map(({ part }) => part.code).filter((code) => text.includes(`"${code}"`)));
  const wires = new Set(
    looms.flatMap(({ wires = [] }) => wires.map(({ size, colour }) => JSON.stringify([size, colour]))),
  );
  const isNeeded = ({ part }: Item) =>
    part.kind === 'wire' ? wires.has(JSON.stringify([part.size, part.colour])) : named.has(part.code);
  const needed = CATALOGUE.filter(isNeeded);
  const families = new Set(needed.flatMap(({ part }) => part.family ?? []));
  const worked = new Set([...families].flatMap((code) => [code, standInFamily(code)]));
  return CATALOGUE.filter(
    (item) =>
      isNeeded(item) ||
      item.part.standsInFor?.some((stated) => 'part' in stated && named.has(stated.part)) ||
      (item.part.kind === 'tool' && item.part.worksFamilies?.some((family) => worked.has(family))),
  );
}

/** So many looms, one at least of each kind. */
function sharesOf(count: number, kinds: number, random: Random): number[] {
  const shares = Array.from({ length: kinds }, () => 1);
  for (let left = count - kinds; left > 0; left--) {
    const at = random.whole(0, kinds - 1);
    shares[at] = (shares[at] ?? 0) + 1;
  }
  return shares;
}

type Line = JobInput['request']['looms'][number];

function linesOf(looms: readonly Loom[], quantities: readonly number[]): Line[] {
  return looms.map(({ code }, at) => ({ loom: code, quantity: quantities[at] ?? 1 }));
}

/** One of each of the first half of the kinds now, all else later. */
function linesOfTwo(looms: readonly Loom[], quantities: readonly number[]): Line[] {
  return looms.flatMap(({ code }, at): Line[] => {
    const quantity = quantities[at] ?? 1;
    const now = at < looms.length / 2 ? 1 : 0;
    return [
      ...(now > 0 ? [{ loom: code, quantity: now }] : []),
      ...(quantity > now ? [{ loom: code, quantity: quantity - now, wave: 2 }] : []),
    ];
  });
}

/** What is left of earlier looms: some ends of wire, a handful of terminals, at times a tool. */
function stockOf(items: readonly Item[], random: Random): NonNullable<JobInput['stock']> {
  const of = (group: Item['group'], count: number) =>
    some(
      items.filter((item) => item.group === group),
      count,
      random,
    );
  return [
    ...of('wire', 4).map(({ part }) => ({
      form: 'length' as const,
      code: `my-${part.code}`,
      part: part.code,
      count: random.whole(1, 2),
      lengthMm: 100 * random.whole(12, 80),
    })),
    ...[...of('terminal', 3), ...of('fitting', 1), ...of('tool', random.whole(0, 1))].map(({ part }) => ({
      form: 'pieces' as const,
      code: `my-${part.code}`,
      part: part.code,
      count: part.kind === 'tool' ? 1 : random.whole(3, 20),
    })),
  ];
}
