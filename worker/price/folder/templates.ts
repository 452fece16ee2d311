import { stringify } from 'csv-stringify/sync';
import { fileOf, TABLE_NAMES, tableOf } from '../../tables/tables.ts';
import { templateText } from '../../tables/template.ts';
import { ABOUT, ABOUT_ENTRIES } from './about.ts';
import type { NamedText } from './asCsv.ts';

/** Every table of a folder, empty, and a page that says what each is for. */
export function templates(): NamedText[] {
  return [
    ...TABLE_NAMES.map((name): NamedText => [fileOf(name), templateText(tableOf(name))]),
    [ABOUT, aboutTemplate()],
    ['README.txt', readme()],
  ];
}

/** All that can be said once, with an explanation each. */
function aboutTemplate(): string {
  return stringify(
    [
      ['what', 'value'],
      ['# What you leave empty stays as it is by default.', ''],
      ...ABOUT_ENTRIES.flatMap(({ name, says }) => [
        [`# ${says}`, ''],
        [name, ''],
      ]),
    ],
    { record_delimiter: '\r\n' },
  );
}

function readme(): string {
  const files = [
    ...TABLE_NAMES.map((name) => [fileOf(name), tableOf(name).says] as const),
    [ABOUT, 'What you say once: the loom’s name, the earth, the currency, any setting.'] as const,
  ];
  return [
    'Tables of a loom, for any spreadsheet',
    '',
    'Fill in wires.csv, suppliers.csv and offers.csv. All other files can be left as they are, or deleted.',
    'Then run: npm run price -- FOLDER --preview',
    'It tells you what to fix, by file, row and column. When nothing is left to fix, run it without --preview.',
    '',
    ...files.map(([name, says]) => `${name.padEnd(16)}${says}`),
    '',
    'A row whose first cell begins with #, or all its cells, is passed over: so are the explanation and the example.',
    'Columns can stand in any order. A column that you do not need can be deleted.',
    'Save each table as “CSV UTF-8”. Separators can be commas, semicolons or tabs.',
    '',
  ].join('\n');
}
