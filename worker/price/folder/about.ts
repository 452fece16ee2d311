import { DEFAULT_SETTINGS, SETTING_NAMES, settingDescription } from '../../engine/model/settings.ts';
import { guarded, spaced } from '../../tables/cells.ts';
import { isFields, put, valueAt, type Column, type Fields, type Place } from '../../tables/column.ts';
import { plainName } from '../../tables/header.ts';
import { readCell } from '../../tables/rows.ts';
import { editDistance, nearestName } from '../../engine/model/nearest.ts';
import { shown, tableFault, type TableFault } from '../../tables/tableFault.ts';

export const ABOUT = 'about.csv';

const text = (name: string, at: Place, says: string, more: Partial<Column> = {}): Column => ({
  name,
  kind: 'text',
  at,
  says,
  ...more,
});

/** What can be said once for the whole folder, beside the settings. Places under `loom` are those of its one loom. */
const GENERAL: readonly Column[] = [
  text('loom', ['loom', 'code'], 'The code of the loom. Empty: the name of the folder.', {
    also: ['loom code'],
  }),
  text('name', ['loom', 'name'], 'The name of the loom.', { also: ['loom name'] }),
  text('vehicle', ['loom', 'vehicle'], 'The vehicle.'),
  text('note', ['loom', 'note'], 'A note of yours.'),
  text('system voltage', ['loom', 'systemVoltage'], '6, 12 or 24. Empty: 12.', { kind: 'number', unit: 'V' }),
  text('earth', ['loom', 'earth'], 'negative, positive or insulated return. Empty: negative.', {
    kind: 'word',
  }),
  text('look', ['loom', 'look'], 'original, period or modern. Empty: original.', { kind: 'word' }),
  text(
    'colour system',
    ['loom', 'colourSystem'],
    'What letters of colours mean: words, iec60757, bs au7 or german. Empty: words.',
    {
      kind: 'word',
      also: ['color system'],
    },
  ),
  text('options', ['loom', 'options'], 'What the loom may be made with: RHD | LHD, overdrive.', {
    kind: 'form',
  }),
  text('revision', ['loom', 'revision'], 'The revision of the loom. Empty: 1.', { kind: 'number' }),
  text('quantity', ['quantity'], 'How many looms are made. Empty: 1.', { kind: 'number' }),
  text('currency', ['club', 'currency'], 'The currency of the quote. Empty: that of the suppliers.'),
  text('country', ['club', 'country'], 'Where parcels go, by two letters.'),
  ...['name', 'address', 'phone', 'email'].map((field) =>
    text(`buyer ${field}`, ['club', 'buyer', field], `Who orders, as order lists say it: ${field}.`),
  ),
  text('as of', ['asOf'], 'The day for which prices are judged. Empty: today.', {
    kind: 'day',
    also: ['date'],
  }),
  text('offers supplier', ['offers', 'supplier'], 'The supplier of offers that state none.'),
  text('offers currency', ['offers', 'currency'], 'The currency of prices in offers.csv that state none.'),
  text('offers condition', ['offers', 'condition'], 'The condition of offers that state none.', {
    kind: 'word',
  }),
  text('offers seen on', ['offers', 'seenOn'], 'The day on which you saw the prices that state none.', {
    kind: 'day',
  }),
  text('decimal comma', ['decimalComma'], 'yes: in all these tables 1,5 is one and a half.', {
    kind: 'yesNo',
  }),
];

/** Kinds of settings, by what stands in them by default. */
function settingColumn(name: (typeof SETTING_NAMES)[number]): Column {
  const usual: unknown = DEFAULT_SETTINGS[name];
  const kind = Array.isArray(usual)
    ? 'form'
    : typeof usual === 'number'
      ? 'number'
      : typeof usual === 'boolean'
        ? 'yesNo'
        : name === 'deviceSupply'
          ? 'word'
          : 'text';
  return { name: spaced(name), kind, at: ['club', 'settings', name], says: settingDescription(name) };
}

/** A setting of the club alone. */
const SECONDS_AT_MOST: Column = {
  name: spaced('secondsAtMost'),
  kind: 'number',
  at: ['club', 'settings', 'secondsAtMost'],
  says: settingDescription('secondsAtMost'),
};

export const ABOUT_ENTRIES: readonly Column[] = [
  ...GENERAL,
  ...SETTING_NAMES.map(settingColumn),
  SECONDS_AT_MOST,
];

