import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { canonicalJson } from '../../worker/engine/model/canonical.ts';
import type { Job } from '../../worker/engine/model/job.ts';
import { readJob } from '../../worker/engine/model/upgrade.ts';
import { jobAsCsv } from '../../worker/price/folder/asCsv.ts';
import { readFolderJob } from '../../worker/price/folder/folderJob.ts';
import { arbitraryJob } from '../engine/arbitraryJob.ts';
import { commandOn, disk, foldersOn } from './folders.ts';

/** A job written as a folder and read again. */
async function again(job: Job): Promise<{ job: Job | undefined; faults: readonly object[] }> {
  const files = disk('there', Object.fromEntries(await jobAsCsv(job)));
  const folders = foldersOn(files);
  return readFolderJob('there', (await folders.names('there')) ?? [], folders);
}

const example = (name: string) =>
  readJob(JSON.parse(readFileSync(new URL(`../../examples/${name}/job.json`, import.meta.url), 'utf8')))
    .data as Job;

describe('a job that is written as a folder', () => {
  test.each(['van', 'three-wires', 'trailer', 'from-abroad'])(
    'is the same when it is read: %s',
    async (name) => {
      const job = example(name);
      const read = await again(job);
      expect(read.faults).toEqual([]);
      expect(canonicalJson(read.job)).toBe(canonicalJson(job));
    },
  );

  test('is the same when it is read, whatever stands in it', async () => {
    await fc.assert(
      fc.asyncProperty(arbitraryJob, async (job) => {
        const read = await again(job);
        expect(read.faults).toEqual([]);
        expect(canonicalJson(read.job)).toBe(canonicalJson(job));
      }),
      { numRuns: 20 },
    );
  });

  test('keeps which of its parts and offers nobody has confirmed', async () => {
    const plain = example('van');
    const job = {
      ...plain,
      unconfirmed: { parts: [plain.parts[0]!.code], offers: [plain.offers[0]!.code] },
    };
    const read = await again(job);
    expect(read.faults).toEqual([]);
    expect(read.job?.unconfirmed).toEqual(job.unconfirmed);
  });

  test('is the same when texts in it look like formulas, notes, numbers, JSON or nothing', async () => {
    const job = example('three-wires');
    const text = fc.oneof(
      fc.constantFrom(
        '=1+1',
        "'=1",
        '-5',
        '#5',
        '',
        "'",
        ' x ',
        '{',
        '[1]',
        '1,5',
        'a\r\nb',
        '"',
        ';',
        '+44 20',
        '\t',
      ),
      fc.string(),
    );
    await fc.assert(
      fc.asyncProperty(text, text, text, async (a, b, c) => {
        const changed = readJob({
          ...job,
          offers: job.offers.map((offer) => ({ ...offer, note: a })),
          looms: job.looms.map((loom) => ({
            ...loom,
            wires: loom.wires.map((wire) => ({
              ...wire,
              note: b,
              colour: { ...wire.colour, seen: c.slice(0, 60) },
            })),
          })),
        }).data as Job;
        const read = await again(changed);
        expect(read.faults).toEqual([]);
        expect(canonicalJson(read.job)).toBe(canonicalJson(changed));
      }),
      { numRuns: 30 },
    );
  });

  test('has columns only for what is used, and short forms wherever they say the same', async () => {
    const files = new Map(await jobAsCsv(example('three-wires')));
    const [head, first] = (files.get('suppliers.csv') ?? '').split('\r\n');
    expect(head).toBe('code,name,currency,postage,website');
    expect(first).toBe(
      'fennel,Fennel Street Electrics,GBP,"3.95 from 0.00, 0.00 from 16.00",https://fennel-street.example',
    );
    for (const text of files.values())
      expect(text.split('\r\n').filter((line) => line.includes('{'))).toEqual(
        text === files.get('rest.json') ? [text] : [],
      );
  });
});

test('a folder is priced to the same bytes as its job file', async () => {
  const files = disk('.', {});
  files.set(
    'job.json',
    readFileSync(new URL('../../examples/three-wires/job.json', import.meta.url), 'utf8'),
  );
  expect((await commandOn(files, 'job.json', '--as-csv', 'there')).code).toBe(0);
  const fromFile = await commandOn(files, 'job.json', '--json');
  const fromFolder = await commandOn(files, 'there', '--json');
  expect(fromFolder.printed).toBe(fromFile.printed);
  expect([fromFile.code, fromFolder.code]).toEqual([0, 0]);
});
