import type { JobInput } from '../../../worker/engine/model/job.ts';
import type { Random } from '../../sourcing/random.ts';
import { pence } from '../pence.ts';
import type { Group } from './catalogue.ts';

export type Supplier = JobInput['suppliers'][number];

/** What a shop is: of how many of a hundred parts of each group it has an offer, its prices, and how it sells. */
export interface Role {
  name: string;
  sells: Partial<Record<Group, number>>;
  /** Percent of what a thing is about worth, at the least and the most. */
  level: readonly [number, number];
  /** Hanks and reels, m; none: only by the metre. */
  hanksM: readonly number[];
  /** Percent of lengths that it also sells by the metre. */
  byTheMetre: number;
  /** Pieces in a pack. */
  packs: readonly number[];
  /** Assorted kits on the list. */
  kits: number;
  charges: (random: Random) => Partial<Supplier>;
}

export interface Seller {
  supplier: Supplier;
  role: Role;
  level: number;
}

const byValue = (...bands: readonly (readonly [from: number, charge: number])[]): Partial<Supplier> => ({
  postage: {
    by: 'value',
    bands: bands.map(([from, charge]) => ({ fromValue: pence(from), charge: pence(charge) })),
  },
});

/** Free from so many pounds. */
function free(random: Random, from: number, to: number): Partial<Supplier> {
  const charge = random.whole(59, 119) * 5;
  return byValue([0, charge], [100 * random.whole(from, to), 0]);
}

function byWeight(random: Random): Partial<Supplier> {
  const first = random.whole(58, 80) * 5;
  return {
    postage: {
      by: 'weight',
      bands: [
        { fromG: 0, charge: pence(first) },
        { fromG: 500, charge: pence(first + random.whole(18, 30) * 5) },
        { fromG: 2_000, charge: pence(first + random.whole(60, 90) * 5) },
        { fromG: 5_000, charge: pence(first + random.whole(140, 200) * 5) },
        { fromG: 20_000, charge: pence(first + random.whole(300, 400) * 5) },
      ],
      ...(random.percent(50) ? { freeFromValue: pence(1_000 * random.whole(10, 18)) } : {}),
    },
  };
}

const CABLE: Omit<Role, 'charges'> = {
  name: 'Cable',
  sells: { wire: 85, sleeve: 20 },
  level: [88, 100],
  hanksM: [5, 10, 25, 50],
  byTheMetre: 90,
  packs: [10, 50],
  kits: 0,
};
const TERMINAL_SHOP: Omit<Role, 'charges'> = {
  name: 'Terminals',
  sells: { terminal: 90, family: 60, tool: 50, fitting: 25, sleeve: 15 },
  level: [85, 102],
  hanksM: [1, 5, 10],
  byTheMetre: 75,
  packs: [10, 25, 50, 100],
  kits: 3,
};
const STORES: Omit<Role, 'charges'> = {
  name: 'Motor Stores',
  sells: { wire: 45, terminal: 50, sleeve: 50, fitting: 60, device: 60, family: 25, tool: 25 },
  level: [108, 128],
  hanksM: [5, 10],
  byTheMetre: 85,
  packs: [1, 5, 10],
  kits: 1,
};

/** The first one has no minimum: whatever nobody else has, it has. */
const ROLES: readonly Role[] = [
  { ...STORES, charges: (random) => free(random, 60, 150) },
  { ...CABLE, charges: byWeight },
  { ...TERMINAL_SHOP, charges: (random) => byValue([0, random.whole(55, 75) * 5]) },
  { ...CABLE, hanksM: [10, 25, 50, 100], charges: (random) => free(random, 40, 90) },
  {
    name: 'Sleeving',
    sells: { sleeve: 95, fitting: 45 },
    level: [85, 98],
    hanksM: [1, 5, 10, 25, 50],
    byTheMetre: 75,
    packs: [10, 25, 100],
    kits: 0,
    charges: (random) => byValue([0, 360], [1_500, 240], [100 * random.whole(30, 60), 0]),
  },
  {
    name: 'Connectors',
    sells: { family: 95, tool: 90, terminal: 30 },
    level: [86, 100],
    hanksM: [],
    byTheMetre: 0,
    packs: [1, 10, 50],
    kits: 2,
    charges: (random) => free(random, 30, 75),
  },
  {
    name: 'Vintage Electrics',
    sells: { device: 90, fitting: 35, terminal: 20 },
    level: [92, 105],
    hanksM: [],
    byTheMetre: 0,
    packs: [1, 5],
    kits: 0,
    charges: (random) => ({ minimumOrder: pence(500 * random.whole(2, 5)) }),
  },
  {
    name: 'Trade Supplies',
    sells: { wire: 55, terminal: 65, sleeve: 55, fitting: 65, family: 40, device: 25 },
    level: [74, 88],
    hanksM: [25, 50, 100],
    byTheMetre: 0,
    packs: [50, 100],
    kits: 1,
    charges: (random) => ({
      ...byValue([0, 650], [5_000, 400], [1_000 * random.whole(9, 16), 0]),
      handling: pence(250),
      minimumOrder: pence(500 * random.whole(4, 8)),
    }),
  },
  {
    ...TERMINAL_SHOP,
    kits: 2,
    charges: (random) => (random.percent(50) ? byWeight(random) : free(random, 25, 60)),
  },
  { ...STORES, charges: (random) => free(random, 40, 120) },
  { ...CABLE, sells: { wire: 60 }, hanksM: [3, 5, 10], charges: (random) => free(random, 20, 45) },
  { ...STORES, level: [100, 115], kits: 0, charges: (random) => byValue([0, random.whole(50, 90) * 5]) },
  {
    ...TERMINAL_SHOP,
    level: [80, 92],
    packs: [50, 100],
    kits: 1,
    charges: (random) => ({ ...free(random, 50, 100), minimumOrder: pence(1_000) }),
  },
  { ...CABLE, hanksM: [25, 50, 100], byTheMetre: 20, charges: (random) => free(random, 80, 160) },
];

/** So many shops, of each kind in turn. */
export function sellersOf(count: number, random: Random): Seller[] {
  return ROLES.slice(0, count).map((role, at) => ({
    role,
    level: random.whole(...role.level),
    supplier: {
      code: `shop-${at + 1}`,
      name: `${role.name} ${at + 1}`,
      currency: 'GBP',
      country: 'GB',
      leadDays: random.pick([1, 2, 3, 5]),
      ...role.charges(random),
    },
  }));
}
