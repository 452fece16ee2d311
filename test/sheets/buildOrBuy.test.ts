import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import type { BuildOrBuy } from '../../worker/engine/model/buildOrBuy.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import { costLines } from '../../worker/sheets/buildOrBuy/lines.ts';
import { buildOrBuySentence } from '../../worker/sheets/buildOrBuy/sentence.ts';
import { hoursText, hoursWords } from '../../worker/sheets/buildOrBuy/words.ts';
import { FIRST_PAGE_LINES } from '../../worker/sheets/firstPage.ts';
import { fullHtml, quoteHtml } from '../../worker/sheets/quoteHtml.ts';
import { firstPageText, fullText, quoteText } from '../../worker/sheets/quoteText.ts';
import { atNothing, combination, oneLoom, twoLooms } from './comparison.ts';
import { fullResult, gbp } from './sample.ts';

let sample: Result;
beforeAll(async () => {
  sample = await fullResult();
});

const withIt = (buildOrBuy: BuildOrBuy): Result => ({ ...sample, buildOrBuy });
const said = (buildOrBuy: BuildOrBuy) => buildOrBuySentence(withIt(buildOrBuy));

/** Building against buying at an hour's worth, from what each costs and takes. */
function against(built: [string, number], bought: [string, number], worth: string): BuildOrBuy {
  const pence = (amount: string) => Math.round(Number(amount) * 100);
  const labour = (minutes: number) => (minutes / 60) * pence(worth);
  const one = (cost: string, minutes: number) =>
    [cost, labour(minutes), pence(cost) + labour(minutes)].map((value) =>
      typeof value === 'string' ? value : (value / 100).toFixed(2),
    ) as [string, string, string];
  const saving = pence(bought[0]) - pence(built[0]);
  const minutes = built[1] - bought[1];
  return oneLoom({
    hourWorth: gbp(worth),
    combinations: [
      combination({ built: ['l'], bought: [], minutes: built[1] }, one(...built)),
      combination(
        { built: [], bought: [{ part: 'made-l', looms: ['l'], quantity: 1 }], minutes: bought[1] },
        one(...bought),
      ),
    ],
    againstAllBought: {
      saving: gbp((saving / 100).toFixed(2)),
      minutes,
      ...(saving >= 0 && minutes > 0 ? { hourWorth: gbp((saving / (minutes / 60) / 100).toFixed(2)) } : {}),
    },
  });
}

