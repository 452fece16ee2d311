import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { Finding } from '../../worker/engine/model/finding.ts';
import { Job } from '../../worker/engine/model/job.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import { FIRST_PAGE_LINES } from '../../worker/sheets/firstPage.ts';
import { clipped } from '../../worker/sheets/names.ts';
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

test('another way that is the quote itself is no other way: nothing is said of it', async () => {
  const result = await fullResult();
  const [own] = result.orderLists;
  const [compared] = result.comparisons;
  if (!own || !compared || result.orderLists.length !== 1)
    throw new Error('the sample is not from one supplier');
  const same = { ...compared, saving: gbp('0.00'), suppliers: 1, unsourced: 0 };
  const page = (comparisons: Result['comparisons']) => firstPageText({ ...result, comparisons });
  expect(page([same, { ...same, kind: 'oneShop', supplier: own.supplier }])).not.toContain('another way');
  expect(page([{ ...same, kind: 'oneShop', supplier: 'another' }])).toContain('another way');
  expect(page([{ ...same, suppliers: 2 }])).toContain('another way');
  expect(page([{ ...same, unsourced: 1 }])).toContain('not the same');
  const mix = { suppliers: [own.supplier], unmet: 0, total: gbp('9.00'), more: gbp('0.00') };
  const day = { ...mix, cost: gbp('9.00'), bound: gbp('9.00'), proven: true, leadUnknown: 0 };
  const byDay = (more: string) =>
    firstPageText({
      ...result,
      comparisons: [],
      beside: {
        bySuppliers: [],
        byDay: [
          { ...day, day: '2026-03-04', leadDays: 3, more: gbp(more) },
          { ...day, day: '2026-03-05', leadDays: 4 },
        ],
        elsewhere: [],
        falls: [],
        unfinished: [],
      },
    });
  expect(byDay('0.00')).not.toContain('another way');
  expect(byDay('0.50')).toContain('All there by 2026-03-04 (3 days)');
});

test('a sentence that is too long for the page ends after a whole word', () => {
  const words = fc.array(fc.string({ unit: fc.constantFrom('a', 'b'), minLength: 1, maxLength: 5 }));
  fc.assert(
    fc.property(words, fc.integer({ min: 12, max: 60 }), (given, most) => {
      const text = given.join(' ');
      const cut = clipped(text, most);
      expect(cut.length).toBeLessThanOrEqual(most);
      expect(cut === text).toBe(text.length <= most);
      if (cut !== text) expect(text.startsWith(`${cut.slice(0, -1)} `)).toBe(true);
    }),
  );
  expect(clipped('x'.repeat(30), 12)).toBe(`${'x'.repeat(11)}…`);
  expect(clipped('Check the price again before you order.', 30)).toBe('Check the price again before…');
  expect(clipped('Its price, and more of that', 12)).toBe('Its price…');
});

test('what is found is cut short where it is long, its remedy is not: of stops, warnings and what is not sourced', async () => {
  const result = await fullResult();
  const [found] = result.findings;
  const [missing] = result.unsourced;
  if (!found || !missing) throw new Error('the sample is too small');
  const long = 'a wire among many others '.repeat(20);
  const remedy = (word: string) =>
    `Take a larger ${word}. ${'Look at each of its ends before that. '.repeat(5)}Then go on.`;
  const { accepted: _accepted, ...open } = found;
  const page = firstPageText({
    ...result,
    findings: (['stop', 'warning'] as const).map((severity) => ({
      ...open,
      severity,
      code: 'some',
      found: long,
      todo: remedy(severity),
    })),
    unsourced: [{ ...missing, why: long, todo: remedy('offer') }],
  }).replaceAll(/\s+/g, ' ');
  for (const word of ['stop', 'warning', 'offer']) expect(page).toContain(`… ${remedy(word)}`);
});
