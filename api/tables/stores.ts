import type { Bulk } from '../../db/bulk.ts';
import { bulkFits } from '../../db/fits.ts';
import { lanes } from '../../db/lanes.ts';
import { offers } from '../../db/offers.ts';
import { parts } from '../../db/parts.ts';
import { rates } from '../../db/rates.ts';
import { stock } from '../../db/stock.ts';
import { suppliers } from '../../db/suppliers.ts';

/** The stores of the tables that belong to no loom. Of each the bodies are what its table's rows are. */
const STORES = {
  parts: parts.bulk,
  suppliers: suppliers.bulk,
  offers: offers.bulk,
  stock: stock.bulk,
  fits: bulkFits,
  rates: rates.bulk,
  lanes: lanes.bulk,
};

export type EntryTableName = keyof typeof STORES;

export const ENTRY_TABLES = Object.keys(STORES) as EntryTableName[];

export const storeOf = (name: EntryTableName) => STORES[name] as unknown as Bulk<object>;