describe('the sentence that leads', () => {
  test('says what building saves and takes, and which is cheaper at the user’s worth of an hour', () => {
    expect(said(oneLoom())).toBe(
      'Building saves 182.40 GBP and takes about 31 hours longer: 5.88 GBP an hour; at your 12.00 GBP an hour buying is cheaper by 189.60 GBP.',
    );
    expect(said(against(['253.00', 1980], ['435.40', 120], '5.00'))).toBe(
      'Building saves 182.40 GBP and takes about 31 hours longer: 5.88 GBP an hour; at your 5.00 GBP an hour building is still cheaper by 27.40 GBP.',
    );
    expect(said(against(['100.00', 720], ['200.00', 120], '10.00'))).toMatch(
      /at your 10\.00 GBP an hour both cost the same\.$/,
    );
  });

  test('counts no hours where they are worth 0, and says so', () => {
    expect(said(atNothing())).toBe(
      'Building saves 182.40 GBP and takes about 31 hours longer: 5.88 GBP an hour. Your hours are counted at 0.',
    );
  });

  test.each([
    [
      against(['250.00', 1980], ['230.00', 120], '12.00'),
      'Building costs 20.00 GBP more and takes about 31 hours longer: buying is cheaper, whatever an hour is worth; at your 12.00 GBP an hour buying is cheaper by 392.00 GBP.',
    ],
    [
      against(['250.00', 0], ['230.00', 120], '12.00'),
      'Building costs 20.00 GBP more and takes about 2 hours less; at your 12.00 GBP an hour building is cheaper by 4.00 GBP.',
    ],
    [
      against(['230.00', 60], ['230.00', 0], '0.00'),
      'Building costs as much as buying and takes about 1 hour longer.',
    ],
    [against(['200.00', 60], ['230.00', 60], '0.00'), 'Building saves 30.00 GBP and takes no longer.'],
  ])('where building costs more, as much, or takes no longer', (known, words) => {
    expect(said(known)).toBe(words);
  });

  test('says why there is nothing to compare with', () => {
    const { againstAllBought: _none, allBought: _nor, ...alone } = oneLoom({ best: 0 });
    const one = { ...alone, combinations: alone.combinations.slice(0, 1) };
    const start = 'Building costs 253.00 GBP and takes about 33 hours. ';
    expect(said({ ...one, madeUp: [] })).toBe(
      `${start}No made-up loom is entered, so there is nothing to compare it with.`,
    );
    const why = { ...alone.madeUp[0]!, why: 'no offer of it can be used' };
    expect(said({ ...one, madeUp: [why] })).toBe(
      `${start}No made-up loom can be bought instead: made-l: no offer of it can be used.`,
    );
  });

  test('names the looms to buy where some of each is cheapest', () => {
    expect(said(twoLooms())).toBe(
      'Building saves 190.00 GBP and takes about 14 hours longer: 13.57 GBP an hour; at your 10.00 GBP an hour building is still cheaper by 50.00 GBP. Cheapest is to buy rear made and build the rest: 317.00 GBP with your hours, 43.00 GBP less than building all.',
    );
  });

  test('says what is not in the costs, and what is not proven', () => {
    const known = oneLoom({
      proven: false,
      bound: gbp('400.00'),
      notWorked: { combinations: 3, why: 'time' },
    });
    const [built, ...others] = known.combinations;
    const words = said({ ...known, combinations: [{ ...built!, unsourced: 2, leftOut: 1 }, ...others] });
    expect(words).toContain('Not in these costs: 3 needs of building all.');
    expect(words).toContain(
      'Not proven: 3 combinations were not worked out; no combination can have a total under 400.00 GBP.',
    );
  });
});

describe('a quote that compares building with buying', () => {
  test('leads with it on its first page, which stays within its lines', () => {
    for (const known of [oneLoom(), atNothing(), twoLooms()]) {
      const page = firstPageText(withIt(known));
      const [, , ...lines] = page.split('\n');
      const leading = lines.slice(0, lines.indexOf('')).join(' ');
      expect(said(known)).toBe(leading);
      expect(page.split('\n').length).toBeLessThanOrEqual(FIRST_PAGE_LINES);
    }
    expect(firstPageText(withIt(oneLoom()))).toContain(
      'Build or buy:\n- All built: 253.00 GBP, about 33 hours; with labour 649.00; there in 9 days\n- All bought made: 435.40 GBP, about 2 hours; with labour 459.40; there in 21 days\n- At 5.88 GBP an hour all built and all bought cost the same.\n',
    );
  });

  test('has no more lines on its first page where its words are very long', () => {
    const long = 'x '.repeat(3000);
    const known = twoLooms();
    const looms = known.labour.map(({ loom }) => ({ ...sample.looms[0]!, loom, name: `${long}${loom}` }));
    const madeUp = known.madeUp.map((one) => ({ ...one, why: long }));
    const page = firstPageText({ ...sample, looms, buildOrBuy: { ...known, madeUp } });
    expect(page.split('\n').length).toBeLessThanOrEqual(FIRST_PAGE_LINES);
  });

  test('says it in a section of its own, as text and as a page, before the order lists', () => {
    const known = twoLooms();
    const words = quoteText(withIt(known), '');
    expect(words.indexOf('== Build or buy ')).toBeLessThan(words.indexOf('== Order lists '));
    const html = quoteHtml(withIt(known));
    for (const fact of [
      'main built, rear bought made (the cheapest)',
      'rear built, main bought made (cannot be the cheapest)',
      'The order lists are for the cheapest combination.',
      'made-rear',
      'crimp tool',
      'Set (made-set): no offer of it can be used.',
      'what you learn',
    ])
      expect(html).toContain(fact);
    expect(words).toContain('what you learn');
    expect(words).toContain('2 lines not known');
  });

  test('marks which minutes are defaults, and not those of the user', () => {
    const text = fullText(withIt(oneLoom()));
    expect(text).toContain('from memory, no source');
    expect(text).toMatch(/crimping +93 +terminal +21\.25 \* +1976\.25/);
    expect(text).toMatch(/winding tape +2\.5 +metre +1\.5 +3\.75/);
    expect(fullHtml(withIt(oneLoom()))).toContain('Labour by operation');
  });

  test('says where the comparison is still missing', () => {
    expect(firstPageText({ ...sample, buildOrBuyState: 'working' })).toContain('still being compared');
    expect(quoteText(sample, '')).not.toMatch(/build or buy/i);
  });
});

