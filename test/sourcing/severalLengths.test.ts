import { describe, expect, test } from 'vitest';
import type { JobInput } from '../../worker/engine/model/job.ts';
import { bought, byTheMetre, gbp, jobOf, priced, supplier } from '../engine/fixtures.ts';

type Offers = JobInput['offers'];

/** Four sleeves of 3 m, sold so. */
const sleeves = (offers: Offers, suppliers = [supplier('s'), supplier('t')]) =>
  jobOf({
    parts: [{ kind: 'sleeve', code: 'sleeve', description: 'Sleeve', sleeveType: 'pvc' }],
    suppliers,
    offers,
    loom: {
      coverings: ['a', 'b', 'c', 'd'].map((id) => ({
        id,
        kind: 'pvc' as const,
        part: 'sleeve',
        lengthMm: 3000,
      })),
    },
  });
const metre = (code: string, from: string, price: string, stockMm?: number) =>
  byTheMetre(code, from, 'sleeve', price, { stepMm: 500, ...(stockMm === undefined ? {} : { stockMm }) });

test('where no offer has it in one length, several are bought, named in purchases, cutting plan and a note', async () => {
  const result = await priced(sleeves([metre('five', 's', '0.50', 5000), metre('ten', 't', '1.00', 10_000)]));
  // 3 m at 0.50 and 9 m at 1.00: of the five metres no second piece of 3 m comes.
  expect(result.unsourced).toEqual([]);
  expect(bought(result)).toEqual({ five: 3000, ten: 9000 });
  expect(result.proof).toMatchObject({ status: 'proven', cost: gbp('10.50') });
  expect(
    result.cuttingPlans[0]?.lengths.map(({ offer, usableMm, pieces }) => [
      offer,
      usableMm,
      pieces.map(({ cutMm, count }) => [cutMm, count]),
    ]),
  ).toEqual(
    expect.arrayContaining([
      ['five', 3000, [[3000, 1]]],
      ['ten', 9000, [[3000, 3]]],
    ]),
  );
  const notes = result.findings.filter(({ code }) => code === 'several-continuous-lengths');
  expect(notes).toMatchObject([{ severity: 'note', where: expect.anything() as unknown }]);
  expect(notes[0]?.found).toMatch(/3.* m of offer five, 9.* m of offer ten/);
});

test('where one length is possible, one is bought, though two would be cheaper', async () => {
  const result = await priced(
    sleeves([metre('six', 's', '0.50', 6000), metre('other', 't', '0.50', 6000), metre('all', 't', '1.00')]),
  );
  expect(bought(result)).toEqual({ all: 12_000 });
  expect(result.findings.filter(({ code }) => code === 'several-continuous-lengths')).toEqual([]);
});

test('a millimetre too few in all, or pieces that do not come whole out of the lengths, leave it unsourced', async () => {
  const short = await priced(sleeves([metre('five', 's', '0.50', 5000), metre('six', 't', '1.00', 6500)]));
  expect(short.unsourced).toHaveLength(1);
  const cutUp = await priced(
    sleeves([metre('a', 's', '0.50', 5000), metre('b', 't', '0.50', 5000), metre('c', 't', '0.50', 5000)]),
  );
  expect(cutUp.unsourced).toHaveLength(1);
});

test('fixed lengths in stock stand beside several lengths by the metre', async () => {
  const result = await priced(
    sleeves([
      metre('three', 's', '0.50', 3000),
      metre('six', 't', '1.00', 6000),
      {
        form: 'length',
        code: 'hank',
        supplier: 't',
        part: 'sleeve',
        nominalMm: 3000,
        packPrice: gbp('2.00'),
        stockPacks: 1,
      },
    ]),
  );
  expect(result.unsourced).toEqual([]);
  expect(bought(result)).toEqual({ three: 3000, six: 6000, hank: 1 });
});

describe('where a second loom is made with a second order', () => {
  const twice = (offers: Offers) => {
    const job = sleeves(offers);
    const { loom } = job.request.looms[0]!;
    return {
      ...job,
      request: {
        ...job.request,
        looms: [
          { loom, quantity: 1 },
          { loom, quantity: 1, wave: 2 },
        ],
      },
    };
  };

  test('several lengths of an order are bought where the longest of each are too short for what is made by then', async () => {
    const result = await priced(
      twice(
        (['0.50', '0.60', '0.70', '0.80'] as const).map((price, at) => metre(`six-${at}`, 's', price, 6000)),
      ),
    );
    // 12 m are needed at first and 24 m in all: each has 6 m, and all of them are needed.
    expect(result.unsourced).toEqual([]);
    expect(bought(result)).toEqual({ 'six-0': 6000, 'six-1': 6000, 'six-2': 6000, 'six-3': 6000 });
    expect(result.proof).toMatchObject({ status: 'proven', cost: gbp('15.60') });
    const notes = result.findings.filter(({ code }) => code === 'several-continuous-lengths');
    expect(notes).toHaveLength(1);
  });

  test('one length of each order is bought where that is enough, though more would be cheaper', async () => {
    const result = await priced(
      twice([
        metre('twelve', 's', '1.00', 12_000),
        metre('other', 't', '1.00', 12_000),
        metre('six', 't', '0.50', 6000),
      ]),
    );
    // With the first order 12 m in one length, or else there would be two of 6 m; with the second likewise.
    expect(bought(result)).toEqual({ twelve: 12_000, other: 12_000 });
    expect(result.findings.filter(({ code }) => code === 'several-continuous-lengths')).toEqual([]);
  });
});
