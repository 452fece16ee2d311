import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { Finding } from '../../worker/engine/model/finding.ts';
import { Job } from '../../worker/engine/model/job.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import { FIRST_PAGE_LINES } from '../../worker/sheets/firstPage.ts';
import { firstPageText } from '../../worker/sheets/quoteText.ts';
import { priced } from '../engine/fixtures.ts';
import { fullResult, gbp } from './sample.ts';

const linesOf = (result: Result) => firstPageText(result).split('\n');

function times<T>(count: number, item: T): T[] {
  return Array.from({ length: count }, () => item);
}

const long = fc.oneof(
  fc.constant('short'),
  fc.constant('a very long sentence about a thing '.repeat(20)),
  fc.constant('x'.repeat(600)),
);

test('a first page has 40 lines at most, however much there is to say, and counts what it leaves out', async () => {
  const result = await fullResult();
  const finding = (severity: Finding['severity'], words: string): Finding => ({
    code: 'some',
    severity,
    at: '',
    where: words,
    found: words,
    todo: words,
  });
  const [list] = result.orderLists;
  const [loom] = result.looms;
  const [missing] = result.unsourced;
  const [compared] = result.comparisons;
  if (!list || !loom || !missing || !compared) throw new Error('the sample is too small');
  const counts = fc.integer({ min: 0, max: 60 });
  await fc.assert(
    fc.asyncProperty(
      fc.record({
        looms: counts,
        lists: counts,
        stops: counts,
        warnings: counts,
        missing: counts,
        ways: counts,
      }),
      long,
      async (count, words) => {
        const ugly: Result = {
          ...result,
          looms: times(count.looms, { ...loom, name: words, options: [words] }),
          orderLists: times(count.lists, { ...list, name: words }),
          findings: [
            ...times(count.stops, finding('stop', words)),
            ...times(count.warnings, finding('warning', words)),
          ],
          unsourced: times(count.missing, { ...missing, label: words }),
          comparisons: times(count.ways, { ...compared, label: words }),
          proof: { ...result.proof, status: 'bestSoFar', bound: gbp('5.00') },
        };
        const lines = linesOf(ugly);
        expect(lines.length).toBeLessThanOrEqual(FIRST_PAGE_LINES);
        expect(lines.filter((line) => line.length > 110)).toEqual([]);
        // What is shown and what is counted are all there is.
        const stops = lines.filter((line) => line.startsWith('- STOP: ')).length;
        const more = /Fix these first:\n[\s\S]*?- and (\d+) more, see What was found/.exec(
          lines.join('\n').split('\nAsk or check')[0] ?? '',
        )?.[1];
        expect(stops + Number(count.stops > 0 ? (more ?? 0) : 0)).toBe(count.stops);
      },
    ),
    { numRuns: 60 },
  );
});

test('faults that stop are cut last: of six, with much else to say, each has its place', async () => {
  const result = await fullResult();
  const [stop] = result.findings;
  const [list] = result.orderLists;
  const [compared] = result.comparisons;
  if (!stop || !list || !compared) throw new Error('the sample is too small');
  const warning = { ...stop, severity: 'warning' as const };
  const page = firstPageText({
    ...result,
    findings: [...times(6, stop), ...times(30, warning)],
    comparisons: times(30, compared),
  });
  expect(page.match(/^- STOP: /gm)).toHaveLength(6);
});

test.each(['three-wires'])(
  'the first page of the example %s has all that there is to say within 40 lines',
  async (name) => {
    const file = new URL(`../../examples/${name}/job.json`, import.meta.url);
    const lines = linesOf(await priced(Job.parse(JSON.parse(readFileSync(file, 'utf8')))));
    expect(lines.length).toBeLessThanOrEqual(FIRST_PAGE_LINES);
    expect(lines.join('\n')).not.toMatch(/and \d+ more/);
  },
);