describe('the lines of cost against the worth of an hour', () => {
  test('start at the cost without labour, cross where both cost the same, and pass what the user’s hours cost', () => {
    const drawn = costLines(oneLoom());
    expect(drawn?.worths).toEqual([
      { text: '0.00', is: ['start'] },
      { text: '5.88', is: ['crossing'] },
      { text: '12.00', is: ['yours'] },
      { text: '20.00', is: ['end'] },
    ]);
    const [built, bought] = drawn?.lines ?? [];
    const texts = (line: typeof built) => line?.points.map(({ totalText }) => totalText);
    // 253 + 33 h and 435.40 + 2 h, at 182.40 / 31 an hour: 447.17 both.
    expect(texts(built)).toEqual(['253.00', '447.17', '649.00', '913.00']);
    expect(texts(bought)).toEqual(['435.40', '447.17', '459.40', '475.40']);
    expect(drawn?.crossing?.hourWorth).toBeCloseTo(182.4 / 31, 4);
  });

  test('have no crossing where one is cheaper at any worth, and are none without two', () => {
    expect(costLines(against(['250.00', 600], ['230.00', 60], '12.00'))?.crossing).toBeUndefined();
    expect(costLines(oneLoom({ combinations: oneLoom().combinations.slice(0, 1) }))).toBeUndefined();
  });

  test('rise with the worth of an hour, by the hours of each; the cheapest of some of each is a line too', () => {
    expect(costLines(twoLooms())?.lines.map(({ kind }) => kind)).toEqual(['allBuilt', 'allBought', 'best']);
    const pence = fc.integer({ min: 0, max: 99_999 }).map((value) => (value / 100).toFixed(2));
    const minutes = fc.integer({ min: 0, max: 6000 });
    fc.assert(
      fc.property(pence, pence, pence, minutes, minutes, (a, b, worth, more, less) => {
        const drawn = costLines(against([a, more], [b, less], worth));
        for (const [line, [cost, taken]] of [
          [drawn?.lines[0], [a, more]],
          [drawn?.lines[1], [b, less]],
        ] as const)
          for (const { hourWorth, total } of line?.points ?? [])
            expect(total).toBeCloseTo(Number(cost) + (hourWorth * taken) / 60, 0);
        const rising = drawn?.lines[0]?.points.map(({ hourWorth }) => hourWorth) ?? [];
        expect(rising).toEqual([...new Set(rising)].sort((x, y) => x - y));
        if (drawn?.crossing)
          for (const { points } of drawn.lines)
            expect(points.some(({ totalText }) => totalText === drawn.crossing?.totalText)).toBe(true);
      }),
    );
  });
});

test.each([
  [0, 'no time', '0 min'],
  [2, 'a few minutes', '2 min'],
  [43, 'about 45 minutes', '43 min'],
  [62, 'about 1 hour', '1 h 02 min'],
  [80, 'about 1 hour 20 minutes', '1 h 20 min'],
  [599, 'about 10 hours', '9 h 59 min'],
  [1863, 'about 31 hours', '31 h 03 min'],
])('%s minutes are %s, or %s', (minutes, words, text) => {
  expect([hoursWords(minutes), hoursText(minutes)]).toEqual([words, text]);
});
