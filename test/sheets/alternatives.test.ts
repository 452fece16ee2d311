import { describe, expect, test } from 'vitest';
import type { Beside } from '../../worker/engine/model/beside.ts';
import { alternatives } from '../../worker/sheets/alternatives.ts';
import { blocksText } from '../../worker/sheets/blockText.ts';
import { firstPageText, fullText } from '../../worker/sheets/quoteText.ts';
import { fullResult, gbp } from './sample.ts';

const flat = (text: string) => text.replaceAll(/\s+/g, ' ');

const mix = (suppliers: string[], total: string, more: string) => ({
  suppliers,
  unmet: 0,
  total: gbp(total),
  more: gbp(more),
  cost: gbp(total),
  bound: gbp(total),
  proven: true,
});

const NOTHING: Beside = { bySuppliers: [], byDay: [], elsewhere: [], falls: [], unfinished: [] };

const fall = (offer: string, fallPercent: number, priceAtMost: string): Beside['falls'][number] => ({
  offer,
  supplier: 'ash',
  fallPercent,
  price: gbp('2.00'),
  priceAtMost: gbp(priceAtMost),
  never: fallPercent === 100,
});

async function printed(known: Partial<Beside>): Promise<string> {
  return flat(blocksText(alternatives({ ...(await fullResult()), beside: { ...NOTHING, ...known } })));
}

