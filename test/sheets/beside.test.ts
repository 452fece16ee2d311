import { describe, expect, test } from 'vitest';
import type { Beside } from '../../worker/engine/model/beside.ts';
import { beside } from '../../worker/sheets/beside.ts';
import { resultText } from '../../worker/sheets/resultText.ts';
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
  return flat(beside({ ...(await fullResult()), beside: { ...NOTHING, ...known } }));
}

describe('what lies beside the cheapest, printed', () => {
  test('is a section of the quote after the comparisons; none where it was not looked at', async () => {
    const result = await fullResult();
    expect(resultText(result)).not.toContain('What lies beside the cheapest');
    const text = resultText({
      ...result,
      beside: { ...NOTHING, otherSet: mix(['ash', 'oak'], '12.00', '1.50') },
    });
    const [before = '', after = ''] = text.split('== What lies beside the cheapest ');
    expect(before).toContain('== Compared ');
    expect(after).toContain('== Proof ');
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
    expect(text).toContain('Of up to 1 line in these no lead days are entered');
  });

  test('says what is not proven, and what no such mix goes below', async () => {
    const open = { ...mix(['oak'], '14.20', '4.20'), proven: false, bound: gbp('13.155') };
    const own = { atMost: 2, ...mix(['ash', 'oak'], '10.00', '0.00') };
    const rows = await printed({ bySuppliers: [{ atMost: 1, ...open }, own] });
    expect(rows).toContain('no, but 13.155 at least');
    expect(await printed({ otherSet: open })).toContain('none costs less than 13.155 GBP');
  });

  test('says that there is no other set of suppliers; nothing where that is not known', async () => {
    expect(await printed({})).toContain('No other set of suppliers can meet as many needs');
    const open = await printed({ unfinished: [{ part: 'otherSet', left: 3, why: 'time' }] });
    expect(open).not.toContain('No other set');
    expect(open).toContain('Not worked to the end: other sets of suppliers (3).');
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
    expect(text).toContain('2 lines, as nobody else in this mix can supply them');
    expect(text).toContain('1 line, as what is left at their supplier would be below its minimum order');
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
    expect(text).toContain('Of 1 offer no price is low enough');
  });

  test('says why it is not there: still worked, cancelled, or not to be worked', async () => {
    const result = await fullResult();
    const said = (besideState: 'working' | 'cancelled' | 'failed') => resultText({ ...result, besideState });
    expect(said('working')).toContain('This is still being worked.');
    expect(said('cancelled')).toContain('since it was cancelled');
    expect(said('failed')).toContain('This could not be worked.');
  });

  test('is named in the proof among what time ended', async () => {
    const result = await fullResult();
    const text = flat(resultText({ ...result, timeLimited: ['ties', 'beside'] }));
    expect(text).toContain(
      'Time ended before these were worked to the end: which of equally cheap mixes is bought; what lies beside the cheapest. Worked again, they may come out otherwise.',
    );
    expect(resultText({ ...result, timeLimited: [] })).not.toContain('Time ended');
  });

  test('has no row that says nothing: no bound of 0 %, not the quote alone; how many are not known is one line', async () => {
    const text = await printed({
      bySuppliers: [{ atMost: 1, ...mix(['ash'], '10.00', '0.00') }],
      falls: [fall('open', 0, '2.00'), fall('near', 0.0001, '1.999998')],
      fallsUnknown: 3,
    });
    expect(text).not.toContain('Cheapest from at most');
    expect(text).not.toContain('open');
    expect(text).toContain('near ash 2.00 GBP at least 0.0001 % 1.999998 or less');
    // The one that an older result lists, and those that a newer one counts.
    expect(text).toContain('Of 4 more offers it is not known how far they must fall.');
    expect(await printed({ falls: [fall('near', 1, '1.98')] })).not.toContain('not known');
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
    const text = resultText({ ...(await fullResult()), beside: known });
    expect(text.split('\n').filter((line) => line.length > 110 || line !== line.trimEnd())).toEqual([]);
  });
});
