import { describe, expect, test } from 'vitest';
import type { JobInput } from '../../worker/engine/model/job.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import {
  bought,
  byTheMetre,
  consumable,
  gbp,
  jobOf,
  needing,
  pack,
  points,
  priced,
  supplier,
  terminal,
} from '../engine/fixtures.ts';

type PartInput = JobInput['parts'][number];
type OfferInput = JobInput['offers'][number];

const kit = (code: string, contents: Record<string, number>, price: string): OfferInput => ({
  form: 'kit',
  code,
  supplier: 's',
  contents: Object.entries(contents).map(([part, quantity]) => ({ part, quantity })),
  packPrice: gbp(price),
});
const inPlaceOf = (part: PartInput, other: string): PartInput => ({
  ...part,
  standsInFor: [{ part: other, confirmedBy: 'R. Alder' }],
});
const ofFamily = (code: string, family: string): PartInput => ({ ...terminal(code), family });
const left = ({ leftovers }: Result) =>
  leftovers.map(
    ({ requirement, surplus }) => `${requirement} ${surplus.quantity ?? surplus.mm} ${surplus.value.amount}`,
  );
const inPlace = ({ findings }: Result) =>
  findings.filter(({ code }) => code === 'bought-in-place').map(({ found }) => found);
const noSpares = { currency: 'GBP', settings: { spareMinimum: 0, sparePercent: 0, crimpFailurePercent: 0 } };

describe('what an offer holds of a part counts for a need only where the offer serves that need', () => {
  test('a part pinned to an offer is not met by a kit that is bought for something else', async () => {
    const job = needing(
      { clip: 5, tie: 1 },
      [supplier('s')],
      [pack('pinned', 's', 'clip', 1, '1'), kit('kit', { clip: 5, tie: 1 }, '3')],
      { request: { looms: [{ loom: 'l', quantity: 1 }], pinned: [{ part: 'clip', offer: 'pinned' }] } },
    );
    const result = await priced(job);
    expect(bought(result)).toEqual({ pinned: 5, kit: 1 });
    // Five of six pieces in a kit of 3.00, of no use.
    expect(left(result)).toEqual(['part:clip 5 2.50']);
  });

  test('nor is it by what is on the shelf and stands in for another part', async () => {
    const job = jobOf({
      parts: [inPlaceOf(consumable('new'), 'old'), consumable('old')],
      suppliers: [supplier('s')],
      offers: [pack('pinned', 's', 'new', 1, '1')],
      stock: [{ code: 'shelf', form: 'pieces', part: 'new', count: 4 }],
      loom: {
        parts: [
          { part: 'new', quantity: 2 },
          { part: 'old', quantity: 2 },
        ],
      },
      request: { looms: [{ loom: 'l', quantity: 1 }], pinned: [{ part: 'new', offer: 'pinned' }] },
    });
    const result = await priced(job);
    expect(bought(result)).toEqual({ pinned: 2 });
    expect(result.fromStock).toMatchObject([{ requirement: 'part:old', part: 'new', count: 2 }]);
  });

  test('rolls of tape in a kit are no millimetres of tape', async () => {
    const job = jobOf({
      parts: [
        { kind: 'tape', code: 'tape', description: 'Tape', tapeType: 'cloth', widthMm: 19 },
        consumable('tie'),
      ],
      suppliers: [supplier('s')],
      offers: [byTheMetre('roll', 's', 'tape', '1'), kit('kit', { tape: 9000, tie: 1 }, '3')],
      loom: {
        points: points('A', 'B'),
        parts: [{ part: 'tie', quantity: 1 }],
        coverings: [{ id: 'c', kind: 'tape', part: 'tape', lengthMm: 9000 }],
      },
    });
    expect(bought(await priced(job))).toEqual({ roll: 9000, kit: 1 });
  });
});

describe('what is left over is counted once', () => {
  test('of what a kit holds in place of a needed part', async () => {
    const result = await priced(
      jobOf({
        parts: [consumable('old'), inPlaceOf(consumable('new'), 'old'), consumable('tie')],
        suppliers: [supplier('s')],
        offers: [kit('kit', { new: 10, tie: 4 }, '7')],
        loom: { parts: [{ part: 'old', quantity: 7 }] },
      }),
    );
    // 7.00 for 14 pieces: three of ten, and all four that nobody needs.
    expect(left(result)).toEqual(['part:old 3 1.50', 'part:tie 4 2.00']);
  });

  test('of a tool that works several families, under a family that is bought', async () => {
    const result = await priced(
      jobOf({
        club: noSpares,
        parts: [
          ofFamily('old', 'fam-old'),
          inPlaceOf(ofFamily('new', 'fam-new'), 'old'),
          { kind: 'tool', code: 'press', description: 'Press', worksFamilies: ['fam-old', 'fam-new'] },
        ],
        suppliers: [supplier('s')],
        offers: [
          pack('cheap', 's', 'old', 1, '1'),
          pack('dear', 's', 'new', 1, '9'),
          pack('two', 's', 'press', 2, '20'),
        ],
        loom: { parts: [{ part: 'old', quantity: 10 }] },
      }),
    );
    expect(bought(result)).toEqual({ cheap: 10, two: 1 });
    expect(left(result)).toEqual(['tool:fam-old 1 10.00']);
  });
});

