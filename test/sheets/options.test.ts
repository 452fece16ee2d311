import { describe, expect, test } from 'vitest';
import { orderListCsv } from '../../worker/sheets/orderListCsv.ts';
import { orderListHtml } from '../../worker/sheets/orderListHtml.ts';
import { orderListText } from '../../worker/sheets/orderList.ts';
import { fullText } from '../../worker/sheets/quoteText.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';
import { byTheMetre, jobOf, priced, supplier, wire, wirePart } from '../engine/fixtures.ts';

const quoteOf = (looms: JobInput['request']['looms']) =>
  priced(
    jobOf({
      parts: [wirePart('red')],
      suppliers: [supplier('shop')],
      offers: [byTheMetre('red-metre', 'shop', 'red', '1.00')],
      loom: {
        name: 'Front loom',
        options: ['RHD | LHD', 'overdrive'],
        points: ['A', 'B'].map((id) => ({ id, kind: 'connector' as const })),
        branches: [{ id: 'b', from: 'A', to: 'B', lengthMm: 500 }],
        wires: [wire('W1'), wire('W2', { options: ['overdrive'] }), wire('W3', { options: ['LHD'] })],
      },
      request: { looms },
    }),
  );
const right = { loom: 'l', quantity: 2, options: ['RHD', 'overdrive'] };
const left = { loom: 'l', quantity: 1, options: ['LHD'] };

describe('the options chosen', () => {
  test('stand in the first lines of a quote, and beside each piece where there are several sets', async () => {
    const one = fullText(await quoteOf([right]));
    expect(one).toContain('\n- 2 × Front loom (l, revision 1), with RHD, overdrive\n');
    expect(one).not.toContain('l (RHD');
    const two = fullText(await quoteOf([right, left]));
    expect(two).toContain(
      '\n- 1 × Front loom (l, revision 1), with LHD\n- 2 × Front loom (l, revision 1), with RHD, overdrive\n',
    );
    const section = (title: string) => two.split(`== ${title} `)[1]?.split('\n== ')[0] ?? '';
    expect(section('Cut lengths as sums')).toMatch(/^l \(LHD\) +W3 /m);
    expect(section('Cut lengths as sums')).toMatch(/^l \(RHD, overdrive\) +W2 /m);
    expect(section('Branches')).toMatch(/^l \(LHD\) +b /m);
    expect(section('Cut list')).toContain('l (LHD)/W3');
  });

  test('stand on an order list as text, as a page and as CSV', async () => {
    const {
      orderLists: [list],
      asOf,
    } = await quoteOf([right, left]);
    if (!list) throw new Error('nothing is ordered');
    const said = 'Bought for 1 × Front loom, with LHD; 2 × Front loom, with RHD, overdrive';
    expect(orderListText({ list, asOf }).split('\n')).toContain(said);
    expect(orderListHtml({ list, asOf })).toContain(`<p>${said}</p>`);
    const rows = orderListCsv(list).trimEnd().split('\r\n');
    expect(rows.at(-1)).toMatch(new RegExp(`^,,"${said}",+$`));
    expect(
      rows
        .at(-1)
        ?.replace(/"[^"]*"/, '')
        .split(','),
    ).toHaveLength(rows[0]?.split(',').length ?? 0);
  });

  test('are no line on the lists of a quote that has none', async () => {
    const {
      orderLists: [list],
      asOf,
    } = await priced(
      jobOf({
        parts: [wirePart('red')],
        suppliers: [supplier('shop')],
        offers: [byTheMetre('red-metre', 'shop', 'red', '1.00')],
        loom: { wires: [wire('W1')], points: ['A', 'B'].map((id) => ({ id, kind: 'connector' as const })) },
      }),
    );
    expect(list && [list.madeFor, orderListText({ list, asOf }).includes('Bought for')]).toEqual([
      undefined,
      false,
    ]);
  });
});
