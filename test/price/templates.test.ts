import { parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/sync';
import { Readable } from 'node:stream';
import { describe, expect, test } from 'vitest';
import { Job } from '../../worker/engine/model/job.ts';
import { readFolderJob } from '../../worker/price/folder/folderJob.ts';
import { starterCatalogue } from '../../worker/price/folder/starter.ts';
import { readTable } from '../../worker/tables/readTable.ts';
import { fileOf, TABLE_NAMES, tableOf } from '../../worker/tables/tables.ts';
import { commandOn, disk, foldersOn } from './folders.ts';

const FIRST = {
  'wires.csv': [
    'wire,cable type,size,colour,from,to,length mm,from terminal,to terminal',
    'W1,pvc,14/0.30,green,switch.2,lamp,620,blade-s,ring-s',
    'W2,pvc,14/0.30,black,lamp,earth,300,ring-s,ring-s',
    '',
  ].join('\n'),
  'suppliers.csv': 'code,name,currency,postage\nash,Ash,EUR,"3.95, free from 40"\n',
  'offers.csv': [
    'code,supplier,sold by,part,price,pieces in a pack',
    'g,ash,metre,pvc 14/0.30 green,0.42,',
    'b,ash,metre,pvc 14/0.30 black,0.42,',
    'r,ash,pack,ring-s,1.20,10',
    'l,ash,pack,blade-s,1.20,10',
    '',
  ].join('\n'),
};

async function read(files: Record<string, string>, asOf?: string) {
  const folders = foldersOn(disk('Rear loom!', files));
  return readFolderJob('Rear loom!', (await folders.names('Rear loom!')) ?? [], folders, asOf);
}

test('what about.csv says of all offers holds for those that do not state their own', async () => {
  const { job, faults } = await read({
    ...FIRST,
    'suppliers.csv': 'code,name,currency\nash,Ash,EUR\nelm,Elm,EUR\n',
    'offers.csv': [
      'code,supplier,sold by,part,price,pieces in a pack,breaks,condition',
      'g,,metre,pvc 14/0.30 green,0.42,,10 m: 0.38,',
      'b,elm,metre,pvc 14/0.30 black,0.42 EUR,,,new',
      'r,,pack,ring-s,1.20,10,,',
      'l,,pack,blade-s,1.20,10,,',
      '',
    ].join('\n'),
    'about.csv':
      'offers supplier,ash\noffers currency,GBP\noffers condition,old stock\noffers seen on,2026-11-02\n',
  });
  expect(faults).toEqual([]);
  expect(job?.offers.slice(0, 2)).toMatchObject([
    {
      supplier: 'ash',
      condition: 'oldStock',
      seenOn: '2026-11-02',
      pricePerMetre: { amount: '0.42', currency: 'GBP' },
      breaks: [{ fromMm: 10_000, pricePerMetre: { amount: '0.38', currency: 'GBP' } }],
    },
    { supplier: 'elm', condition: 'new', pricePerMetre: { amount: '0.42', currency: 'EUR' } },
  ]);
});

describe('templates', () => {
  test('say nothing whichever columns are deleted', async () => {
    const files = disk('other', {});
    await commandOn(files, '--template', 'new');
    for (const name of TABLE_NAMES) {
      const rows = parse(files.get(`new/${fileOf(name)}`) ?? '');
      for (let from = 0; from < (rows[0]?.length ?? 0); from++) {
        const text = stringify(rows.map((cells) => cells.slice(from)));
        const read = [];
        for await (const event of readTable(tableOf(name), Readable.from([Buffer.from(text)])))
          read.push(Object.keys(event));
        expect(read).toEqual([['layout', 'row', 'faults']]);
      }
    }
  });

  test('are tables with nothing in them but notes; their examples together are a job without faults', async () => {
    const files = disk('other', {});
    expect((await commandOn(files, '--template', 'new')).code).toBe(0);
    const empty = await commandOn(files, 'new', '--preview');
    expect(empty.warned).toContain('The loom has no wires and no parts');
    for (const [path, text] of files) {
      if (path.endsWith('about.csv') || path.endsWith('README.txt')) continue;
      const [head = '', , example = ''] = text.split('\r\n');
      files.set(path, `${head}\r\n${example.replaceAll('# ', '')}\r\n`);
    }
    const folders = { ...foldersOn(files), starter: () => starterCatalogue('examples/starter') };
    const { job, faults } = await readFolderJob('new', (await folders.names('new')) ?? [], folders);
    expect(faults).toEqual([]);
    expect(Job.safeParse(job).success).toBe(true);
  });
});
