import fc from 'fast-check';
import { expect, test } from 'vitest';
import { z } from 'zod';
import { faultsOf } from '../../worker/engine/model/faults.ts';
import type { Finding } from '../../worker/engine/model/finding.ts';
import { LIMITS } from '../../worker/engine/model/limits.ts';
import { fewFindings, MOST_FINDINGS } from '../../worker/engine/model/mostFindings.ts';
import { parsed } from '../../worker/engine/model/parsed.ts';
import { readJob } from '../../worker/engine/model/upgrade.ts';
import { jobOf, points, wire } from '../engine/fixtures.ts';

test('of a job with more faults than can be gathered the first are told, and that there are more', () => {
  const options = Array.from({ length: 12 }, (_, at) => `option ${at}`);
  const wires = Array.from({ length: LIMITS.wires }, (_, at) => wire(`W${at}`, { options }));
  const sound = jobOf({ loom: { points: points('A', 'B') } });
  const read = readJob({ ...sound, looms: sound.looms.map((loom) => ({ ...loom, wires })) });
  expect(read.success).toBe(false);
  const faults = read.success ? [] : faultsOf(read.error, undefined);
  expect(faults).toHaveLength(MOST_FINDINGS + 1);
  expect(faults[0]).toMatchObject({ code: 'unknown-option', at: '/looms/0/wires/0/options/0' });
  expect(faults.at(-1)).toMatchObject({
    code: 'too-many-faults',
    found: `and ${(12 * LIMITS.wires - MOST_FINDINGS).toLocaleString('en-GB')} more`,
  });
});

const Row = z.strictObject({ id: z.string(), tags: z.array(z.string()).max(500).optional() });
const Table = z.strictObject({ rows: z.array(Row).max(20_000) });

test.each([false, true])('faults of shape are capped like all others (wary: %s)', (wary) => {
  const rows = Array.from({ length: 400 }, () => ({ tags: Array.from({ length: 400 }, () => 0) }));
  const read = parsed(Table, { rows }, {}, { wary });
  const faults = read.success ? [] : faultsOf(read.error, { rows }, Table);
  expect(faults).toHaveLength(MOST_FINDINGS + 1);
  expect(faults.at(-1)).toMatchObject({ code: 'too-many-faults' });
});

test('a list that is longer than its limit is told once, beside the faults of the entries that there is room for', () => {
  const rows = Array.from({ length: 30_000 }, (_, at) => (at === 3 || at > 20_000 ? {} : { id: `r${at}` }));
  const read = parsed(Table, { rows });
  const faults = read.success ? [] : faultsOf(read.error, { rows }, Table);
  expect(faults.map(({ at, code }) => [at, code])).toEqual([
    ['/rows', 'too-big'],
    ['/rows/3/id', 'missing-field'],
  ]);
  expect(faults[0]).toMatchObject({ found: 'a list of 30000', limit: 'at most 20000' });
});

const finding = fc
  .tuple(fc.string({ unit: 'binary', maxLength: 5 }), fc.constantFrom(1, 300, 20_000))
  .map(([text, times]): Finding => {
    const long = text.repeat(times);
    return { code: 'c', severity: 'stop', at: `/${long}`, where: long, found: long, todo: long };
  });

test('what is answered of any findings is small, in their order, and says whether there were more', () => {
  fc.assert(
    fc.property(fc.array(finding, { maxLength: 400 }), (all) => {
      const few = fewFindings(all);
      const told = few.filter(({ code }) => code === 'c');
      expect(JSON.stringify(few).length).toBeLessThan(200_000);
      expect(told.length).toBeLessThanOrEqual(MOST_FINDINGS);
      const left = all.length - told.length;
      expect(few.slice(told.length).map(({ found }) => found)).toEqual(
        left === 0 ? [] : [`and ${left} more`],
      );
      told.forEach((each, at) => expect(all[at]?.at.startsWith(each.at.slice(0, 900))).toBe(true));
    }),
    { numRuns: 30 },
  );
});
