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