const known = new Map(
  ABOUT_ENTRIES.flatMap((entry) =>
    [entry.name, ...(entry.also ?? [])].map((name) => [plainName(name), entry] as const),
  ),
);

export interface About {
  /** club, loom, quantity, asOf, decimalComma, as far as they are stated. */
  readonly said: Fields;
  /** The row of each entry that is stated. */
  readonly rows: ReadonlyMap<Column, number>;
  readonly faults: readonly TableFault[];
  /** A fault at each entry that is stated below this place. */
  faultsAt(place: Place, words: { code: string; todo: string }): TableFault[];
}

/** What the two columns of about.csv say, row by row. */
export function aboutOf(rows: readonly { row: number; what: string; value: string }[]): About {
  const said: Fields = {};
  const at = new Map<Column, number>();
  const faults: TableFault[] = [];
  const decimalComma = rows.some(
    ({ what, value }) => plainName(what) === plainName('decimal comma') && /^(yes|y|true|x|1)$/i.test(value),
  );
  for (const { row, what, value } of rows) {
    if (value === '') continue;
    const entry = known.get(plainName(what));
    const before = entry && at.get(entry);
    if (!entry) faults.push(unknown(row, what));
    else if (before !== undefined)
      faults.push(
        tableFault(
          ABOUT,
          { row, column: 'what' },
          {
            code: 'duplicate-row',
            found: shown(what),
            todo: `This stands already in row ${before}. Keep one of the two.`,
          },
        ),
      );
    else {
      const read = readCell(entry, value, decimalComma);
      at.set(entry, row);
      if ('value' in read) put(said, entry.at as Place, read.value);
      else faults.push(tableFault(ABOUT, { row, column: 'value' }, { found: shown(value), ...read.wrong }));
    }
  }
  const faultsAt: About['faultsAt'] = (place, words) =>
    [...at]
      .filter(([entry]) => place.every((name, index) => name === (entry.at as Place)[index]))
      .map(([entry, row]) =>
        tableFault(ABOUT, { row, column: 'what' }, { ...words, found: shown(entry.name) }),
      );
  return { said, rows: at, faults, faultsAt };
}

function unknown(row: number, what: string): TableFault {
  const nearest = nearestName(
    what,
    ABOUT_ENTRIES.map(({ name }) => name),
  );
  const isNear = nearest !== undefined && editDistance(what.toLowerCase(), nearest) <= 2;
  return tableFault(
    ABOUT,
    { row, column: 'what' },
    {
      code: 'unknown-entry',
      found: shown(what),
      limit: GENERAL.map(({ name }) => name).join(', '),
      todo: `No entry has this name. ${isNear ? `If “${nearest}” is meant, write that; else take` : 'Take'} the row out.`,
    },
  );
}

/** The entry of about.csv that says what stands at this place; undefined where none does. */
export function entryAt(place: Place): Column | undefined {
  return ABOUT_ENTRIES.find(({ at }) => (at as Place).every((name, index) => name === place[index]));
}

/**
 * What about.csv says of these, as rows of what and value, and what it cannot say. `said` has the places of `About.said`.
 */
export function aboutRows(said: Fields): { rows: [string, string][]; rest: Fields } {
  const rest = structuredClone(said);
  const rows = ABOUT_ENTRIES.flatMap((entry): [string, string][] => {
    const place = entry.at as Place;
    const value = valueAt(said, place);
    if (value === undefined) return [];
    const cell = guarded(cellOf(entry, value));
    remove(rest, place);
    return [[entry.name, cell]];
  });
  return { rows, rest };
}

function cellOf({ kind }: Column, value: unknown): string {
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (kind === 'word') return spaced(String(value));
  if (typeof value === 'string' || typeof value === 'number') return `${value}`;
  const words = Array.isArray(value) && value.length > 0 && value.every(isPlainWord);
  return words ? value.join(', ') : JSON.stringify(value);
}

const isPlainWord = (word: unknown): word is string =>
  typeof word === 'string' && word.trim() === word && word !== '' && !/[,;]|^[{[]/.test(word);

function remove(document: Fields, place: Place): void {
  const [name = '', ...rest] = place;
  const inner = document[name];
  if (rest.length === 0) delete document[name];
  else if (isFields(inner)) remove(inner, rest);
}