describe('close alternatives, printed', () => {
  test('are a section of the appendix after the other ways to buy; none where they were not looked at', async () => {
    const result = await fullResult();
    expect(fullText(result)).not.toContain('Close alternatives');
    const text = fullText({
      ...result,
      beside: { ...NOTHING, otherSet: mix(['ash', 'oak'], '12.00', '1.50') },
    });
    const [before = '', after = ''] = text.split('== Close alternatives ');
    expect(before).toContain('== Other ways to buy ');
    expect(after).toContain('== Cost ');
  });

  test('shows the cheapest from one supplier, two, three, and tells those apart that leave needs unmet', async () => {
    const text = await printed({
      bySuppliers: [
        { atMost: 1, ...mix(['ash'], '9.00', '-1.00'), unmet: 2 },
        { atMost: 2, ...mix(['ash', 'oak'], '10.00', '0.00') },
      ],
    });
    expect(text).toContain('Needs unmet GBP More than this quote');
    expect(text).toContain('1 supplier ash 2 9.00 not the same');
    expect(text).toContain('2 suppliers ash, oak 10.00 0.00');
  });

  test('shows by when it is there, and how many lines say nothing of it', async () => {
    const text = await printed({
      byDay: [{ day: '2026-03-04', leadDays: 2, leadUnknown: 1, ...mix(['oak'], '14.20', '4.20') }],
    });
    expect(text).toContain('2026-03-04 (2 days) oak 14.20 4.20');
    expect(text).toContain('Up to 1 line in these mixes has no lead days entered');
  });

  test('says what is not proven, and what no such mix goes below', async () => {
    const open = { ...mix(['oak'], '14.20', '4.20'), proven: false, bound: gbp('13.155') };
    const own = { atMost: 2, ...mix(['ash', 'oak'], '10.00', '0.00') };
    const rows = await printed({ bySuppliers: [{ atMost: 1, ...open }, own] });
    expect(rows).toContain('no; cannot be under 13.155');
    expect(await printed({ otherSet: open })).toContain('Not proven; it cannot be under 13.155 GBP');
  });

  test('says that there is no other set of suppliers; nothing where that is not known', async () => {
    expect(await printed({})).toContain('No other set of suppliers can meet as many needs');
    const open = await printed({ unfinished: [{ part: 'otherSet', left: 3, why: 'time' }] });
    expect(open).not.toContain('No other set');
    expect(open).toContain('Not finished: other sets of suppliers (3).');
  });

  test('shows what each line would cost elsewhere, and counts those that cannot move', async () => {
    const line = { requirement: 'part:x', supplier: 'ash', from: [] };
    const text = await printed({
      elsewhere: [
        {
          ...line,
          offer: 'ash-ring',
          from: [{ offer: 'oak-ring', supplier: 'oak' }],
          total: gbp('10.45'),
          more: gbp('0.45'),
        },
        { ...line, offer: 'ash-clip', why: 'nobodyElse' },
        { ...line, offer: 'ash-tie', why: 'nobodyElse' },
        { ...line, offer: 'ash-boot', why: 'minimumOrder' },
      ],
    });
    expect(text).toContain('ash ash-ring oak-ring of oak 0.45');
    expect(text).toContain('2 lines cannot move: no other supplier in this mix can supply them');
    expect(text).toContain('1 line cannot move: the rest of the order would be below the minimum order');
    expect(text).not.toContain('ash-clip');
  });

  test('shows the ten losing offers that need to fall least, and counts the rest', async () => {
    const falls = [
      ...Array.from({ length: 13 }, (_, index) => fall(`offer-${index}`, index + 0.5, '1.9')),
      fall('hopeless', 100, '0.00'),
    ];
    const text = await printed({ falls });
    expect(text).toContain('offer-9 ash 2.00 GBP at least 9.5 % 1.9 or less');
    expect(text).not.toContain('offer-10');
    expect(text).toContain('3 more offers must fall by at least as much as the last of these.');
    expect(text).toContain('For 1 offer no price is low enough');
  });

  test('says why it is not there: still worked, cancelled, or not to be worked', async () => {
    const result = await fullResult();
    const said = (besideState: 'working' | 'cancelled' | 'failed') => {
      const text = flat(fullText({ ...result, besideState }));
      expect(flat(firstPageText({ ...result, besideState }))).toContain('Close alternatives');
      return text;
    };
    expect(said('working')).toContain('Close alternatives are still being worked out.');
    expect(said('cancelled')).toContain('Close alternatives were cancelled.');
    expect(said('failed')).toContain('Close alternatives could not be worked out.');
  });

  test('is named in the proof among what time ended', async () => {
    const result = await fullResult();
    const text = flat(fullText({ ...result, timeLimited: ['ties', 'beside'] }));
    expect(text).toContain(
      'The time was over before these were finished: which of equally cheap mixes is bought; close alternatives. They may be different when the quote is worked again.',
    );
    expect(fullText({ ...result, timeLimited: [] })).not.toContain('The time was over');
  });

  test('has no row that says nothing: no bound of 0 %, not the quote alone; how many are not known is one line', async () => {
    const text = await printed({
      bySuppliers: [{ atMost: 1, ...mix(['ash'], '10.00', '0.00') }],
      falls: [fall('open', 0, '2.00'), fall('near', 0.0001, '1.999998')],
      fallsUnknown: 3,
    });
    expect(text).not.toContain('From at most');
    expect(text).not.toContain('open');
    expect(text).toContain('near ash 2.00 GBP at least 0.0001 % 1.999998 or less');
    // The one that an older result lists, and those that a newer one counts.
    expect(text).toContain('For 4 more offers it is not known how far they must fall.');
    expect(await printed({ falls: [fall('near', 1, '1.98')] })).not.toContain('not known');
  });

  test('names suppliers by their names, also those from which nothing is ordered; older results have only codes', async () => {
    const result = await fullResult();
    const besides: Beside = {
      ...NOTHING,
      otherSet: mix(['ash', 'oak'], '12.00', '1.50'),
      falls: [fall('near', 1, '1.98')],
    };
    const names = { ...result.supplierNames, ash: 'Ash Auto Cable', oak: 'Oak & Sons' };
    const text = (supplierNames: typeof names | undefined) =>
      flat(fullText({ ...result, beside: besides, supplierNames }));
    expect(text(names)).toContain('Another set of suppliers (Ash Auto Cable, Oak & Sons): 12.00');
    expect(text(names)).toContain('another set of suppliers, Ash Auto Cable, Oak & Sons: 12.00');
    expect(text(names)).toContain('near Ash Auto Cable 2.00 GBP');
    expect(text(undefined)).toContain('Another set of suppliers (ash, oak): 12.00');
  });

  test('stays within the page, however many suppliers there are and however long their codes', async () => {
    const codes = Array.from({ length: 5 }, (_, index) => `${'long-code-'.repeat(6)}${index}`);
    const known: Beside = {
      ...NOTHING,
      bySuppliers: [4, 5].map((atMost) => ({
        atMost,
        ...mix(codes, '10.00', '0.00'),
        unmet: 1,
        proven: false,
      })),
      byDay: [{ day: '2026-03-04', leadDays: 2, leadUnknown: 0, ...mix(codes, '10.00', '0.00') }],
      otherSet: mix(codes, '10.00', '0.00'),
      elsewhere: codes.map((offer) => ({
        requirement: 'part:x',
        offer,
        supplier: offer,
        from: codes.map((other) => ({ offer: other, supplier: other })),
        more: gbp('1.00'),
      })),
      falls: codes.map((code) => ({ ...fall(code, 1, '1.98'), supplier: code })),
    };
    const text = fullText({ ...(await fullResult()), beside: known });
    expect(text.split('\n').filter((line) => line.length > 110 || line !== line.trimEnd())).toEqual([]);
  });
});
