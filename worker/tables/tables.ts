import type { z } from 'zod';
import { LIMITS } from '../engine/model/limits.ts';
import { Fit } from '../engine/model/fit.ts';
import { Lane } from '../engine/model/lane.ts';
import { loomContent } from '../engine/model/loom.ts';
import { Offer } from '../engine/model/offer.ts';
import { Part } from '../engine/model/part.ts';
import { Rate } from '../engine/model/rate.ts';
import { StockItem } from '../engine/model/stock.ts';
import { Supplier } from '../engine/model/supplier.ts';
import type { Column } from './column.ts';
import { BRANCHES, CABLES, COVERINGS, EXTRAS, FITTINGS, POINTS, WIRES } from './columns/loom.ts';
import { FITS, LANES, OFFERS, RATES, STOCK, SUPPLIERS } from './columns/market.ts';
import { PARTS } from './columns/parts.ts';

export interface Table {
  readonly name: string;
  readonly columns: readonly Column[];
  /** What one row is in a job. */
  readonly schema: z.ZodType;
  /** Where the rows stand: in the list of this name of a job, or of each loom. */
  readonly list: string;
  readonly ofLooms: boolean;
  /** The field that tells one shape of thing from another. */
  readonly shape?: string;
  /** Columns that name a thing; none: rows have no names. */
  readonly key: readonly string[];
  readonly mostRows: number;
  /** One sentence on what the file holds. */
  readonly says: string;
}

const content = (list: keyof typeof CONTENT) => CONTENT[list].unwrap().element;
const CONTENT = {
  wires: loomContent.wires,
  points: loomContent.points,
  branches: loomContent.branches,
  coverings: loomContent.coverings,
  cables: loomContent.cables,
  fittings: loomContent.fittings,
  parts: loomContent.parts,
};

function ofLooms(
  name: TableName,
  list: keyof typeof CONTENT,
  columns: readonly Column[],
  key: readonly string[],
  says: string,
): Table {
  const own = key.length > 0 ? ['loom', ...key] : [];
  const mostRows = LIMITS[list === 'parts' ? 'loomParts' : list];
  return { name, columns, schema: content(list), list, ofLooms: true, key: own, mostRows, says };
}

/** All tables, in the order in which a person fills them in. */
const TABLES = {
  wires: ofLooms('wires', 'wires', WIRES, ['wire'], 'One row a wire, with both its ends.'),
  points: ofLooms('points', 'points', POINTS, ['point'], 'One row a point: where the loom ends or divides.'),
  branches: ofLooms('branches', 'branches', BRANCHES, ['branch'], 'One row a branch, between two points.'),
  coverings: ofLooms(
    'coverings',
    'coverings',
    COVERINGS,
    ['covering'],
    'One row a sleeve or tape over the wires.',
  ),
  cables: ofLooms('cables', 'cables', CABLES, ['cable'], 'One row a cable with several cores.'),
  fittings: ofLooms('fittings', 'fittings', FITTINGS, [], 'One row a grommet, clip or label on a branch.'),
  extras: ofLooms('extras', 'parts', EXTRAS, [], 'One row a part that is needed in addition to all else.'),
  parts: {
    name: 'parts',
    columns: PARTS,
    schema: Part,
    list: 'parts',
    ofLooms: false,
    shape: 'kind',
    key: ['code'],
    mostRows: LIMITS.jobParts,
    says: 'One row a part of your catalogue, of whatever kind.',
  },
  suppliers: {
    name: 'suppliers',
    columns: SUPPLIERS,
    schema: Supplier,
    list: 'suppliers',
    ofLooms: false,
    key: ['code'],
    mostRows: LIMITS.jobSuppliers,
    says: 'One row a supplier, with the postage.',
  },
  offers: {
    name: 'offers',
    columns: OFFERS,
    schema: Offer,
    list: 'offers',
    ofLooms: false,
    shape: 'form',
    key: ['code'],
    mostRows: LIMITS.jobOffers,
    says: 'One row a price: a pack, a price by the metre, a length or a kit.',
  },
  stock: {
    name: 'stock',
    columns: STOCK,
    schema: StockItem,
    list: 'stock',
    ofLooms: false,
    shape: 'form',
    key: ['code'],
    mostRows: LIMITS.stock,
    says: 'One row a thing on your shelf.',
  },
  fits: {
    name: 'fits',
    columns: FITS,
    schema: Fit,
    list: 'fits',
    ofLooms: false,
    key: ['from', 'relation', 'to'],
    mostRows: LIMITS.fits,
    says: 'One row for two parts that go together, or do not.',
  },
  rates: {
    name: 'rates',
    columns: RATES,
    schema: Rate,
    list: 'rates',
    ofLooms: false,
    key: ['code'],
    mostRows: LIMITS.rates,
    says: 'One row a rate of exchange of a day.',
  },
  lanes: {
    name: 'lanes',
    columns: LANES,
    schema: Lane,
    list: 'lanes',
    ofLooms: false,
    key: ['code'],
    mostRows: LIMITS.lanes,
    says: 'One row for duty, tax and fees between two countries.',
  },
} as const satisfies Record<string, Table>;

/** The tables of a loom. */
export const LOOM_TABLE_NAMES = [
  'wires',
  'points',
  'branches',
  'coverings',
  'cables',
  'fittings',
  'extras',
] as const;

export const TABLE_NAMES = [
  ...LOOM_TABLE_NAMES,
  'parts',
  'suppliers',
  'offers',
  'stock',
  'fits',
  'rates',
  'lanes',
] as const;
export type TableName = (typeof TABLE_NAMES)[number];

export const tableOf = (name: TableName): Table => TABLES[name];

/** The name of a table's file in a folder. */
export const fileOf = (name: string) => `${name}.csv`;
