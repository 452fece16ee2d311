import type { Column, Place } from '../column.ts';
import { listShort } from './short.ts';

type More = Omit<Partial<Column>, 'name' | 'kind' | 'at' | 'says'>;
type At = Column['at'];

const made =
  (kind: Column['kind'], given: More = {}) =>
  (name: string, at: At, says: string, more: More = {}): Column => ({
    name,
    kind,
    at,
    says,
    ...given,
    ...more,
  });

export const text = made('text');
export const number = made('number');
export const mm = made('number', { unit: 'mm' });
export const percent = made('number', { unit: '%' });
export const yesNo = made('yesNo');
export const word = made('word');
export const day = made('day');
export const form = made('form');
export const digits = made('digits');
export const present = made('present');

/** The loom to which a row belongs, where a folder holds several. */
const LOOM: Place = ['loom'];
export const loom = text('loom', LOOM, 'The code of the loom, where there are several looms.');

export const supply = (name = 'supply', at: At = ['supply'], empty = 'buy') =>
  word(name, at, `Where it comes from: buy, reuse, stock or owner supplies. Empty: ${empty}.`);
export const options = form(
  'options',
  ['options'],
  'It is there only where all these options of the loom are chosen.',
  { also: ['only with'], short: listShort },
);
export const note = text('note', ['note'], 'A note of yours.', { also: ['notes', 'remark', 'comment'] });
export const code = (says: string, more: More = {}) =>
  text('code', ['code'], says, { needed: true, ...more });
export const id = (name: string, says: string, more: More = {}) =>
  text(name, ['id'], says, { needed: true, also: ['id'], ...more });
