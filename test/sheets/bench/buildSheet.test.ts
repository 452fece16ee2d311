import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Job } from '../../../worker/engine/model/job.ts';
import type { BenchResult } from '../../../worker/sheets/bench/words.ts';
import { buildSections } from '../../../worker/sheets/bench/buildSheet.ts';
import { testSections } from '../../../worker/sheets/bench/testSheet.ts';
import { arbitraryJob } from '../../engine/arbitraryJob.ts';
import { consumable, crimped, jobOf, wire } from '../../engine/fixtures.ts';
import { benchResult } from './benchResult.ts';
import { BENCH_PARTS, benchLoom } from './arbitraryBench.ts';
import { endsOnSheet } from './read.ts';

/** "A W1": each end that the looms of a job have, once for each made loom. */
const endsIn = ({ looms, request }: Job) =>
  looms
    .filter(({ code }) => request.looms.some(({ loom }) => loom === code))
    .map(({ wires }) =>
      wires.flatMap(({ id, from, to }) => [`${from.point} ${id}`, `${to.point} ${id}`]).sort(),
    );

const endsOf = (result: BenchResult) =>
  buildSections(result)
    .filter(({ title }) => title.startsWith('Build: '))
    .map((section) =>
      [...endsOnSheet([section])]
        .flatMap(([point, rows]) => rows.map((row) => `${point} ${row[1] ?? ''}`))
        .sort(),
    );

describe('a build sheet', () => {
  test('has every piece at both its ends, whatever the loom', () => {
    fc.assert(
      fc.property(arbitraryJob, (job) => {
        expect(endsOf(benchResult(job))).toEqual(endsIn(job));
      }),
      { numRuns: 25 },
    );
    fc.assert(
      fc.property(benchLoom, (loom) => {
        const job = jobOf({ parts: BENCH_PARTS, loom });
        expect(endsOf(benchResult(job))).toEqual(endsIn(job));
      }),
      { numRuns: 40 },
    );
  });

  test('puts on first what must be on the wire before its terminal, and leaves for the vehicle what is finished there', () => {
    const result = benchResult(
      jobOf({
        parts: [
          { kind: 'terminal', code: 'pin', description: 'Pin', terminalType: 'pin', stripMm: 5 },
          { kind: 'seal', code: 'plug-seal', description: 'Seal' },
          { kind: 'boot', code: 'boot-4', description: 'Boot' },
          { kind: 'fitting', code: 'flag', description: 'Flag', fittingType: 'label' },
        ],
        loom: {
          points: [
            { id: 'A', kind: 'connector' },
            { id: 'B', kind: 'flyingLead' },
            { id: 'J', kind: 'joint' },
          ],
          settings: { byJoin: [{ join: 'joint', stripMm: 15, tailMm: 20 }] },
          wires: [
            wire('W1', {
              from: crimped('A', 'pin', {
                way: '1',
                seal: { part: 'plug-seal' },
                cover: { part: 'boot-4' },
                label: { part: 'flag' },
              }),
              to: { point: 'B', join: 'bare', terminateInVehicle: true },
            }),
            wire('W2', { from: { point: 'J', join: 'joint' }, to: crimped('A', 'pin', { way: '2' }) }),
            wire('W10', { from: { point: 'J', join: 'joint' }, to: crimped('A', 'pin', { way: '10' }) }),
          ],
        },
      }),
    );
    const rows = endsOnSheet(buildSections(result));
    expect(rows.get('A')?.[0]).toEqual([
      '1',
      'W1',
      'red 1 mm²',
      'B',
      'label flag; boot boot-4; seal plug-seal',
      '5',
      'crimp pin; pull; slide the cover on; push in way 1, pull',
    ]);
    expect(rows.get('A')?.map(([way]) => way)).toEqual(['1', '2', '10']);
    expect(rows.get('B')?.[0]?.slice(5)).toEqual(['', 'do not strip or join: finish in the vehicle']);
    expect(rows.get('J')?.[0]?.slice(5)).toEqual([
      '15',
      'leave 20 mm of tail; join with W10; pull; cover the joint',
    ]);
  });

  test('is empty without wires, and so is the test sheet', () => {
    const result = benchResult(
      jobOf({ parts: [consumable('solder')], loom: { parts: [{ part: 'solder', quantity: 1 }] } }),
    );
    expect(buildSections(result)).toEqual([]);
    expect(testSections(result)).toEqual([]);
  });
});
