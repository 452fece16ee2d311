import type { ShortContext } from '../../worker/engine/model/short/form.ts';
import { loomScope } from '../../worker/engine/model/short/scopes.ts';
import { DEFAULT_SETTINGS, type Settings } from '../../worker/engine/model/settings.ts';
import type { Fields } from '../../worker/tables/column.ts';
import type { LOOM_TABLE_NAMES, Table } from '../../worker/tables/tables.ts';

export type ListName = (typeof LOOM_TABLE_NAMES)[number];

/** The list of a loom that is a table's. */
export const listIn = (body: object, { list }: Pick<Table, 'list'>): Fields[] =>
  (body as Record<string, Fields[] | undefined>)[list] ?? [];

/** What settles short forms in the tables of a loom. */
export function loomContext(club: { currency: string; settings: Settings }, loom: object): ShortContext {
  const cableType = club.settings.usualCableType ?? DEFAULT_SETTINGS.usualCableType;
  return loomScope(loom as Record<string, unknown>, { currency: club.currency, cableType }).context;
}
