import { readdirSync, readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { Job } from '../../../worker/engine/model/job.ts';
import type { Result } from '../../../worker/engine/model/result.ts';
import { readFolderJob } from '../../../worker/price/folder/folderJob.ts';
import { starterCatalogue } from '../../../worker/price/folder/starter.ts';
import { buildSections } from '../../../worker/sheets/bench/buildSheet.ts';
import { testSections } from '../../../worker/sheets/bench/testSheet.ts';
import { sectionsText } from '../../../worker/sheets/blockText.ts';
import { priced } from '../../engine/fixtures.ts';
import { disk, foldersOn } from '../../price/folders.ts';
import { circuitsOnSheet, endsOnSheet } from './read.ts';

const OTHERS = 'not beep: each other circuit';
const circuits = (result: Result) =>
  circuitsOnSheet(testSections(result)).map(([head, rows]) => [head, [...rows].sort()]);

/** The words of a sheet, whatever its lines. */
const words = (sections: Parameters<typeof sectionsText>[0]) =>
  sectionsText(sections).replaceAll(/\s+/g, ' ');

describe('the loom of the trailer, by hand from the words of its README', () => {
  let result: Result;
  beforeAll(async () => {
    const job = Job.parse(JSON.parse(readFileSync('examples/trailer/job.json', 'utf8')));
    result = await priced({ ...job, offers: [] });
  });

  test('is tested from its plug: the four feeds and the earth, each against the others', () => {
    expect(circuits(result)).toEqual([
      ['Circuit 1: one probe stays at plug 1 (W1)', ['left L/R (W1)', OTHERS]],
      [
        'Circuit 2: one probe stays at plug 3 (W9)',
        ['earth (W9, W10, W11, W12)', 'left 31 (W10)', OTHERS, 'plate 31 (W12)', 'right 31 (W11)'],
      ],
      ['Circuit 3: one probe stays at plug 4 (W2)', [OTHERS, 'right L/R (W2)']],
      [
        'Circuit 4: one probe stays at plug 5 (W3)',
        ['commons (W3, W4, W5, W6)', 'left 58 (W4)', OTHERS, 'plate 58 (W6)', 'right 58 (W5)'],
      ],
      ['Circuit 5: one probe stays at plug 6 (W7)', ['left 54 (W7, W8)', OTHERS, 'right 54 (W8)']],
    ]);
  });

  test('has every end with what is put on, stripped and joined there', () => {
    const rows = endsOnSheet(buildSections(result));
    const clamp = (way: string) => `leave 30 mm of tail; leave bare; clamp in way ${way}, pull`;
    expect(rows.get('plug')).toEqual([
      ['1', 'W1', 'yellow 1 mm²', 'left L/R', 'label', '8', clamp('1')],
      ['3', 'W9', 'white 2 mm²', 'earth', 'label', '8', clamp('3')],
      ['4', 'W2', 'green 1 mm²', 'right L/R', 'label', '8', clamp('4')],
      ['5', 'W3', 'brown 1 mm²', 'commons', 'label', '8', clamp('5')],
      ['6', 'W7', 'red 1 mm²', 'left 54', 'label', '8', clamp('6')],
    ]);
    const cover = 'label; cover blade-cover-63';
    const both = `${cover} (one for W7 and W8)`;
    const crimp = 'crimp blade-63; pull; slide the cover on';
    expect(rows.get('left')).toEqual([
      ['58', 'W4', 'brown 1 mm²', 'commons', cover, '6', crimp],
      ['54', 'W7', 'red 1 mm²', 'plug 6', both, '6', 'crimp blade-63 with W8; pull; slide the cover on'],
      ['54', 'W8', 'red 1 mm²', 'right 54', both, '6', 'goes in the terminal of W7'],
      ['L/R', 'W1', 'yellow 1 mm²', 'plug 1', cover, '6', crimp],
      ['31', 'W10', 'white 1 mm²', 'earth', cover, '6', crimp],
    ]);
    expect(rows.get('earth')?.map((row) => [row[1], row[6]])).toEqual([
      ['W9', 'crimp ring-6 with W10, W11 and W12; pull'],
      ['W10', 'goes in the terminal of W9'],
      ['W11', 'goes in the terminal of W9'],
      ['W12', 'goes in the terminal of W9'],
    ]);
  });

  test('is laid out from its trunk, with sleeves and grommet on before the terminals', () => {
    const sheet = words(buildSections(result));
    const order = [
      'Leg 1, the trunk (trunk, 2600 mm, from plug to rear)',
      'covering C1: braid-8, Braided sleeve, black, holds 5 to 12 mm, cut 2892 mm',
      'grommet-12, Rubber grommet, 12 mm bore, 400 mm from plug',
      'At plug, plug at the drawbar (connector)',
      'p-clip-10, P-clip, rubber lined, 10 mm, 2100 mm from plug',
      'left-leg, 450 mm, from rear to left)',
      'covering C2: braid-5, Braided sleeve, black, holds 3 to 7 mm, cut 570 mm',
      'At left, left rear lamp (device)',
    ].map((part) => sheet.indexOf(part));
    expect(order).not.toContain(-1);
    expect(order).toEqual([...order].sort((a, b) => a - b));
    expect(sheet).toContain('Disconnect the battery before any work');
  });
});

describe('the first loom, by hand from its five rows', () => {
  let result: Result;
  beforeAll(async () => {
    const folder = 'examples/first-loom';
    const names = readdirSync(folder);
    const files = disk(
      folder,
      Object.fromEntries(names.map((name) => [name, readFileSync(`${folder}/${name}`, 'utf8')])),
    );
    const folders = { ...foldersOn(files), starter: () => starterCatalogue('examples/starter') };
    const { job } = await readFolderJob(folder, names, folders);
    if (!job) throw new Error('the first loom was not read');
    result = await priced({ ...job, offers: [] });
  });

  test('is tested wire by wire, as nothing joins its loose terminals on the bench', () => {
    expect(circuits(result)).toEqual([
      ['Circuit 1: one probe stays at joiner stop (3)', ['left-lamp stop (3)', OTHERS]],
      ['Circuit 2: one probe stays at joiner tail (1)', ['left-lamp tail (1)', OTHERS]],
      ['Circuit 3: one probe stays at joiner tail (2)', [OTHERS, 'right-lamp tail (2)']],
      ['Circuit 4: one probe stays at left-lamp earth (4)', ['earth (4)', OTHERS]],
      ['Circuit 5: one probe stays at right-lamp earth (5)', ['earth (5)', OTHERS]],
    ]);
    const sheet = words(testSections(result));
    expect(sheet).toContain('Circuits 2 and 3 are joined at joiner (device).');
    expect(sheet).toContain('Circuits 4 and 5 are joined at earth (stud).');
  });

  test('is built point by point, as no branches are drawn', () => {
    const rows = endsOnSheet(buildSections(result));
    expect([...rows].map(([point, ends]) => [point, ends.map(([, wire]) => wire)])).toEqual([
      ['earth', ['4', '5']],
      ['joiner', ['3', '1', '2']],
      ['left-lamp', ['4', '3', '1']],
      ['right-lamp', ['5', '2']],
    ]);
    expect(rows.get('earth')?.[0]).toEqual([
      '',
      '4',
      'black 14/0.30',
      'left-lamp earth',
      'label',
      '6',
      'crimp ring-m6-1.5; pull',
    ]);
  });
});