describe('what is bought instead of another part is said', () => {
  test('where a kit brings it beside the tool of its family', async () => {
    const result = await priced(
      jobOf({
        club: noSpares,
        parts: [
          ofFamily('old', 'fam-old'),
          inPlaceOf(ofFamily('new', 'fam-new'), 'old'),
          { kind: 'tool', code: 'press', description: 'Press', worksFamilies: ['fam-new'] },
        ],
        suppliers: [supplier('s')],
        offers: [kit('kit', { new: 10, press: 1 }, '5'), pack('dear', 's', 'old', 1, '9')],
        loom: { parts: [{ part: 'old', quantity: 10 }] },
      }),
    );
    expect(bought(result)).toEqual({ kit: 1 });
    expect(inPlace(result)).toEqual(['new is bought instead of old, confirmed by R. Alder']);
  });

  test('where it is needed itself too, and not where enough of the other is bought', async () => {
    const both = (offers: OfferInput[]) =>
      jobOf({
        parts: [consumable('old'), inPlaceOf(consumable('new'), 'old')],
        suppliers: [supplier('s')],
        offers,
        loom: {
          parts: [
            { part: 'old', quantity: 2 },
            { part: 'new', quantity: 3 },
          ],
        },
      });
    const shared = await priced(both([pack('n', 's', 'new', 1, '1')]));
    expect(bought(shared)).toEqual({ n: 5 });
    expect(inPlace(shared)).toEqual(['new is bought instead of old, confirmed by R. Alder']);
    const apart = await priced(both([pack('n', 's', 'new', 1, '2'), pack('o', 's', 'old', 1, '1')]));
    expect(bought(apart)).toEqual({ n: 3, o: 2 });
    expect(inPlace(apart)).toEqual([]);
  });
});

test('terms whose common scale is beyond any floating-point number are still solved to proof', async () => {
  const countries = Array.from(
    { length: 60 },
    (_, index) =>
      `${String.fromCharCode(65 + Math.floor(index / 26))}${String.fromCharCode(65 + (index % 26))}`,
  );
  const job = needing(
    { tie: 3 },
    countries.map((country) => ({ ...supplier(`s-${country}`), country, pricesInclude: 'tax' as const })),
    countries.map((country, index) => pack(`o-${country}`, `s-${country}`, 'tie', 1, `${index + 1}`)),
    {
      club: { currency: 'GBP', country: 'ZZ' },
      lanes: countries.map((from, index) => ({
        code: `from-${from}`,
        from,
        to: 'ZZ',
        taxPercent: 20,
        taxOverValue: gbp('1000'),
        // Few of these share a divisor.
        sellerTaxPercent: (100_003 + 6 * index) / 10_000,
      })),
    },
  );
  const { proof, costs } = await priced(job);
  // Three at 1.00 with 10.0003 % tax taken off: 3 / 1.100003.
  expect([proof.status, costs.total.amount]).toEqual(['proven', '2.73']);
});

test('two suppliers insisted on who sell but one length by the metre: one is left out, and that is said', async () => {
  const job = jobOf({
    parts: [{ kind: 'sleeve', code: 'braid', description: 'Braid', sleeveType: 'other' }],
    suppliers: [supplier('s'), supplier('t')],
    offers: [byTheMetre('o', 's', 'braid', '1'), byTheMetre('p', 't', 'braid', '2')],
    loom: {
      points: points('A', 'B'),
      coverings: [{ id: 'c', kind: 'other', part: 'braid', lengthMm: 1000 }],
    },
    request: { looms: [{ loom: 'l', quantity: 1 }], insistOn: ['s', 't'] },
  });
  const result = await priced(job);
  expect([result.proof.status, bought(result)]).toEqual(['proven', { o: 1000 }]);
  expect(result.findings).toMatchObject([{ code: 'insisted-supplier-left-out', where: 'supplier t' }]);
});
