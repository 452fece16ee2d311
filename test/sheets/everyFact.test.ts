import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { Job } from '../../worker/engine/model/job.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import { metres } from '../../worker/engine/units/length.ts';
import { FIRST_PAGE_LINES } from '../../worker/sheets/firstPage.ts';
import { firstPageText } from '../../worker/sheets/quoteText.ts';
import { fullHtml } from '../../worker/sheets/quoteHtml.ts';
import { priced } from '../engine/fixtures.ts';
import { oneLoom, twoLooms } from './comparison.ts';
import { fullResult, gbp } from './sample.ts';

/** Why a field of a result is on no sheet, or not as it stands. */
const NOT_PRINTED: Record<string, RegExp> = {
  'the shape of the document': /^(format|version)$/,
  'names within the result':
    /^(requirements\.id|.*\.(requirement|line)|purchases\.alsoFor|looms\.(loom|madeAs)|leftOut\.supply)$|^circuits\.id$/,
  'fixed words, said in others':
    /\.(kind|form|status|severity|code|subject|join|condition|how|why|part|origin|stoppedBy|bySetting|state)$|^timeLimited$/,
  'pointers for programs': /^findings\.at$/,
  'said in the label, or in the line':
    /^requirements\.(cableType|size|colour|servedBy)|\.ends\.label$|colourLetters$/,
  'minutes, said in hours':
    /^buildOrBuy\.(labour|combinations|againstAllBought|againstBest)\.minutes(IfBought)?$/,
  'figures of a sum that stands in words': /\.steps\.(rule|value|unit)$/,
  'names of suppliers of which nothing is said': /^supplierNames\./,
  'unrounded, beside the printed amount':
    /exactCost|^beside\..*\.(cost|bound)\.|^proof\.(bound|gap|gapPercent)/,
  'settings at their default, and those of a loom that the quote has': /^(looms\.)?settings\./,
  'sums that follow from printed ones':
    /usableMm|\.pieces$|^beside\.elsewhere\.total\.|leadUnknown|atMost$|saving|^orderLists\.rounding|\.used$|\.spares$|\.percent$|^orderLists\.total|^orderLists\.lines\.cost|margins\.line$|unmet$|unsourced$|unfinished|fallsUnknown|bundleMm|revision$|oneContinuousLength|shared|exact$|joinable|lengths$|taxShare|\.count$|never$|proven$|suppliers$|packs$|packCount$|quantity$|^purchases\.bought\.|^proof\.nuisance/,
};

function isPrinted(path: string): boolean {
  return !Object.values(NOT_PRINTED).some((pattern) => pattern.test(path));
}

/** All texts and numbers of a document with the names on the way to them. */
function leaves(value: unknown, path: string[] = []): [path: string, value: string | number][] {
  if (typeof value === 'string' || typeof value === 'number') return [[path.join('.'), value]];
  if (Array.isArray(value)) return value.flatMap((item) => leaves(item, path));
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, item]) => leaves(item, [...path, name]));
}

/** What a page says, without its markup and white space. */
function saidOn(html: string): string {
  return html
    .replace(/<style>[\s\S]*?<\/style>/, '')
    .replaceAll(/<[^>]+>/g, '')
    .replaceAll('&nbsp;', '')
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&quot;', '"')
    .replaceAll('&#39;', "'")
    .replaceAll('&amp;', '&')
    .replaceAll(/\s+/g, '');
}

/**
 * Where there is one loom its name is left out; an offer for which no price is low enough is counted, not named. What the bench
 * needs stands on the sheets for the bench, whose own tests look for it.
 */
function asPrinted({ bench: _bench, ...result }: Result): Result {
  const { beside, cuttingPlans, looms } = result;
  const short = (name: string) => (looms.length === 1 ? name.replace(/^[^/]*\//, '') : name);
  return {
    ...result,
    cuttingPlans: cuttingPlans.map((plan) => ({
      ...plan,
      lengths: plan.lengths.map((length) => ({
        ...length,
        pieces: length.pieces.map(({ names = [], ...piece }) => ({ ...piece, names: names.map(short) })),
      })),
    })),
    ...(beside ? { beside: { ...beside, falls: beside.falls.filter(({ never }) => !never) } } : {}),
  };
}

function unsaid(result: Result, html = fullHtml(result)): string[] {
  const page = saidOn(html);
  const has = (words: string) => page.includes(words.replaceAll(/\s+/g, ''));
  return leaves(asPrinted(result))
    .filter(([path]) => isPrinted(path))
    .filter(([, value]) => !has(String(value)) && !(typeof value === 'number' && has(metres(value))))
    .map(([path, value]) => `${path}: ${value}`);
}

const mix = (supplier: string, total: string, more: string) => ({
  suppliers: [supplier],
  unmet: 0,
  total: gbp(total),
  more: gbp(more),
  cost: gbp(total),
  bound: gbp(total),
  proven: true,
});

test('every fact of a result stands in its quote or its appendix', async () => {
  const sample = await fullResult();
  expect(
    unsaid({
      ...sample,
      beside: {
        bySuppliers: [
          { atMost: 1, ...mix('ash', '91.01', '90.01') },
          { atMost: 2, ...mix('oak', '92.02', '90.02') },
        ],
        byDay: [{ day: '2026-04-05', leadDays: 77, leadUnknown: 0, ...mix('elm', '93.03', '90.03') }],
        otherSet: mix('fir', '94.04', '90.04'),
        elsewhere: [
          {
            requirement: 'part:x',
            offer: 'of-ash',
            supplier: 'ash',
            from: [{ offer: 'of-oak', supplier: 'oak' }],
            more: gbp('95.05'),
          },
        ],
        falls: [
          {
            offer: 'of-yew',
            supplier: 'yew',
            fallPercent: 12.3456,
            price: gbp('96.06'),
            priceAtMost: gbp('97.07'),
            never: false,
          },
        ],
        unfinished: [],
      },
    }),
  ).toEqual([]);
});

test('so does every purchase that rests on what nobody has confirmed', async () => {
  const sample = await fullResult();
  const unconfirmed = (['part', 'offer', 'standIn'] as const).map((why) => ({
    ...{ offer: `of-${why}`, part: 'ring', why },
    detail: `nobody has looked at ${why}`,
  }));
  expect(unsaid({ ...sample, unconfirmed })).toEqual([]);
  expect(unsaid({ ...sample, unconfirmed }, fullHtml(sample))).toHaveLength(6);
});

test('so does every fact of building or buying', async () => {
  const sample = await fullResult();
  for (const buildOrBuy of [oneLoom(), twoLooms()]) expect(unsaid({ ...sample, buildOrBuy })).toEqual([]);
});

test.each(['trailer', 'from-abroad', 'build-or-buy'])(
  'so does every fact of the example %s, with 40 lines on its first page',
  async (name) => {
    const file = new URL(`../../examples/${name}/job.json`, import.meta.url);
    const result = await priced(Job.parse(JSON.parse(readFileSync(file, 'utf8'))));
    expect(unsaid(result)).toEqual([]);
    const page = firstPageText(result);
    expect(page.split('\n').length).toBeLessThanOrEqual(FIRST_PAGE_LINES);
    expect(page).not.toMatch(/and \d+ more/);
  },
);

test('a fact that a page leaves out is noticed', async () => {
  const sample = await fullResult();
  const more = { ...sample, cautions: [...sample.cautions, 'Mind the gap.'] };
  expect(unsaid(more, fullHtml(sample))).toEqual(['cautions: Mind the gap.']);
});
